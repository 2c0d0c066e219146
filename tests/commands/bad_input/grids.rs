//! Diamond and triangular grids that cannot be built.

use super::{Case, check, rows};

const DIAMOND: &str = r#"title = "Screen"

[grid]
kind = "diamond"
pitch = "40 mm"
angle = "60 deg"
stance = "on-point"
region = "rectangle"
width = "300 mm"
height = "260 mm"
overhang = "15 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"

[machines]
sled = "stop-sled"
"#;

const TRIANGULAR: &str = r#"title = "Screen"

[grid]
kind = "triangular"
side = "60 mm"
region = "hexagon"
rings = 2
overhang = "15 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"
lap = "least-cut"

[machines]
sled = "stop-sled"
"#;

fn check_grids(base: &str, table: &str) {
    let case = |row| Case::row(row, "job.toml", base, &["sled", "job.toml"]);
    check(&rows(table).map(case).collect::<Vec<_>>());
}

#[test]
fn diamonds() {
    check_grids(
        DIAMOND,
        r#"
        pitch = 40                | grid.pitch | "40 mm"
        pitch = "0 mm"            | grid.pitch | no opening
        pitch = "2 mm"            | grid.pitch | 2.00 mm apart leave no opening | 5.05 mm or more
        pitch = "5 mm"            | grid.pitch | keeps 1.95 mm of wood | 5.05 mm or more
        pitch -> pitches_x = ["40 mm"] @ pitches_x [grid] | grid.pitches_x | grid.pitch | add `pitch`
        angle = "60"              | grid.angle | no unit
        angle = "10 deg"          | grid.angle | too sharply | 20 deg to 160 deg
        angle = "175 deg"         | grid.angle | too sharply
        angle = "0 deg"           | grid.angle | too sharply
        angle = "60 mm"           | grid.angle | not a unit of angle
        stance = "on point"       | grid.stance | did you mean `on-point`?
        stance = "lying"          | grid.stance | one of: upright, on-point
        region = "hexagon"        | grid.region | one of: rectangle, polygon
        width = "20 mm"           | grid.width | no whole cell of 46.19 mm
        height = "0 mm"           | grid.height | no whole cell of 80.00 mm
        width = "9.9 m" ;; height = "9.9 m" @ width | grid.width | 10000.00 mm
        width -> columns = 3 @ height [grid] | grid.height | not known in [grid] | grid.rows | add `rows`
        width -> columns = 0 ;; height -> rows = 501 | 1 to 500
        overhang = "3 mm"         | grid.overhang | leaves 0.37 mm | 4.63 mm or more
        thickness = "0 mm"        | strip.thickness | leaves no wood
        depth -> depth = "12 mm" ;; clearance -> keeps = ["5 mm", "6 mm"] @ keeps | strip.keeps | together 11.00 mm
        clearance -> keeps = ["5 mm", "4 mm", "3 mm"] | strip.keeps | 3 shares for 2 layers
        clearance -> keeps = ["11.5 mm", "0.5 mm"] | strip.keeps | keeps 0.50 mm at a node
        clearance -> keeps = "6 mm" | strip.keeps | as in `keeps = [
        clearance -> least_floor = "7 mm" @ depth | keeps 6.00 mm at a half lap | 14.00 mm deep
        clearance -> least_floor = "0 mm" | strip.least_floor | leaves no wood
        clearance -> weave = "alternating" | strip.weave | did you mean `alternate`?
        clearance -> bundling = "run"      | strip.bundling | did you mean `runs`?
        clearance -> lap = "same depth"    | strip.lap | did you mean `same-depth`?
        "#,
    );
}

#[test]
fn triangles() {
    check_grids(
        TRIANGULAR,
        r#"
        side = "3 mm"             | grid.side | 2.60 mm apart leave no opening | 7.51 mm or more
        side = "7 mm"             | grid.side | of wood between two notches | 7.51 mm or more
        side -> pitch = "60 mm" @ pitch [grid] | grid.pitch | grid.side | add `side`
        rings = 0                 | grid.rings | 1 to 500
        rings = 400               | grid.rings | no strip is longer than
        rings ->  @ [grid]        | grid.rings | missing
        region = "circle"         | grid.region | one of: hexagon, rectangle, polygon
        overhang = "4 mm"         | grid.overhang | leaves 1.40 mm | 4.60 mm or more
        depth = "2.9 mm"          | strip.depth | keeps 0.97 mm where three lap | 3.00 mm deep
        lap = "thirds"            | strip.lap | one of: least-cut, same-depth
        lap -> keeps = ["6 mm", "6 mm"] | strip.keeps | 2 shares for 3 layers
        lap -> keeps = ["5.75 mm", "0.5 mm", "5.75 mm"] | strip.keeps | keeps 0.50 mm
        "#,
    );
}

#[test]
fn same_depth_needs_equal_outer_shares() {
    let uneven = "lap = \"same-depth\"\nkeeps = [\"3 mm\", \"5 mm\", \"4 mm\"]";
    let job = TRIANGULAR.replace("lap = \"least-cut\"", uneven);
    let says = [
        "job.toml:14:",
        "strip.keeps",
        "keep 3.00 mm and 4.00 mm",
        "same share",
    ];
    check(&[Case::job(job, &says)]);
}

#[test]
fn polygons() {
    let polygon = TRIANGULAR.replace("\"hexagon\"", "\"polygon\"");
    let square = r#"corners = [["0 mm", "0 mm"], ["300 mm", "0 mm"], ["300 mm", "300 mm"], ["0 mm", "300 mm"]]"#;
    check_grids(
        &polygon.replace("rings = 2", square),
        r#"
        corners ->  @ [grid]      | grid.corners | missing | add `corners`
        corners = "all"           | grid.corners | as in `corners = [[
        corners = ["0 mm"]        | grid.corners[0] | as in `corners = [[
        corners = [["0 mm"]]      | grid.corners[0] | a point has two lengths; here are 1
        corners = [[0, 0]]        | grid.corners[0][0] | a bare number has no unit
        corners = [["0 mm", "0 mm"], ["300 mm", "0 mm"]] | grid.corners | not those of a convex polygon
        corners = [["0 mm", "0 mm"], ["300 mm", "0 mm"], ["100 mm", "100 mm"], ["0 mm", "300 mm"]] | grid.corners | convex
        corners = [["0 mm", "0 mm"], ["300 mm", "300 mm"], ["300 mm", "0 mm"], ["0 mm", "300 mm"]] | grid.corners | convex
        corners = [["0 mm", "0 mm"], ["20 mm", "0 mm"], ["0 mm", "20 mm"]] @ region | no strip would be held
        corners = [["0 m", "0 m"], ["9 m", "0 m"], ["0 m", "9 m"]] | grid.corners | 10000.00 mm
        side = "3.6 mm" @ side    | grid.side
        "#,
    );
}

#[test]
fn frames() {
    let frame =
        "[frame]\nthickness = \"20 mm\"\nmortise_depth = \"5 mm\"\nmargin = \"0 mm\"\n\n[strip]";
    let framed = DIAMOND.replace("[strip]", frame);
    let args = ["rails", "job.toml"];
    let case = |row| Case::row(row, "job.toml", &framed, &args);
    let table = r#"
        thickness = "14 mm"       | frame.thickness | keeps 1.00 mm beside a mortise | 2.00 mm must stay
        mortise_depth = "20 mm" @ overhang | grid.overhang | do not come 19.50 mm into
        mortise_depth = "0.5 mm"  | frame.mortise_depth | are not in them
        mortise_depth = "0 mm"    | frame.mortise_depth | hold nothing
        thickness -> thicknes = "20 mm" | frame.thicknes | did you mean `thickness`?
        "#;
    check(&rows(table).map(case).collect::<Vec<_>>());
    check(&[Case::args(
        &["rails", "job.toml"],
        &["no [frame] in this job"],
    )]);
    let square = super::JOB.to_owned()
        + "\n[frame]\nthickness = \"20 mm\"\nmortise_depth = \"5 mm\"\nmargin = \"1 mm\"\n";
    check(&[Case::args(
        &args,
        &["frame.margin", "run into the strips", "1.50 mm or more"],
    )
    .file("job.toml", square)]);
}
