//! The reader against arbitrary and enormous input, and every code by a hand-written line.

use crate::bench::{codes, limits, notches, program, prove, prove_bytes, workpiece};
use lapwright::verification::gcode::codes::{PathControl, ProgramStop, SpindleTurn};
use lapwright::verification::gcode::interpreter::Interpreter;
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::gcode::state::{Event, StoredPositions};
use lapwright::verification::{Tolerances, prove_program};
use proptest::prelude::*;

/// The events of a program that starts at the zero of everything.
fn events(text: &str) -> Result<Vec<Event>, &'static str> {
    let origin = [Some(0.0); 3];
    let mut machine = Interpreter::new(StoredPositions {
        start: origin,
        work_zeros: [origin; 6],
        machine_zero: origin,
        homes: [origin; 2],
    });
    let mut events = Vec::new();
    for block in blocks(text.as_bytes()) {
        let block = block.map_err(|fault| fault.code)?;
        let done = machine.execute(&block, &mut |event| events.push(event));
        done.map_err(|fault| fault.code)?;
    }
    Ok(events)
}

/// The ends of a program's moves.
fn ends(text: &str) -> Vec<[f64; 3]> {
    events(text)
        .unwrap()
        .iter()
        .filter_map(|event| match event {
            Event::Move(step) => Some(step.to.map(Option::unwrap)),
            _ => None,
        })
        .collect()
}

#[test]
fn distances_units_and_zeros() {
    assert_eq!(
        ends("G21 G90\nG0 X5\nG91\nX1\nX1"),
        [[5.0, 0.0, 0.0], [6.0, 0.0, 0.0], [7.0, 0.0, 0.0]]
    );
    assert_eq!(ends("G20\nG0 X1")[0][0], 25.4);
    assert_eq!(ends("G10 L2 P1 X10\nG0 X1")[0][0], 11.0);
    assert_eq!(ends("G0 X3\nG10 L20 P0 X1\nG0 X2")[1][0], 4.0);
    assert_eq!(
        ends("G10 L2 P2 X10\nG55\nG0 X1\nG53 G0 X1\nG54\nG0 X1").concat()[..9].to_vec(),
        [11.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1.0, 0.0, 0.0]
    );
    assert_eq!(
        ends("G0 X3\nG92 X0\nG0 X1\nG92.1\nG0 X1"),
        [[3.0, 0.0, 0.0], [4.0, 0.0, 0.0], [1.0, 0.0, 0.0]]
    );
    assert_eq!(
        ends("G0 X3 Z2\nG28 Z5"),
        [[3.0, 0.0, 2.0], [3.0, 0.0, 5.0], [3.0, 0.0, 0.0]]
    );
}

#[test]
fn feeds_spindle_waits_and_stops() {
    let said =
        events("G93\nG1 X10 F2\nG94\nS9000 M3 G4 P2\nM1\nG64 P0.1\nG1 X0 F300\nM6\nM30").unwrap();
    let moves: Vec<_> = said
        .iter()
        .filter_map(|event| match event {
            Event::Move(step) => Some(step),
            _ => None,
        })
        .collect();
    assert_eq!(moves[0].feed, Some(20.0));
    assert_eq!(moves[1].feed, Some(300.0));
    assert_eq!(moves[1].spindle.turn, SpindleTurn::Clockwise);
    assert_eq!(moves[1].path_mode, Some(PathControl::Blended(Some(0.1))));
    assert!(matches!(
        said[2],
        Event::Dwell {
            amount: 2.0,
            line: 4
        }
    ));
    assert!(matches!(
        said[3],
        Event::Stop {
            stop: ProgramStop::Optional,
            ..
        }
    ));
    assert!(
        said.iter()
            .any(|event| matches!(event, Event::ToolChange { tool: None, .. }))
    );
    let Some(Event::Stop { stop, .. }) = said.last() else {
        panic!()
    };
    assert_eq!(*stop, ProgramStop::End);
}

/// NISTIR 6556, 3.8: what is written first is not always done first.
#[test]
fn a_blocks_words_act_in_the_standards_order() {
    let said = events("S100 M3\nG0 Z20 M5").unwrap();
    assert!(
        matches!(said[1], Event::Spindle { .. }),
        "M5 comes before the move"
    );
    assert!(matches!(said[2], Event::Move(_)));
    let said = events("M0 G0 X1").unwrap();
    assert!(
        matches!(said[1], Event::Stop { .. }),
        "M0 comes after the move"
    );
    // F counts in the units before the change.
    let said = events("G20\nG21 G1 X45 F900").unwrap();
    let feed = said.iter().find_map(|event| match event {
        Event::Move(step) => step.feed,
        _ => None,
    });
    assert_eq!(feed, Some(900.0 * 25.4));
}

#[test]
fn drilling_cycles_become_plain_moves() {
    let heights: Vec<f64> = ends("G0 Z5\nG99 G83 X1 Z-2 R1 Q2 F100\nX2 G98 L2")
        .iter()
        .map(|end| end[2])
        .collect();
    let hole = [1.0, -1.0, 1.0, -1.0 + 0.254, -2.0];
    let mut expected = vec![5.0, 5.0];
    expected.extend(hole);
    expected.extend([1.0, 1.0]);
    for _ in 0..2 {
        expected.extend(hole);
        expected.push(5.0);
    }
    assert_eq!(heights, expected);
    assert_eq!(events("G81 Z-1 R1 L100000 F1"), Err("cycle"));
    assert_eq!(events("G83 Z-100 R1 Q0.0001 F1"), Err("cycle"));
}

#[test]
fn what_is_not_known_is_refused_never_skipped() {
    for (line, code) in [
        ("G41 D1", "unknown-code"),
        ("G5 X1", "unknown-code"),
        ("G2.1", "unknown-code"),
        ("M98 P100", "unknown-code"),
        ("M3.5", "unknown-code"),
        ("G10 L1 P1 X1", "unknown-code"),
        ("G81 X1 Z1", "cycle"),
        ("G18\nG81 X1 Z1 R2", "cycle"),
        ("G91\nG53 G0 X1", "words"),
        ("G91.1 G90.1", "modal-group"),
        ("G90.1\nG2 X1 I1", "arc"),
        ("D1", "words"),
        ("G1 X1 Q1", "words"),
        ("T1.5", "number"),
    ] {
        assert_eq!(events(line), Err(code), "{line}");
    }
}

#[test]
fn a_megabyte_in_one_line_gets_an_answer() {
    let many = |text: &str| text.repeat(1_000_000 / text.len());
    for line in [
        many("X1"),
        many(" "),
        many("("),
        many("9"),
        many("G1 "),
        many("(a)"),
        many("\0"),
    ] {
        let report = prove_bytes(format!("{line}\nM2\n").as_bytes());
        assert!(!report.ok() && report.faults.len() < 100);
        assert!(codes(&report).contains(&"line-too-long"));
    }
}

#[test]
fn a_long_bad_program_has_a_short_report() {
    let text = "G1 X1 X1 !\n".repeat(100_000);
    let report = prove(&text);
    assert!(report.faults.len() < 100);
    let more: usize = report.more_faults.iter().map(|(_, more)| more).sum();
    assert!(more > 190_000);
}

/// Lines made of plausible words, so that the machine and the simulation are reached.
fn plausible_line() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        (-20_i32..20).prop_map(|n| n.to_string()),
        (-20000_i32..20000).prop_map(|n| format!("{:.3}", f64::from(n) / 1000.0)),
        Just("999999".to_owned()),
    ];
    let code = prop::sample::select(vec![
        "G0", "G1", "G2", "G3", "G4", "G10", "G17", "G18", "G19", "G20", "G21", "G28", "G30",
        "G40", "G43", "G49", "G53", "G54", "G55", "G61", "G64", "G80", "G81", "G82", "G83", "G90",
        "G91", "G90.1", "G91.1", "G92", "G92.1", "G93", "G94", "G98", "G99", "M0", "M1", "M3",
        "M4", "M5", "M6", "M7", "M9", "%", "(note)", ";note", "/",
    ]);
    let letter = prop::sample::select(vec![
        "X", "Y", "Z", "I", "J", "K", "R", "F", "S", "P", "Q", "L", "H", "N", "T",
    ]);
    let word = (letter, number).prop_map(|(letter, number)| format!("{letter}{number}"));
    let codes = prop::collection::vec(code.prop_map(str::to_owned), 0..2);
    let words = prop::collection::vec(word, 0..4);
    (codes, words).prop_map(|(codes, words)| [codes, words].concat().join(" "))
}

proptest! {
    #[test]
    fn arbitrary_bytes_get_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let report = prove_bytes(&bytes);
        prop_assert!(!report.ok());
    }

    #[test]
    fn bytes_thrown_into_a_good_program_get_an_answer(
        place in 0_usize..1000, byte: u8, inside in any::<bool>(),
    ) {
        let mut bytes = program().into_bytes();
        let place = place % bytes.len();
        if inside {
            bytes[place] = byte;
        } else {
            bytes.insert(place, byte);
        }
        prove_bytes(&bytes);
    }

    #[test]
    fn plausible_lines_get_an_answer(lines in prop::collection::vec(plausible_line(), 1..25)) {
        let text = lines.join("\n");
        let all = prove_program(
            text.as_bytes(),
            &workpiece(),
            Some(&notches()),
            &limits(),
            &Tolerances::default(),
        );
        prop_assert!(!all.ok());
        prop_assert!(all.cutting_mm.is_finite() && all.rapid_mm.is_finite());
    }

    /// Line numbers, blanks, case, comments and line ends change nothing.
    #[test]
    fn looks_do_not_matter(crlf: bool, lower: bool, number: bool, comment: bool) {
        let dressed: String = program()
            .lines()
            .filter(|line| !line.starts_with('('))
            .map(|line| {
                let mut line = line.replace(' ', if lower { "" } else { "  " });
                if lower { line = line.to_lowercase(); }
                if number { line = format!("N10 {line}"); }
                if comment { line += " (note)"; }
                line + if crlf { "\r\n" } else { "\n" }
            })
            .collect();
        let (plain, dressed) = (prove(&program()), prove(&dressed));
        prop_assert!(dressed.ok(), "{:?}", dressed.faults);
        prop_assert_eq!(plain.cutting_mm, dressed.cutting_mm);
        prop_assert_eq!(plain.extent_mm, dressed.extent_mm);
    }
}
