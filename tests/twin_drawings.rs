//! Every outline as SVG beside the DXF of the same sheet, and the panel as DXF: read back, compared
//! path by path; damage is found.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;

use lapwright::infill::{Infilling, fill};
use lapwright::lattice::Lattice;
use lapwright::reading::{read_job, read_pattern, shipped_pattern};
use lapwright::verification::outline::{check_panel, check_twin};
use serde_json::json;
use std::fs;
use std::path::{Path, PathBuf};
use support::jobs::answer;
use support::read_dxf;
use tempfile::TempDir;

const SHEET: (f64, f64) = (600.0, 400.0);

fn cabinet() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/tea-cabinet.toml")
}

/// The files of an outline, in order.
fn outline(folder: &Path, what: &str, machine: &str, output: &str) -> Vec<Vec<u8>> {
    let job = cabinet();
    let job = job.to_str().unwrap();
    let output = folder.join(output);
    let output = output.to_str().unwrap();
    let arguments = [
        "outline",
        job,
        "--what",
        what,
        "--machine",
        machine,
        "-o",
        output,
    ];
    let told = answer(folder, &arguments);
    let files = told["files"].as_array().unwrap().iter();
    let paths = files.map(|file| fs::read(file["path"].as_str().unwrap()).unwrap());
    paths.collect()
}

fn codes(svg: &[u8], dxf: &[u8]) -> Vec<&'static str> {
    check_twin(svg, dxf, SHEET)
        .iter()
        .map(|fault| fault.code)
        .collect()
}

#[test]
fn an_svg_shows_what_the_dxf_does() {
    let folder = TempDir::new().unwrap();
    for machine in ["tube-laser", "sheet-router"] {
        for what in ["strips", "blocks", "gauge", "rack", "comb", "pieces"] {
            if (what, machine) == ("pieces", "sheet-router") {
                continue; // deeper than it cuts
            }
            let dxf = outline(folder.path(), what, machine, "sheet.dxf");
            let svg = outline(folder.path(), what, machine, "sheet.svg");
            assert_eq!(dxf.len(), svg.len());
            for (svg, dxf) in svg.iter().zip(&dxf) {
                assert_eq!(codes(svg, dxf), [] as [&str; 0], "{what} of {machine}");
            }
        }
    }
}

#[test]
fn damage_of_either_is_found() {
    let folder = TempDir::new().unwrap();
    let dxf = outline(folder.path(), "comb", "tube-laser", "sheet.dxf").remove(0);
    let svg = outline(folder.path(), "comb", "tube-laser", "sheet.svg").remove(0);
    let text = String::from_utf8(svg).unwrap();
    let damage = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        codes(text.replacen(from, to, 1).as_bytes(), &dxf)
    };
    let outer = text
        .lines()
        .find(|line| line.starts_with("<polygon"))
        .unwrap();
    let (first, _) = outer
        .split_once("points=\"")
        .unwrap()
        .1
        .split_once(' ')
        .unwrap();
    let (x, y) = first.split_once(',').unwrap();
    let moved = format!("{},{y} ", x.parse::<f64>().unwrap() + 2e-5);
    assert_eq!(damage(&format!("{first} "), &moved), ["svg-path"]);
    assert_eq!(damage(&format!("{outer}\n"), ""), ["svg-path"]);
    assert_eq!(damage("<polygon", "<polyline"), ["svg-path"]);
    assert_eq!(damage("id=\"OUTLINES\"", "id=\"OPENINGS\""), ["svg-path"]);
    assert_eq!(damage("id=\"OUTLINES\"", "id=\"OTHER\""), ["svg"]);
    assert_eq!(
        damage("<polygon", "<polygon transform=\"scale(2)\""),
        ["svg"]
    );
    assert_eq!(damage("width=\"600mm\"", "width=\"600px\""), ["svg-size"]);
    assert_eq!(
        damage("viewBox=\"0 0 600 400\"", "viewBox=\"0 0 300 200\""),
        ["svg-size"]
    );
    assert_eq!(damage("</g>", "<text>8</text></g>"), ["svg"]);
    assert_eq!(damage(&format!("{first} "), "a,b "), ["svg"]);
    assert_eq!(codes(b"", &dxf), ["svg"]);
}

fn lattice_and_pieces() -> (Lattice, Infilling) {
    let job = read_job("job.toml", &fs::read_to_string(cabinet()).unwrap()).unwrap();
    let pattern = shipped_pattern("square-hemp-leaf").unwrap();
    let pattern = read_pattern("leaf", pattern.text).unwrap();
    let filled = fill(&job.panel, &pattern.pattern, job.edge).unwrap();
    (Lattice::of(&job.panel), filled)
}

#[test]
fn the_panel_as_a_drawing_shows_its_strips_and_pieces() {
    let folder = TempDir::new().unwrap();
    let (lattice, filled) = lattice_and_pieces();
    for version in ["r2000", "r12"] {
        let path = folder.path().join(format!("{version}.dxf"));
        let job = cabinet();
        let name = path.to_str().unwrap();
        let arguments = [
            "outline",
            job.to_str().unwrap(),
            "--what",
            "panel",
            "--dxf",
            version,
            "-o",
            name,
        ];
        answer(folder.path(), &arguments);
        let bytes = fs::read(&path).unwrap();
        assert!(check_panel(&bytes, &lattice, Some(&filled)).is_empty());
        let seen = &read_dxf(&[&path])[name];
        for list in ["audit_errors", "audit_fixes", "other_entities"] {
            assert_eq!(seen["ezdxf"][list], json!([]), "{list}");
        }
        // 5 uprights, 7 cross strips, 24 cells of 7 pieces; nothing to be cut.
        let lines = seen["ezdxf"]["polylines"].as_array().unwrap();
        assert_eq!(lines.len(), 12 + 168);
        assert_eq!(seen["gdal"]["features"].as_array().unwrap().len(), 180);
        assert!(
            lines
                .iter()
                .all(|line| line["layer"] == "LETTERS" && line["closed"] == true)
        );
        let text = String::from_utf8(bytes).unwrap();
        let broken = |from: &str, to: &str| {
            assert!(text.contains(from), "{from}");
            let at = text.rfind(from).unwrap();
            let damaged = format!("{}{to}{}", &text[..at], &text[at + from.len()..]);
            let faults = check_panel(damaged.as_bytes(), &lattice, Some(&filled));
            faults.iter().map(|fault| fault.code).collect::<Vec<_>>()
        };
        if version == "r2000" {
            let codes = broken("\n8\nMARK\n", "\n8\nCUT_OUTER\n");
            assert_eq!(codes, ["missing", "surplus"]);
        }
        assert!(broken("\n70\n1\n", "\n70\n0\n").contains(&"missing"));
        assert!(
            check_panel(text.as_bytes(), &lattice, None)
                .iter()
                .any(|f| f.code == "surplus")
        );
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let folder = TempDir::new().unwrap();
    for file in ["sheet.dxf", "sheet.svg"] {
        for what in ["strips", "pieces", "rack"] {
            let once = outline(folder.path(), what, "tube-laser", file);
            let again = outline(folder.path(), what, "tube-laser", file);
            assert!(once == again, "{what}");
        }
    }
}
