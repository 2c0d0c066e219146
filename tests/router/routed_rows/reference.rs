//! What is left of the sticks, by the reference RS274/NGC interpreter's way and a geometry library.

use super::{
    Case, case, description, diamonds, exact_moves, long_cutter, own_case, plan, programs, rungs,
    square, texts, triangles,
};
use crate::support::{Canonical, check_rows, rs274};
use serde_json::json;
use tempfile::TempDir;

/// Three patterns in two sizes and sections each; all other shipped ones; one with two laps.
fn cases() -> Vec<Case> {
    let sections = [[2.6, 9.0], [3.4, 12.3]];
    let mut cases = Vec::new();
    for (size, section) in [(37.3, sections[0]), (52.9, sections[1])] {
        cases.push(case("square-hemp-leaf", &square(size, 3), section));
        cases.push(case("triangular-hemp-leaf", &triangles(size), section));
        cases.push(case("crossed-diagonals", &square(size, 3), section));
        let flat = "kind = \"square\"\npitches_x = [\"36 mm\", \"36 mm\"]\npitches_y = [\"47 mm\", \"47 mm\"]\noverhang = \"14 mm\"";
        cases.push(case("crossed-diagonals", flat, section));
    }
    let section = [2.9, 10.0];
    for pattern in ["corner-brace", "nested-square", "single-diagonal"] {
        cases.push(case(pattern, &square(44.1, 2), section));
    }
    for pattern in ["central-triangle", "wall-spokes"] {
        cases.push(case(pattern, &triangles(61.0), section));
    }
    cases.push(case("diamond-hemp-leaf", &diamonds(47.0), section));
    // Two laps in one face, at different angles.
    let rungs = rungs(["", "long", "long"]);
    cases.push(own_case("rungs", &rungs, &square(63.0, 2), section));
    cases
}

#[test]
fn what_is_left_of_the_sticks_are_the_pieces() {
    let mut rows = Vec::new();
    let mut laps = 0;
    for case in cases() {
        for cutter in ["2.000 mm", "1.500 mm"] {
            let router = long_cutter(&[(
                "diameter = \"2.000 mm\"",
                &format!("diameter = \"{cutter}\""),
            )]);
            let made = programs(&case, &router);
            assert!(made.unmade.is_empty(), "{:?}", made.unmade);
            for row in &plan(&made).rows {
                assert!(row.pieces_a_stick * row.sticks() == row.wanted + row.spare);
                assert!(row.front_edges_mm.len() == row.sticks_a_run);
                laps += row.laps.len();
                rows.push(description(&case, row, &exact_moves(&row.path), 1e-6));
            }
        }
    }
    assert!(rows.len() > 20 && laps > 20, "{} {laps}", rows.len());
    check_rows(&json!({ "rows": rows })).unwrap();
}

/// Moves at a feed, as the interpreter calls them.
fn called(calls: &[Canonical]) -> Vec<[[f64; 3]; 2]> {
    let mut at = None;
    let mut moves = Vec::new();
    for call in calls {
        let (to, feed) = match call {
            Canonical::Traverse { x, y, z } => ([*x, *y, *z], false),
            Canonical::Feed { x, y, z } => ([*x, *y, *z], true),
            _ => continue,
        };
        if let (Some(from), true) = (at, feed) {
            moves.push([from, to]);
        }
        at = Some(to);
    }
    moves
}

/// Programs have three decimals: a path may be half a thousandth off along both axes, and a point
/// where two facets meet at an angle J moves by that over sin J.
#[test]
fn the_interpreter_cuts_the_same_pieces_from_the_text() {
    let folder = TempDir::new().unwrap();
    let mut rows = Vec::new();
    for case in cases() {
        let router = long_cutter(&[]);
        let mut made = programs(&case, &router);
        let texts = texts(&mut made);
        assert_eq!(texts.len(), made.plan.rows.len());
        for (row, (name, text)) in made.plan.rows.iter().zip(&texts) {
            assert_eq!(row.file, *name);
            let path = folder.path().join(name);
            std::fs::write(&path, text).unwrap();
            let calls = rs274(&path);
            assert!(matches!(calls.last(), Some(Canonical::ProgramEnd)));
            rows.push(description(&case, row, &called(&calls), 0.003));
        }
    }
    check_rows(&json!({ "rows": rows })).unwrap();
}

/// The reference itself must see what is wrong.
#[test]
fn the_reference_sees_what_is_wrong() {
    let case = case("crossed-diagonals", &square(37.3, 2), [2.6, 9.0]);
    let made = programs(&case, &long_cutter(&[]));
    let row = &made.plan.rows[0];
    let good = exact_moves(&row.path);
    let check = |moves: &[[[f64; 3]; 2]]| {
        check_rows(&json!({ "rows": [description(&case, row, moves, 1e-6)] }))
    };
    check(&good).unwrap();
    let level = |step: &&[[f64; 3]; 2]| (step[0][2] - step[1][2]).abs() < 1e-12 && step[0][2] < 0.0;
    let floor = row.skin_mm - row.depth_mm;
    let last = good
        .iter()
        .filter(level)
        .map(|step| step[0][2])
        .fold(0.0, f64::min);
    assert!((last - floor).abs() < 1e-9);
    let lap = -row.laps[0].depth_mm;
    for (what, at, by) in [
        ("a mitre aside", floor, [1e-5, 0.0, 0.0]),
        ("a mitre deeper", floor, [0.0, 0.0, -1e-5]),
        ("a lap aside", lap, [1e-5, 0.0, 0.0]),
        ("a lap higher", lap, [0.0, 0.0, 1e-4]),
    ] {
        let mut moves = good.clone();
        for step in moves
            .iter_mut()
            .filter(|step| level(&&**step) && (step[0][2] - at).abs() < 1e-9)
        {
            for end in step.iter_mut() {
                for (value, by) in end.iter_mut().zip(by) {
                    *value += by;
                }
            }
        }
        assert!(moves != good, "{what}");
        assert!(check(&moves).is_err(), "{what}");
    }
}
