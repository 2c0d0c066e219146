//! A router that cuts sheet: letters as wide as their tool, distances of labels from slots, no
//! bridge where something is laid against the part. And the slot that fitted, for both machines.

use super::kinds::{JOB, folder};
use super::plain::{Line, lines, on};
use crate::support::cli::{Bench, shipped};
use float_cmp::approx_eq;

/// The shipped sheet router, able to cut the job's pieces, with these keys instead of its own.
fn router(changes: &[(&str, &str)]) -> String {
    let text = shipped("sheet-router").replace("\"6 mm\"", "\"12 mm\"");
    let mut rows: Vec<String> = text.lines().map(str::to_owned).collect();
    for (key, line) in changes {
        let row = rows
            .iter_mut()
            .find(|row| row.split(' ').next() == Some(key));
        (*line).clone_into(row.unwrap());
    }
    rows.join("\n")
}

fn with(changes: &[(&str, &str)]) -> Bench {
    let folder = folder();
    folder.write("laser.toml", router(changes));
    folder
}

fn draw(folder: &Bench, what: &str) -> Vec<Line> {
    folder.ok(&["outline", "job.toml", "--what", what, "-o", "drawn.dxf"]);
    lines(&folder.path("drawn.dxf"))
}

#[test]
fn letters_keep_a_wall_from_slots_and_edges() {
    for relief in ["bone", "tee"] {
        let form = format!("relief = \"{relief}\"");
        let folder = with(&[("relief", &form)]);
        for what in ["strips", "blocks", "guide", "comb", "rack", "gauge"] {
            let drawn = draw(&folder, what);
            let cuts = [on(&drawn, "OUTLINES"), on(&drawn, "OPENINGS")].concat();
            let marks = on(&drawn, "LETTERS");
            assert!(!marks.is_empty(), "{what}");
            let mut near = 0;
            for mark in &marks {
                let least = cuts
                    .iter()
                    .map(|cut| mark.distance(cut))
                    .fold(f64::INFINITY, f64::min);
                // Half the line of 0.3 mm and a millimetre of wood; only a stick's boxes, which
                // say where its edge is to be marked, begin at that edge.
                let is_box = what == "gauge"
                    && mark.points.iter().any(|point| {
                        cuts.iter().any(|cut| {
                            approx_eq!(f64, point[1] - cut.bounds()[0][1], 0.2, epsilon = 1e-5)
                        })
                    });
                near += usize::from(is_box);
                assert!(is_box || least >= 1.15 - 1e-5, "{relief} {what}: {least}");
            }
            // Four uprights with five notches, five cross strips with four.
            assert_eq!(near, if what == "gauge" { 9 } else { 0 });
        }
    }
}

#[test]
fn letters_are_as_high_as_their_line_can_draw_or_there_are_none() {
    // The cutter itself, 1.5 mm: nine millimetres or none.
    let folder = with(&[("letter_line", "")]);
    for what in ["comb", "gauge", "rack"] {
        let ran = folder.run(&["outline", "job.toml", "--what", what, "-o", "x.dxf"]);
        assert_eq!(ran.code, 2);
        assert!(
            ran.err
                .contains("they can be read from 9.00 mm on, drawn by a line 1.50 mm wide"),
            "{}",
            ran.err
        );
        assert!(ran.err.contains("letter_line"), "{}", ran.err);
    }
    let ran = folder.ok(&[
        "outline",
        "job.toml",
        "--what",
        "strips,blocks",
        "-o",
        "x.dxf",
    ]);
    assert!(ran.err.contains("labels-too-low"), "{}", ran.err);
    assert!(on(&lines(&folder.path("x.dxf")), "LETTERS").is_empty());
    // Instead the sheet says where each strip lies.
    assert!(ran.out.contains("STRIPS WITHOUT LABELS"), "{}", ran.out);
    let told = folder.ok(&[
        "--format", "json", "outline", "job.toml", "--what", "strips", "-o", "x.dxf",
    ]);
    let told = told.json();
    let key = told["unlabelled"].as_array().unwrap();
    assert_eq!(key.len(), 9);
    let outlines = on(&lines(&folder.path("x.dxf")), "OUTLINES");
    for strip in key {
        let at = [0, 1].map(|axis| strip["at_mm"][axis].as_f64().unwrap());
        // Uprights are longer here: 180 and 40 mm of overhang, cross strips 130 and 40.
        assert_eq!(
            strip["label"].as_str().unwrap(),
            format!(
                "{}{}",
                if strip["name"] == "upright" { "U" } else { "C" },
                strip["copy"]
            )
        );
        let long = if strip["name"] == "upright" {
            220.0
        } else {
            170.0
        };
        let found = outlines.iter().find(|line| {
            let [low, _] = line.bounds();
            (low[0] - at[0]).hypot(low[1] - at[1]) < 1e-5
        });
        assert!(
            approx_eq!(f64, found.unwrap().size()[0], long, epsilon = 1e-5),
            "{strip}"
        );
    }
    // Letters on a strip are as high as asked for, and six lines of the tool fit into them.
    for (width, labelled) in [("0.41", true), ("0.42", false)] {
        let line = format!("letter_line = \"{width} mm\"");
        let folder = with(&[("letter_line", &line)]);
        assert_eq!(
            !on(&draw(&folder, "strips"), "LETTERS").is_empty(),
            labelled
        );
    }
    let ran =
        with(&[("letter_line", "letter_line = \"0 mm\"")]).run(&["machine", "check", "laser.toml"]);
    assert!(
        ran.code != 0 && ran.err.contains("above zero"),
        "{}",
        ran.err
    );
}

#[test]
fn no_bridge_stands_on_a_side_that_is_laid_against_something() {
    for count in ["1", "2", "3"] {
        let row = format!("count = {count}");
        let folder = with(&[("count", &row)]);
        for (what, laid) in [
            ("gauge", true),
            ("comb", true),
            ("blocks", true),
            ("strips", false),
        ] {
            let drawn = draw(&folder, what);
            let outlines = on(&drawn, "OUTLINES");
            let bridges = on(&drawn, "BRIDGES");
            let parts = outlines.len();
            assert_eq!(
                bridges.len(),
                parts * count.parse::<usize>().unwrap(),
                "{what}"
            );
            let below = bridges.iter().filter(|bridge| {
                outlines.iter().any(|outline| {
                    let [low, high] = outline.bounds();
                    let [from, to] = bridge.bounds();
                    approx_eq!(f64, from[1], low[1], epsilon = 1e-5)
                        && from[0] >= low[0]
                        && to[0] <= high[0]
                })
            });
            assert_eq!(below.count() == 0, laid, "{what} {count}");
            folder.ok(&["prove", "drawn.dxf", "job.toml"]);
        }
    }
}

/// The shipped laser, or the router, with and without a slot that fitted: 0.03 mm tighter than the
/// strip, where the job asks for 0.05 mm of clearance.
#[test]
fn the_slot_that_fitted_goes_where_something_sits_in_a_slot() {
    let fit = "\n[fit]\nslot = \"2.95 mm\"\nstrip = \"2.98 mm\"\n";
    let laser = shipped("tube-laser").replace("\"9 mm\"", "\"12 mm\"");
    for profile in [laser, router(&[])] {
        let folder = Bench::new();
        folder.write("job.toml", JOB);
        let mut drawn = |what: &str, profile: &str| {
            folder.write("laser.toml", profile);
            folder.ok(&["outline", "job.toml", "--what", what, "-o", "d.dxf"]);
            folder.ok(&["prove", "d.dxf", "job.toml"]);
            lines(&folder.path("d.dxf"))
        };
        let fitted = format!("{profile}{fit}");
        // Boxes on sticks: 2.97 instead of 3.05 wide.
        for (text, wide) in [(&profile, 3.05), (&fitted, 2.97)] {
            let marks = on(&drawn("gauge", text), "LETTERS");
            let boxes: Vec<f64> = marks
                .iter()
                .filter(|mark| approx_eq!(f64, mark.size()[1], 5.8, epsilon = 1e-5))
                .map(|mark| mark.size()[0])
                .collect();
            assert_eq!(boxes.len(), 9);
            assert!(
                boxes
                    .iter()
                    .all(|found| approx_eq!(f64, *found, wide, epsilon = 1e-5)),
                "{boxes:?}"
            );
        }
        // Key slots: 0.03 mm narrower than the key; the blade's slot stays as wide as the kerf.
        let slots = |text: &str, drawn: &mut dyn FnMut(&str, &str) -> Vec<Line>| {
            let mut wide: Vec<f64> = on(&drawn("rack", text), "OPENINGS")
                .iter()
                .map(|slot| slot.size()[0])
                .collect();
            wide.sort_by(f64::total_cmp);
            wide
        };
        let (plain, tight) = (slots(&profile, &mut drawn), slots(&fitted, &mut drawn));
        assert_eq!(plain.len(), 3);
        let changed = plain.iter().zip(&tight).map(|(a, b)| a - b);
        let changed: Vec<f64> = changed.collect();
        assert!(
            approx_eq!(f64, changed[0], 0.03, epsilon = 1e-5)
                && approx_eq!(f64, changed[1], 0.03, epsilon = 1e-5),
            "{changed:?}"
        );
        assert!(changed[2].abs() < 1e-5, "{changed:?}");
        // A comb finds the slot, pieces and blocks sit in none.
        for what in ["comb", "pieces", "blocks"] {
            let [one, two] = [&profile, &fitted].map(|text| format!("{:?}", drawn(what, text)));
            assert_eq!(one, two, "{what}");
        }
    }
}

#[test]
fn pieces_without_a_number_are_told_by_their_place() {
    let folder = with(&[]);
    let ran = folder.ok(&["outline", "job.toml", "--what", "pieces", "-o", "x.dxf"]);
    let drawn = lines(&folder.path("x.dxf"));
    let outlines = on(&drawn, "OUTLINES");
    assert!(on(&drawn, "LETTERS").is_empty());
    assert!(ran.err.contains("no-room-for-label"), "{}", ran.err);
    assert!(ran.out.contains("PIECES WITHOUT NUMBERS"), "{}", ran.out);
    let told = folder.ok(&[
        "--format", "json", "outline", "job.toml", "--what", "pieces", "-o", "x.dxf",
    ]);
    let told = told.json();
    let key = told["unlabelled"].as_array().unwrap();
    assert_eq!(key.len(), outlines.len());
    // The piece with that number lies there: as large as its outline is.
    let list = folder.ok(&["--format", "json", "pare", "job.toml"]).json();
    for piece in key {
        let number = piece["label"].as_str().unwrap().parse::<usize>().unwrap();
        let outline = list["pieces"][number - 1]["outline_mm"].as_array().unwrap();
        let reach = |axis: usize| {
            let at = outline.iter().map(|p| p[axis].as_f64().unwrap());
            let (low, high) = at.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
                (low.min(at), high.max(at))
            });
            high - low
        };
        let at = [0, 1].map(|axis| piece["at_mm"][axis].as_f64().unwrap());
        let found = outlines.iter().find(|line| {
            let [low, _] = line.bounds();
            (low[0] - at[0]).hypot(low[1] - at[1]) < 1e-5
        });
        let size = found.unwrap().size();
        assert!(
            (size[0] - reach(0)).abs() < 2e-5 && (size[1] - reach(1)).abs() < 2e-5,
            "{piece}"
        );
    }
}
