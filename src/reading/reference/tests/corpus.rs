//! Sound texts that ask for what no shipped file asks for.

/// A job of a grid, with more tables behind it.
fn job(grid: &str, more: &str) -> String {
    format!(
        "title = \"crafted\"\n[grid]\n{grid}\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n{more}\n"
    )
}

const SQUARE: &str =
    "kind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 2\noverhang = \"15 mm\"";
const DIAMOND: &str =
    "kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"60 deg\"\noverhang = \"20 mm\"";
const TRIANGULAR: &str = "kind = \"triangular\"\nside = \"60 mm\"\noverhang = \"20 mm\"";
const OPENING: &str = "[opening]\nmeasured = \"inside\"\nwidth = \"300 mm\"\nheight = \"260 mm\"\n";

pub(super) fn jobs() -> Vec<String> {
    let mut all = Vec::new();
    let region = |grid: &str, region: &str| job(&format!("{grid}\n{region}"), "");
    let rectangle = "region = \"rectangle\"\nwidth = \"300 mm\"\nheight = \"240 mm\"";
    let cells = "region = \"rectangle\"\ncolumns = 3\nrows = 3";
    let polygon = "region = \"polygon\"\nnode = [\"0 mm\", \"0 mm\"]\n\
                   corners = [[\"0 mm\", \"0 mm\"], [\"300 mm\", \"0 mm\"], [\"150 mm\", \"260 mm\"]]";
    for grid in [DIAMOND, TRIANGULAR] {
        all.extend([rectangle, cells, polygon].map(|filled| region(grid, filled)));
    }
    all.push(region(TRIANGULAR, "region = \"hexagon\"\nrings = 2"));
    let pitches_x = "pitches_x = [\"30 mm\", \"40 mm\"]";
    let pitches_y = "pitches_y = [\"30 mm\", \"40 mm\"]";
    for bays in [
        format!("{pitches_x}\n{pitches_y}"),
        format!("{pitches_x}\ncolumns = 2\npitch = \"40 mm\"\nrows = 2"),
        format!("{pitches_y}\nrows = 2\npitch = \"40 mm\"\ncolumns = 2"),
    ] {
        all.push(job(
            &format!("kind = \"square\"\noverhang = \"15 mm\"\n{bays}"),
            "",
        ));
    }
    all.push(job(
        SQUARE,
        "measured_thickness = \"3.1 mm\"\nmeasured_depth = \"11.9 mm\"\nclearance = \"-0.05 mm\"\n\
         least_web = \"2 mm\"\nwood = \"ash\"\ndensity = \"0.6 g/cm3\"\nkeeps = [\"6 mm\", \"6 mm\"]\nleast_floor = \"1 mm\"\n\
         lap = \"least-cut\"\nweave = \"one-face\"\nbundling = \"equal\"\n\
         [machines]\nsled = \"key-sled\"\nlaser = \"tube-laser\"\nrouter = \"small-router\"\n\
         guides = \"paring-guides\"\n[rates]\nsetting = \"12 min\"\ncut = \"40 s\"\nblock = \"5 min\"\n\
         facet = \"30 s\"\npiece = \"60 s\"\nstrip = \"120 s\"\nload = \"4 min\"\n\
         [climate]\nbench = \"45 %\"\ndriest = \"30 %\"\ndampest = \"65 %\"\nrings = \"along-thickness\"\n\
         radial = \"0.12 %\"\ntangential = \"0.23 %\"\n[sled]\naim = \"bays\"\norder = \"bundles\"\n\
         [fit]\ncrush = \"0.02 mm\"\nleast_chance = \"90 %\"\nbatch = \"0.1 mm\"",
    ));
    all.push(stock());
    all.push(job(SQUARE, "[climate]\nbench_moisture = \"9 %\""));
    all.push(job(
        SQUARE,
        "[frame]\nthickness = \"24 mm\"\nmortise_depth = \"6 mm\"\nmargin = \"4 mm\"\nsetback = \"4 mm\"\n\
         clearance = \"0.1 mm\"\nend_gap = \"0.5 mm\"\nwidth = \"36 mm\"\njoint = \"mortise-and-tenon\"\n\
         tenon_thickness = \"8 mm\"\ntenon_length = \"20 mm\"\nhaunch = \"6 mm\"\nwood = \"oak\"\ndensity = \"45 lb/ft3\"\n\
         groove = { width = \"4 mm\", depth = \"6 mm\", from_front = \"18 mm\" }",
    ));
    all.push(job(
        SQUARE,
        "[infill]\nallowance = \"5 mm\"\nfold_skin = \"0.4 mm\"\nedge = \"fill\"\nway = \"rows\"\nthickness = \"2.4 mm\"\n\
         depth = \"9 mm\"\nsetback = \"1 mm\"\nfit = \"0.05 mm\"\nrule = \"checker\"\n\
         patterns = [\"single-diagonal\", { pattern = \"single-diagonal\", turn = \"90 deg\", mirror = true }]",
    ));
    all.push(job(
        SQUARE,
        "[as_built]\nopenings_x = [\"37.1 mm\", \"36.9 mm\", \"37 mm\"]\n\
         openings_y = [\"37 mm\", \"36.95 mm\"]\nsame_within = \"0.15 mm\"",
    ));
    all.push(job(
        SQUARE,
        "[infill]\nmap = [\"A.A\", \".A.\"]\n\
         legend.A = { pattern = \"single-diagonal\", turn = \"90 deg\", mirror = true }",
    ));
    all.extend(wishes());
    all
}

/// All of a job's wood.
fn stock() -> String {
    let board = "thickness = \"25 mm\"\nwidth = \"140 mm\"\nlength = \"1200 mm\"\nsawn = \"flat\"\n\
                 price = 14.5\ncount = 2\n";
    job(
        SQUARE,
        &format!(
            "[stock]\naim = \"cost\"\ncurrency = \"EUR\"\nkerf = \"1 mm\"\ntrim = \"2 mm\"\nleast_held = \"100 mm\"\n\
             spare_strips = \"10 %\"\nspare_pieces = \"10 %\"\nspare_members = \"10 %\"\n\
             [[stock.sticks]]\nfor = \"strips\"\nlength = \"900 mm\"\ncount = 4\npack = 2\nprice = 2.5\n\
             [[stock.woods]]\nname = \"lime\"\ndensity = \"480 kg/m3\"\nhardness = 1800\nprice = 900\n\
             [stock.board]\n{board}[stock.frame_board]\n{board}\
             [stock.milling]\nkerf = \"3 mm\"\nplaning = \"1 mm\"\nsurfacing = \"4 mm\"\nstraightening = \"2 mm\"\n\
             flushing = \"0.3 mm\"\nends = \"60 mm\"\nleast_rip_width = \"50 mm\"\nleast_rip_length = \"300 mm\"\n\
             from = \"edge\"\nthin_by = \"hand-plane\"\n\
             [stock.planer]\nleast_length = \"300 mm\"\nleast_thickness = \"5 mm\"\nroller_spacing = \"220 mm\""
        ),
    )
}

/// Grids that follow from an opening.
fn wishes() -> Vec<String> {
    let wish = |grid: &str| job(grid, OPENING);
    vec![
        wish(
            "kind = \"square\"\npitch_about = \"40 mm\"\nrest = \"border-bays\"\nleast_border = \"20 mm\"",
        ),
        wish(
            "kind = \"square\"\npitch_about = \"40 mm\"\ncells = \"fill\"\nleast_margin = \"4 mm\"",
        ),
        wish("kind = \"square\"\npitch = \"40 mm\"\ncolumns = 4\nrows = 4\nedge = \"strips\""),
        wish(
            "kind = \"square\"\noverhang = \"80 mm\"\npitches_x = [\"100 mm\", \"100 mm\"]\n\
              pitches_y = [\"80 mm\", \"80 mm\"]",
        ),
        wish(
            "kind = \"diamond\"\npitch_about = \"40 mm\"\nangle = \"60 deg\"\nstance = \"upright\"\n\
              centre = \"corner\"\nrest = \"margins\"\nleast_margin = \"4 mm\"",
        ),
        wish("kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"60 deg\"\noverhang = \"80 mm\""),
        wish("kind = \"diamond\"\ncolumns = 5\nrows = 4\nstance = \"on-point\""),
        wish(
            "kind = \"triangular\"\nside_about = \"60 mm\"\nstance = \"lying\"\ncentre = \"node\"",
        ),
        wish("kind = \"triangular\"\nside = \"60 mm\"\noverhang = \"80 mm\""),
        wish("kind = \"triangular\"\nrows = 4"),
        wish("kind = \"triangular\"\ncolumns = 4"),
    ]
}

fn shipped(name: &str) -> &'static str {
    crate::reading::shipped_machine(name).unwrap().text
}

pub(super) fn machines() -> Vec<String> {
    let laser = shipped("tube-laser");
    let router = shipped("small-router");
    let fixture = "[fixture]\nsingle = true\nkey_x = \"45 mm\"\nkey_error = \"0.03 mm\"\n\
                   backer_front = \"6 mm\"\nbacker_back = \"6 mm\"\n";
    let clamp = "[[fixture.clamps]]\nname = \"toggle\"\nx_from = \"60 mm\"\nx_to = \"75 mm\"\n\
                 y_from = \"-5 mm\"\ny_to = \"20 mm\"\ntop = \"14 mm\"\n";
    let measured = "[measured]\nnotch_programmed = \"3.05 mm\"\nnotch_measured = \"3.11 mm\"\n";
    let full = router
        .replace("[fixture]\n", fixture)
        .replace("[cutting] ", "[cutting]\nmost_deflection = \"0.02 mm\"\n")
        .replace(
            "[controller] ",
            &format!("{clamp}{measured}[controller]\ndialect = \"full\"\n"),
        );
    let fit = "\n[fit]\nslot = \"2.85 mm\"\nstrip = \"2.8 mm\"\n";
    // A record of a figure that each kind has.
    let record = |field: &str, value: &str| {
        format!(
            "\n[measured]\n\"{field}\" = {{ date = 2026-11-30, readings = 5, value = \"{value}\", \
             deviation = \"0.012 mm\", uncertainty = \"0.015 mm\" }}\n"
        )
    };
    let recorded =
        |name: &str, field: &str, value: &str| format!("{}{}", shipped(name), record(field, value));
    let spread =
        "\n[spread]\nplus_minus = \"twice\"\nkerf = \"0.03 mm\"\nstrip_thickness = \"0.04 mm\"\n";
    let held = "height = \"0.06 mm\"\nseat = \"0.02 mm\"\n";
    let place = "place = \"0.03 mm\"\n";
    vec![
        recorded("key-sled", "blade.kerf", "2.6 mm"),
        recorded("tube-laser", "laser.kerf", "0.16 mm"),
        recorded("sheet-router", "cutter.diameter", "1.5 mm"),
        recorded("mid-router", "tool.diameter", "2.5 mm"),
        recorded("paring-guides", "guides.block_length", "120 mm"),
        format!("{}{spread}{held}key = \"0.02 mm\"\n", shipped("key-sled")),
        format!("{laser}{fit}{spread}{place}")
            .replace("[laser]\n", "[laser]\nletter_line = \"0.2 mm\"\n"),
        format!("{}{fit}{spread}{place}", shipped("sheet-router")),
        format!("{full}{spread}{held}{place}"),
    ]
}

pub(super) const PATTERNS: &[&str] = &[
    "\
about = \"crossed\"
cell = \"square\"
neighbours = \"same\"
rectangles = false
rhombs = false
thickness = 0.8
depth = \"3/4\"
[points]
low = [0.5, 0]
high = [0.5, 1]
left = [0, \"1/2\"]
right = [1, 0.5]
[[piece]]
name = \"one\"
from = \"low\"
to = \"high\"
[[piece]]
name = \"two\"
from = \"left\"
to = \"right\"
lap = \"one\"
thickness = 1
depth = 0.5
horn = { from = 0, to = \"1/2\" }
[[piece]]
name = \"four\"
from = \"left\"
to = \"right\"
over = \"from\"
[[piece]]
name = \"three\"
from = \"left\"
to = \"right\"
mouth = { from = [\"one\", \"two\"], to = [\"two\", \"one\"] }
",
    "\
about = \"turned\"
cell = \"triangle\"
neighbours = \"mirror\"
middle = \"top\"
greatest = 0.2
locks = [\"spoke\"]
[lines]
upright = { through = [\"top\", \"base\"] }
slope = { from = \"bottom-right\", angle = \"30 deg\", off = \"right\" }
[points]
base = [0.5, 0]
centre = { meet = [\"upright\", \"slope\"] }
[[piece]]
name = \"spoke\"
from = \"base\"
to = \"centre\"
[[junction]]
at = \"centre\"
[[turn]]
round = \"centre\"
steps = 3
copies = { spoke = [\"spoke-2\", \"spoke-3\"] }
",
];

/// Files of `demo/`.
pub(super) const DEMOS: &[&str] = &[
    include_str!("../../../../demo/attic-window.toml"),
    include_str!("../../../../demo/bookcase-back.toml"),
    include_str!("../../../../demo/hall-router.toml"),
    include_str!("../../../../demo/hall-screen.toml"),
    include_str!("../../../../demo/pantry-door.toml"),
    include_str!("../../../../demo/porch-window.toml"),
    include_str!("../../../../demo/reading-lamp.toml"),
    include_str!("../../../../demo/stair-window.toml"),
    include_str!("../../../../demo/tea-cabinet.toml"),
    include_str!("../../../../demo/tray-insert.toml"),
    include_str!("../../../../demo/wardrobe-vent.toml"),
];
