//! Kinds of drawings: proving them, laying several out together, building them.

use super::plain::{lines, on};
use crate::support::cli::Bench;

pub(super) const JOB: &str = r#"title = "Screen"

[grid]
kind = "square"
pitches_x = ["40 mm", "50 mm", "40 mm"]
pitches_y = ["40 mm", "50 mm", "40 mm", "50 mm"]
overhang = "20 mm"

[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"

[infill]
pattern = "square-hemp-leaf"

[machines]
sled = "key-sled"
laser = "laser.toml"
"#;

/// A folder with a job and a laser that cuts as deep.
pub(super) fn folder() -> Bench {
    let folder = Bench::new();
    folder.write("job.toml", JOB);
    let laser = crate::support::cli::shipped("tube-laser").replace("\"9 mm\"", "\"12 mm\"");
    folder.write("laser.toml", laser);
    folder
}

/// Draws and proves; the proof's exit code and its verdict.
fn proof(folder: &Bench, what: &str, more: &[&str], proving: &[&str]) -> (i32, String) {
    let mut draw = vec!["outline", "job.toml", "--what", what, "-o", "drawn.dxf"];
    draw.extend(more);
    let mut prove = vec!["--format", "json", "prove"];
    let drawn = folder
        .ok(&[&["--format", "json"][..], &draw[..]].concat())
        .json();
    let files: Vec<String> = drawn["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|file| file["path"].as_str().unwrap().to_owned())
        .collect();
    prove.extend([files[0].as_str(), "job.toml"]);
    for file in &files[1..] {
        prove.extend(["--sheet", file.as_str()]);
    }
    prove.extend(proving);
    let ran = folder.run(&prove);
    (ran.code, ran.json()["against"].as_str().unwrap().to_owned())
}

#[test]
fn every_kind_of_drawing_proves_without_saying_which_it_is() {
    let folder = folder();
    for (what, against) in [
        ("strips", "all 9 strips of the job"),
        ("pieces", "all 42 pieces of the job"),
        ("blocks", "all 3 guide blocks of the job"),
        ("guide", "all 3 guide parts of the job"),
        ("gauge", "all 2 story sticks of the job"),
        ("rack", "1 base insert of the job"),
        ("comb", "1 comb of slots of the job"),
        (
            "blocks,gauge,rack",
            "all 3 guide blocks and 2 story sticks and 1 base insert of the job",
        ),
        (
            "comb,strips,blocks",
            // Of the strips' sheet, 3 mm, it takes four layers to come to 12 mm.
            "all 9 strips and 12 guide blocks and 1 comb of slots of the job",
        ),
        (
            "guide,blocks,comb",
            "all 12 guide blocks and 9 guide parts and 1 comb of slots of the job",
        ),
        (
            "pieces,blocks",
            "all 42 pieces and 3 guide blocks of the job",
        ),
    ] {
        for version in ["r2000", "r12"] {
            let found = proof(&folder, what, &["--dxf", version], &[]);
            assert_eq!(found, (0, against.to_owned()), "{what} {version}");
        }
        let said = proof(&folder, what, &[], &["--what", what]);
        assert_eq!(said.0, 0, "{what}");
    }
    folder.ok(&["outline", "job.toml", "--what", "panel", "-o", "panel.dxf"]);
    for more in [&[][..], &["--what", "panel"]] {
        let ran = folder.ok(&[&["prove", "panel.dxf", "job.toml"], more].concat());
        assert!(
            ran.out.contains("RIGHT AGAINST THE ASSEMBLED PANEL"),
            "{}",
            ran.out
        );
    }
}

#[test]
fn slots_and_sleds_of_ones_own_are_said_again_to_prove() {
    let folder = folder();
    let slots = ["--slots", "2.8mm,2.9mm,3mm"];
    let again = ["--what", "comb", "--slots", "2.8mm,2.9mm,3mm"];
    assert_eq!(proof(&folder, "comb", &slots, &again).0, 0);
    assert_eq!(proof(&folder, "comb", &slots, &[]).0, 1);
    let note = folder.run(&["prove", "drawn.dxf", "job.toml"]);
    assert!(note.err.contains("--slots"), "{}", note.err);
    let other = ["--what", "comb", "--slots", "2.8mm,2.91mm,3mm"];
    assert_eq!(proof(&folder, "comb", &slots, &other).0, 1);
    let sled = ["--sled", "bench-hook"];
    let again = ["--what", "rack", "--sled", "bench-hook"];
    assert_eq!(proof(&folder, "rack", &sled, &again).0, 0);
    assert_eq!(proof(&folder, "rack", &sled, &[]).0, 1);
}

#[test]
fn a_drawing_of_another_kind_or_job_is_not_right() {
    let folder = folder();
    assert_eq!(proof(&folder, "pieces", &[], &["--what", "strips"]).0, 1);
    assert_eq!(
        proof(&folder, "pieces,blocks", &[], &["--what", "pieces"]).0,
        1
    );
    assert_eq!(
        proof(&folder, "blocks", &[], &["--what", "blocks,gauge"]).0,
        1
    );
    folder.write(
        "other.toml",
        JOB.replace("\"50 mm\", \"40 mm\"]", "\"50.1 mm\", \"40 mm\"]"),
    );
    for what in ["strips", "gauge", "rack", "panel"] {
        folder.ok(&["outline", "job.toml", "--what", what, "-o", "d.dxf"]);
        assert_eq!(
            folder.run(&["prove", "d.dxf", "other.toml"]).code,
            1,
            "{what}"
        );
    }
    // A comb with one slot of another width is still told as a comb.
    folder.ok(&["outline", "job.toml", "--what", "comb", "-o", "d.dxf"]);
    folder.write("thicker.toml", JOB.replace("\"3 mm\"", "\"3.01 mm\""));
    let ran = folder.run(&["prove", "d.dxf", "thicker.toml"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("NOT RIGHT AGAINST 1 COMB"), "{}", ran.out);
    let svg = folder.run(&["outline", "job.toml", "--what", "comb", "-o", "d.svg"]);
    assert_eq!(svg.code, 0);
    let ran = folder.run(&["prove", "d.svg", "job.toml"]);
    assert!(
        ran.code == 2 && ran.err.contains("prove the DXF"),
        "{}",
        ran.err
    );
}

#[test]
fn kinds_that_do_not_go_together_are_refused_with_the_reason() {
    let folder = folder();
    let refused = |what: &str, words: &str| {
        let ran = folder.run(&["outline", "job.toml", "--what", what, "-o", "x.dxf"]);
        assert_eq!(ran.code, 2, "{what}");
        assert!(ran.err.contains(words), "{what}: {}", ran.err);
    };
    refused(
        "strips,pieces",
        "strips are cut from sheet 3.00 mm thick, pieces from sheet 12.00 mm thick",
    );
    refused("blocks,pieces,comb", "they cannot share one");
    refused("strips,strips", "twice");
    refused("panel,strips", "a drawing of its own");
    // As deep as thick, one sheet serves all three.
    folder.write(
        "flat.toml",
        JOB.replace("\"12 mm\"", "\"3 mm\"").replace("0.05", "0"),
    );
    let drawn = folder.ok(&[
        "outline",
        "flat.toml",
        "--what",
        "strips,pieces,blocks",
        "-o",
        "all.dxf",
    ]);
    assert!(
        drawn
            .out
            .contains("FROM SHEET: STRIPS, PIECES AND GUIDE BLOCKS"),
        "{}",
        drawn.out
    );
    assert_eq!(
        on(&lines(&folder.path("all.dxf")), "OUTLINES").len(),
        9 + 42 + 3
    );
    folder.ok(&["prove", "all.dxf", "flat.toml"]);
}

#[test]
fn a_build_has_sticks_and_inserts_and_no_comb() {
    let folder = folder();
    folder.ok(&["build", "job.toml", "-o", "out"]);
    for (name, there) in [("gauge", true), ("rack", true), ("comb", false)] {
        for ending in ["dxf", "svg"] {
            let file = format!("out/{name}.{ending}");
            assert_eq!(folder.path(&file).is_file(), there, "{file}");
        }
    }
    for name in ["gauge", "rack", "guide-blocks", "guide", "pieces", "strips"] {
        folder.ok(&["prove", &format!("out/{name}.dxf"), "job.toml"]);
    }
    // A sled that works by stops has no key slots; a job is built without sticks where a laser
    // cannot label them.
    folder.write("stop.toml", JOB.replace("key-sled", "stop-sled"));
    folder.ok(&["build", "stop.toml", "-o", "stop"]);
    assert!(folder.path("stop/gauge.dxf").is_file() && !folder.path("stop/rack.dxf").is_file());
    let laser = folder
        .read("laser.toml")
        .replace("label_height = \"2.5 mm\"", "label_height = \"0 mm\"");
    folder.write("laser.toml", laser);
    let ran = folder.run(&["build", "stop.toml", "-o", "bare"]);
    assert_eq!(ran.code, 1, "something is missing");
    assert!(ran.err.contains("no story sticks: "), "{}", ran.err);
    assert!(!folder.path("bare/gauge.dxf").exists() && folder.path("bare/strips.dxf").is_file());
}
