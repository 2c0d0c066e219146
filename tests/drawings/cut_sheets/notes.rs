//! Safety notes stand in everything that goes to a machine or a bench.

use super::kinds;
use crate::support::cli::{Bench, shipped};
use lapwright::instructions::safety::{MitreSaw, SafetyNotes};
use std::fs;
use std::path::Path;
use std::process::Command;

/// Looks at one file; `cuts` is what cuts the outlines. A list for other programs may carry none.
fn has_notes(path: &Path, cuts: &SafetyNotes) {
    let bytes = fs::read(path).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    let name = path.file_name().unwrap().to_str().unwrap();
    let text_has = |notes: &SafetyNotes| text.contains(notes.short()[0]);
    // A frame's members are cut as their corners ask for.
    let of_frame = [
        SafetyNotes::for_tenoned_rails(false),
        SafetyNotes::for_tenoned_rails(true),
        SafetyNotes::for_mitred_rails(false, MitreSaw::Table),
        SafetyNotes::for_mitred_rails(false, MitreSaw::Hand),
        SafetyNotes::for_mortises(false),
        SafetyNotes::for_mortises(true),
    ];
    let own = match name.split(['.', '-']).next() {
        Some("panel") => Some(SafetyNotes::for_assembly()),
        Some("frame") => of_frame.into_iter().find(text_has),
        _ => None,
    };
    let notes = own.as_ref().unwrap_or(cuts);
    let [first, last] = notes.short();
    assert!(last.contains("machine's manual, local codes and licensed practice come first"));
    match path.extension().unwrap().to_str().unwrap() {
        "dxf" => {
            let head = format!("999\nSafety: {first}\n999\nSafety: {last}\n0\nSECTION\n");
            assert!(text.starts_with(&head), "{name}");
        }
        "svg" => {
            let described = format!("<desc id=\"notes\">Safety: {first} {last}</desc>");
            assert!(text.contains(&described), "{name}");
            assert!(text.contains("aria-describedby=\"notes\""), "{name}");
        }
        "nc" => {
            let comments = text.lines().filter(|line| line.contains('('));
            let comments: Vec<&str> = comments.collect();
            let all = comments.join(" ").replace(") (- ", " ");
            assert!(
                all.contains("(Safety ") && all.contains("spindle"),
                "{name}"
            );
            assert!(
                all.contains("or the advice of a licensed or trained professional"),
                "{name}"
            );
            assert!(
                !all.contains("this sheet") && all.contains("the set-up sheet"),
                "{name}"
            );
            let fits = |c: char| c.is_ascii_alphanumeric() || " .,-+=/()".contains(c);
            assert!(comments.iter().all(|line| line.chars().all(fits)), "{name}");
        }
        "txt" => assert!(
            text.contains("SAFETY FIRST") && text.contains("licensed"),
            "{name}"
        ),
        "html" => assert!(text.contains("licensed or trained professional"), "{name}"),
        "json" => {
            let answer: serde_json::Value = serde_json::from_str(&text).unwrap();
            assert!(!answer["safety"].as_array().unwrap().is_empty(), "{name}");
        }
        "pdf" => {
            let read = Command::new("pdftotext")
                .arg(path)
                .arg("-")
                .output()
                .unwrap();
            let text = String::from_utf8_lossy(&read.stdout).into_owned();
            let mut templates = 0;
            for page in text
                .split('\u{c}')
                .filter(|page| page.contains("Print at 100 %"))
            {
                for line in SafetyNotes::for_assembly().short() {
                    assert!(page.contains(line), "{name}: {page}");
                }
                templates += 1;
            }
            let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
            let whole = words.contains("advice of a licensed or trained professional");
            assert!(templates > 0 && whole, "{name}");
        }
        "csv" => {}
        other => panic!("{other}: what kind of file is this?"),
    }
}

/// The last lines of a short answer.
fn ends_in_notes(answer: &str) {
    let from = answer
        .find("\nSafety: ")
        .unwrap_or_else(|| panic!("{answer}"));
    let notes = answer[from..]
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    let [_, last] = SafetyNotes::for_router().short();
    assert!(notes.ends_with(last), "{answer}");
}

fn build(bench: &Bench, job: &str, cuts: &SafetyNotes) -> usize {
    // Where one machine cannot make all of its parts, the others' are there.
    let ran = bench.run(&["build", job, "-o", "parts"]);
    assert!(
        ran.code == 0 || ran.code == 1 && ran.err.contains("not made: "),
        "{}",
        ran.err
    );
    ends_in_notes(&ran.out);
    let files = fs::read_dir(bench.path("parts")).unwrap();
    let files = files.map(|entry| entry.unwrap().path());
    files.inspect(|path| has_notes(path, cuts)).count()
}

#[test]
fn every_file_of_every_demo_has_them() {
    let mut count = 0;
    for entry in fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/demo")).unwrap() {
        let path = entry.unwrap().path();
        // Pictures lie beside the jobs.
        if path.is_dir() {
            continue;
        }
        let job = fs::read_to_string(&path).unwrap();
        // A machine of one's own lies beside the jobs.
        if !job.contains("[machines]") {
            continue;
        }
        let bench = Bench::new();
        bench.write("job.toml", &job);
        let own = path.with_file_name("hall-router.toml");
        bench.write("hall-router.toml", fs::read(own).unwrap());
        count += build(&bench, "job.toml", &SafetyNotes::for_laser());
        bench.write("routed.toml", job.replace("tube-laser", "sheet-router"));
        if job.contains("Reading lamp") {
            fs::remove_dir_all(bench.path("parts")).unwrap();
            count += build(&bench, "routed.toml", &SafetyNotes::for_sheet_router());
        }
    }
    assert!(count > 80, "{count}");
}

#[test]
fn every_kind_of_drawing_has_them() {
    let bench = kinds::folder();
    bench.write(
        "router.toml",
        shipped("sheet-router").replace("\"6 mm\"", "\"12 mm\""),
    );
    for what in [
        "strips", "pieces", "blocks", "gauge", "rack", "comb", "panel",
    ] {
        for (file, more) in [
            ("d.dxf", &[][..]),
            ("d.dxf", &["--dxf", "r12"]),
            ("d.svg", &[]),
            ("d.dxf", &["--machine", "router.toml"]),
        ] {
            let file = if what == "panel" {
                format!("panel-{file}")
            } else {
                file.to_owned()
            };
            let routed = more.contains(&"--machine");
            if what == "panel" && routed {
                continue;
            }
            let draw = ["outline", "job.toml", "--what", what, "-o", &file];
            let answer = bench.ok(&[&draw[..], more].concat()).out;
            assert!(answer.contains("licensed"), "{answer}");
            let cuts = SafetyNotes::for_sheet(routed);
            has_notes(&bench.path(&file), &cuts);
        }
    }
}

#[test]
fn short_answers_and_pictures_have_them() {
    let bench = Bench::with_job();
    ends_in_notes(&bench.ok(&["sheet", "job.toml", "-o", "s.html"]).out);
    bench.ok(&["notch", "job.toml", "-o", "n.nc"]);
    bench.ok(&["outline", "job.toml", "--what", "strips", "-o", "d.dxf"]);
    ends_in_notes(&bench.ok(&["prove", "d.dxf", "job.toml"]).out);
    let program = ["prove", "n-1.nc", "job.toml", "--picture", "p.svg"];
    ends_in_notes(&bench.ok(&program).out);
    has_notes(&bench.path("p.svg"), &SafetyNotes::for_router());
    bench.ok(&["pattern", "show", "square-hemp-leaf", "-o", "c.svg"]);
    has_notes(&bench.path("c.svg"), &SafetyNotes::for_guides());
}
