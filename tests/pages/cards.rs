//! The cards: how many pages they take, that nothing of the plans is lost on them, and parts on demand.

use super::demo;
use super::figures::text;
use super::paper::{pages, printed, read};
use crate::support::cli::{Bench, JOB};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// All demo jobs of panels, and how many pages their sheets take on A4 at most, templates at true size not
/// counted.
const PAGES: [(&str, usize); 11] = [
    ("attic-window", 9),
    ("bookcase-back", 14),
    ("hall-screen", 14),
    ("pantry-door", 8),
    ("porch-window", 15),
    ("reading-lamp", 8),
    ("stair-window", 15),
    ("tea-cabinet", 10),
    ("tray-insert", 6),
    ("wardrobe-vent", 18),
    ("pot-stand", 9),
];

/// Four by four bays with hemp leaf for key sled, guides, laser and small router.
const POT_STAND: &str = r#"
title = "Pot stand, hemp leaf"

[grid]
kind = "square"
pitch = "38 mm"
columns = 4
rows = 4
overhang = "14 mm"

[strip]
thickness = "2.6 mm"
depth = "9 mm"
wood = "basswood"

[infill]
pattern = "square-hemp-leaf"

[machines]
sled = "key-sled"
guides = "paring-guides"
laser = "tube-laser"
router = "small-router"
"#;

fn job(name: &str) -> String {
    if name == "pot-stand" {
        POT_STAND.to_owned()
    } else {
        demo(name)
    }
}

/// Puts what a demo job names beside it into a bench.
fn with_profiles(bench: &Bench) {
    bench.write("hall-router.toml", demo("hall-router"));
}

/// Pages of a document by what they begin with.
fn page_texts(bench: &Bench) -> Vec<String> {
    let all = read(bench, "pdftotext", &["-layout"]);
    let pages = all.split('\u{c}').map(str::to_owned);
    pages.take(self::pages(bench)).collect()
}

/// Pages of templates at true size, and of the cards that are for buying, milling and mitres.
fn apart(texts: &[String]) -> usize {
    let heads = [
        "Wood",
        "Milling",
        "Mitres",
        "Sled",
        "Bench hook",
        "Laser",
        "Sheet router",
        "Router",
        "Pieces",
        "Frame",
        "Rails",
        "Bench",
    ];
    let mut card = "";
    let mut count = 0;
    for text in texts {
        let begins = |head: &&&str| text.trim_start().starts_with(&format!("{head}: "));
        card = heads.iter().find(begins).copied().unwrap_or(card);
        let is_apart = matches!(card, "Wood" | "Milling" | "Mitres");
        count += usize::from(is_apart || text.contains("Print at 100 %"));
        // The first card may begin below what is not made.
        if text.trim_start().starts_with("Not made") {
            card = "Wood";
        }
    }
    count
}

#[test]
fn a_sheet_takes_no_more_pages_than_it_needs() {
    let mut over = Vec::new();
    for (name, most) in PAGES {
        let bench = Bench::new();
        with_profiles(&bench);
        bench.write("job.toml", job(name));
        // A part that a machine cannot make is told on the sheet: code 1.
        bench.run(&["sheet", "job.toml", "-o", "set-up.pdf"]);
        let texts = page_texts(&bench);
        let cards = texts.len() - apart(&texts);
        if cards > most {
            over.push(format!("{name}: {cards} pages, not {most}"));
        }
        // No page with one thing on it, but for the end of a card.
        for (at, text) in texts.iter().enumerate() {
            let lines = text.lines().filter(|line| !line.trim().is_empty());
            assert!(
                lines.count() > 3,
                "{name}: page {} is all but empty: {text}",
                at + 1
            );
        }
    }
    assert!(over.is_empty(), "{}", over.join("\n"));
}

/// Figures of the plans that a sheet does not tell: what only a program or a drawing uses, and what is the
/// same figure counted from elsewhere.
const UNTOLD: &[&str] = &[
    "laser: files.offcut_from_mm",
    "pieces: guide.block_length_mm",
    "pieces: guide.bolts_in_mm",
    "pieces: guide.bolts_mm",
    "pieces: guide.hole_mm",
    "pieces: guide.reach_mm",
    "pieces: guide.stop_mm",
    "pieces: guide.fence_mm",
    "pieces: mitres.settings.fence.cut_angle_deg",
    "pieces: mitres.settings.fence.kerf_along_fence_mm",
    "pieces: mitres.settings.half_chord_mm",
    "pieces: mitres.settings.travel_mm",
    "pieces: mitres.sticks.between_rough_ends_mm",
    "pieces: mitres.sticks.pieces.from_mm",
    "pieces: pieces.ends.facets.shoulder_mm",
    "pieces: pieces.ends.facets.stop_mm",
    "pieces: pieces.ends.take_off.pared_mm",
    "pieces: pieces.ends.tip_angle_deg",
    "pieces: pieces.outline_mm",
    "pieces: pieces.rough_length_mm",
    "rails: mitres.sled.settings.cut_angle_deg",
    "rails: mitres.sled.settings.along_blade_mm",
    "rails: mitres.sled.settings.kerf_along_fence_mm",
    "rails: programs.cutting_mm",
    "rails: programs.ramp_deg",
    "rails: programs.rapid_mm",
    "router: setups.cutting_mm",
    "router: setups.deflection_mm",
    "router: setups.notches_below.machine_x_mm",
    "router: setups.rapid_mm",
    "router: setups.registered.near_edge_mm",
    "router: setups.stock.x_mm",
    "sled: bundles.by_spacers.stop_to_kerf_mm",
    "sled: bundles.by_stop.stop_to_kerf_mm",
    "sled: bundles.loads.block_width_mm",
    "sled: bundles.route.bays_mm",
    "sled: bundles.route.least_mm",
    "sled: bundles.slots_to_add_mm",
    "sled: bundles.steps.stop_to_kerf_mm",
    "sled: bundles.steps.uncertainty_mm",
    "sled: fit.racking_within_deg",
    "sled: settings.rounds.places.stop_to_kerf_mm",
    "sled: size.margin_mm",
];

/// A number as the sheet may print it: lengths by two decimals, angles by up to four.
fn forms(key: &str, value: f64) -> Vec<String> {
    let hundredths = (value.abs() * 100.0 + 1e-7).round() / 100.0;
    if key.ends_with("_mm") {
        return vec![format!("{hundredths:.2}")];
    }
    let short = |text: String| {
        let text = text.trim_end_matches('0').trim_end_matches('.');
        text.to_owned()
    };
    let value = value.abs();
    [1, 2, 3, 4]
        .map(|places| short(format!("{value:.places$}")))
        .to_vec()
}

/// Every length and angle of a plan with the way to it.
fn walk(value: &Value, path: &mut Vec<String>, found: &mut Vec<(String, f64)>) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                path.push(key.clone());
                walk(value, path, found);
                path.pop();
            }
        }
        Value::Array(list) => list.iter().for_each(|value| walk(value, path, found)),
        Value::Number(number) => {
            let key = path.last().map_or("", String::as_str);
            if key.ends_with("_mm") || key.ends_with("_deg") {
                found.push((path.join("."), number.as_f64().unwrap()));
            }
        }
        _ => {}
    }
}

/// Numbers in a text.
fn numbers(text: &str) -> BTreeSet<&str> {
    let parts = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    parts.map(|part| part.trim_matches('.')).collect()
}

#[test]
fn every_figure_and_every_caution_of_the_plans_stands_on_the_sheet() {
    let mut told = 0;
    let mut lost: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (name, _) in PAGES {
        let bench = Bench::new();
        with_profiles(&bench);
        bench.write("job.toml", job(name));
        bench.run(&["build", "job.toml", "-o", "out"]);
        let page = bench.read("out/set-up.html");
        let said = text(&page, "mm");
        let there = numbers(&said);
        for file in ["sled", "laser", "router", "pieces", "rails"] {
            let path = format!("out/{file}.json");
            if !bench.path(&path).is_file() {
                continue;
            }
            let plan: Value = serde_json::from_str(&bench.read(&path)).unwrap();
            let mut found = Vec::new();
            walk(&plan, &mut Vec::new(), &mut found);
            for (path, value) in found {
                let key = format!("{file}: {path}");
                let square = key.ends_with("angle_deg") || key.ends_with("to_blade_deg");
                let right = square && (value - 90.0).abs() < 1e-9;
                if UNTOLD.contains(&key.as_str()) || right {
                    continue;
                }
                told += 1;
                if !forms(&path, value)
                    .iter()
                    .any(|form| there.contains(form.as_str()))
                {
                    lost.entry(key).or_default().push(format!("{name} {value}"));
                }
            }
            for note in plan["safety"].as_array().unwrap() {
                let note = note.as_str().unwrap().replace('\'', "&#39;");
                assert!(said.contains(&note), "{name}, {file}: {note}");
            }
        }
    }
    assert!(told > 5000, "{told}");
    assert!(lost.is_empty(), "{lost:#?}");
}

#[test]
fn parts_are_printed_alone_on_every_paper() {
    for paper in ["a4", "letter", "a5", "half-letter"] {
        let bench = printed(POT_STAND, &["--part", "sled", "--paper", paper]);
        let text = read(&bench, "pdftotext", &[]);
        assert!(text.starts_with("Sled: key-sled"), "{paper}: {text}");
        assert!(!text.contains("Router: ") && !text.contains("Print at 100 %"));
        let bench = printed(POT_STAND, &["--part", "templates", "--paper", paper]);
        let text = read(&bench, "pdftotext", &[]);
        assert!(text.contains("Print at 100 %") && !text.contains("Safety first"));
    }
    let bench = printed(POT_STAND, &["--part", "cards"]);
    let text = read(&bench, "pdftotext", &[]);
    assert!(text.contains("Router: small-router") && text.contains("Bench: "));
    assert!(!text.contains("Order of the work") && !text.contains("Print at 100 %"));
    let whole = printed(POT_STAND, &["--part", "whole"]);
    assert_eq!(pages(&whole), 1);
}

#[test]
fn a_part_that_a_sheet_has_not_is_told_with_those_that_it_has() {
    let bench = Bench::new();
    bench.write("job.toml", JOB);
    let ran = bench.run(&["sheet", "job.toml", "-o", "set-up.pdf", "--part", "frame"]);
    assert_eq!(ran.code, 2, "{}", ran.err);
    assert!(
        ran.err.contains("no part frame") && ran.err.contains("bench"),
        "{}",
        ran.err
    );
    assert!(!bench.path("set-up.pdf").exists());
    let ran = bench.run(&[
        "sheet",
        "job.toml",
        "-o",
        "set-up.html",
        "--part",
        "templates",
    ]);
    assert!(ran.code == 2 && ran.err.contains(".pdf"), "{}", ran.err);
}

/// What the advice says is what comes of following it.
#[test]
fn advice_keeps_its_word() {
    let job = demo("wardrobe-vent");
    let bench = Bench::new();
    bench.write("job.toml", &job);
    let ran = bench.ok(&["show", "job.toml"]);
    let note = "makes 3 bundles of 12, and 4 set-ups of the router of 18";
    assert!(ran.err.contains(&format!(
        "note: bundling = \"runs\" in the job's [strip] {note}"
    )));
    assert!(ran.out.contains("less work"), "{}", ran.out);
    let sheet = printed(&job, &["--part", "whole"]);
    let first = read(&sheet, "pdftotext", &[]);
    let words = first.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains(note), "{words}");

    let followed = job.replace("[strip]\n", "[strip]\nbundling = \"runs\"\n");
    bench.write("job.toml", followed);
    bench.ok(&["build", "job.toml", "-o", "out"]);
    let count = |file: &str, key: &str| {
        let plan: Value = serde_json::from_str(&bench.read(file)).unwrap();
        plan[key].as_array().unwrap().len()
    };
    assert_eq!(count("out/sled.json", "bundles"), 3);
    assert_eq!(count("out/router.json", "setups"), 4);
    assert!(!bench.ok(&["show", "job.toml"]).err.contains("bundling"));
}
