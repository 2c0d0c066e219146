//! What set-up sheets say at the bench, beside their figures.

mod at_the_saw;

use crate::support::cli::{Bench, FLAGS, JOB};
use lapwright::geometry::{Point, bounds};
use lapwright::instructions::lettering;
use lapwright::instructions::outline::CutPart;
use lapwright::lattice::Face;
use lapwright::machines::{Laser, Machine};
use lapwright::planning::{WareBatch, plan_sheets};
use lapwright::reading::{read_job, read_machine};
use lapwright::units::UnitSystem;

/// Triangles: front strips, back strips, and such that are notched in both faces.
const TRIANGLES: &str = include_str!("../../../demo/stair-window.toml");

/// Diamonds, some strips turned end for end.
const DIAMONDS: &str = include_str!("../../../demo/wardrobe-vent.toml");

/// All that a command prints for a job, its line ends taken out.
fn said(job: &str, args: &[&str]) -> String {
    let bench = Bench::new();
    bench.write("job.toml", job);
    let ran = bench.ok(args);
    ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[track_caller]
fn has(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "`{part}` is not in it");
    }
}

#[track_caller]
fn lacks(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(!text.contains(part), "`{part}` is in it");
    }
}

/// 3 mm strips at 120 degrees: 3 / tan 60 = 1.73 past the stop, and a board of 60 degrees.
#[test]
fn a_router_sheet_tells_how_stepped_strips_are_marked_and_stopped() {
    let notch = ["notch", "job.toml", "-o", "x.nc"];
    let text = said(TRIANGLES, &notch);
    has(
        &text,
        &[
            "[ ] 1. Mark the datum end and the front face of every strip. [ ] 2. Clamp 7 strips",
            "LEVEL STRIPS (L1-L7), BACK FACE UP, AND 7 FALLING STRIPS (F1-F7), FRONT FACE UP, AT 120 DEG",
            "each lies 1.73 mm farther back, past the end stop, than the one before it, counted \
             from the front edge; only the front strip touches the stop, which must be no wider \
             than that strip, 3.00 mm. A board cut to 60 deg with its slanting edge on the datum \
             ends steps them all at once.",
            "farther from the end stop than the one before it, counted from the front edge; only \
             the front strip touches the stop. A board cut to 60 deg",
        ],
    );
    lacks(&text, &["wedge of"]);
    // Three bundles, two of them the same part, each clamped twice.
    let marks = "Mark the datum end";
    assert_eq!(text.matches(marks).count(), 1);
    assert_eq!(text.matches("Mark every strip's label").count(), 1);
    has(
        &said(DIAMONDS, &notch),
        &[
            "Lay R1, R11 with the back face up and the lower end toward the stop, but of R11 the \
             upper end.",
            "Mark every strip's label, its front face and the end toward the stop: here that is its datum end; in the panel the marked end of R11 is the upper end.",
        ],
    );
    // Strips that lie square, are clamped once and not turned need no mark.
    lacks(&said(JOB, &notch), &[marks]);
}

/// 4 bays of 42 / sin 30 and two overhangs of 15 are 366 mm; turned by 60 degrees they take
/// 366 sin 60 = 316.97; turned by 45 degrees 4 x 42 / sin 45 + 30 = 267.59 take 189.21.
#[test]
fn a_sled_sheet_tells_the_room_of_turned_strips_and_clears_the_stop_for_the_key() {
    let at = |angle| {
        let bench = Bench::new();
        let mut flags = FLAGS.to_vec();
        flags.extend(["--angle", angle, "--machine", "key-sled"]);
        let ran = bench.ok(&flags);
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        (words(&ran.out), words(&ran.err))
    };
    let (sheet, warned) = at("30deg");
    has(&sheet, &["room in front of the fence 316.97 mm"]);
    has(
        &warned,
        &[
            "warning[steep-fence]: fence.swing: setting 1 turns the fence 60 deg from square",
            "316.97 mm",
        ],
    );
    let (sheet, warned) = at("45deg");
    has(&sheet, &["room in front of the fence 189.21 mm"]);
    lacks(&warned, &["steep-fence"]);
    lacks(&at("90deg").0, &["room in front"]);
    let job = JOB.replace("40 mm", "38 mm");
    let sheet = said(&job, &["sled", "job.toml", "--order", "bundles"]);
    let clear = "Take the stop away or slide it clear. Notch 2: key in the 38.00 mm slot";
    has(&sheet, &[clear]);
    let sheet = said(&job, &["sled", "job.toml"]);
    has(&sheet, &["stop away key 76.00 1"]);
}

/// The rising strips' longest label, 34 letters in 41 mm, sets the height of all on their stick.
#[test]
fn a_story_stick_tells_the_face_and_its_sheet_what_boxes_and_degrees_are() {
    let lattice = read_job("job.toml", TRIANGLES)
        .unwrap()
        .panel
        .lattice()
        .clone();
    let laser = laser();
    let sticks = vec![WareBatch::sticks(&lattice, &laser, UnitSystem::Millimetres).unwrap()];
    let (plan, _) = plan_sheets("", "laser", sticks, &laser, &|_, _| "x.dxf".into()).unwrap();
    let longest = "13 FRONT/14 BACK 285.00 120/60 DEG";
    let height = 41.0 / lettering::width(longest, 1.0);
    let engraved = |part: &CutPart, text: &str, x: f64| {
        let (corner, _) = bounds(part.outer.iter().copied()).unwrap();
        let letters = lettering::strokes(text, Point::default(), height);
        letters.iter().all(|letter| {
            let turned = letter
                .iter()
                .map(|p| Point::new(corner.x + x + height / 2.0 - p.y, corner.y + 7.0 + p.x));
            let turned: Vec<Point> = turned.collect();
            part.strokes.iter().any(|stroke| {
                stroke.len() == turned.len()
                    && stroke
                        .iter()
                        .zip(&turned)
                        .all(|(a, b)| a.to(*b).length() < 1e-6)
            })
        })
    };
    let sticks = &plan.files[0].finished;
    assert!(sticks.iter().any(|stick| engraved(stick, longest, 285.0)
        && engraved(stick, "1 FRONT/2 BACK 15.00 120/60 DEG", 15.0)));
    has(
        &said(
            TRIANGLES,
            &["outline", "job.toml", "--what", "gauge", "-o", "x.dxf"],
        ),
        &[
            "FRONT or BACK is the face that it enters",
            "DEG is the slot's angle, said where one is not square: from the strip's direction",
            "edges where they are on the strip's centre line",
        ],
    );
}

/// A hexagon whose strips are bundled by length: the longest of each family alone.
#[test]
fn one_strip_is_one_strip() {
    let job = TRIANGLES.replace("bundling = \"runs\"", "bundling = \"equal\"");
    let mut text = String::new();
    for args in [
        &["sled", "job.toml"][..],
        &["notch", "job.toml", "-o", "x.nc"],
        &["outline", "job.toml", "--what", "gauge", "-o", "x.dxf"],
        &["pare", "job.toml"],
    ] {
        text += &said(&job, args);
    }
    has(
        &text,
        &[
            "Lay one strip at a time",
            "Strip by strip: 1 time",
            "Clamp 1 strip on edge",
        ],
    );
    for noun in [
        "strips", "blocks", "pieces", "cells", "notches", "bundles", "times", "runs",
    ] {
        lacks(&text, &[&format!(" 1 {noun}"), &format!("(1 {noun}")]);
    }
    let two = said(DIAMONDS, &["sled", "job.toml"]);
    has(
        &two,
        &["In the panel turned end for end, the same face up: R11 of bundle"],
    );
    lacks(&two, &["R11 lie", " 1 strips", " 1 blocks"]);
}

#[test]
fn the_list_of_machines_has_room_for_its_names() {
    let list = Bench::new().ok(&["machine", "list"]).out;
    let row = list.lines().find(|line| line.starts_with("sheet-router"));
    assert!(
        row.unwrap().contains("  sheet-router  router that cuts"),
        "{list}"
    );
}

/// That a label is where the sheet says: letters upright before the first notch, the front face's
/// notches opening upward.
#[test]
fn the_sheet_for_cut_strips_says_how_a_label_stands_and_what_is_laid_first() {
    let outline = ["outline", "job.toml", "--what", "strips", "-o", "x.dxf"];
    let text = said(JOB, &outline);
    has(
        &text,
        &[
            "A strip's label stands at its datum end, the left or lower one in the panel; the \
             letters' feet point to its back face, their heads to its front face.",
            "Assembly: lay",
        ],
    );
    lacks(
        &said(
            JOB,
            &["outline", "job.toml", "--what", "gauge", "-o", "x.dxf"],
        ),
        &["Assembly: lay", "A strip's label"],
    );
    let lattice = read_job("job.toml", JOB).unwrap().panel.lattice().clone();
    let laser = laser();
    let strips = vec![WareBatch::strips(&lattice, &laser).unwrap()];
    let (plan, _) = plan_sheets("", "laser", strips, &laser, &|_, _| "x.dxf".into()).unwrap();
    assert_eq!(plan.assembly.len(), lattice.assembly.len());
    let mut seen = 0;
    for part in plan.files.iter().flat_map(|file| &file.finished) {
        let mut strips = lattice.strips.iter();
        let strip = strips
            .find(|strip| {
                lattice.family_name(strip.id.family) == part.name && strip.id.number == part.copy
            })
            .unwrap();
        let (low, high) = bounds(part.outer.iter().copied()).unwrap();
        let notch = &strip.notches[0];
        let floor = match notch.face {
            Face::Back => low.y + notch.depth,
            Face::Front => high.y - notch.depth,
        };
        let corner = Point::new(low.x + notch.near_edge(), floor);
        let near = |p: &Point| p.to(corner).length() < 1e-6;
        assert!(part.outer.iter().any(near), "{} {}", part.name, part.copy);
        let letters = part.strokes.iter().flatten().copied();
        let (foot, head) = bounds(letters).unwrap();
        let label = lettering::strokes(&lattice.label(strip.id), foot, head.y - foot.y);
        assert_eq!(label.len(), part.strokes.len());
        for (a, b) in label.iter().flatten().zip(part.strokes.iter().flatten()) {
            assert!(a.to(*b).length() < 1e-6);
        }
        assert!(head.x < low.x + notch.near_edge());
        seen += 1;
    }
    assert_eq!(seen, lattice.strips.len());
}

fn laser() -> Laser {
    let profile = include_str!("../../../profiles/tube-laser.toml");
    let Machine::Laser(laser) = read_machine("laser", profile).unwrap().machine else {
        panic!("no laser")
    };
    laser
}
