//! Openings of cells as a person measures them: from wall to wall, and from corner to corner.

use crate::support::cli::Bench;
use float_cmp::approx_eq;
use serde_json::Value;

const DOOR: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/tea-cabinet.toml");

fn near(found: &Value, wanted: f64) {
    let found = found.as_f64().unwrap();
    assert!(
        approx_eq!(f64, found, wanted, epsilon = 5e-7),
        "{found} is not {wanted}"
    );
}

fn json(args: &[&str]) -> Value {
    Bench::new()
        .ok(&[args, &["--format", "json"]].concat())
        .json()
}

#[test]
fn a_diagonal_alone_gives_a_square_cells_walls() {
    let answer = json(&["pare", DOOR, "--cell-opening", "diagonal=50.2mm"]);
    near(&answer["pieces"][0]["opening_mm"][0], 50.2 / 2_f64.sqrt());
    // From corner to corner: the diagonal is as long as what was measured.
    near(&answer["pieces"][0]["length_over_points_mm"], 50.2);
    near(&answer["pieces"][0]["drawn_length_mm"], 35.4 * 2_f64.sqrt());
}

#[test]
fn a_diagonal_beside_the_walls_says_how_far_a_cell_is_out_of_true() {
    // By hand: 35.6 sqrt 2 = 50.3460; with 50.50 the other is sqrt (4 x 35.6^2 - 50.5^2) = 50.1916; the
    // angle between sides that ends 50.5 apart, acos ((2 x 35.6^2 - 50.5^2) / (2 x 35.6^2)) = 90.3508.
    let answer = json(&["pare", DOOR, "--cell-opening", "35.6mm,35.6mm,50.5mm"]);
    let warnings = answer["warnings"].to_string();
    for said in [
        "out of true by 0.351 deg",
        "50.50 mm and 50.19 mm",
        "50.35 mm and 50.35 mm",
    ] {
        assert!(warnings.contains(said), "{said}: {warnings}");
    }
    near(
        &answer["pieces"][0]["length_over_points_mm"],
        35.6 * 2_f64.sqrt(),
    );
    let told = Bench::new().ok(&["pare", DOOR, "--cell-opening", "35.6mm,35.6mm,50.5mm"]);
    assert!(told.err.contains("0.15 mm longer"), "{}", told.err);
    let true_cell = json(&["pare", DOOR, "--cell-opening", "35.6mm,35.6mm,50.346mm"]);
    assert_eq!(true_cell["warnings"].as_array().unwrap().len(), 0);
    let bench = Bench::new();
    for (opening, said) in [
        ("35.6mm,35.6mm,53mm", "does not go with walls"),
        ("35.6mm,35.6mm,80mm", "does not go with walls"),
        ("35.6mm,35.6mm,50.3mm,1mm", "give one length"),
        ("35.6mm,,50mm", "--cell-opening"),
        ("diagonal=", "--cell-opening"),
        ("diagonal=0mm", "above zero"),
    ] {
        let ran = bench.run(&["pare", DOOR, "--cell-opening", opening]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{opening}");
        assert!(ran.err.contains(said), "{opening}: {}", ran.err);
    }
}

#[test]
fn a_rhombs_longer_diagonal_gives_its_side_and_a_triangle_has_none() {
    let bench = Bench::new();
    let job = |grid: &str, pattern: &str| {
        format!(
            "title = \"x\"\n[grid]\n{grid}overhang = \"14 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[infill]\npattern = \"{pattern}\"\n"
        )
    };
    let rhombs = "kind = \"diamond\"\npitch = \"40 mm\"\nangle = \"60 deg\"\nregion = \"rectangle\"\nwidth = \"220 mm\"\nheight = \"200 mm\"\n";
    bench.write("rhombs.toml", job(rhombs, "diamond-hemp-leaf"));
    let args = [
        "pare",
        "rhombs.toml",
        "--cell-opening",
        "diagonal=75mm",
        "--format",
        "json",
    ];
    let answer = bench.ok(&args).json();
    // Two equal-sided triangles: the longer diagonal is sqrt 3 sides.
    near(&answer["pieces"][0]["opening_mm"][0], 75.0 / 3_f64.sqrt());
    let triangles = "kind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 1\n";
    bench.write("triangles.toml", job(triangles, "triangular-hemp-leaf"));
    for opening in ["diagonal=50mm", "54mm,54mm,54mm"] {
        let ran = bench.run(&["pare", "triangles.toml", "--cell-opening", opening]);
        assert_eq!(ran.code, 2);
        assert!(
            ran.err
                .contains("--cell-opening: a triangle has no diagonal"),
            "{}",
            ran.err
        );
    }
    let oblong = "kind = \"square\"\npitches_x = [\"40 mm\", \"40 mm\"]\npitches_y = [\"60 mm\", \"60 mm\"]\n";
    bench.write("oblong.toml", job(oblong, "single-diagonal"));
    let ran = bench.run(&["pare", "oblong.toml", "--cell-opening", "diagonal=67mm"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("says nothing of their sides"),
        "{}",
        ran.err
    );
    let args = [
        "pare",
        "oblong.toml",
        "--cell-opening",
        "37mm,57mm,67.97mm",
        "--format",
        "json",
    ];
    let answer = bench.ok(&args).json();
    near(
        &answer["pieces"][0]["length_over_points_mm"],
        37_f64.hypot(57.0),
    );
}

#[test]
fn a_kind_of_cell_is_measured_by_its_name_or_all_of_its_opening() {
    let demo = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/attic-window.toml");
    let names = |args: &[&str]| -> Vec<String> {
        let answer = json(&[&["pare", demo, "--cell-opening", "35.2mm"], args].concat());
        let pieces = answer["pieces"].as_array().unwrap();
        pieces
            .iter()
            .map(|piece| piece["name"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(names(&["--cell-kind", "II"]), ["diagonal", "hinge", "lock"]);
    assert_eq!(names(&["--cell-kind", "iii"]), ["bar"]);
    assert_eq!(names(&[]), ["diagonal", "hinge", "lock", "bar", "brace"]);
    let bench = Bench::new();
    let refused = |args: &[&str], said: &str| {
        let ran = bench.run(&[&["pare", demo], args].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(ran.err.contains(said), "{args:?}: {}", ran.err);
    };
    refused(
        &["--cell-opening", "35mm", "--cell-kind", "V"],
        "--cell-kind: no kind of cell is called `V`",
    );
    refused(
        &["--cell-opening", "35mm", "--cell-kind", "V"],
        "I, II, III, IV",
    );
    refused(&["--cell-kind", "II"], "--cell-opening");
    // An opening is the panel's.
    refused(&["--opening", "35mm"], "--cell-opening");
}
