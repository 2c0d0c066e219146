//! Orders and words that are wrong in one way each: the saw must see it.

use super::cases::{Case, Grid, SLED, SLEDS, Sled};
use super::{all_right, played};
use crate::support::play_mitres;
use serde_json::{Value, json};

const IN_ROWS: &[&str] = &[
    "stop-off",
    "second-end-off",
    "hand-swapped",
    "kerf-wider",
    "kerf-narrower",
    "rolled-with-batten",
    "rolled-over",
    "no-skin",
    "no-batten",
];

const ON_ENDS: &[&str] = &[
    "stop-off",
    "hand-swapped",
    "other-angle",
    "step-swapped",
    "not-rolled",
    "far-side-of-kerf",
];

/// What may be lost in the rounding of what is printed.
const FINE: &[&str] = &["stop-off", "lap-shallow"];

/// Every order that is wrong in one way is told from the right one, by its figures and by its text.
#[test]
fn wrong_orders_give_themselves_away() {
    let hemp = || Grid::even(45.0, 4, 4);
    let rectangles = || Grid::Square(vec![33.6; 4], vec![46.032; 4]);
    let with = |case: Case, sets: &[&[&'static str]]| Case {
        mutations: Vec::leak(sets.concat()),
        ..case
    };
    let leaf = |sled: Sled| Case::new("square-hemp-leaf", hemp(), 2.6, sled);
    let crossed = |sled: Sled| Case::new("crossed-diagonals", rectangles(), 2.6, sled);
    let narrow = Sled {
        grip: 40.0,
        swing: 45.0,
        ..SLED
    };
    let board = SLEDS[2];
    let (turned, ridge, steps) = ("other-angle", "ridge-from-other-side", "step-swapped");
    let laps = &[
        "laps-faced-over",
        "facets-faced-over",
        "laps-slanted-over",
        "lap-moved",
        "lap-shallow",
    ];
    let cases = [
        with(leaf(SLED), &[IN_ROWS, &[turned, ridge, steps]]),
        with(leaf(narrow), &[IN_ROWS, &[ridge, steps]]),
        with(leaf(board), &[IN_ROWS, &[turned, ridge]]),
        with(crossed(SLED), &[IN_ROWS, laps, &[turned, steps]]),
        with(crossed(board), &[IN_ROWS, laps, &[turned]]),
        with(
            leaf(SLED).on_ends(),
            &[ON_ENDS, &[ridge, "sides-swapped", "square-end-twice"]],
        ),
        with(
            Case::new("triangular-hemp-leaf", Grid::Triangular(58.0), 2.9, board).on_ends(),
            &[ON_ENDS],
        ),
    ];
    let found = played(&cases);
    assert_eq!(found.len(), cases.len());
    all_right(&found);
    for (case, found) in cases.iter().zip(&found) {
        for mutation in case.mutations {
            let gives_away = &found["mutants"][mutation];
            assert!(gives_away["json"].is_string(), "{mutation}: {case:?}");
            // Figures with two decimals leave 0.03 mm.
            let fine = FINE.contains(mutation) && gives_away["text"].is_null();
            assert!(
                gives_away["text"].is_string() || fine,
                "{mutation}: {case:?}"
            );
        }
    }
}

/// One word or figure of the text is another one: either that cannot be followed, or what comes off the saw
/// is wrong. The first place is changed where there are several.
#[test]
fn no_word_of_the_text_is_passed_over() {
    let leaf = Case::new("square-hemp-leaf", Grid::even(45.0, 4, 4), 2.6, SLEDS[1]);
    let boards = |stop_board| Case {
        sled: Sled {
            stop_board,
            ..SLEDS[2]
        },
        ..leaf.clone()
    };
    let in_rows: &[[&str; 2]] = &[
        ["Left ends to the", "Right ends to the"],
        ["front faces down", "back faces down"],
        ["farther to the right", "farther to the left"],
        ["Sticks 1, 4 side by side", "Sticks 1, 2 side by side"],
        ["Sticks 1, 4 side by side", "Sticks 2, 4 side by side"],
        ["cut at their", "cut at all their"],
        ["their 5 stops", "their 4 stops"],
        ["53.70", "53.80"],
        ["8.60 mm", "8.40 mm"],
        ["8.60 mm over the base:", "8.40 mm over the base:"],
        ["20.60 mm over", "20.50 mm over"],
        ["Kerf 2.40 mm", "Kerf 2.60 mm"],
        ["stands on your side", "stands on the far side"],
        ["from its face", "from its back"],
        ["by the end that goes away", "by the end that comes nearer"],
        ["thick end to the right", "thick end to the left"],
        ["on it the wedge of 45 deg", "on it the wedge of 22.5 deg"],
        ["Wedge of 45 deg", "Wedge of 44 deg"],
        ["all along, to a batten", "here and there, to a batten"],
        ["no wider than 2.60 mm", "no wider than 3.60 mm"],
        ["Never roll", "Roll"],
        ["with a knife", "with a saw"],
        ["in each", "at times"],
        ["right mm", "left mm"],
        ["0.14 mm at 45 deg", "0.41 mm at 45 deg"],
        ["[ ] 1. Setting", "[ ] 2. Setting"],
    ];
    // At a stop board parallel to the blade it makes no difference on which side of theirs sticks lie.
    let on_board: &[[&str; 2]] = &[
        ["on its left side", "on its right side"],
        ["right and left as seen", "left and right as seen"],
        ["across the blade's line", "along the blade's line"],
        [
            "22.5 deg from square, its left",
            "22.5 deg from square, its right",
        ],
    ];
    let at_board: &[[&str; 2]] = &[
        ["parallel to the blade", "square to the fence"],
        ["the edge of the stop board", "its face"],
    ];
    let on_ends: &[[&str; 2]] = &[
        ["to be the left one", "to be the right one"],
        ["from the left side of", "from the right side of"],
        ["take the stop away", "leave the stop there"],
        ["ends of sticks 1 off", "ends of sticks 2 off"],
        ["4 of each stick", "5 of each stick"],
        ["square, 61.96 mm", "square, 57.96 mm"],
        ["1.41 mm from", "1.50 mm from"],
    ];
    // A mitre from side to side frees a wedge of wood that the kerf does not take.
    let braces = Case::new("corner-brace", Grid::even(52.4, 2, 3), 3.1, SLED).on_ends();
    let off_cuts: &[[&str; 2]] = &[
        [
            "A small wedge of wood comes off: leave it until then, and clear it with a stick.",
            "",
        ],
        ["leave it until then", "pull it away"],
    ];
    // Without a way to 22.5 degrees hinges keep one end for the guides.
    let rough_ends: &[[&str; 2]] = &[
        [
            "33.38 mm from every sawn point",
            "32.38 mm from every sawn point",
        ],
        [
            "33.38 mm from every sawn point",
            "33.48 mm from every sawn point",
        ],
        ["from every sawn point", "from every square end"],
        ["Pare the 128", "Pare the 64"],
        ["not come to lie 22.5", "come to lie 22.5"],
    ];
    let no_wedge = Case {
        sled: SLEDS[4],
        ..leaf.clone()
    };
    let all = [
        (leaf.clone(), in_rows),
        (boards(false), on_board),
        (boards(true), at_board),
        (leaf.clone().on_ends(), on_ends),
        (braces, off_cuts),
        (no_wedge, rough_ends),
    ];
    for (case, changes) in all {
        let told = case.told().unwrap();
        let text = told["text"].as_str().unwrap();
        // Else any change would be seen.
        all_right(
            play_mitres(&json!({ "cases": [told] }))["cases"]
                .as_array()
                .unwrap(),
        );
        let changed = changes.iter().map(|[from, to]| {
            let once = changed_once(text, from, to);
            let mut told = told.clone();
            told["text"] = once.into();
            told
        });
        let found = play_mitres(&json!({ "cases": changed.collect::<Vec<Value>>() }));
        for (change, found) in changes.iter().zip(found["cases"].as_array().unwrap()) {
            let faults = found["faults"].as_array().unwrap();
            let by_text = |fault: &Value| fault.as_str().unwrap().starts_with("text: ");
            assert!(
                !faults.is_empty() && faults.iter().all(by_text),
                "{change:?}: {faults:?}"
            );
        }
    }
}

/// A text with some words changed where they stand first, wherever its lines break.
fn changed_once(text: &str, from: &str, to: &str) -> String {
    let length_here = |rest: &str| {
        let mut left = rest;
        for (at, word) in from.split(' ').enumerate() {
            let trimmed = left.trim_start();
            let apart = trimmed.len() < left.len();
            left = trimmed.strip_prefix(word).filter(|_| apart == (at > 0))?;
        }
        Some(rest.len() - left.len())
    };
    let starts = text.char_indices().map(|(at, _)| at);
    let mut places = starts.filter_map(|at| Some((at, length_here(&text[at..])?)));
    let (at, length) = places
        .next()
        .unwrap_or_else(|| panic!("no {from:?} in {text}"));
    format!("{}{to}{}", &text[..at], &text[at + length..])
}
