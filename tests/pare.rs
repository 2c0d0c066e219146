//! The pieces' side as a person or a script uses it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const DOOR: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/tea-cabinet.toml");

fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lapwright"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .unwrap()
}

fn json(folder: &Path, arguments: &[&str]) -> Value {
    let output = run(folder, &[arguments, &["--format", "json"]].concat());
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).unwrap()
}

fn near(value: &Value, wanted: f64) {
    let found = value.as_f64().unwrap();
    assert!((found - wanted).abs() < 5e-5, "{found} is not {wanted}");
}

#[test]
fn a_hemp_leaf_in_a_door_of_35_bays() {
    // 38 mm bays, strips of 2.6 mm: one diagonal, four hinges and two locks a cell. Digits: closed
    // forms of the right triangle's incircle, computed apart from the program.
    let folder = tempfile::tempdir().unwrap();
    let answer = json(folder.path(), &["pare", DOOR]);
    let pieces = answer["pieces"].as_array().unwrap();
    let found: Vec<_> = pieces
        .iter()
        .map(|piece| {
            (
                piece["name"].as_str().unwrap(),
                piece["count"].as_u64().unwrap(),
            )
        })
        .collect();
    assert_eq!(found, [("diagonal", 35), ("hinge", 140), ("lock", 70)]);
    for (piece, length) in pieces.iter().zip([50.0632, 25.5218, 14.3330]) {
        near(&piece["length_over_points_mm"], length);
        near(&piece["rough_length_mm"], length + 3.5);
    }
    let junction = &pieces[1]["ends"][1];
    assert!((junction["ridge_offset_mm"].as_f64().unwrap().abs() - 0.3985).abs() < 5e-5);
    let mut shoulders: Vec<f64> = junction["facets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|facet| facet["shoulder_mm"].as_f64().unwrap())
        .collect();
    shoulders.sort_by(f64::total_cmp);
    assert!((shoulders[0] - 24.8182).abs() < 5e-5 && (shoulders[1] - 25.1484).abs() < 5e-5);
    let angles: Vec<f64> = answer["blocks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|block| block["jig_angle_deg"].as_f64().unwrap())
        .collect();
    assert_eq!(angles, [22.5, 45.0, 67.5]);
    assert!(!answer["safety"].as_array().unwrap().is_empty());
}

#[test]
fn a_measured_opening_changes_the_lengths_and_says_by_how_much() {
    let folder = tempfile::tempdir().unwrap();
    let answer = json(folder.path(), &["pare", DOOR, "--opening", "35.6mm"]);
    let diagonal = &answer["pieces"][0];
    near(&diagonal["length_over_points_mm"], 35.6 * 2_f64.sqrt());
    near(&diagonal["drawn_length_mm"], 35.4 * 2_f64.sqrt());
    for bad in ["35.6", "0 mm", "35.6mm,40mm", "x"] {
        let output = run(folder.path(), &["pare", DOOR, "--opening", bad]);
        assert_eq!(output.status.code(), Some(2), "{bad}");
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn outlines_of_pieces_and_blocks_are_written_and_prove() {
    let folder = tempfile::tempdir().unwrap();
    let pieces = json(
        folder.path(),
        &["outline", DOOR, "--what", "pieces", "-o", "pieces.dxf"],
    );
    let parts = pieces["files"][0]["parts"].as_array().unwrap().len();
    assert_eq!(parts, 35 + 140 + 70);
    let blocks = json(
        folder.path(),
        &["outline", DOOR, "--what", "blocks", "-o", "blocks.dxf"],
    );
    assert_eq!(blocks["files"][0]["parts"].as_array().unwrap().len(), 3);
    for file in ["pieces.dxf", "blocks.dxf"] {
        assert!(
            fs::read_to_string(folder.path().join(file))
                .unwrap()
                .contains("AC1015")
        );
    }
    json(
        folder.path(),
        &["outline", DOOR, "--what", "pieces", "-o", "pieces.svg"],
    );
    let svg = fs::read_to_string(folder.path().join("pieces.svg")).unwrap();
    assert_eq!(svg.matches("<polygon").count(), parts);
}

#[test]
fn the_panel_is_drawn_with_every_strip_and_piece() {
    let folder = tempfile::tempdir().unwrap();
    let output = run(
        folder.path(),
        &["outline", DOOR, "--what", "panel", "-o", "panel.svg"],
    );
    assert!(output.status.success());
    let svg = fs::read_to_string(folder.path().join("panel.svg")).unwrap();
    let count = |class: &str| svg.matches(&format!("<polygon class=\"{class}\"")).count();
    // 6 uprights in front, 8 cross strips behind, and both of the enlarged cell.
    assert_eq!(count("wood"), 6 + 2);
    assert_eq!(count("behind"), 8 + 2);
    assert_eq!(count("piece"), 35 * 7 + 7);
}

#[test]
fn the_list_is_a_table_of_plain_data() {
    let folder = tempfile::tempdir().unwrap();
    assert!(
        run(folder.path(), &["pare", DOOR, "--csv", "pieces.csv"])
            .status
            .success()
    );
    let csv = fs::read_to_string(folder.path().join("pieces.csv")).unwrap();
    let lines: Vec<_> = csv.lines().collect();
    assert_eq!(lines.len(), 4);
    assert!(
        lines[1].starts_with("diagonal,35,35.400,35.400,53.563,50.063,"),
        "{}",
        lines[1]
    );
}

#[test]
fn a_block_that_is_nearly_right_is_pointed_out() {
    let folder = tempfile::tempdir().unwrap();
    let profile =
        include_str!("../profiles/paring-guides.toml").replace("\"22.5 deg\"", "\"24 deg\"");
    fs::write(folder.path().join("mine.toml"), profile).unwrap();
    let output = run(folder.path(), &["pare", DOOR, "--machine", "./mine.toml"]);
    assert!(output.status.success());
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(
        told.contains("block-missing") && told.contains("24 deg") && told.contains("3 deg"),
        "{told}"
    );
}

#[test]
fn every_shipped_pattern_is_listed_shown_and_sound() {
    let folder = tempfile::tempdir().unwrap();
    let list = json(folder.path(), &["pattern", "list"]);
    let patterns = list["patterns"].as_array().unwrap();
    assert!(patterns.len() >= 8);
    for pattern in patterns {
        let name = pattern["name"].as_str().unwrap();
        assert!(
            run(folder.path(), &["pattern", "check", name])
                .status
                .success(),
            "{name}"
        );
        assert!(
            run(folder.path(), &["pattern", "show", name, "-o", "p.svg"])
                .status
                .success(),
            "{name}"
        );
    }
}

/// Two families that cross at 90 degrees are a square grid: same figures, same files, byte by byte.
#[test]
fn a_diamond_grid_at_90_degrees_is_the_square_grid() {
    let folder = tempfile::tempdir().unwrap();
    let job = |grid: &str, pattern: &str| {
        format!(
            "title = \"Door\"\n[grid]\n{grid}\ncolumns = 3\nrows = 4\noverhang = \"20 mm\"\n\
             [strip]\nthickness = \"2.825 mm\"\ndepth = \"8 mm\"\nclearance = \"0.05 mm\"\n\
             [infill]\npattern = \"{pattern}\"\nedge = \"fill\"\n\
             [machines]\nlaser = \"tube-laser\"\nguides = \"paring-guides\"\nsled = \"stop-sled\"\n"
        )
    };
    let square = "kind = \"square\"\npitch = \"47.3 mm\"";
    let diamond = "kind = \"diamond\"\npitch = \"47.3 mm\"\nangle = \"90 deg\"\n\
                   region = \"rectangle\"";
    let turned = "about = \"one bar\"\ncell = \"square\"\nneighbours = \"turn\"\n\
                  [points]\na = [0.3, 0]\nb = [0.5, 1]\n\
                  [[piece]]\nname = \"bar\"\nfrom = \"a\"\nto = \"b\"\n";
    fs::write(folder.path().join("turned.toml"), turned).unwrap();
    for pattern in [
        "square-hemp-leaf",
        "crossed-diagonals",
        "corner-brace",
        "./turned.toml",
    ] {
        let made = |grid: &str| {
            fs::write(folder.path().join("job.toml"), job(grid, pattern)).unwrap();
            let built = run(folder.path(), &["build", "job.toml", "-o", "built"]);
            let told = String::from_utf8_lossy(&built.stderr).into_owned();
            assert!(built.status.success(), "{told}");
            let mut files: Vec<_> = fs::read_dir(folder.path().join("built"))
                .unwrap()
                .map(|entry| entry.unwrap().path())
                .collect();
            files.sort();
            let content = |path: &std::path::PathBuf| fs::read(path).unwrap();
            let all: Vec<Vec<u8>> = files.iter().map(content).collect();
            fs::remove_dir_all(folder.path().join("built")).unwrap();
            (files, all)
        };
        let (names, square) = made(square);
        let (others, diamond) = made(diamond);
        assert_eq!(names, others);
        assert!(names.len() >= 10);
        for (name, (square, diamond)) in names.iter().zip(square.iter().zip(&diamond)) {
            assert!(square == diamond, "{pattern}: {} differs", name.display());
        }
    }
}

/// A polygon that cuts triangles in many ways.
fn trimmed_job(edge: &str) -> String {
    format!(
        "title = \"Window\"\n[grid]\nkind = \"triangular\"\nside = \"50 mm\"\n\
         region = \"polygon\"\noverhang = \"20 mm\"\n\
         corners = [[\"0 mm\", \"0 mm\"], [\"300 mm\", \"20 mm\"], [\"320 mm\", \"200 mm\"], \
         [\"100 mm\", \"280 mm\"]]\n\
         [strip]\nthickness = \"3 mm\"\ndepth = \"8 mm\"\n\
         [infill]\npattern = \"triangular-hemp-leaf\"\n{edge}\n\
         [machines]\nlaser = \"tube-laser\"\n"
    )
}

#[test]
fn cells_at_the_edge_are_counted_apart_and_filled_when_asked() {
    let folder = tempfile::tempdir().unwrap();
    let pare = |edge: &str| {
        fs::write(folder.path().join("job.toml"), trimmed_job(edge)).unwrap();
        json(folder.path(), &["pare", "job.toml"])
    };
    let number = |answer: &Value, key: &str| answer[key].as_u64().unwrap();
    let left = pare("");
    assert_eq!(left, pare("edge = \"leave\""));
    let filled = pare("edge = \"fill\"");
    for key in ["cells_filled", "cells_open", "cells_cut"] {
        assert_eq!(left[key], filled[key], "{key}");
    }
    assert_eq!(left["cell"], "triangle");
    let (whole, cut) = (number(&left, "cells_filled"), number(&left, "cells_cut"));
    assert!(whole > 20 && cut > 20);
    assert_eq!(number(&left, "cells_trimmed"), 0);
    assert!(number(&filled, "cells_trimmed") > 10 && number(&filled, "pieces_left_out") > 0);
    assert_eq!(left["pieces"].as_array().unwrap().len(), 1);
    assert_eq!(number(&left["pieces"][0], "made"), 3 * whole);
    let pieces = filled["pieces"].as_array().unwrap();
    let count = |key: &str| pieces.iter().map(|piece| number(piece, key)).sum::<u64>();
    assert_eq!(count("made"), count("count"));
    for piece in &pieces[1..] {
        assert_eq!(
            (&piece["trimmed_from"], &piece["made"]),
            (&1.into(), &0.into())
        );
        let trim = &piece["trims"][0];
        let (at, kept) = (
            trim["at_mm"].as_f64().unwrap(),
            trim["kept_mm"].as_f64().unwrap(),
        );
        let length = piece["length_over_points_mm"].as_f64().unwrap();
        let wanted = if trim["keeps"] == "A" {
            at
        } else {
            length - at
        };
        near(&kept.into(), wanted);
    }
    let text = run(folder.path(), &["pare", "job.toml", "--csv", "pieces.csv"]);
    let text = String::from_utf8(text.stdout).unwrap();
    assert!(text.contains("CUT OFF AT THE PANEL'S EDGE"), "{text}");
    let csv = fs::read_to_string(folder.path().join("pieces.csv")).unwrap();
    assert_eq!(csv.lines().count(), 1 + pieces.len());
    assert_eq!(csv.matches(",keep ").count(), pieces.len() - 1, "{csv}");
    let outlines = [
        "outline",
        "job.toml",
        "--what",
        "pieces",
        "-o",
        "pieces.dxf",
    ];
    let outlines = json(folder.path(), &outlines);
    let parts = outlines["files"][0]["parts"].as_array().unwrap().len();
    assert_eq!(parts as u64, count("count"));
}

#[test]
fn notches_cut_square_need_more_room_than_slanted_ones() {
    let folder = tempfile::tempdir().unwrap();
    let job = |pitch: &str| {
        format!(
            "title = \"Fine\"\n[grid]\nkind = \"diamond\"\npitch = \"{pitch}\"\nangle = \"60 deg\"\n\
             region = \"rectangle\"\nwidth = \"60 mm\"\nheight = \"60 mm\"\noverhang = \"12 mm\"\n\
             [strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n[machines]\nlaser = \"tube-laser\"\n"
        )
    };
    let outline = |pitch: &str| {
        fs::write(folder.path().join("job.toml"), job(pitch)).unwrap();
        let arguments = ["outline", "job.toml", "--what", "strips", "-o", "s.dxf"];
        let output = run(folder.path(), &arguments);
        (
            output.status.code(),
            String::from_utf8(output.stderr).unwrap(),
        )
    };
    // 3 (1 / sin 60 + 1 / tan 60) = 5.196 and a web of 2 along the strip: 7.196 sin 60 = 6.232.
    let (code, told) = outline("6.23 mm");
    assert_eq!(code, Some(2));
    let says = [
        "square-cut-web-too-thin",
        "7.20 mm or more",
        "saw or a router",
    ];
    assert!(says.iter().all(|words| told.contains(words)), "{told}");
    assert!(!folder.path().join("s.dxf").exists());
    let (code, told) = outline("6.24 mm");
    assert_eq!(code, Some(0), "{told}");
    assert!(
        told.contains("slant-cut-square") && told.contains("1.73 mm"),
        "{told}"
    );
}
