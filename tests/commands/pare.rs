//! The pieces' side as a person or a script uses it.

use crate::in_folder::run;
use float_cmp::approx_eq;
use serde_json::Value;
use std::fs;
use std::path::Path;

const DOOR: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/tea-cabinet.toml");

/// What rough pieces of the door are longer, mm: the usual allowance.
const ROUGH: f64 = 3.5;

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
    assert!(
        approx_eq!(f64, found, wanted, epsilon = 5e-5),
        "{found} is not {wanted}"
    );
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
    assert!(approx_eq!(
        f64,
        junction["ridge_offset_mm"].as_f64().unwrap().abs(),
        0.3985,
        epsilon = 5e-5
    ));
    // The junction is the blunter end, pared first: half of the 3.5 mm that it is rough longer still
    // stands between the far point and the stop.
    let mut stops: Vec<f64> = junction["facets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|facet| facet["stop_mm"].as_f64().unwrap())
        .collect();
    stops.sort_by(f64::total_cmp);
    assert!(
        approx_eq!(f64, stops[0], 26.5682, epsilon = 5e-5)
            && approx_eq!(f64, stops[1], 26.8984, epsilon = 5e-5)
    );
    assert_eq!(pieces[1]["first_end"], "B");
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
    let answer = json(folder.path(), &["pare", DOOR, "--cell-opening", "35.6mm"]);
    let diagonal = &answer["pieces"][0];
    near(&diagonal["length_over_points_mm"], 35.6 * 2_f64.sqrt());
    near(&diagonal["drawn_length_mm"], 35.4 * 2_f64.sqrt());
    for bad in ["35.6", "0 mm", "35.6mm,40mm", "x"] {
        let output = run(folder.path(), &["pare", DOOR, "--cell-opening", bad]);
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
    let count = |class: &str| {
        svg.matches(&format!("<polygon class=\"{class} face\""))
            .count()
    };
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
        lines[1].starts_with("1,diagonal,35,35,,35.400,35.400,53.563,50.063,"),
        "{}",
        lines[1]
    );
}

/// The figure that a column's name stands for in the answer, by its parts.
fn figure<'a>(piece: &'a Value, name: &str) -> &'a Value {
    let numbered = |list: &str, key: &'static str| {
        let (number, field) = name.strip_prefix(list)?.split_once('_')?;
        let at = number.parse::<usize>().ok()?.checked_sub(1)?;
        Some(&piece[key][at][field])
    };
    if let Some(found) = numbered("lap_", "laps").or_else(|| numbered("trim_", "trims")) {
        return found;
    }
    if let Some(at) = name.strip_prefix("opening_mm_") {
        return &piece["opening_mm"][at.parse::<usize>().unwrap() - 1];
    }
    let Some(end) = name.strip_prefix("end_") else {
        return &piece[name];
    };
    let (letter, rest) = end.split_once('_').unwrap();
    let end = &piece["ends"][usize::from(letter == "b")];
    if let Some(field) = rest.strip_prefix("mouth_") {
        return &end["mouth"][field];
    }
    let facet = rest
        .split_once('_')
        .filter(|(side, _)| ["left", "right", "across"].contains(side));
    match facet {
        None => &end[rest],
        Some((side, field)) => {
            let mut facets = end["facets"].as_array().unwrap().iter();
            facets
                .find(|facet| facet["side"] == side)
                .map_or(&Value::Null, |facet| &facet[field])
        }
    }
}

/// All figures of a piece that the answer has and the list must have.
fn figures(value: &Value) -> usize {
    match value {
        Value::Object(fields) => fields
            .iter()
            .filter(|(name, _)| {
                !["take_off", "outline_mm", "jig_angle_deg", "side"].contains(&name.as_str())
            })
            .map(|(_, field)| figures(field))
            .sum(),
        Value::Array(items) => items.iter().map(figures).sum(),
        Value::Null => 0,
        _ => 1,
    }
}

#[test]
fn every_column_of_the_list_is_a_figure_of_the_answer() {
    let folder = tempfile::tempdir().unwrap();
    let door = fs::read_to_string(DOOR).unwrap();
    let crossed = door.replace("square-hemp-leaf", "crossed-diagonals");
    fs::write(folder.path().join("door.toml"), &door).unwrap();
    let keyed = door.replace("square-hemp-leaf", "held-square");
    fs::write(folder.path().join("crossed.toml"), crossed).unwrap();
    fs::write(folder.path().join("keyed.toml"), keyed).unwrap();
    fs::write(
        folder.path().join("cut.toml"),
        trimmed_job("edge = \"fill\""),
    )
    .unwrap();
    let mut seen = Vec::new();
    let measured: &[&str] = &["--cell-opening", "35.6mm"];
    for (job, more) in [
        ("door.toml", &[][..]),
        ("door.toml", measured),
        ("crossed.toml", &[]),
        ("keyed.toml", &[]),
        ("cut.toml", &[]),
    ] {
        let answer = json(
            folder.path(),
            &[&["pare", job, "--csv", "pieces.csv"], more].concat(),
        );
        let csv = fs::read_to_string(folder.path().join("pieces.csv")).unwrap();
        let mut lines = csv.lines().map(|line| line.split(',').collect::<Vec<_>>());
        let names = lines.next().unwrap();
        let pieces = answer["pieces"].as_array().unwrap();
        let rows: Vec<_> = lines.collect();
        assert_eq!(rows.len(), pieces.len());
        for (row, piece) in rows.iter().zip(pieces) {
            assert_eq!(row.len(), names.len());
            for (name, cell) in names.iter().zip(row) {
                match figure(piece, name) {
                    Value::Null => assert_eq!(*cell, "", "{name}"),
                    Value::String(text) => assert_eq!(cell, text, "{name}"),
                    Value::Bool(true) => assert_eq!(*cell, "true", "{name}"),
                    number => {
                        let (told, is) = (cell.parse::<f64>().unwrap(), number.as_f64().unwrap());
                        assert!((told - is).abs() <= 5.001e-4, "{name}: {told} is not {is}");
                    }
                }
            }
            // Nothing that the answer has is lacking.
            let told = row.iter().filter(|cell| !cell.is_empty()).count();
            assert_eq!(told, figures(piece), "{piece}");
        }
        seen.extend(names.into_iter().map(str::to_owned));
    }
    for name in [
        "number",
        "locks",
        "drawn_length_mm",
        "trimmed_from",
        "end_a_left_shoulder_mm",
        "end_b_right_block_angle_deg",
        "end_b_ridge_offset_mm",
        "end_b_mouth_apex_mm",
        "lap_1_depth_mm",
        "trim_1_left_mm",
    ] {
        assert!(seen.iter().any(|known| known == name), "{name}: {seen:?}");
    }
}

/// Uneven bays and a polygon's edge: several kinds of cells.
fn jobs_of_several_kinds() -> Vec<String> {
    let uneven = |x: &str, y: &str, pattern: &str| {
        format!(
            "title = \"Uneven\"\n[grid]\nkind = \"square\"\npitches_x = [{x}]\npitches_y = [{y}]\n\
             overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\
             [infill]\npattern = \"{pattern}\"\n[machines]\nguides = \"paring-guides\"\n"
        )
    };
    let (narrow, wide, high) = ("\"30 mm\"", "\"50 mm\"", "\"41.5 mm\"");
    vec![
        uneven(
            &[narrow, wide, wide, narrow].join(", "),
            &[narrow, high, high, narrow].join(", "),
            "crossed-diagonals",
        ),
        uneven(
            &[wide, narrow, wide].join(", "),
            &[wide, narrow].join(", "),
            "corner-brace",
        ),
        trimmed_job("edge = \"fill\""),
        "title = \"Vent\"\n[grid]\nkind = \"diamond\"\npitch = \"38 mm\"\nangle = \"70 deg\"\n\
         stance = \"on-point\"\nregion = \"rectangle\"\nwidth = \"200 mm\"\nheight = \"230 mm\"\n\
         overhang = \"20 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\
         [infill]\npattern = \"diamond-hemp-leaf\"\nedge = \"fill\"\n\
         [machines]\nguides = \"paring-guides\"\n"
            .to_owned(),
    ]
}

fn area(ring: &[(f64, f64)]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    let twice: f64 = ring
        .iter()
        .zip(next)
        .map(|(p, q)| p.0 * q.1 - q.0 * p.1)
        .sum();
    twice / 2.0
}

#[test]
fn each_kind_of_cell_has_its_own_list() {
    let folder = tempfile::tempdir().unwrap();
    for text in jobs_of_several_kinds() {
        fs::write(folder.path().join("job.toml"), &text).unwrap();
        let answer = json(folder.path(), &["pare", "job.toml"]);
        let pieces = answer["pieces"].as_array().unwrap();
        let number = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
        let kinds = answer["cell_kinds"].as_array().unwrap();
        assert!(kinds.len() > 1, "{text}");
        let job = lapwright::reading::read_job("job.toml", &text).unwrap();
        let pattern = job.pattern_names().next().unwrap();
        let pattern = lapwright::reading::shipped_pattern(pattern).unwrap();
        let pattern = lapwright::reading::read_pattern("pattern", pattern.text).unwrap();
        let filled = lapwright::infill::fill(&job.panel, &pattern.pattern, job.edge).unwrap();
        let mut ordered = vec![0; pieces.len()];
        let mut bays = Vec::new();
        for kind in kinds {
            assert_eq!(
                number(&kind["count"]),
                kind["bays"].as_array().unwrap().len()
            );
            let mut list = Vec::new();
            let mut covered = 0.0;
            for taken in kind["pieces"].as_array().unwrap() {
                let (at, count) = (number(&taken["number"]), number(&taken["count"]));
                ordered[at - 1] += count * number(&kind["count"]);
                list.extend(vec![at; count]);
                assert_eq!(pieces[at - 1]["name"], taken["name"]);
                let outline = pieces[at - 1]["outline_mm"].as_array().unwrap().iter();
                let outline: Vec<_> = outline
                    .map(|p| (p[0].as_f64().unwrap(), p[1].as_f64().unwrap()))
                    .collect();
                covered += count as f64 * area(&outline);
            }
            list.sort_unstable();
            for bay in kind["bays"].as_array().unwrap() {
                let place = (number(&bay["column"]), number(&bay["row"]));
                let mut cells = filled.cells.iter();
                let cell = cells.find(|cell| (cell.column, cell.row) == place).unwrap();
                let mut takes: Vec<_> = cell.pieces.iter().map(|p| p.kind + 1).collect();
                takes.sort_unstable();
                assert_eq!(takes, list, "{place:?}");
                // By their areas, too, these pieces fill what is filled there.
                let rings = cell.pieces.iter().map(|piece| {
                    area(&piece.outline.iter().map(|p| (p.x, p.y)).collect::<Vec<_>>())
                });
                assert!(approx_eq!(f64, rings.sum::<f64>(), covered, epsilon = 1e-6));
                bays.push(place);
            }
        }
        for (piece, ordered) in pieces.iter().zip(ordered) {
            assert_eq!(number(&piece["count"]), ordered, "{}", piece["name"]);
        }
        let all = bays.len();
        bays.sort_unstable();
        bays.dedup();
        assert_eq!(bays.len(), all);
        let in_all = number(&answer["cells_filled"]) + number(&answer["cells_trimmed"]);
        assert_eq!(all, in_all);
        let told = run(folder.path(), &["pare", "job.toml"]);
        let told = String::from_utf8(told.stdout).unwrap();
        assert!(told.contains("KINDS OF CELLS"), "{told}");
        let made = run(folder.path(), &["sheet", "job.toml", "-o", "sheet.html"]);
        assert!(
            made.status.success(),
            "{}",
            String::from_utf8_lossy(&made.stderr)
        );
        let page = fs::read_to_string(folder.path().join("sheet.html")).unwrap();
        assert!(page.contains("Fill one cell of each kind") && page.contains("kind II: "));
    }
    // One kind: triangles that point up and down, and leaves that are turned and mirrored.
    for job in [DOOR.to_owned(), DOOR.replace("tea-cabinet", "stair-window")] {
        let answer = json(folder.path(), &["pare", &job]);
        assert_eq!(answer["cell_kinds"].as_array().unwrap().len(), 1);
        let told = run(folder.path(), &["pare", &job]);
        assert!(
            !String::from_utf8(told.stdout)
                .unwrap()
                .contains("KINDS OF CELLS")
        );
    }
}

#[test]
fn a_block_that_is_nearly_right_is_pointed_out() {
    let folder = tempfile::tempdir().unwrap();
    let profile =
        include_str!("../../profiles/paring-guides.toml").replace("\"22.5 deg\"", "\"24 deg\"");
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
    assert!(
        csv.starts_with("number,name,count,made,trimmed_from,"),
        "{csv}"
    );
    let cut = csv
        .lines()
        .skip(1)
        .filter(|row| row.split(',').nth(4) == Some("1"));
    assert_eq!(cut.count(), pieces.len() - 1, "{csv}");
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

/// Of a shipped pattern's pieces on guides whose stop comes no nearer, or goes no farther, than that.
fn pared_with(change: [&str; 2]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let profile = include_str!("../../profiles/paring-guides.toml").replace(change[0], change[1]);
    fs::write(folder.path().join("mine.toml"), profile).unwrap();
    let ran = run(folder.path(), &["pare", DOOR, "--machine", "./mine.toml"]);
    let text = String::from_utf8(ran.stdout).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A hinge's second end wants the stop at 22.38 mm in the door's cells, and 26.57 mm.
#[test]
fn a_stop_that_does_not_come_near_enough_takes_a_spacer() {
    let told = pared_with(["stop_nearest = \"8 mm\"", "stop_nearest = \"23 mm\""]);
    assert!(
        told.contains("with a spacer of 5.00 mm between them: block of 22.5 deg, stop at 27.38 mm"),
        "{told}"
    );
    assert!(
        told.contains("stop at 26.57 mm (the heavier cut)."),
        "{told}"
    );
    assert!(!told.contains("NOT WITH THESE GUIDES"), "{told}");
}

#[test]
fn a_stop_that_the_guides_do_not_reach_is_told_at_its_step() {
    let told = pared_with(["stop_farthest = \"160 mm\"", "stop_farthest = \"25 mm\""]);
    assert!(
        told.contains("stop at 26.57 mm (the heavier cut); NOT WITH THESE GUIDES, whose stop does not go there."),
        "{told}"
    );
}

/// A spoke's own square end, or the end of a stick that is longer by the spacer: one setting of the stop.
#[test]
fn a_short_piece_with_a_square_end_is_made_on_a_long_stick() {
    let folder = tempfile::tempdir().unwrap();
    let profile = include_str!("../../profiles/paring-guides.toml")
        .replace("stop_nearest = \"8 mm\"", "stop_nearest = \"20 mm\"");
    fs::write(folder.path().join("mine.toml"), profile).unwrap();
    let job = "title = \"x\"\n[grid]\nkind = \"triangular\"\nside = \"60 mm\"\nregion = \"hexagon\"\nrings = 1\n\
               overhang = \"15 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"12 mm\"\n\
               [infill]\npattern = \"leaf-spokes\"\n[machines]\nguides = \"mine.toml\"\n";
    fs::write(folder.path().join("job.toml"), job).unwrap();
    let ran = run(folder.path(), &["pare", "job.toml"]);
    let text = String::from_utf8(ran.stdout).unwrap();
    let told = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // 14.09 long: with 50 it is 64.09. The shoulder lies 3 / 2 / tan 60 = 0.87 before the point.
    for words in [
        "cut sticks to 64.09 mm, both ends square",
        "saw end A off square last, 14.09 mm from point B",
        "with a spacer of 50.00 mm between them: block of 60 deg, stop at 63.22 mm",
    ] {
        assert!(told.contains(words), "{words}: {text}");
    }
}

/// One setting has one figure, the one that is used, wherever it is told.
#[test]
fn a_stop_setting_is_one_figure_everywhere() {
    let folder = tempfile::tempdir().unwrap();
    let answer = json(folder.path(), &["pare", DOOR]);
    let text = run(folder.path(), &["pare", DOOR, "--csv", "pieces.csv"]);
    let text = String::from_utf8(text.stdout).unwrap();
    let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let csv = fs::read_to_string(folder.path().join("pieces.csv")).unwrap();
    let mut figures = Vec::new();
    for piece in answer["pieces"].as_array().unwrap() {
        for end in piece["ends"].as_array().unwrap() {
            for facet in end["facets"].as_array().unwrap() {
                let stop = facet["stop_mm"].as_f64().unwrap();
                // The finished piece's shoulder, and half of what the rough piece is longer while
                // its square end stands on the stop.
                let more = stop - facet["shoulder_mm"].as_f64().unwrap();
                let rough = f64::from(u8::from(end["on_stop"] == "square_end"));
                assert!(
                    approx_eq!(f64, more, rough * ROUGH / 2.0, epsilon = 1e-6),
                    "{facet}"
                );
                assert!(flowing.contains(&format!("stop at {stop:.2} mm")), "{stop}");
                assert!(csv.contains(&format!(",{stop:.3},")), "{stop}: {csv}");
                figures.push(format!("{stop:.2}"));
            }
        }
    }
    // The table's column has the steps' figures and no others.
    let mut rows = 0;
    for row in text.lines() {
        let cells: Vec<&str> = row.split_whitespace().collect();
        if cells.len() > 6 && ["A", "B"].contains(&cells[0]) {
            let told = figures
                .iter()
                .any(|figure| cells.contains(&figure.as_str()));
            assert!(told, "{row}");
            rows += 1;
        }
    }
    assert_eq!(rows, figures.len());
    // The diagonal's first end: 50.0632 over points less half the thickness at 45 degrees, and half
    // of the 3.5 mm that it is rough longer.
    assert!(flowing.contains("end B on the stop: block of 45 deg, stop at 50.51 mm"));
}

#[test]
fn figures_of_sawn_pieces_carry_the_cautions_of_the_saw() {
    let folder = tempfile::tempdir().unwrap();
    let tray = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/tray-insert.toml");
    let built = run(folder.path(), &["build", tray, "-o", "built"]);
    assert!(built.status.success());
    let figures = fs::read(folder.path().join("built/pieces.json")).unwrap();
    let figures: Value = serde_json::from_slice(&figures).unwrap();
    assert_eq!(figures["mitres"]["way"], "rows");
    let answer = json(folder.path(), &["pare", tray]);
    assert_eq!(figures["safety"], answer["safety"]);
    let notes = figures["safety"].as_array().unwrap();
    let told = |words: &str| {
        notes
            .iter()
            .any(|note| note.as_str().unwrap().contains(words))
    };
    assert!(told("A bare skin does not hold") && told("Clamp the guide block"));
}
