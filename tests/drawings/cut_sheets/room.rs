//! Room: between paths, to the margin, and on sheets that are too small.

use super::kinds::folder;
use super::plain::{Line, lines, on};
use crate::support::cli::{Bench, shipped};

/// The tube laser with these figures, all in mm.
fn laser(kerf: f64, margin: f64, gap: f64, sheet: [f64; 2]) -> String {
    let text = shipped("tube-laser");
    let lines = text.lines().map(|line| match line.split(' ').next() {
        Some("kerf") => format!("kerf = \"{kerf} mm\""),
        Some("margin") => format!("margin = \"{margin} mm\""),
        Some("gap") => format!("gap = \"{gap} mm\""),
        Some("thickest") => "thickest = \"40 mm\"".into(),
        Some("length") => format!("length = \"{} mm\"", sheet[0]),
        Some("width") => format!("width = \"{} mm\"", sheet[1]),
        _ => line.to_owned(),
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// The paths around the parts, file by file, and the answer.
fn drawn(folder: &Bench, job: &str, what: &str) -> (Vec<Vec<Line>>, serde_json::Value) {
    let args = [
        "--format",
        "json",
        "outline",
        job,
        "--what",
        what,
        "-o",
        "drawn.dxf",
    ];
    let answer = folder.ok(&args).json();
    let files = answer["files"].as_array().unwrap().iter();
    let files = files.map(|file| {
        on(
            &lines(&folder.path(file["path"].as_str().unwrap())),
            "OUTLINES",
        )
    });
    (files.collect(), answer)
}

fn demo(name: &str) -> String {
    let path = format!("{}/demo/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).unwrap()
}

/// Tips of all sharpness: of 22.5, 30 and 45 degrees at the pieces' ends and on the blocks.
#[test]
fn paths_keep_gap_and_margin_at_sharp_tips_too() {
    let folder = Bench::new();
    let mut out = 0.0_f64;
    for (kerf, margin, gap) in [(0.4, 0.5, 1.3), (0.16, 6.0, 2.0), (1.0, 0.0, 2.5)] {
        let sheet = [500.0, 200.0];
        folder.write("laser.toml", laser(kerf, margin, gap, sheet));
        for name in ["tea-cabinet", "stair-window"] {
            let job = demo(name).replace("\"tube-laser\"", "\"laser.toml\"");
            folder.write("job.toml", job);
            for what in ["pieces", "blocks", "pieces,blocks"] {
                let (files, answer) = drawn(&folder, "job.toml", what);
                let mut across = 0.0;
                for paths in &files {
                    let mut top = 0.0_f64;
                    let mut bottom = f64::INFINITY;
                    for (at, path) in paths.iter().enumerate() {
                        let [low, high] = path.bounds();
                        for axis in 0..2 {
                            let edge = margin + kerf / 2.0 - 1e-5;
                            assert!(low[axis] >= edge, "{name} {what}: {low:?}");
                            assert!(high[axis] <= sheet[axis] - edge, "{name} {what}: {high:?}");
                        }
                        top = top.max(high[1]);
                        bottom = bottom.min(low[1]);
                        for other in &paths[at + 1..] {
                            let [from, to] = other.bounds();
                            let far = |axis: usize| {
                                from[axis] - high[axis] > gap || low[axis] - to[axis] > gap
                            };
                            if far(0) || far(1) {
                                continue;
                            }
                            let apart = path.distance(other);
                            assert!(apart >= gap - kerf - 1e-5, "{name} {what}: {apart}");
                        }
                        // A piece's straight part is 3 or 2.8 mm wide: what its tips reach out.
                        out = out.max(path.size()[0]);
                    }
                    across += top - bottom;
                }
                // What is told is what can be added up in the drawings, and no less than is told
                // to be possible.
                let told = answer["width_taken_mm"].as_f64().unwrap();
                assert!((told - across).abs() < 2e-5, "{told} {across}");
                assert!(answer["least_width_mm"].as_f64().unwrap() <= told + 1e-9);
            }
        }
    }
    assert!(out > 100.0);
}

/// A drawing whose paths are nearer to each other, or to the edge, than the profile allows.
#[test]
fn the_proof_sees_gap_and_margin() {
    let folder = folder();
    folder.write("laser.toml", laser(0.2, 2.0, 2.0, [600.0, 400.0]));
    folder.ok(&[
        "outline",
        "job.toml",
        "--what",
        "pieces,blocks",
        "-o",
        "d.dxf",
    ]);
    folder.ok(&["prove", "d.dxf", "job.toml"]);
    for (margin, gap, code) in [(2.0, 2.001, "too-close"), (2.001, 2.0, "in-margin")] {
        folder.write("laser.toml", laser(0.2, margin, gap, [600.0, 400.0]));
        let ran = folder.run(&["prove", "d.dxf", "job.toml"]);
        assert_eq!(ran.code, 1);
        assert!(ran.out.contains(code), "{}", ran.out);
    }
}

#[test]
fn the_side_that_is_too_short_is_blamed_and_turning_told() {
    let folder = folder();
    let refused = |what: &str, sheet: [f64; 2]| {
        folder.write("laser.toml", laser(0.16, 6.0, 2.0, sheet));
        let ran = folder.run(&["outline", "job.toml", "--what", what, "-o", "x.dxf"]);
        assert_eq!(ran.code, 2);
        ran.err
    };
    // A base insert is wide across the grain; turned it would lie on this sheet.
    let told = refused("rack", [580.0, 120.0]);
    assert!(told.contains("sheet.width: base insert 1"), "{told}");
    assert!(
        told.contains("the length is enough") && told.contains("it would fit turned: exchange"),
        "{told}"
    );
    let told = refused("strips", [120.0, 580.0]);
    assert!(
        told.contains("sheet.length: ") && told.contains("the grain runs along them"),
        "{told}"
    );
    assert!(told.contains("build the panel in parts"), "{told}");
    let told = refused("strips", [120.0, 120.0]);
    assert!(
        told.contains("sheet.length: ") && told.contains("turning it does not help"),
        "{told}"
    );
    let told = refused("rack", [60.0, 60.0]);
    assert!(told.contains("longer along the grain and"), "{told}");
}
