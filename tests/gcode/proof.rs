//! The whole proof on small jobs: clean where it should be, exact where it measures.

use crate::bench::{HEAD, codes, limits, notch_moves, notches, program, prove, workpiece};
use float_cmp::approx_eq;
use lapwright::units::UnitSystem;
use lapwright::verification::gcode::interpreter::Interpreter;
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::gcode::state::{Event, StoredPositions, known};
use lapwright::verification::simulation::bundle::SimulatedBundle;
use lapwright::verification::simulation::sweep::KnownMove;
use lapwright::verification::{
    ExpectedNotch, Limits, ProgramReport, Tolerances, Workpiece, prove_program,
};
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, PI};

#[test]
fn a_good_program_is_clean_and_measured_to_a_micrometre() {
    let report = prove(&program());
    assert_eq!(report.faults, []);
    assert!(report.ok());
    assert_eq!(report.notches.len(), 3);
    for notch in &report.notches {
        assert!(notch.centre_error_mm.unwrap().abs() < 1e-9);
        assert!(notch.width_error_mm.abs() < 1e-9);
        assert!(notch.depth_error_mm.abs() < 1e-9);
        assert!(notch.angle_error_rad.unwrap().abs() < 1e-9);
        assert!(notch.ok);
    }
    assert_eq!(report.slots.len(), 3);
    assert_eq!(report.slots[1].strips, [0, 7]);
    // Down 5 + 3 and 5 + 6, three times across, two steps aside; three notches.
    let cutting = 3.0 * (8.0 + 11.0 + 2.0 * (3.0 * 31.0 + 0.525 + 1.05));
    assert!(approx_eq!(f64, report.cutting_mm, cutting, epsilon = 1e-9));
    assert_eq!(report.extent_mm[2], Some([-6.0, 5.0]));
}

#[test]
fn errors_come_out_to_a_micrometre() {
    let text = program()
        .replace("X14.475", "X14.468")
        .replace("X57.525", "X57.520")
        .replace("Z-3.000", "Z-3.002")
        .replace("Z-6.000", "Z-6.003");
    let report = prove(&text);
    let rows = [
        (-0.0035, 0.007, false),
        (-0.0025, -0.005, true),
        (0.0, 0.0, true),
    ];
    for (notch, (centre, width, ok)) in report.notches.iter().zip(rows) {
        assert!(approx_eq!(
            f64,
            notch.centre_error_mm.unwrap(),
            centre,
            epsilon = 1e-9
        ));
        assert!(approx_eq!(f64, notch.width_error_mm, width, epsilon = 1e-9));
        assert!(approx_eq!(f64, notch.depth_error_mm, 0.003, epsilon = 1e-9));
        assert_eq!(
            notch.ok,
            ok || approx_eq!(f64, width, 0.005, epsilon = 1e-9)
        );
    }
    assert_eq!(codes(&report), ["notch-width"]);
}

/// A floor that is not flat, and a nick between two planes: the worst counts.
#[test]
fn the_worst_place_of_a_notch_counts() {
    let report = |old: &str, new: &str| {
        // The last occurrence in the first notch is at full depth.
        let (first, rest) = notch_moves(15.0).rsplit_once(old).map_or_else(
            || panic!("{old}"),
            |(before, after)| (before.to_owned(), after.to_owned()),
        );
        let text = program().replace(&notch_moves(15.0), &(first + new + &rest));
        prove(&text)
    };
    let wall = "G1 X14.475\nG1 Y-3.500\n";
    // One wall is not cut to full depth: the floor is too narrow, and as deep as it should be.
    let shallow = &report(wall, "G1 Y-3.500\n").notches[0];
    assert!((shallow.width_error_mm + 0.525).abs() < 1e-9);
    assert!(shallow.depth_error_mm.abs() < 1e-9 && !shallow.ok);
    // A groove along the middle.
    let groove = "G1 Z-6.050 F300\nG1 X15.000 F900\nG1 Y27.500\nG1 Y-3.500\nG0 Z5.000\n";
    let deep = &report("G0 Z5.000\n", &format!("G0 Y-3.500\n{groove}")).notches[0];
    assert!(
        approx_eq!(f64, deep.depth_error_mm, 0.05, epsilon = 1e-9),
        "{deep:?}"
    );
    // The cutter leans into the wall in the middle of a strip.
    let nick = "G1 X14.475\nG1 Y1.500\nG1 X14.455\nG1 X14.475\nG1 Y-3.500\n";
    let wide = &report(wall, nick).notches[0];
    assert!(
        approx_eq!(f64, wide.width_error_mm, 0.02, epsilon = 1e-9),
        "{wide:?}"
    );
}

/// The same program in inches, four decimals: 0.0013 mm of rounding and no more.
#[test]
fn an_inch_program_proves_as_well() {
    let in_inches = |text: &str| -> String {
        let mut out = String::new();
        for line in text.lines() {
            if line.starts_with('(') || line.starts_with("S1") || line.starts_with("G4 ") {
                out += line;
            } else {
                for word in line.split(' ') {
                    let (letter, number) = word.split_at(1);
                    match letter {
                        "X" | "Y" | "Z" | "F" => {
                            let mm: f64 = number.parse().unwrap();
                            out += &format!("{letter}{:.4} ", mm / 25.4);
                        }
                        _ => out += &format!("{word} "),
                    }
                }
            }
            out.push('\n');
        }
        out.replace("G21", "G20")
    };
    let report = prove(&in_inches(&program()).replace("F11.8110", "F11.8"));
    assert!(report.ok(), "{:?}", report.faults);
    assert!(report.notches.iter().any(|n| n.width_error_mm.abs() > 1e-6));
}

/// A slot at 60 degrees through strips stepped back by t / tan 60, in one straight cut.
#[test]
fn angled_notches_in_a_stepped_bundle() {
    let (t, angle) = (3.0, FRAC_PI_3);
    let mut workpiece = Workpiece::plain(6, t, 12.0, 120.0);
    workpiece.step_back_mm = t / angle.tan();
    let width = 3.05 / angle.sin();
    let notch = ExpectedNotch {
        index: 0,
        centre_mm: 40.0,
        width_mm: width,
        depth_mm: 4.0,
        angle_rad: angle,
    };
    let x = |y: f64, off: f64| 40.0 + off / angle.sin() + (y - t / 2.0) / angle.tan();
    let mut text = format!("{HEAD}G0 X{:.4} Y-10\nG1 Z-3 F300\nF900\n", x(-10.0, 0.0));
    for z in ["-3", "-4"] {
        text += &format!("G1 Z{z} F300\nF900\n");
        for (off, y, back) in [
            (0.0, -10.0, 28.0),
            (-0.525, 28.0, -10.0),
            (0.525, -10.0, 28.0),
        ] {
            text += &format!("G1 X{:.4}\nG1 X{:.4} Y{back}\n", x(y, off), x(back, off));
        }
        text += &format!("G0 Z5\nG0 X{:.4} Y-10\n", x(-10.0, 0.0));
    }
    let text = text + "M5\nM2\n";
    let prove = |text: &str, angle_rad: f64| {
        let notch = ExpectedNotch { angle_rad, ..notch };
        let limits = Limits {
            keep_outs: Vec::new(),
            ..limits()
        };
        let tolerances = Tolerances::default();
        prove_program(
            text.as_bytes(),
            &workpiece,
            Some(&[notch]),
            &limits,
            &tolerances,
        )
    };
    let report = prove(&text, angle);
    assert!(report.ok(), "{:?}", report.faults);
    assert!(approx_eq!(
        f64,
        report.slots[0].angle_rad().unwrap(),
        angle,
        epsilon = 1e-4
    ));
    // The mirror image, the square notch, and strips not stepped are something else.
    assert!(!prove(&text, PI - angle).ok());
    assert!(codes(&prove(&text, FRAC_PI_2)).contains(&"notch-angle"));
    workpiece.step_back_mm = 0.0;
    let limits = limits();
    let report = prove_program(
        text.as_bytes(),
        &workpiece,
        Some(&[notch]),
        &limits,
        &Tolerances::default(),
    );
    assert!(!report.ok());
}

/// A path whose centre stops short of the last strip's back leaves wood in its corners; a backer does not care.
#[test]
fn a_slot_that_ends_flush_is_not_cut_through() {
    let flush = program().replace("Y27.500", "Y23.500");
    let report = prove(&flush);
    assert!(
        codes(&report).contains(&"notch-width"),
        "{:?}",
        report.faults
    );
    let mut backed = workpiece();
    backed.backers_mm = [0.0, 6.0];
    let prove = |text: &str| -> ProgramReport {
        let limits = limits();
        let tolerances = Tolerances::default();
        prove_program(
            text.as_bytes(),
            &backed,
            Some(&notches()),
            &limits,
            &tolerances,
        )
    };
    // Into the backer, where turning is allowed, and the cut there is nobody's.
    let inside = program()
        .replace("Y27.500", "Y26.500")
        .replace("G61", "G61.1");
    assert!(prove(&inside).ok(), "{:?}", prove(&inside).faults);
    let plunge = notch_moves(15.0).replace("Y-3.500", "Y26.500");
    let report = prove(&(HEAD.to_owned() + &plunge + "M5\nM2\n"));
    assert!(codes(&report).contains(&"plunge"));
}

#[test]
fn notches_cut_before_are_neither_surplus_nor_wood() {
    let mut before = workpiece();
    before.cut_before = vec![notches()[0]];
    let text = program().replace(&notch_moves(15.0), "");
    let prove = |text: &str| -> ProgramReport {
        let tolerances = Tolerances::default();
        let limits = limits();
        prove_program(
            text.as_bytes(),
            &before,
            Some(&notches()[1..]),
            &limits,
            &tolerances,
        )
    };
    let report = prove(&text);
    assert!(report.ok(), "{:?}", report.faults);
    assert_eq!(report.notches.len(), 2);
    // The whole program cuts the first notch again, where nothing is left.
    assert!(prove(&program()).ok());
    // Spoiling it is found.
    assert!(!prove(&program().replace("X14.475", "X14.3")).ok());
}

/// A program by other hands, with only stock and cutter known: what it would cut.
#[test]
fn a_strangers_program_is_listed() {
    let text = "%\nO-free program\n%\n";
    let stock = Workpiece::plain(10, 2.5, 10.0, 200.0);
    let prove = |text: &str| {
        let limits = Limits::tool_only(3.175);
        prove_program(
            text.as_bytes(),
            &stock,
            None,
            &limits,
            &Tolerances::default(),
        )
    };
    assert!(!prove(text).ok());
    let text = "G20 G90 G17 G94 G54\nT1 M6\nM3 S18000\nG0 Z0.25\nG0 X2 Y-0.25\nG1 Z-0.125 F20\n\
                G1 Y1.25 F60\nG0 Z0.25\nG0 X3 Y0.5\nG1 Z-0.0625 F20\nG2 I0.25 F60\nG0 Z0.25\n\
                M5\nM30\n";
    let report = prove(text);
    assert_eq!(codes(&report), ["plunge"]);
    assert!(report.notches.is_empty());
    let through = &report.slots[0];
    assert_eq!(through.strips, [0, 9]);
    assert!(approx_eq!(f64, through.centre_mm[0], 50.8, epsilon = 1e-9));
    assert!(approx_eq!(f64, through.width_mm[1], 3.175, epsilon = 1e-9));
    assert!(approx_eq!(f64, through.depth_mm[0], 3.175, epsilon = 1e-9));
    assert_eq!(through.line, 7);
    assert!(report.slots.len() > 1);
}

#[test]
fn expecting_nothing_is_not_the_same_as_knowing_nothing() {
    let limits = limits();
    let prove = |expected| {
        let tolerances = Tolerances::default();
        prove_program(
            program().as_bytes(),
            &workpiece(),
            expected,
            &limits,
            &tolerances,
        )
    };
    assert!(prove(None).ok());
    assert!(codes(&prove(Some(&[]))).contains(&"notch-surplus"));
}

/// The moves of a program, all known.
fn ways(text: &str) -> Vec<KnownMove> {
    let settings = StoredPositions {
        start: [Some(0.0); 3],
        ..StoredPositions::default()
    };
    let mut machine = Interpreter::new(settings);
    let mut ways = Vec::new();
    for block in blocks(text.as_bytes()) {
        let _ = machine.execute(&block.unwrap(), &mut |event| {
            if let Event::Move(step) = event {
                ways.push(KnownMove {
                    from: known(step.from).unwrap(),
                    to: known(step.to).unwrap(),
                    arc: step.arc,
                });
            }
        });
    }
    ways
}

/// Places along a way, close together.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a count
fn samples(way: &KnownMove) -> Vec<[f64; 3]> {
    let count = (way.length() / 0.002).ceil().max(1.0) as usize;
    (0..=count)
        .map(|step| {
            let part = step as f64 / count as f64;
            let mut place = [0, 1, 2]
                .map(|axis: usize| way.from[axis] + part * (way.to[axis] - way.from[axis]));
            if let Some(arc) = &way.arc {
                let [first, second, _] = arc.plane.axes();
                [place[first], place[second]] = arc.at(part);
            }
            place
        })
        .collect()
}

fn random_move() -> impl Strategy<Value = String> {
    let line = (0.0..20.0_f64, -1.0..7.0_f64, -4.0..1.0_f64)
        .prop_map(|(x, y, z)| format!("G1 X{x:.3} Y{y:.3} Z{z:.3}"));
    let level = (0.0..20.0_f64, -1.0..7.0_f64).prop_map(|(x, y)| format!("G1 X{x:.3} Y{y:.3}"));
    let down = (-4.0..1.0_f64).prop_map(|z| format!("G1 Z{z:.3}"));
    let plane = prop::sample::select(vec!["G17", "G18", "G19"]);
    let turn = prop::sample::select(vec!["G2", "G3"]);
    let arc = (plane, turn, 1.0..6.0_f64, -3.0..3.0_f64, -3.0..3.0_f64).prop_map(
        |(plane, turn, r, a, b)| {
            let ends = match plane {
                "G17" => format!("X{a:.3} Y{b:.3}"),
                "G18" => format!("X{a:.3} Z{b:.3}"),
                _ => format!("Y{a:.3} Z{b:.3}"),
            };
            format!(
                "G91 {plane} {turn} {ends} R{:.3}\nG90",
                r + a.hypot(b) / 2.0
            )
        },
    );
    prop_oneof![line, level, down, arc]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]

    /// The closed form beside the plainest simulation there is: points of wood, and the cutter
    /// set down every 0.002 mm along its way.
    #[test]
    fn the_closed_form_agrees_with_brute_force(
        moves in prop::collection::vec(random_move(), 1..8),
        radius in 0.4..1.6_f64,
    ) {
        let text = format!("F100\nG0 X8 Y3\n{}\n", moves.join("\n"));
        let mut bundle = SimulatedBundle::new(&Workpiece::plain(2, 3.0, 8.0, 20.0), radius);
        let ways = ways(&text);
        let mut places = Vec::new();
        for way in &ways {
            way.pieces_below(0.0, &mut |piece| {
                bundle.cut(&piece, 1, false);
            });
            places.extend(samples(way));
        }
        places.retain(|place| place[2] < 0.0);
        for plane in bundle.planes() {
            let steps = plane.wood.steps();
            for step in 0..30 {
                let x = 0.34 + f64::from(step) * 0.67;
                let lowest = |r: f64| {
                    let near = |p: &&[f64; 3]| (p[0] - x).hypot(p[1] - plane.y) < r;
                    places.iter().filter(near).map(|p| p[2]).fold(0.0, f64::min).max(-8.0)
                };
                let found = steps.iter().find(|s| s.ends[0] <= x && x <= s.ends[1]);
                let height = found.unwrap().height;
                // What a cutter a little smaller takes is gone; what one a little larger does not
                // take is there.
                prop_assert!(height <= lowest(radius - 0.004) + 0.004, "{x} {}: {height}", plane.y);
                prop_assert!(height >= lowest(radius + 0.004) - 0.03, "{x} {}: {height}", plane.y);
            }
        }
    }
}

/// Width, place and depth are told apart: a wall that is off is no error of the depth.
#[test]
fn width_place_and_depth_are_told_apart() {
    let narrow = program()
        .replace("X14.475", "X14.525")
        .replace("X15.525", "X15.475");
    let report = prove(&narrow);
    assert_eq!(codes(&report), ["notch-width"]);
    let notch = &report.notches[0];
    assert!((notch.width_error_mm + 0.1).abs() < 1e-9);
    assert!(notch.centre_error_mm.unwrap().abs() < 1e-9 && notch.depth_error_mm.abs() < 1e-9);
    // Only at the floor: 3 mm down as wide as it should be.
    let first = notch_moves(15.0);
    let (upper, lower) = first.split_at(first.find("G1 Z-6.000").unwrap());
    let lower = lower
        .replace("X14.475", "X14.525")
        .replace("X15.525", "X15.475");
    let report = prove(&program().replace(&first, &format!("{upper}{lower}")));
    assert_eq!(codes(&report), ["notch-width"]);
    // Aside.
    let report = prove(&program().replace(&first, &notch_moves(14.97)));
    let aside: Vec<_> = report
        .faults
        .iter()
        .filter(|f| f.code != "thin-web")
        .collect();
    assert_eq!(aside.len(), 1, "{aside:?}");
    assert_eq!(aside[0].code, "notch-centre");
    let notch = &report.notches[0];
    assert!((notch.centre_error_mm.unwrap() + 0.03).abs() < 1e-9);
    assert!(notch.width_error_mm.abs() < 1e-9 && notch.depth_error_mm.abs() < 1e-9);
    // Too shallow all over, or on one side by a third of its width.
    let report = prove(&program().replace("Z-6.000", "Z-5.900"));
    assert!(codes(&report).iter().all(|code| *code == "notch-depth"));
    let ledge = lower_left_out(&first, "15.000", "15.525");
    let report = prove(&program().replace(&first, &ledge));
    assert_eq!(codes(&report), ["notch-depth"]);
    assert!((report.notches[0].depth_error_mm + 3.0).abs() < 1e-9);
    assert!(report.notches[0].width_error_mm.abs() < 1e-9);
    // Missing is missing, not shallow.
    let report = prove(&program().replace(&first, ""));
    assert_eq!(codes(&report), ["notch-missing"]);
    assert!(report.notches[0].centre_error_mm.is_none());
}

/// A notch whose last depth is cut along its left wall only.
fn lower_left_out(moves: &str, middle: &str, right: &str) -> String {
    let (upper, lower) = moves.split_at(moves.find("G1 Z-6.000").unwrap());
    let upper = upper.replace(&format!("G0 X{middle} Y-3.500\n"), "G0 X14.475 Y-3.500\n");
    // The first of the two stands at the notch's beginning.
    let upper = upper.replacen("G0 X14.475", &format!("G0 X{middle}"), 1);
    let lower = lower
        .replace("G1 X14.475\nG1 Y-3.500\n", "")
        .replace(&format!("G1 X{right}\nG1 Y27.500\n"), "");
    format!("{upper}{lower}")
}

/// What is found where only the cutter is known.
fn found_alone(text: &str) -> ProgramReport {
    let (limits, tolerances) = (Limits::tool_only(2.0), Tolerances::default());
    prove_program(text.as_bytes(), &workpiece(), None, &limits, &tolerances)
}

/// However steep a way down is, and whichever way it leads, all the wood that it goes down into is told:
/// 1.5 mm here, over 10 mm, over 1 mm, over a thousandth of one, and straight down.
#[test]
fn the_wood_under_a_falling_way_is_told_in_full() {
    for to in ["X60", "X51", "X50.001", "Y17.5", "Y8.5", "X57 Y14", ""] {
        let text = format!("{HEAD}G0 X50 Y7.5\nG1 Z0 F300\nG1 {to} Z-1.5\nG0 Z8\nM5\nM2\n");
        let report = found_alone(&text);
        assert_eq!(codes(&report), ["plunge"], "{to}");
        let told = report.faults[0].text.text(UnitSystem::Millimetres);
        assert!(told.contains("into 1.500 mm of wood"), "{to}: {told}");
        assert!(approx_eq!(
            f64,
            report.slots[0].depth_mm[1],
            1.5,
            epsilon = 1e-9
        ));
    }
}

/// A rapid that falls through wood, steep or not, and one that stops short of it.
#[test]
fn falling_rapids_are_seen_at_any_slope() {
    for (to, through) in [("X60 Z-1", true), ("X50.01 Z-1", true), ("X60 Z0.5", false)] {
        let text = format!("{HEAD}G0 X50 Y7.5\nG0 {to}\nG0 Z8\nM5\nM2\n");
        let report = found_alone(&text);
        assert_eq!(codes(&report).contains(&"rapid-in-stock"), through, "{to}");
    }
}
