//! Every outline as SVG beside the DXF of the same sheet, and the panel as DXF: read back, compared
//! path by path; damage is found.

use crate::support::jobs::answer;
use crate::support::{check_panels, read_dxf};
use lapwright::geometry::{Point, Vector};
use lapwright::infill::{FilledCell, Infilling, fill};
use lapwright::lattice::{Face, Lattice, Strip};
use lapwright::reading::{read_job, read_pattern, shipped_pattern};
use lapwright::verification::outline::{ReadDrawing, check_panel, check_svg_twin};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const SHEET: (f64, f64) = (640.0, 430.0);

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
    codes_on(SHEET, svg, dxf)
}

fn codes_on(sheet: (f64, f64), svg: &[u8], dxf: &[u8]) -> Vec<&'static str> {
    check_svg_twin(svg, &ReadDrawing::of(dxf), sheet.into())
        .iter()
        .map(|fault| fault.code)
        .collect()
}

#[test]
fn an_svg_shows_what_the_dxf_does() {
    let folder = TempDir::new().unwrap();
    for (machine, sheet) in [("tube-laser", SHEET), ("sheet-router", (720.0, 480.0))] {
        for what in [
            "strips", "blocks", "guide", "gauge", "rack", "comb", "pieces",
        ] {
            if (what, machine) == ("pieces", "sheet-router") {
                continue; // deeper than it cuts
            }
            let dxf = outline(folder.path(), what, machine, "sheet.dxf");
            let svg = outline(folder.path(), what, machine, "sheet.svg");
            assert_eq!(dxf.len(), svg.len());
            for (svg, dxf) in svg.iter().zip(&dxf) {
                assert_eq!(
                    codes_on(sheet, svg, dxf),
                    [] as [&str; 0],
                    "{what} of {machine}"
                );
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
    assert_eq!(damage("width=\"640mm\"", "width=\"600px\""), ["svg-size"]);
    assert_eq!(
        damage("viewBox=\"0 0 640 430\"", "viewBox=\"0 0 300 200\""),
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
    (job.panel.lattice().clone(), filled)
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
        assert!(check_panel(&bytes, &lattice, Some(&filled), None).is_empty());
        let seen = &read_dxf(&[&path])[name];
        for list in ["audit_errors", "audit_fixes", "other_entities"] {
            assert_eq!(seen["ezdxf"][list], json!([]), "{list}");
        }
        // 6 uprights are seen all round; 8 cross strips behind them in 7 parts each; nothing to be cut.
        let lines = seen["ezdxf"]["polylines"].as_array().unwrap();
        let features = seen["gdal"]["features"].as_array().unwrap();
        assert_eq!(features.len(), lines.len());
        assert!(lines.iter().all(|line| line["layer"] == "LETTERS"));
        let closed = |line: &&Value| line["closed"] == true;
        assert_eq!(lines.iter().filter(closed).count(), 6);
        let text = String::from_utf8(bytes).unwrap();
        let broken = |from: &str, to: &str| {
            assert!(text.contains(from), "{from}");
            let at = text.rfind(from).unwrap();
            let damaged = format!("{}{to}{}", &text[..at], &text[at + from.len()..]);
            let faults = check_panel(damaged.as_bytes(), &lattice, Some(&filled), None);
            faults.iter().map(|fault| fault.code).collect::<Vec<_>>()
        };
        if version == "r2000" {
            let codes = broken("\n8\nLETTERS\n", "\n8\nOUTLINES\n");
            assert_eq!(codes, ["missing", "surplus"]);
        }
        // An upright that is not closed.
        assert!(broken("\n70\n1\n", "\n70\n0\n").contains(&"missing"));
        assert!(
            check_panel(text.as_bytes(), &lattice, None, None)
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

/// Strips and pieces as flat bodies, each with those that lie over it.
fn bodies(lattice: &Lattice, filled: Option<&Infilling>) -> Vec<Value> {
    let ring = |points: &[Point]| -> Value { points.iter().map(|p| json!([p.x, p.y])).collect() };
    let band = |strip: &Strip| {
        let along = strip.start.to(strip.end).unit().unwrap();
        let half = Vector::new(-along.y, along.x) * (lattice.section.thickness / 2.0);
        let back = -half;
        let corners = [
            strip.start + back,
            strip.end + back,
            strip.end + half,
            strip.start + half,
        ];
        ring(&corners)
    };
    let mut bodies = Vec::new();
    for strip in &lattice.strips {
        // A notch in the front face is for a strip that lies in front.
        let notches = strip
            .notches
            .iter()
            .filter(|notch| notch.face == Face::Front);
        let over = notches.map(|notch| {
            let mut strips = lattice.strips.iter();
            strips
                .position(|other| Some(other.id) == notch.mate.strip())
                .unwrap()
        });
        bodies.push(json!({ "ring": band(strip), "over": over.collect::<Vec<_>>() }));
    }
    let pieces = |cell: &FilledCell, from: usize| -> Vec<Value> {
        let body = |piece: &lapwright::infill::PlacedPiece| {
            let laps = piece.laps.iter().filter(|lap| lap.face == Face::Front);
            let over = laps.map(|lap| {
                let mut pieces = cell.pieces.iter();
                from + pieces.position(|other| other.name == lap.mate).unwrap()
            });
            json!({ "ring": ring(&piece.outline), "over": over.collect::<Vec<_>>() })
        };
        cell.pieces.iter().map(body).collect()
    };
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        bodies.extend(pieces(cell, bodies.len()));
    }
    bodies
}

/// Panels of all grids, close and wide, with all ways of lapping and several patterns.
fn made_up() -> Vec<String> {
    let square = ["square-hemp-leaf", "crossed-diagonals", "corner-brace", ""];
    let mut jobs = Vec::new();
    for round in 0..4_u32 {
        let t = 2.0 + 0.4 * f64::from(round);
        let weave = if round % 2 == 0 {
            ""
        } else {
            "weave = \"alternate\""
        };
        let strip = format!("[strip]\nthickness = \"{t} mm\"\ndepth = \"12 mm\"\n{weave}\n");
        let infill = |pattern: &str| match pattern {
            "" => String::new(),
            name => format!("[infill]\npattern = \"{name}\"\nedge = \"fill\"\n"),
        };
        let mut job = |grid: String, pattern: &str| {
            jobs.push(format!(
                "title = \"Made up\"\n[grid]\n{grid}\noverhang = \"{} mm\"\n{strip}{}",
                8 + 5 * round,
                infill(pattern)
            ));
        };
        let wide = 24.0 + 9.0 * f64::from(round);
        job(
            format!(
                "kind = \"square\"\npitches_x = [\"{wide} mm\", \"40 mm\", \"{wide} mm\"]\n\
                 pitches_y = [\"{wide} mm\", \"40 mm\"]"
            ),
            square[round as usize],
        );
        job(
            format!(
                "kind = \"diamond\"\npitch = \"{wide} mm\"\nangle = \"{} deg\"\nstance = \"{}\"\n\
                 region = \"rectangle\"\nwidth = \"170 mm\"\nheight = \"140 mm\"",
                52 + 9 * round,
                ["upright", "on-point"][round as usize % 2]
            ),
            [
                "diamond-hemp-leaf",
                "",
                "crossed-diagonals",
                "diamond-hemp-leaf",
            ][round as usize],
        );
        job(
            format!(
                "kind = \"triangular\"\nside = \"{} mm\"\nstance = \"{}\"\nregion = \"{}",
                wide + 16.0,
                ["lying", "upright"][round as usize % 2],
                if round < 2 {
                    "polygon\"\ncorners = [[\"0 mm\", \"0 mm\"], [\"180 mm\", \"15 mm\"], \
                     [\"160 mm\", \"150 mm\"], [\"40 mm\", \"170 mm\"]]"
                } else {
                    "hexagon\"\nrings = 2"
                }
            ),
            [
                "triangular-hemp-leaf",
                "",
                "triangular-hemp-leaf",
                "central-triangle",
            ][round as usize],
        );
        // Closer than their names are long.
        job(
            format!(
                "kind = \"square\"\npitch = \"{} mm\"\ncolumns = 12\nrows = 3",
                3.4 * t
            ),
            "",
        );
    }
    jobs
}

#[test]
fn what_lies_behind_is_not_drawn_and_nothing_twice() {
    let folder = TempDir::new().unwrap();
    let mut panels = Vec::new();
    for (at, text) in made_up().into_iter().enumerate() {
        let path = |ending: &str| {
            let path = folder.path().join(format!("{at}.{ending}"));
            path.to_str().unwrap().to_owned()
        };
        fs::write(path("toml"), &text).unwrap();
        for ending in ["dxf", "svg"] {
            let output = path(ending);
            let arguments = ["outline", &path("toml"), "--what", "panel", "-o", &output];
            answer(folder.path(), &arguments);
        }
        let job = read_job("job.toml", &text).unwrap();
        let filled = job.pattern_names().next().map(|name| {
            let pattern = shipped_pattern(name).unwrap();
            let pattern = read_pattern("pattern", pattern.text).unwrap();
            fill(&job.panel, &pattern.pattern, job.edge).unwrap()
        });
        panels.push(json!({
            "name": text, "dxf": path("dxf"), "svg": path("svg"),
            "bodies": bodies(job.panel.lattice(), filled.as_ref()),
        }));
    }
    check_panels(&json!({ "panels": panels })).unwrap_or_else(|reason| panic!("{reason}"));
}
