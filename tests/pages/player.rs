//! The player of a program in chromium: what it says is in the program, the wood that it leaves is the plan's.

use super::{built, demo};
use crate::support;
use serde_json::Value;

/// The figure behind a letter: `X 12.000`.
fn said(says: &str, letter: &str) -> f64 {
    let at = says.rfind(&format!("{letter} ")).unwrap() + 2;
    says[at..].split(' ').next().unwrap().parse().unwrap()
}

/// The number behind a word: `line 34`.
fn number(says: &str, word: &str) -> usize {
    let after = says
        .split(word)
        .nth(1)
        .unwrap_or_else(|| panic!("{says}: no {word}"));
    let digits: String = after.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().unwrap()
}

/// The words of a line of a program that say where to.
fn words(line: &str) -> Vec<(String, f64)> {
    let code = line.split('(').next().unwrap().split_whitespace();
    let axes = code.filter(|word| word.starts_with(['X', 'Y', 'Z']));
    axes.map(|word| (word[..1].to_owned(), word[1..].parse().unwrap()))
        .collect()
}

#[test]
fn the_player_says_the_programs_lines_and_leaves_the_plans_wood() {
    let bench = built(&demo("reading-lamp"), &[]);
    let found = support::play(&bench.path("out/set-up.html"));
    assert_eq!(found["faults"], serde_json::json!([]));
    let program = bench.read("out/notches-1.nc");
    let lines: Vec<&str> = program.lines().collect();
    let plan: Value = serde_json::from_str(&bench.read("out/router.json")).unwrap();
    let setup = &plan["setups"][0];
    let moves = found["moves"].as_array().unwrap();
    let mut deepest = std::collections::BTreeMap::<usize, f64>::new();
    let (mut line_before, mut gone_before) = (0, 0);
    for (at, one) in (1..).zip(moves) {
        let says = one["says"].as_str().unwrap();
        assert_eq!(number(says, "move "), at, "{says}");
        let line = number(says, "line ");
        assert!(line >= line_before, "{says}: after line {line_before}");
        line_before = line;
        for (axis, place) in words(lines[line - 1]) {
            assert!(
                (said(says, &axis) - place).abs() < 1e-6,
                "{says}: {}",
                lines[line - 1]
            );
        }
        // Feeds are the plan's: those of cuts, and down in air.
        if says.contains("cutting") {
            let feed = setup["feed_mm_per_min"].as_f64().unwrap();
            assert!(says.contains(&format!(" at {feed:.0} mm/min")), "{says}");
        }
        let gone = one["gone"].as_u64().unwrap();
        assert!(gone >= gone_before && one["shown"] == true, "{says}");
        gone_before = gone;
        let deep = deepest.entry(number(says, "notch ")).or_default();
        *deep = deep.max(one["deepest"].as_f64().unwrap());
    }
    assert!(gone_before > 10);
    for notch in setup["notches"].as_array().unwrap() {
        let number = usize::try_from(notch["index"].as_u64().unwrap()).unwrap();
        let wanted = notch["depth_mm"].as_f64().unwrap();
        let found = deepest[&number];
        assert!(
            (found - wanted).abs() < 1e-3,
            "notch {number}: {found}, {wanted}"
        );
    }
    clock_and_keys(&found, moves.len());
}

fn clock_and_keys(found: &Value, count: usize) {
    let at = |second: &str| found["seconds"][second]["at"].as_u64().unwrap();
    assert_eq!(at("0"), 1);
    assert!(
        at("0") < at("15") && at("15") < at("30") && at("30") < at("45"),
        "{found}"
    );
    assert!(
        at("59") < count as u64 && at("60.1") == count as u64,
        "{}",
        found["seconds"]
    );
    assert_eq!(found["seconds"]["45"]["button"], "Stop");
    assert_eq!(found["seconds"]["60.1"]["button"], "Play");
    let key = |key: &str| found["keys"][key]["says"].as_str().unwrap();
    assert_eq!(number(key("0 ArrowRight"), "move "), 2);
    let notch = |says: &str| number(says, "notch ");
    let first = notch(key("0 ArrowRight"));
    assert_eq!(notch(key("1 PageUp")), first + 1);
    assert_eq!(notch(key("2 PageUp")), first + 2);
    assert_eq!(notch(key("3 PageDown")), first + 1);
    assert_eq!(number(key("4 End"), "move "), count);
}
