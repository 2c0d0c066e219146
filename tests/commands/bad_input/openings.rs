//! Openings that cannot be, and grids and frames that do not go into them.

use super::{Case, check, rows};

const OPENING: &str = r#"title = "Screen"

[opening]
measured = "hole"
width = "600 mm"
height = "400 mm"
play = "2 mm"

[grid]
kind = "square"
pitch_about = "40 mm"
overhang = "60 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"

[frame]
thickness = "24 mm"
mortise_depth = "6 mm"
width = "30 mm"
end_gap = "0.5 mm"
"#;

fn check_rows(text: &str, table: &str) {
    let case = |row| Case::row(row, "job.toml", text, &["sled", "job.toml"]);
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn openings() {
    check_rows(
        OPENING,
        r#"
        measured = "outside"   | opening.measured | `outside` is not known here | hole, inside, panel
        width = 600            | opening.width | a bare number has no unit
        width = "0 mm"         | opening.width | above zero
        width -> widths = ["600 mm", "601 mm"] | opening.widths | 2 lengths where 3 are wanted | bottom, middle, top
        width -> widths = ["600 mm", "0 mm", "600 mm"] | opening.widths | above zero
        play -> widths = ["600 mm", "600 mm", "600 mm"] | opening.widths | `width` is given as well
        play -> diagonals = ["721 mm"] | opening.diagonals | 1 lengths where 2 are wanted | from the lower left corner
        play -> diagonals = ["721 mm", "760 mm"] | opening.diagonals | with these sides and the diagonal from the lower right, that from the lower left is | not 721.00 mm | measure again
        play -> diagonals = ["7210 mm", "72 mm"] @ [opening] | no hole has these sides and diagonals
        width -> widths = ["600 mm", "500 mm", "400 mm"] @ [opening] | out of square by more than 1 in 10 | bottom, middle, top
        width = "55 mm" @ [opening] | leaves nothing inside
        play = "200 mm" @ [opening] | leaves nothing inside
        measured = "panel" @ play | opening.play | the finished panel is made square
        measured = "inside" ;; play -> diagonals = ["721 mm", "721.1 mm"] @ [opening] | is made square | leave [frame] out
        measured = "inside" @ play | opening.play | play inside a frame that holds the strips
        measured -> measurd = "hole" | opening.measurd | did you mean `measured`?
        end_gap -> margin = "4 mm" | frame.margin | the margin follows from the opening | least_margin
        width -> # none @ [opening] | opening.width | this is missing
        "#,
    );
}

#[test]
fn square_grids() {
    check_rows(
        OPENING,
        r#"
        pitch_about = "2 mm"     | grid.pitch_about | leaves no opening between strips 3.00 mm thick
        pitch_about -> pitch = "800 mm" | grid.pitch | do not go into an inside 536.00 mm wide with margins of 1.50 mm | a pitch of 533.00 mm or less would
        pitch_about -> pitch = "0.4 mm" | grid.pitch | leaves no opening
        overhang -> pitch = "38 mm" @ pitch_about | grid.pitch_about | `pitch` is given as well
        overhang = "4 mm" | grid.overhang | does not reach from the outermost crossing | leave it out
        overhang -> cells = "round" | grid.cells | `round` is not known here | square, fill
        overhang -> rest = "frame" | grid.rest | margins, even-margins, border-bays
        pitch_about -> pitch = "38 mm" ;; overhang -> cells = "fill" @ pitch | grid.pitch | cells that fill the opening have the pitch that comes out | pitch_about
        pitch_about -> cells = "fill" ;; overhang -> rest = "margins" @ rest | grid.rest | leave nothing over
        overhang -> least_border = "20 mm" | grid.least_border | no border bays
        overhang -> least_margin = "400 mm" | grid.least_margin | leave nothing of an inside
        pitch_about -> pitch = "40 mm" ;; overhang -> columns = 14 @ columns | grid.columns | 14 columns at a pitch of 40.00 mm do not go into an inside 536.00 mm wide | at most 13 do | a pitch of 38.07 mm or less
        pitch_about -> pitch = "39 mm" ;; overhang -> rest = "even-margins" @ pitch | grid.pitch | do not leave four equal margins | the nearest pitch that does is 40.00 mm
        pitch_about -> edge = "frame" ;; overhang -> columns = 2 @ columns | grid.columns | 2 columns leave no bay between strips | 3 or more
        overhang -> region = "rectangle" | grid.region | the opening is what the grid fills
        pitch_about -> pitches_x = ["100 mm", "500 mm"] ;; overhang -> rows = 6 @ pitches_x | grid.pitches_x | add up to 600.00 mm | they may add up to 533.00 mm
        "#,
    );
}

#[test]
fn a_square_inside_with_unlike_counts_has_no_even_margins() {
    let counts = "columns = 5\nrows = 4\nrest = \"even-margins\"";
    let job = OPENING
        .replace("height = \"400 mm\"", "height = \"600 mm\"")
        .replace("pitch_about = \"40 mm\"", counts);
    let says = ["grid.columns", "job.toml:11:", "four equal margins"];
    check(&[Case::job(job, &says)]);
}

#[test]
fn slanted_grids() {
    let diamond = OPENING.replace("\"square\"", "\"diamond\"");
    check_rows(
        &diamond,
        r#"
        overhang -> rows = 4 @ [grid] | grid.angle | an angle, or how many cells fill the opening, is missing
        overhang -> angle = "0 deg" | grid.angle | cross
        pitch_about -> angle = "60 deg" ;; overhang -> stance = "lying" @ stance | grid.stance | upright, on-point
        overhang -> centre = "left" | grid.centre | node, corner
        "#,
    );
    let triangular = OPENING
        .replace("\"square\"", "\"triangular\"")
        .replace("pitch_about", "side_about");
    check_rows(
        &triangular,
        r#"
        side_about = "700 mm" @ side_about | a cell is
        side_about -> columns = 9 ;; overhang -> rows = 7 @ rows | grid.rows | 9 columns of triangles want a side of 59.56 mm, 7 rows one of | leave out one of `columns`, `rows`
        side_about -> side = "40 mm" ;; overhang -> rows = 7 @ side | grid.side | leave out one of them
        side_about -> centre = "node" @ [grid] | grid.side_about | nothing says how large the cells are
        "#,
    );
}

#[test]
fn what_needs_an_opening() {
    let plain = OPENING.split_once("[grid]").map_or("", |(_, rest)| rest);
    let plain = format!("title = \"Screen\"\n[grid]{plain}").replace(
        "pitch_about = \"40 mm\"",
        "pitch = \"40 mm\"\ncolumns = 4\nrows = 4",
    );
    check_rows(
        &plain,
        r#"
        overhang -> least_margin = "4 mm" | grid.least_margin | the job has none | add [opening]
        pitch -> pitch_about = "40 mm" | grid.pitch_about | the job has none
        "#,
    );
}

#[test]
fn joints_and_recesses() {
    let case = |row| Case::row(row, "job.toml", OPENING, &["rails", "job.toml"]);
    let table = r#"
        end_gap -> joint = "dovetail" | frame.joint | mitre, mortise-and-tenon
        end_gap -> tenon_length = "20 mm" | frame.tenon_length | mitred members have no tenons | joint = "mortise-and-tenon"
        end_gap -> joint = "mortise-and-tenon" ;; play -> tenon_length = "20 mm" @ tenon_length | opening.tenon_length
        end_gap -> rebate = { width = "8 mm" } | frame.rebate.depth | this is missing
        end_gap -> rebate = "8 mm" | frame.rebate | a value of type string cannot stand here
        end_gap -> rebate = { width = "8 mm", depth = "5 mm" } | frame.rebate | lies 19.00 mm to 24.00 mm behind the front face | 1.00 mm stay between them | a setback of 5.00 mm or less
        end_gap -> groove = { width = "4 mm", depth = "6 mm", from_front = "8 mm" } | frame.groove | 0.00 mm stay between them
        end_gap -> groove = { width = "4 mm", depth = "6 mm", from_front = "22 mm" } | frame.groove | does not lie in members 24.00 mm thick
        "#;
    check(&rows(table).map(case).collect::<Vec<_>>());
    let wide = OPENING.replace(
        "end_gap = \"0.5 mm\"",
        "rebate = { width = \"29 mm\", depth = \"3 mm\" }",
    );
    let says = [
        "frame.width",
        "job.toml:21:9",
        "goes 29.00 mm into a member 30.00 mm wide",
        "31.00 mm wide or more",
    ];
    check(&[Case::args(&["rails", "job.toml"], &says).file("job.toml", wide)]);
    let tenoned = format!("{OPENING}joint = \"mortise-and-tenon\"\n");
    let case = |row| Case::row(row, "job.toml", &tenoned, &["rails", "job.toml"]);
    let table = r#"
        end_gap -> tenon_thickness = "21 mm" | frame.tenon_thickness | leaves 1.50 mm of a member 24.00 mm thick | usual: 8.00 mm
        end_gap -> tenon_length = "28 mm" | frame.tenon_length | leaves 1.50 mm of a stile 30.00 mm wide | 27.50 mm or less
        end_gap -> haunch = "25 mm" | frame.haunch | longer than its tenon, 20.00 mm
        end_gap -> tenon_length = "0 mm" | frame.tenon_length | above zero
        "#;
    check(&rows(table).map(case).collect::<Vec<_>>());
    let triangle = r#"title = "Window"

[grid]
kind = "triangular"
side = "60 mm"
region = "hexagon"
rings = 2
overhang = "25 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"

[frame]
thickness = "20 mm"
mortise_depth = "5 mm"
width = "30 mm"
joint = "mortise-and-tenon"
"#;
    let says = ["frame.joint", "four members of an upright rectangle"];
    check(&[Case::args(&["rails", "job.toml"], &says).file("job.toml", triangle)]);
    let without = triangle.replace("width = \"30 mm\"\n", "");
    let says = ["frame.width", "tenons need the members' widths"];
    check(&[Case::args(&["rails", "job.toml"], &says).file("job.toml", without)]);
}
