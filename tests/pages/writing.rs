//! Writing that can be read: its size, that none stands over other writing, that none is cut off, on paper
//! (pypdf), in pictures as files, and on screens (chromium).

use super::paper::printed;
use super::{DEMOS, built, demo};
use crate::support;
use crate::support::cli::Bench;
use crate::support::cores::on_all_cores;
use serde_json::Value;
use std::fs;

/// Nothing on paper is smaller, points.
const LEAST: f64 = 7.0;

/// Figures that are read at arm's length are no smaller, points.
const AT_ARMS_LENGTH: f64 = 14.0;

/// A line of writing: what it says, its size in points, and the box of its capitals, y up.
struct Line {
    says: String,
    size: f64,
    low: [f64; 2],
    high: [f64; 2],
}

/// Capitals of DejaVu Sans: 1493 of 2048 units.
const CAPITALS: f64 = 0.729;

fn lines(page: &Value) -> Vec<Line> {
    let line = |line: &Value| {
        let number = |at: usize| line[at].as_f64().unwrap();
        let [size, x, y, width] = [1, 2, 3, 4].map(number);
        Line {
            says: line[0].as_str().unwrap().to_owned(),
            size,
            low: [x, y],
            high: [x + width, y + CAPITALS * size],
        }
    };
    let writing = page["writing"].as_array().unwrap();
    writing.iter().map(line).collect()
}

/// Lines that a template's cross, of which page and drawing are laid over each other, stands over.
fn under_crosses(page: &Value, lines: &[Line]) -> (usize, Vec<String>) {
    let crosses = page["crosses"].as_array().unwrap();
    let mut found = Vec::new();
    for cross in crosses {
        let [x, y, arm] = [0, 1, 2].map(|at| cross[at].as_f64().unwrap());
        let touched = lines.iter().filter(|line| {
            let level = line.low[1] < y && y < line.high[1];
            let upright = line.low[0] < x && x < line.high[0];
            (level && line.low[0] < x + arm && x - arm < line.high[0])
                || (upright && line.low[1] < y + arm && y - arm < line.high[1])
        });
        found.extend(touched.map(|line| line.says.clone()));
    }
    (crosses.len(), found)
}

/// Pairs of lines that stand over each other.
fn over_each_other(lines: &[Line]) -> Vec<String> {
    // Letters have a little white at their sides.
    const SPARE: f64 = 0.2;
    let mut found = Vec::new();
    for (at, a) in lines.iter().enumerate() {
        for b in &lines[at + 1..] {
            let common = |axis: usize| {
                a.low[axis] < b.high[axis] - SPARE && b.low[axis] < a.high[axis] - SPARE
            };
            if common(0) && common(1) {
                found.push(format!("`{}` over `{}`", a.says, b.says));
            }
        }
    }
    found
}

#[test]
fn no_writing_on_paper_is_small_or_over_other_writing() {
    let cases = DEMOS.iter().flat_map(|name| {
        [["mm", "a4"], ["in", "letter"]].map(|[units, paper]| (*name, units, paper))
    });
    let cases: Vec<(&str, &str, &str)> = cases.collect();
    on_all_cores(&cases, |(name, units, paper)| {
        let bench = printed(&demo(name), &["--units", units, "--paper", paper]);
        let pages = support::read_writing(&bench.path("set-up.pdf"));
        let (mut told, mut crosses) = (0, 0);
        for (number, page) in (1..).zip(pages.as_array().unwrap()) {
            let lines = lines(page);
            for line in &lines {
                assert!(
                    line.size >= LEAST,
                    "{name} {units}, page {number}: `{}` of {} pt",
                    line.says,
                    line.size
                );
            }
            let over = over_each_other(&lines);
            assert!(over.is_empty(), "{name} {units}, page {number}: {over:?}");
            let (count, crossed) = under_crosses(page, &lines);
            assert!(
                crossed.is_empty(),
                "{name}, page {number}: a cross over {crossed:?}"
            );
            told += lines.len();
            crosses += count;
        }
        assert!(told > 500, "{name}: {told}");
        // Strips of these are longer than a page is broad.
        assert!(crosses > 3 || *name == "reading-lamp", "{name}: {crosses}");
    });
}

/// Stop to kerf, slots of the key, heights of the blade: the cards of settings say them large.
#[test]
fn settings_are_large_enough_for_arms_length() {
    for (name, units) in [("tea-cabinet", "mm"), ("pantry-door", "in")] {
        let bench = printed(&demo(name), &["--units", units]);
        let pages = support::read_writing(&bench.path("set-up.pdf"));
        let all: Vec<Line> = pages.as_array().unwrap().iter().flat_map(lines).collect();
        let mut told = 0;
        for wanted in ["blade over the base", "blade over the table"] {
            let labels = all.iter().enumerate();
            for (at, _) in labels.filter(|(_, line)| line.says == wanted) {
                // A card's value follows its name.
                let value = &all[at + 1];
                assert!(value.says.ends_with(units), "{wanted}: {}", value.says);
                assert!(value.size >= AT_ARMS_LENGTH, "{wanted}: {} pt", value.size);
                told += 1;
            }
        }
        assert!(told >= 2, "{name}: {told}");
    }
}

/// In files of true size a millimetre of the picture is one on paper.
#[test]
fn no_writing_in_a_picture_of_true_size_is_small() {
    for name in DEMOS {
        let bench = built(&demo(name), &[]);
        let picture = bench.read("out/panel.svg");
        let sizes = picture.split(" font-size=\"").skip(1);
        let sizes: Vec<f64> = sizes
            .map(|rest| rest.split('"').next().unwrap().parse().unwrap())
            .collect();
        assert!(sizes.len() > 4, "{name}");
        for size in sizes {
            let points = size / 25.4 * 72.0;
            assert!(points >= LEAST, "{name}: {points} pt");
        }
    }
}

#[test]
fn nothing_written_is_cut_off_small_covered_or_pale_on_any_screen() {
    on_all_cores(&DEMOS, |name| {
        let bench: Bench = built(&demo(name), &[]);
        let found = support::on_screens(&bench.path("out/set-up.html"));
        let screens = found["screens"].as_object().unwrap();
        assert_eq!(screens.len(), 8, "{name}");
        for (screen, seen) in screens {
            for fault in ["cut", "small", "over"] {
                assert_eq!(
                    seen[fault],
                    serde_json::json!([]),
                    "{name}, {screen}: {fault}"
                );
            }
            assert!(seen["texts"].as_u64().unwrap() > 300, "{name}, {screen}");
            assert!(seen["drawn"].as_u64().unwrap() > 30, "{name}, {screen}");
        }
        for (screen, seen) in found["contrast"].as_object().unwrap() {
            assert_eq!(seen["pale"], serde_json::json!([]), "{name}, {screen}");
            assert!(seen["looked"].as_u64().unwrap() > 60, "{name}, {screen}");
        }
    });
}

/// A job that is written in inches is told in inches, unless somebody asks otherwise.
#[test]
fn a_job_is_told_in_the_units_that_it_is_written_in() {
    let bench = Bench::new();
    let inches = "title = \"lid\"\n[grid]\nkind = \"square\"\npitch = \"1 1/2 in\"\ncolumns = 3\nrows = 2\n\
                  overhang = \"1/2 in\"\n[strip]\nthickness = \"1/8 in\"\ndepth = \"1/2 in\"\n";
    bench.write("lid.toml", inches);
    let own = bench.ok(&["sled", "lid.toml"]).out;
    assert!(own.contains("1/2 in") && !own.contains(" mm"), "{own}");
    assert_eq!(own, bench.ok(&["sled", "lid.toml", "--units", "in"]).out);
    let asked = bench.ok(&["sled", "lid.toml", "--units", "mm"]).out;
    assert!(
        asked.contains("12.70 mm") && !asked.contains("/2 in"),
        "{asked}"
    );
    let flags = [
        "sled",
        "--pitch",
        "1 1/2 in",
        "--bays",
        "3",
        "--overhang",
        "1/2 in",
    ];
    let strip = ["--thickness", "1/8 in", "--depth", "1/2 in"];
    let told = bench.ok(&[&flags[..], &strip[..]].concat()).out;
    assert!(told.contains("1/2 in") && !told.contains(" mm"), "{told}");
    // Faults too, whatever else is wrong with the file.
    let thick = inches.replace("1/8 in", "1 5/8 in");
    bench.write("thick.toml", thick);
    let refused = bench.run(&["sled", "thick.toml"]);
    assert_eq!(refused.code, 2);
    assert!(!refused.err.contains(" mm"), "{}", refused.err);
    assert!(fs::metadata(bench.path("lid.toml")).is_ok());
}

/// An inch is said one way: no fraction that is off by nothing, none of nought, and no line ends within.
#[test]
fn inches_are_fractions_or_have_the_nearest_beside_them() {
    for name in DEMOS {
        let bench = printed(&demo(name), &["--units", "in"]);
        let sled = bench.ok(&["sled", "job.toml", "--units", "in"]).out;
        let pages = support::read_writing(&bench.path("set-up.pdf"));
        let pages = pages.as_array().unwrap().iter().flat_map(lines);
        let mut lines: Vec<String> = pages.map(|line| line.says).collect();
        lines.extend(sled.lines().map(str::to_owned));
        let mut brackets = 0;
        for line in &lines {
            assert!(
                !line.contains("+0.0000]") && !line.contains("-0.0000]"),
                "{name}: {line}"
            );
            assert!(!line.contains("[0 "), "{name}: {line}");
            // A bracket stands on the line of its figure, whole.
            let opened = line.matches(['[']).count();
            assert!(
                opened == line.matches([']']).count()
                    || line.contains("[infill")
                    || line.contains("[ ]"),
                "{name}: {line}"
            );
            assert!(!line.trim_end().ends_with(" in ["), "{name}: {line}");
            brackets += usize::from(line.contains(" in ["));
        }
        assert!(brackets > 3, "{name}: {brackets}");
    }
}
