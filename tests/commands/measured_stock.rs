//! Stock that is not as it was drawn: everything but the telling is as if it had been drawn so.

use crate::support::cli::{Bench, JOB};
use crate::support::jobs::{Job, Length, jobs};
use float_cmp::approx_eq;
use lapwright::finding::Finding;
use lapwright::lattice::{Lattice, Panel};
use lapwright::reading::read_job;
use proptest::prelude::*;
use proptest::test_runner::Config;
use serde_json::Value;
use std::collections::BTreeMap;

/// A grid, a section and the stock for it: thickness, depth and shares, if the job gives any.
struct Case {
    grid: &'static str,
    drawn: [&'static str; 3],
    stock: [&'static str; 3],
    more: &'static str,
    frame: &'static str,
}

const FRAME: &str =
    "[frame]\nthickness = \"24 mm\"\nmortise_depth = \"6 mm\"\nclearance = \"0.1 mm\"\n";

const CASES: [Case; 4] = [
    Case {
        grid: "kind = \"square\"\npitches_x = [\"40 mm\", \"50 mm\", \"40 mm\"]\npitches_y = [\"50 mm\", \"50 mm\"]\n",
        drawn: ["3 mm", "7 mm", "[\"3 mm\", \"4 mm\"]"],
        stock: ["3.12 mm", "7.35 mm", "[\"3.15 mm\", \"4.2 mm\"]"],
        more: "clearance = \"0.05 mm\"\n[infill]\npattern = \"square-hemp-leaf\"\n",
        frame: FRAME,
    },
    Case {
        grid: "kind = \"triangular\"\nside = \"45 mm\"\nregion = \"hexagon\"\nrings = 2\n",
        drawn: ["3 mm", "15 mm", "[\"4.5 mm\", \"6 mm\", \"4.5 mm\"]"],
        stock: ["2.85 mm", "14 mm", "[\"4.2 mm\", \"5.6 mm\", \"4.2 mm\"]"],
        more: "lap = \"same-depth\"\nbundling = \"runs\"\n[infill]\npattern = \"triangular-hemp-leaf\"\n",
        frame: "",
    },
    Case {
        grid: "kind = \"diamond\"\npitch = \"1 1/2 in\"\nangle = \"70 deg\"\nstance = \"on-point\"\nregion = \"rectangle\"\nwidth = \"8 in\"\nheight = \"9 in\"\n",
        drawn: ["1/8 in", "1/2 in", ""],
        stock: ["3.31 mm", "0.515 in", ""],
        more: "clearance = \"0.002 in\"\nweave = \"alternate\"\n",
        frame: "",
    },
    Case {
        grid: "kind = \"square\"\npitch = \"40 mm\"\ncolumns = 3\nrows = 4\n",
        drawn: ["3 mm", "12 mm", ""],
        stock: ["3 mm", "11.7 mm", ""],
        more: "",
        frame: "",
    },
];

fn job(case: &Case, [thickness, depth, keeps]: [&str; 3], measured: &str) -> String {
    let keeps = match keeps {
        "" => String::new(),
        _ => format!("keeps = {keeps}\n"),
    };
    format!(
        "title = \"Door\"\n[grid]\n{}overhang = \"20 mm\"\n[strip]\nthickness = \"{thickness}\"\n\
         depth = \"{depth}\"\n{measured}{keeps}{}{}[machines]\nsled = \"stop-sled\"\n\
         laser = \"tube-laser\"\nrouter = \"mid-router\"\nguides = \"paring-guides\"\n",
        case.grid, case.more, case.frame
    )
}

fn measured_lines(thickness: &str, depth: &str) -> String {
    format!("measured_thickness = {thickness}\nmeasured_depth = {depth}\n")
}

fn quote(text: &str) -> String {
    format!("\"{text}\"")
}

/// The same design twice: in stock that was measured, and drawn as that measures.
fn twins(case: &Case) -> [String; 2] {
    [
        job(
            case,
            case.drawn,
            &measured_lines(&quote(case.stock[0]), &quote(case.stock[1])),
        ),
        job(case, case.stock, ""),
    ]
}

/// Runs what every job can be asked for; file by file what came of it, answers as `.txt` or
/// `.json`.
fn all_of(text: &str) -> BTreeMap<String, Vec<u8>> {
    let bench = Bench::new();
    bench.write("job.toml", text);
    bench.ok(&["build", "job.toml", "-o", "out"]);
    let square = text.contains("kind = \"square\"");
    let outlines = ["gauge", "comb", "panel"]
        .into_iter()
        .chain(square.then_some("rack"));
    for what in outlines {
        for name in [format!("{what}.dxf"), format!("{what}.svg")] {
            bench.ok(&["outline", "job.toml", "--what", what, "-o", &name]);
        }
    }
    let mut asked = vec![
        vec!["sled"],
        vec!["outline", "--what", "gauge", "-o", "again.dxf"],
        vec!["outline", "--what", "comb", "-o", "again.dxf"],
        vec!["notch", "-o", "n.nc"],
    ];
    if text.contains("[frame]") {
        asked.push(vec!["rails"]);
    }
    if square {
        asked.push(vec!["outline", "--what", "rack", "-o", "again.dxf"]);
    }
    if text.contains("[infill]") {
        asked.push(vec!["pare", "--csv", "pieces.csv"]);
        asked.push(vec!["outline", "--what", "blocks", "-o", "again.dxf"]);
    }
    if text.contains("square-hemp-leaf") {
        asked.push(vec!["outline", "--what", "pieces", "-o", "pieces.dxf"]);
        asked.push(vec!["pare", "--cell-opening", "36.4mm"]);
    }
    for (at, words) in asked.iter().enumerate() {
        for format in ["text", "json"] {
            let mut words = words.clone();
            words.splice(1..1, ["job.toml", "--format", format]);
            let ran = bench.ok(&words);
            let ending = if format == "text" { "txt" } else { "json" };
            bench.write(&format!("answer-{at}-{}.{ending}", words[0]), ran.out);
        }
    }
    std::fs::remove_file(bench.path("job.toml")).unwrap();
    let folder = bench.path("");
    let name = |path: std::path::PathBuf| path.strip_prefix(&folder).unwrap().display().to_string();
    let files = bench.contents().into_iter();
    files
        .filter_map(|(path, content)| Some((name(path), content?)))
        .collect()
}

/// A sheet without its section on the stock; whether it has one.
fn without_telling(text: &str) -> (String, bool) {
    let Some(at) = text.find("STOCK AS MEASURED\n") else {
        return (text.to_owned(), false);
    };
    let end = at + text[at..].find("\n\n").unwrap() + 2;
    (format!("{}{}", &text[..at], &text[end..]), true)
}

#[test]
fn everything_but_the_telling_is_as_if_drawn_so() {
    for case in &CASES {
        let [measured, drawn] = twins(case).map(|text| all_of(&text));
        assert!(measured.keys().eq(drawn.keys()));
        assert!(measured.len() > 25, "{}", measured.len());
        for (name, content) in &measured {
            let told = |tells: bool| assert!(tells, "{name} does not tell of the stock");
            let other = &drawn[name];
            let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
            if name.ends_with("manifest.json") {
                continue;
            } else if name.ends_with(".txt") {
                let (rest, tells) = without_telling(&text(content));
                told(tells);
                assert_eq!(rest, text(other), "{name}");
            } else if name.ends_with(".json") {
                let mut plan: Value = serde_json::from_slice(content).unwrap();
                told(
                    plan.as_object_mut()
                        .unwrap()
                        .remove("measured_stock")
                        .is_some(),
                );
                assert_eq!(
                    plan,
                    serde_json::from_slice::<Value>(other).unwrap(),
                    "{name}"
                );
            } else if name.ends_with(".html") {
                told(text(content).contains("Stock as measured"));
                assert!(!text(other).contains("Stock as measured"));
            } else if !name.ends_with(".pdf") {
                // Programs, drawings, lists.
                assert!(content == other, "{name} differs");
            }
        }
    }
}

#[test]
fn the_proof_holds_programs_and_outlines_against_the_stock() {
    let case = &CASES[3];
    let bench = Bench::new();
    bench.write("stock.toml", &twins(case)[0]);
    bench.write("drawn.toml", job(case, case.drawn, ""));
    bench.ok(&["notch", "stock.toml", "-o", "n.nc"]);
    bench.ok(&["outline", "stock.toml", "--what", "strips", "-o", "s.dxf"]);
    for file in ["n-1.nc", "n-2.nc", "s.dxf"] {
        for (job, code) in [("stock.toml", 0), ("drawn.toml", 1)] {
            let ran = bench.run(&["prove", file, job]);
            assert_eq!(ran.code, code, "{file} {job}\n{}{}", ran.out, ran.err);
        }
    }
}

fn figures(text: &str) -> Value {
    let bench = Bench::new();
    bench.write("job.toml", text);
    bench.ok(&["sled", "job.toml", "--format", "json"]).json()
}

#[test]
fn figures_by_hand() {
    // Notch (3.12 + 0.05) at right angles, 3.2 as the stop sled's kerf cuts it; of a depth of 7.35 instead of 7 the front strip keeps
    // 3 * 1.05 = 3.15, so its notch is 4.2 deep and the other's 3.15. Middles as drawn.
    let answer = figures(&twins(&CASES[0])[0]);
    let near = |value: &Value, wanted: f64| {
        let value = value.as_f64().unwrap();
        assert!(
            approx_eq!(f64, value, wanted, epsilon = 1e-9),
            "{value}, not {wanted}"
        );
    };
    for (bundle, depth) in [(0, 4.2), (1, 3.15)] {
        let notches = answer["bundles"][bundle]["notches"].as_array().unwrap();
        for notch in notches {
            near(&notch["width_mm"], 3.2);
            near(&notch["drawn_width_mm"], 3.17);
            near(&notch["depth_mm"], depth);
        }
        near(&notches[0]["centre_mm"], 20.0);
    }
    let stock = &answer["measured_stock"];
    for (key, wanted) in [
        ("drawn_thickness_mm", 3.0),
        ("measured_thickness_mm", 3.12),
        ("thicker_mm", 0.12),
        ("drawn_depth_mm", 7.0),
        ("measured_depth_mm", 7.35),
        ("deeper_mm", 0.35),
    ] {
        near(&stock[key], wanted);
    }
    near(&stock["keeps"]["drawn_mm"][0], 3.0);
    near(&stock["keeps"]["measured_mm"][1], 4.2);
    assert_eq!(stock["centres_as_drawn"], true);
}

#[test]
fn a_sheet_says_how_far_the_stock_is_off_and_what_follows() {
    let bench = Bench::new();
    let said = |lines: &str| {
        bench.write(
            "job.toml",
            JOB.replace("wood = ", &format!("{lines}\nwood = ")),
        );
        let text = bench.ok(&["sled", "job.toml"]).out;
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let both = said("measured_thickness = \"3.12 mm\"\nmeasured_depth = \"11.8 mm\"");
    for words in [
        "thickness 3.12 mm by caliper; drawn 3.00 mm, so the stock is 0.12 mm thicker",
        "depth 11.80 mm by caliper; drawn 12.00 mm, so the stock is 0.20 mm shallower",
        "between neighbouring parallel strips there is 0.12 mm less room",
        "holds for the notches' middles, but not for their edges",
    ] {
        assert!(both.contains(words), "{words}\n{both}");
    }
    let depth = said("measured_depth = \"12.3 mm\"");
    for words in [
        "thickness 3.00 mm as drawn",
        "0.30 mm deeper",
        "a story stick for the drawn section still holds.",
    ] {
        assert!(depth.contains(words), "{words}\n{depth}");
    }
    assert!(!depth.contains("room"), "{depth}");
}

#[test]
fn story_sticks_that_do_not_hold_are_not_said_to() {
    // Strips that lap beyond the edge are as long as the lap there needs.
    let grid = "title = \"x\"\n[grid]\nkind = \"triangular\"\nside = \"40 mm\"\nregion = \"rectangle\"\n\
                width = \"260 mm\"\nheight = \"250 mm\"\noverhang = \"18 mm\"\n[strip]\n\
                thickness = \"3 mm\"\ndepth = \"15 mm\"\nmeasured_thickness = \"3.2 mm\"\n";
    let bench = Bench::new();
    bench.write("job.toml", grid);
    let text = bench
        .ok(&["sled", "job.toml", "--machine", "stop-sled"])
        .out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("do not hold: make new ones"), "{text}");
    // Their lengths do differ.
    let lengths = |text: &str| {
        let panel = read_job("job.toml", text).unwrap().panel;
        let strips = &panel.lattice().strips;
        strips.iter().map(|strip| strip.length).sum::<f64>()
    };
    let as_drawn = lengths(&grid.replace("measured_thickness = \"3.2 mm\"\n", ""));
    assert!((lengths(grid) - as_drawn).abs() > 0.1);
}

fn warnings(lines: &str) -> Vec<Finding> {
    let text = JOB.replace("wood = ", &format!("{lines}\nwood = "));
    read_job("job.toml", &text).unwrap().warnings
}

#[test]
fn stock_out_of_proportion_and_nominal_sizes_are_warned_of_at_their_fields() {
    let codes = |lines: &str| -> Vec<(&str, String)> {
        let found = warnings(lines).into_iter();
        found.map(|finding| (finding.code, finding.field)).collect()
    };
    let (thickness, depth) = ("strip.measured_thickness", "strip.measured_depth");
    for (lines, wanted) in [
        ("measured_thickness = \"3.45 mm\"", vec![]),
        (
            "measured_thickness = \"3.46 mm\"",
            vec![("stock-out-of-proportion", thickness)],
        ),
        (
            "measured_thickness = \"2.54 mm\"",
            vec![("stock-out-of-proportion", thickness)],
        ),
        (
            "measured_depth = \"10.1 mm\"",
            vec![("stock-out-of-proportion", depth)],
        ),
        // 1/8 in for 3 mm is what the stock was sold as; 0.121 in is what a caliper reads.
        (
            "measured_thickness = \"1/8 in\"",
            vec![("mixed-units", thickness)],
        ),
        ("measured_thickness = \"0.121 in\"", vec![]),
        ("measured_depth = \"1/2 in\"", vec![("mixed-units", depth)]),
        ("measured_depth = \"12.5 mm\"", vec![]),
        (
            "measured_thickness = \"1.9 mm\"",
            vec![
                ("stock-out-of-proportion", thickness),
                ("unusual-thickness", thickness),
            ],
        ),
    ] {
        let wanted: Vec<_> = wanted
            .into_iter()
            .map(|(code, at)| (code, at.to_owned()))
            .collect();
        assert_eq!(codes(lines), wanted, "{lines}");
    }
}

/// A job with the stock's measures written below its depth.
fn with_stock(job: &Job, thickness: &Length, depth: &Length) -> String {
    let line = format!("depth = {}\n", job.depth.quoted());
    let text = job.toml();
    assert!(text.contains(&line), "{text}");
    let more = measured_lines(&thickness.quoted(), &depth.quoted());
    text.replacen(&line, &format!("{line}{more}"), 1)
}

fn panel(text: &str) -> Result<Panel, String> {
    let read = read_job("job.toml", text);
    read.map(|job| job.panel)
        .map_err(|bad| format!("{:?}", bad.findings))
}

proptest! {
    #![proptest_config(Config { cases: 200, failure_persistence: None, ..Config::default() })]

    #[test]
    fn stock_as_drawn_changes_nothing(job in jobs()) {
        let stock = with_stock(&job, &job.thickness, &job.depth);
        prop_assert_eq!(panel(&stock), panel(&job.toml()));
    }

    #[test]
    fn a_lattice_is_that_of_its_stock(job in jobs(), wide in 0.9..1.1_f64, deep in 0.9..1.1_f64) {
        let mm = |mm: f64| Length { text: format!("{mm:.3} mm"), mm };
        let (thickness, depth) = (mm(job.thickness.mm * wide), mm(job.depth.mm * deep));
        let drawn = panel(&job.toml()).unwrap();
        let as_stock = Job {
            thickness: thickness.clone(),
            depth: depth.clone(),
            ..job.clone()
        };
        let (stock, wanted) = (panel(&with_stock(&job, &thickness, &depth)), panel(&as_stock.toml()));
        match (stock, wanted) {
            (Ok(stock), Ok(wanted)) => {
                let (mut lattice, wanted) = (stock.lattice().clone(), wanted.lattice().clone());
                let centres = |lattice: &Lattice| -> Vec<f64> {
                    let notches = lattice.strips.iter().flat_map(|strip| &strip.notches);
                    notches.map(|notch| notch.centre).collect()
                };
                prop_assert_eq!(centres(&lattice), centres(drawn.lattice()));
                prop_assert!(lattice.centres_as_drawn);
                lattice.section.drawn = None;
                prop_assert_eq!(lattice, wanted);
            }
            // Stock in which the laps or webs do not fit is refused either way.
            (stock, wanted) => prop_assert_eq!(stock.is_err(), wanted.is_err()),
        }
    }
}
