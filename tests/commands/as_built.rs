//! Panels whose strips are cut: pieces and frame follow the bays that were measured.

use crate::support::check_as_built;
use crate::support::cli::{Bench, shipped, with_line};
use float_cmp::approx_eq;
use lapwright::making::filled;
use lapwright::reading::{read_job, read_pattern, shipped_pattern};
use proptest::prelude::*;
use proptest::test_runner::Config;
use serde_json::{Value, json};

/// Four columns and three rows, 35.5 clear as drawn.
const DRAWN: &str = "title = \"Pantry hatch\"\n[grid]\nkind = \"square\"\npitch = \"38.5 mm\"\ncolumns = 4\nrows = 3\noverhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"9 mm\"\n[infill]\npattern = \"square-hemp-leaf\"\nallowance = \"3 mm\"\n[machines]\nsled = \"key-sled\"\nlaser = \"tube-laser\"\nrouter = \"mid-router\"\nguides = \"paring-guides\"\n";

const BUILT: &str = "[as_built]\nopenings_x = [\"35.46 mm\", \"35.50 mm\", \"35.74 mm\", \"35.54 mm\"]\nopenings_y = [\"35.48 mm\", \"35.52 mm\", \"35.50 mm\"]\n";

fn bench() -> Bench {
    let bench = Bench::new();
    bench.write("drawn.toml", DRAWN);
    bench.write("built.toml", format!("{DRAWN}{BUILT}"));
    bench
}

#[track_caller]
fn near(found: &Value, wanted: f64) {
    let found = found.as_f64().unwrap();
    assert!(
        approx_eq!(f64, found, wanted, epsilon = 5e-7),
        "{found} is not {wanted}"
    );
}

fn index(number: &Value) -> usize {
    usize::try_from(number.as_u64().unwrap()).unwrap()
}

#[test]
fn leaves_by_hand() {
    // Columns 1, 2, 4 and all rows lie between 35.46 and 35.54: one size, 35.50. Column 3 is 0.26, 0.22 and
    // 0.24 out of square; the middles of its sides, 35.61, 35.63 and 35.62, are one size, 35.62.
    let answer = bench()
        .ok(&["pare", "built.toml", "--format", "json"])
        .json();
    let kinds = answer["cell_kinds"].as_array().unwrap();
    assert_eq!(kinds.len(), 2);
    for (kind, (count, side, long, short)) in kinds
        .iter()
        .zip([(9, 35.5, 0.04, 0.04), (3, 35.62, 0.14, 0.12)])
    {
        assert_eq!(kind["count"], count);
        near(&kind["opening_mm"][0], side);
        near(&kind["opening_mm"][1], side);
        near(&kind["as_built"]["too_long_mm"], long);
        near(&kind["as_built"]["too_short_mm"], short);
        assert_eq!(kind["as_built"]["own"], false);
    }
    let bays: Vec<_> = kinds[1]["bays"].as_array().unwrap().iter().collect();
    assert!(bays.iter().all(|bay| bay["column"] == 3));
    // A diagonal fills its leaf's opening from corner to corner.
    let pieces = answer["pieces"].as_array().unwrap();
    near(&pieces[0]["length_over_points_mm"], 35.5 * 2_f64.sqrt());
    near(&pieces[3]["length_over_points_mm"], 35.62 * 2_f64.sqrt());
    let made: u64 = pieces
        .iter()
        .map(|piece| piece["made"].as_u64().unwrap())
        .sum();
    assert_eq!(made, 12 * 7);
    let as_built = &answer["as_built"];
    near(&as_built["columns"][2]["drawn_mm"], 35.5);
    near(&as_built["columns"][2]["measured_mm"], 35.74);
    near(&as_built["same_within_mm"], 0.1);
    let said = answer["warnings"].to_string();
    assert!(
        said.contains("leaves-out-of-square") && said.contains("column 3, row 1"),
        "{said}"
    );
    assert!(
        said.contains("column 3, drawn 35.50 mm clear and measured 35.74 mm"),
        "{said}"
    );
}

#[test]
fn a_bay_of_few_cells_needs_its_own_leaf() {
    let bench = Bench::new();
    let rows = DRAWN.replace("rows = 3", "rows = 2");
    bench.write(
        "job.toml",
        format!(
            "{rows}[as_built]\nopenings_x = [\"35.5 mm\", \"35.5 mm\", \"35.9 mm\", \"35.5 mm\"]\n"
        ),
    );
    let told = bench.ok(&["pare", "job.toml"]).out;
    let own = told.find("Bays that need a leaf of their own").unwrap();
    let alike = told.find("Leaves made alike").unwrap();
    let place = told.find("column 3 of rows 1, 2").unwrap();
    assert!(place < own && own < alike, "{told}");
    assert!(told.contains("rows as drawn"), "{told}");
    bench.ok(&["pare", "job.toml", "--csv", "pieces.csv"]);
    let list = bench.read("pieces.csv");
    let heading = list.lines().next().unwrap();
    assert!(
        heading.ends_with("kinds_of_cells,too_long_mm,too_short_mm"),
        "{heading}"
    );
    // Out of square by 0.4, so its leaf is 0.2 off either way.
    assert!(
        list.lines().last().unwrap().ends_with("II,0.200,0.200"),
        "{list}"
    );
}

#[test]
fn what_was_measured_as_drawn_changes_no_piece() {
    let bench = bench();
    let all = |count: usize| vec!["\"35.5 mm\""; count].join(", ");
    bench.write(
        "same.toml",
        format!(
            "{DRAWN}[as_built]\nopenings_x = [{}]\nopenings_y = [{}]\n",
            all(4),
            all(3)
        ),
    );
    let pieces = |job: &str| bench.ok(&["pare", job, "--format", "json"]).json()["pieces"].take();
    assert_eq!(pieces("same.toml"), pieces("drawn.toml"));
}

#[test]
fn nothing_is_planned_for_strips_that_are_cut() {
    let bench = bench();
    for args in [
        &["sled", "built.toml"][..],
        &["sled", "built.toml", "--as-built"],
        &["notch", "built.toml", "-o", "n.nc"],
        &["outline", "built.toml", "--what", "strips", "-o", "s.dxf"],
        &["outline", "built.toml", "--what", "rack", "-o", "r.dxf"],
    ] {
        let ran = bench.run(args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(
            ran.err.contains("strips-are-cut") && ran.err.contains("leave [as_built] out"),
            "{}",
            ran.err
        );
    }
    let built = bench.ok(&["build", "built.toml", "-o", "out"]);
    assert_eq!(
        built.err.matches("warning[as-built]").count(),
        1,
        "{}",
        built.err
    );
    for file in ["sled.txt", "notches-1.nc", "strips.dxf", "rack.dxf"] {
        assert!(!bench.path("out").join(file).exists(), "{file}");
    }
    for file in [
        "panel.svg",
        "gauge.dxf",
        "pieces.dxf",
        "pieces.csv",
        "set-up.pdf",
    ] {
        assert!(bench.path("out").join(file).exists(), "{file}");
    }
    assert!(!bench.read("out/set-up.html").contains("Notches of bundle"));
    bench.ok(&["sheet", "built.toml", "-o", "sheet.html"]);
    assert!(
        bench
            .read("sheet.html")
            .contains("Kinds of cells, as built")
    );
    let shown = bench.ok(&["show", "built.toml"]);
    assert!(
        shown
            .out
            .contains("the strips are cut; columns measured 35.46 mm to 35.74 mm clear"),
        "{}",
        shown.out
    );
    assert!(!shown.out.contains("notch places"), "{}", shown.out);
}

#[test]
fn outlines_of_pieces_prove_against_the_bays_that_they_were_made_for() {
    let bench = bench();
    for job in ["drawn", "built"] {
        let (file, name) = (format!("{job}.dxf"), format!("{job}.toml"));
        bench.ok(&["outline", &name, "--what", "pieces", "-o", &file]);
        bench.ok(&[
            "outline",
            &name,
            "--what",
            "panel",
            "-o",
            &format!("panel-{file}"),
        ]);
    }
    for (drawing, job, code) in [
        ("built.dxf", "built.toml", 0),
        ("built.dxf", "drawn.toml", 1),
        ("drawn.dxf", "built.toml", 1),
        ("panel-built.dxf", "built.toml", 0),
        ("panel-built.dxf", "drawn.toml", 1),
    ] {
        let ran = bench.run(&["prove", drawing, job]);
        assert_eq!(ran.code, code, "{drawing} {job}\n{}{}", ran.out, ran.err);
    }
}

#[test]
fn a_frame_made_for_an_opening_stays_and_the_margins_take_up_the_rest() {
    let bench = Bench::new();
    let job = "title = \"Hatch\"\n[opening]\nmeasured = \"inside\"\nwidth = \"180 mm\"\nheight = \"140 mm\"\n[grid]\nkind = \"square\"\npitch = \"40 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[frame]\nthickness = \"24 mm\"\nmortise_depth = \"6 mm\"\nwidth = \"30 mm\"\n";
    bench.write("drawn.toml", job);
    // Four columns of 37 clear: 160 between the outer centre lines, 160.4 as built.
    let built = "[as_built]\nopenings_x = [\"37.1 mm\", \"37.1 mm\", \"37.1 mm\", \"37.1 mm\"]\n";
    bench.write("built.toml", format!("{job}{built}"));
    let size = |job: &str| bench.ok(&["show", job, "--format", "json"]).json();
    let [drawn, built] = ["drawn.toml", "built.toml"].map(size);
    near(&drawn["size"]["margin_mm"][0], 10.0);
    near(&built["size"]["margin_mm"][0], 9.8);
    near(&built["size"]["margin_mm"][1], 10.0);
    assert_eq!(drawn["finished_mm"], built["finished_mm"]);
    assert_eq!(drawn["size"]["inside_mm"], built["size"]["inside_mm"]);
    // The strips are as long as they were cut.
    assert_eq!(
        drawn["strips"][1]["length_mm"],
        built["strips"][1]["length_mm"]
    );
    // Mortises: the first strip's middle lies a margin from the corner, the others 40.1 on.
    let rails = bench
        .ok(&["rails", "built.toml", "--format", "json"])
        .json();
    let text = rails.to_string();
    let rail = &rails["rails"][0];
    for (at, mortise) in rail["mortises"].as_array().unwrap().iter().enumerate() {
        let found = mortise["centre_mm"]
            .as_f64()
            .unwrap_or_else(|| panic!("{text}"));
        assert!(
            (found - (9.8 + 40.1 * at as f64)).abs() < 1e-6,
            "{found}: {text}"
        );
    }
    // Without an opening the frame follows the panel.
    let own = job
        .replace(
            "[opening]\nmeasured = \"inside\"\nwidth = \"180 mm\"\nheight = \"140 mm\"\n",
            "",
        )
        .replace(
            "pitch = \"40 mm\"\n",
            "pitch = \"40 mm\"\ncolumns = 4\nrows = 3\noverhang = \"25 mm\"\n",
        )
        .replace(
            "width = \"30 mm\"\n",
            "width = \"30 mm\"\nmargin = \"10 mm\"\n",
        );
    bench.write(
        "own.toml",
        format!(
            "{own}[as_built]\nopenings_x = [\"37.1 mm\", \"37.1 mm\", \"37.1 mm\", \"37.1 mm\"]\n"
        ),
    );
    near(&size("own.toml")["size"]["inside_mm"][0], 180.4);
}

#[test]
fn bad_input() {
    let bench = Bench::new();
    let x = "openings_x = [\"35.5 mm\", \"35.5 mm\", \"35.5 mm\", \"35.5 mm\"]";
    let slanted = "title = \"x\"\n[grid]\nkind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 1\noverhang = \"20 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n";
    let over = DRAWN.replace("square-hemp-leaf", "horned-crossings");
    let tight = "title = \"Hatch\"\n[opening]\nmeasured = \"panel\"\nwidth = \"157 mm\"\nheight = \"118.5 mm\"\n[grid]\nkind = \"square\"\npitch = \"38.5 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"9 mm\"\n";
    let wide = x.replace("35.5", "35.6");
    for (job, table, said) in [
        (DRAWN, "", "no opening is given"),
        (
            DRAWN,
            "openings_x = [\"35.5 mm\", \"35.5 mm\"]",
            "2 openings here; the panel has 4 columns",
        ),
        (
            DRAWN,
            "openings_y = []",
            "0 openings here; the panel has 3 rows",
        ),
        (
            DRAWN,
            "openings_y = [\"35.5 mm\", \"38.5 mm\", \"35.5 mm\"]",
            "row 2 is drawn 35.50 mm clear and written as 38.50 mm",
        ),
        (
            DRAWN,
            "openings_y = [\"35.5 mm\", \"35.5 mm\", \"0 mm\"]",
            "row 3 is drawn",
        ),
        (DRAWN, "openings_x = [35.5]", "bare number"),
        (
            DRAWN,
            &format!("{x}\nsame_within = \"1.1 mm\""),
            "this must be 0 mm to 1 mm",
        ),
        (
            DRAWN,
            &format!("{x}\nsame_within = \"-0.1 mm\""),
            "as_built.same_within",
        ),
        (
            DRAWN,
            &format!("{x}\nopening_y = [\"35.5 mm\"]"),
            "did you mean `openings_y`",
        ),
        (
            DRAWN,
            "openings_x = [\"38.4 mm\", \"38.4 mm\", \"38.4 mm\", \"38.4 mm\", \"38.4 mm\"]",
            "5 openings here",
        ),
        (slanted, x, "--cell-opening"),
        (&over, x, "as-built-over-strips"),
        (tight, &wide, "no-room-as-built"),
        (
            &DRAWN.replace("overhang = \"15 mm\"", "overhang = \"5 mm\""),
            "openings_x = [\"38.4 mm\", \"38.4 mm\", \"38.4 mm\", \"38.4 mm\"]",
            "together these are 11.60 mm more",
        ),
    ] {
        bench.write("job.toml", format!("{job}[as_built]\n{table}\n"));
        let ran = bench.run(&["show", "job.toml"]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{table}");
        assert!(ran.err.contains(said), "{table}: {}", ran.err);
    }
}

#[test]
fn slots_as_measured_give_the_bays() {
    let bench = Bench::new();
    // A slot of 38.5 that measures 38.53, and no other.
    let sled = shipped("key-sled");
    let sled = with_line(&sled, "slots", "slots = [\"38.5 mm\"]");
    bench.write(
        "sled.toml",
        with_line(&sled, "measured", "measured = [\"38.53 mm\"]"),
    );
    let job = DRAWN
        .replace("key-sled", "sled.toml")
        .replace("thickness = \"3 mm\"", "thickness = \"2.6 mm\"");
    bench.write("job.toml", &job);
    let plan = bench.ok(&["sled", "job.toml", "--format", "json"]).json();
    let table = bench.ok(&["sled", "job.toml", "--as-built"]).out;
    let bays = bench
        .ok(&["sled", "job.toml", "--as-built", "--format", "json"])
        .json();
    // By the steps: a hop over the key is 38.53, from the stop the notch lies as drawn.
    for (bundle, openings) in [(0, "openings_y_mm"), (1, "openings_x_mm")] {
        let steps = plan["bundles"][bundle]["steps"].as_array().unwrap();
        let count = steps.len();
        let mut places = vec![0.0; count];
        for step in steps {
            let notch = index(&step["notch"]);
            places[notch - 1] = match step["register"].as_str().unwrap() {
                "key" => {
                    let on = index(&step["on_notch"]);
                    places[on - 1] + if notch > on { 38.53 } else { -38.53 }
                }
                _ => 15.0 + 38.5 * (notch - 1) as f64,
            };
        }
        let found = bays[openings].as_array().unwrap();
        assert_eq!(found.len(), count - 1);
        for (pair, found) in places.windows(2).zip(found) {
            near(found, pair[1] - pair[0] - 2.6);
        }
        assert!(steps.iter().any(|step| step["register"] == "key"));
    }
    bench.write("job.toml", format!("{job}\n{table}"));
    let shown = bench.ok(&["show", "job.toml"]);
    assert!(shown.out.contains("the strips are cut"), "{}", shown.out);
    bench.write("stop.toml", DRAWN.replace("key-sled", "stop-sled"));
    let ran = bench.run(&["sled", "stop.toml", "--as-built"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("no-slot-used"), "{}", ran.err);
}

/// Panels whose bays came out a little off.
fn built() -> impl Strategy<Value = (Vec<f64>, Vec<f64>, f64, &'static str)> {
    let bays = |most| prop::collection::vec(-25_i32..=25, 1..most);
    let clear = |off: Vec<i32>| {
        off.iter()
            .map(|off| f64::from(3550 + off) / 100.0)
            .collect()
    };
    let patterns = prop_oneof![Just("square-hemp-leaf"), Just("crossed-diagonals")];
    (bays(7), bays(6), 0_i32..30, patterns).prop_map(move |(x, y, within, pattern)| {
        (clear(x), clear(y), f64::from(within) / 100.0, pattern)
    })
}

proptest! {
    #![proptest_config(Config::with_cases(24))]

    /// Cells added up by shapely's script from the openings alone; half of what is alike and half of what a
    /// square leaf's cell is out of square are the most that a leaf may be off.
    #[test]
    fn leaves_fill_the_cells_as_built((x, y, within, pattern) in built()) {
        let list = |open: &[f64]| {
            open.iter().map(|open| format!("\"{open} mm\"")).collect::<Vec<_>>().join(", ")
        };
        let text = DRAWN
            .replace("columns = 4\nrows = 3", &format!("columns = {}\nrows = {}", x.len(), y.len()))
            .replace("square-hemp-leaf", pattern)
            + &format!("[as_built]\nopenings_x = [{}]\nopenings_y = [{}]\nsame_within = \"{within} mm\"\n", list(&x), list(&y));
        let job = read_job("job.toml", &text).unwrap();
        let pattern = read_pattern(pattern, shipped_pattern(pattern).unwrap().text).unwrap().pattern;
        let needs_square = !pattern.rectangles;
        let filled = filled(&job, &[pattern]).unwrap();
        let ring = |ring: &[lapwright::geometry::Point]| -> Vec<[f64; 2]> {
            ring.iter().map(|p| [p.x, p.y]).collect()
        };
        let cells: Vec<Value> = filled.cells.iter().map(|cell| {
            let pieces: Vec<_> = cell.pieces.iter().map(|piece| ring(&piece.outline)).collect();
            json!({ "column": cell.column, "row": cell.row, "pieces": pieces })
        }).collect();
        let panel = json!({ "openings_x": x, "openings_y": y, "thickness": 3.0, "overhang": 15.0, "cells": cells });
        let found = check_as_built(&panel);
        for (cell, found) in filled.cells.iter().zip(found.as_array().unwrap()) {
            let [wide, high, off, twice] = [0, 1, 2, 3].map(|at| found[at].as_f64().unwrap());
            let out = (x[cell.column - 1] - y[cell.row - 1]).abs();
            let half = if needs_square && out > within { out / 2.0 } else { 0.0 };
            let most = within / 2.0 + half + 2e-6;
            prop_assert!(wide.abs() <= most && high.abs() <= most, "{found} beside {most}\n{text}");
            prop_assert!(off < 1e-6, "{found}\n{text}");
            // Pieces that are lapped over each other share wood as seen; others touch.
            prop_assert!(!needs_square || twice.abs() < 1e-6, "{found}\n{text}");
        }
        let taken: usize = filled.kinds.iter().map(|kind| kind.count).sum();
        let placed: usize = filled.cells.iter().map(|cell| cell.pieces.len()).sum();
        prop_assert_eq!(taken, placed);
        prop_assert_eq!(filled.cells.len(), x.len() * y.len());
        let of_kinds: usize = filled.cell_kinds().iter().map(|kind| kind.cells.len()).sum();
        prop_assert_eq!(of_kinds, filled.cells.len());
    }
}
