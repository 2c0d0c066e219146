//! Outlines for a round cutter against the outside: what a disc beside the drawn parts sweeps, as
//! shapely reckons it, holds every notch whole, so that a square mate sits.

use crate::support;
use crate::support::jobs::{Job, answer, demo_jobs, jobs, number, samples};
use crate::support::{measure_parts, read_dxf};
use float_cmp::approx_eq;
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const GENERATED: usize = 8;

/// A profile with this cutter.
fn profile(folder: &Path, diameter: f64, relief: &str, bridges: &str) -> PathBuf {
    let shipped = lapwright::reading::shipped_machine("sheet-router")
        .unwrap()
        .text;
    let lines = shipped.lines().map(|line| match line.split(' ').next() {
        Some("diameter") => format!("diameter = \"{diameter} mm\""),
        Some("relief") => format!("relief = \"{relief}\""),
        Some("count") => format!("count = {bridges}"),
        Some("thickest") => "thickest = \"40 mm\"".to_owned(),
        Some("gap") => format!("gap = \"{} mm\"", 2.0 * diameter + 1.0),
        Some("length") => "length = \"2500 mm\"".to_owned(),
        Some("width") if line.contains("400") => "width = \"900 mm\"".to_owned(),
        _ => line.to_owned(),
    });
    let text: Vec<String> = lines.collect();
    let path = folder.join(format!("{relief}{diameter}.toml"));
    fs::write(&path, text.join("\n")).unwrap();
    path
}

/// The strips of a job, routed, as shapely measures them.
fn routed(folder: &Path, path: &Path, job: &Job, profile: &Path, diameter: f64) -> (Value, Value) {
    let output = folder.join("routed.dxf");
    let told = answer(
        folder,
        &[
            "outline",
            path.to_str().unwrap(),
            "--what",
            "strips",
            "--machine",
            profile.to_str().unwrap(),
            "-o",
            output.to_str().unwrap(),
        ],
    );
    let files: Vec<&Value> = told["files"]
        .as_array()
        .unwrap()
        .iter()
        .map(|file| &file["path"])
        .collect();
    let mates: Vec<Value> = job
        .kinds()
        .iter()
        .map(|kind| {
            let floor = kind.notch_depth;
            let [low, high] = if kind.face == "back" {
                [0.0, floor]
            } else {
                [kind.depth - floor, kind.depth]
            };
            let half = kind.notch_width / 2.0;
            let boxes: Vec<[f64; 4]> = kind
                .centres
                .iter()
                .map(|at| [at - half, low, at + half, high])
                .collect();
            json!({ "size": [kind.length, kind.depth], "boxes": boxes })
        })
        .collect();
    let request = json!({ "files": files, "kerf_mm": 0.0, "level_mm": 0.1, "cutter_mm": diameter, "mates": mates });
    let found = measure_parts(&request);
    (told, found)
}

#[test]
fn a_square_mate_sits_in_every_notch() {
    let folder = TempDir::new().unwrap();
    let mut all = demo_jobs().to_vec();
    for (at, job) in samples(&jobs(), 3 * GENERATED).into_iter().enumerate() {
        let path = folder.path().join(format!("{at}.toml"));
        fs::write(&path, job.toml()).unwrap();
        let big = |kind: &support::jobs::StripKind| kind.length < 2400.0 && kind.depth < 100.0;
        if job.kinds().iter().all(big) && all.len() < 2 + GENERATED {
            all.push((path, job));
        }
    }
    for (path, job) in &all {
        let (width, depth) = (job.notch_width(), job.depth.mm / 2.0);
        // Just what goes into the notch: two bones of 2.83 R on its floor, a tee of 2 R in its wall.
        let bone = ((width - 1e-4) / 2.83 - 0.05) * 2.0;
        let webs = job
            .pitches_x
            .iter()
            .chain(&job.pitches_y)
            .map(|pitch| pitch.mm - width);
        let web = webs.fold(job.overhang.mm - width / 2.0, f64::min);
        let room = if depth > width {
            depth - 0.2
        } else {
            width / 2.0 - 0.7
        };
        let tee = width.min(room).min(web - 1.2);
        for (relief, diameter) in [("bone", bone.min(depth).min(web)), ("tee", tee)] {
            // Whole micrometres, as a caliper tells it.
            let diameter = (diameter * 1000.0).floor() / 1000.0;
            if diameter < 0.3 {
                continue;
            }
            let profile = profile(folder.path(), diameter, relief, "1");
            let (told, found) = routed(folder.path(), path, job, &profile, diameter);
            for part in found["parts"].as_array().unwrap() {
                let out = number(&part["unseated"]);
                assert!(
                    out < 0.006,
                    "{relief} of {diameter}: {out} in {}",
                    path.display()
                );
                assert_eq!(part["bridges"].as_array().unwrap().len(), 1, "{part}");
            }
            assert!(number(&found["apart_mm"]) > 2.0 * diameter + 1.0 - 1e-5);
            for file in told["files"].as_array().unwrap() {
                assert!(number(&file["travel_mm"]) <= number(&file["travel_before_mm"]));
            }
        }
    }
}

/// The check can see a corner that is not cleared.
#[test]
fn without_reliefs_a_mate_would_not_sit() {
    let folder = TempDir::new().unwrap();
    let (path, job) = &demo_jobs()[0];
    // A laser's outline, read as if a cutter of 2 mm went along it: what stays in a corner is
    // r (sqrt 2 - 1) on its diagonal, which is 0.414 mm.
    let laser = lapwright::reading::shipped_machine("tube-laser")
        .unwrap()
        .text;
    let sharp = folder.path().join("sharp.toml");
    fs::write(&sharp, laser.replace("\"0.16 mm\"", "\"0 mm\"")).unwrap();
    let (_, found) = routed(folder.path(), path, job, &sharp, 2.0);
    for part in found["parts"].as_array().unwrap() {
        let out = number(&part["unseated"]);
        assert!(
            approx_eq!(f64, out, 2.0_f64.sqrt() - 1.0, epsilon = 1e-3),
            "{out}"
        );
    }
}

#[test]
fn other_programs_read_the_layer_of_bridges() {
    let folder = TempDir::new().unwrap();
    let (path, _) = &demo_jobs()[0];
    for version in ["r2000", "r12"] {
        let output = folder.path().join(format!("{version}.dxf"));
        let job = path.to_str().unwrap();
        let more = [
            "--what",
            "strips",
            "--machine",
            "sheet-router",
            "--dxf",
            version,
            "-o",
        ];
        let mut arguments = vec!["outline", job];
        arguments.extend(more);
        arguments.push(output.to_str().unwrap());
        answer(folder.path(), &arguments);
        let seen = &read_dxf(&[&output])[output.to_str().unwrap()];
        assert_eq!(seen["ezdxf"]["audit_errors"], json!([]));
        assert_eq!(seen["ezdxf"]["audit_fixes"], json!([]));
        let bridges = |reader: &str, list: &str| {
            let all = seen[reader][list].as_array().unwrap().iter();
            all.filter(|line| line["layer"] == "BRIDGES").count()
        };
        // Twelve strips, two each.
        assert_eq!(bridges("ezdxf", "polylines"), 24);
        assert_eq!(bridges("gdal", "features"), 24);
    }
}
