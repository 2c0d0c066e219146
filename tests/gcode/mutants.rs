//! Mutants of a good program: every one that changes what is cut, or how safely, must be found.
#![allow(clippy::print_stdout)]

use crate::bench::oracle::harm;
use crate::bench::{FOOT, HEAD, limits, notch_moves, notches};
use lapwright::verification::{ProgramReport, Tolerances, Workpiece, prove_program};

/// Two notches in two strips.
const CENTRES: [f64; 2] = [15.0, 57.0];
const Y_END: f64 = 6.0;

fn program() -> String {
    let moves: String = CENTRES.map(notch_moves).concat();
    format!("{HEAD}{moves}{FOOT}").replace("Y27.500", "Y9.500")
}

fn prove(text: &str) -> ProgramReport {
    prove_program(
        text.as_bytes(),
        &Workpiece::plain(2, 3.0, 12.0, 150.0),
        Some(&notches()[..2]),
        &limits(),
        &Tolerances::default(),
    )
}

/// A kind of mutant, what was done, and the program.
struct Mutant {
    kind: &'static str,
    what: String,
    text: String,
}

fn lines() -> Vec<String> {
    program().lines().map(str::to_owned).collect()
}

fn join(lines: &[String]) -> String {
    lines.iter().map(|line| format!("{line}\n")).collect()
}

/// Mutants made by putting other lines in the place of one.
fn replaced(kind: &'static str, change: impl Fn(&str) -> Vec<String>) -> Vec<Mutant> {
    let lines = lines();
    let mut mutants = Vec::new();
    for (number, line) in lines.iter().enumerate() {
        for new in change(line) {
            let mut text = lines.clone();
            text[number].clone_from(&new);
            mutants.push(Mutant {
                kind,
                what: format!("{}: {line} -> {new}", number + 1),
                text: join(&text),
            });
        }
    }
    mutants
}

/// Every digit of the words of some letters, changed into some others.
fn changed_digits(line: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut letter = ' ';
    for (place, byte) in line.bytes().enumerate() {
        if byte.is_ascii_alphabetic() {
            letter = char::from(byte);
        }
        if line.starts_with('(') || !"GMXYZFSP".contains(letter) || !byte.is_ascii_digit() {
            continue;
        }
        for step in 1..10 {
            let digit = b'0' + (byte - b'0' + step) % 10;
            let mut new = line.as_bytes().to_vec();
            new[place] = digit;
            found.push(String::from_utf8(new).unwrap());
        }
    }
    found
}

/// Every occurrence of `old` replaced once.
fn once(line: &str, old: &str, new: &str) -> Vec<String> {
    let comment = line.starts_with('(');
    line.match_indices(old)
        .filter(|_| !comment)
        .map(|(place, _)| format!("{}{new}{}", &line[..place], &line[place + old.len()..]))
        .collect()
}

fn mutants() -> Vec<Mutant> {
    let original = lines();
    let mut all = Vec::new();
    for number in 0..original.len() {
        let mut text = original.clone();
        let line = text.remove(number);
        let what = format!("{}: {line}", number + 1);
        let text = join(&text);
        all.push(Mutant {
            kind: "deleted",
            what,
            text,
        });
        let mut text = original.clone();
        text.insert(number, line.clone());
        let what = format!("{}: {line}", number + 1);
        let text = join(&text);
        all.push(Mutant {
            kind: "doubled",
            what,
            text,
        });
        if number + 1 < original.len() {
            let mut text = original.clone();
            text.swap(number, number + 1);
            let what = format!("{}: {line} <> {}", number + 1, original[number + 1]);
            let text = join(&text);
            all.push(Mutant {
                kind: "swapped",
                what,
                text,
            });
        }
    }
    all.extend(replaced("digit", changed_digits));
    all.extend(replaced("G0 for G1", |line| once(line, "G1 ", "G0 ")));
    all.extend(replaced("G1 for G0", |line| once(line, "G0 ", "G1 ")));
    all.extend(replaced("lost point", |line| once(line, ".", "")));
    all.extend(replaced("lost minus", |line| once(line, "-", "")));
    all.extend(replaced("G20 for G21", |line| once(line, "G21", "G20")));
    all.extend(replaced("M4 for M3", |line| once(line, "M3", "M4")));
    all.extend(replaced("G91 for G90", |line| once(line, "G90", "G91")));
    all.extend(replaced("G93 for G94", |line| once(line, "G94", "G93")));
    all.extend(replaced("X for Y", |line| once(line, "X", "Y")));
    all.extend(replaced("Y for X", |line| once(line, "Y", "X")));
    all
}

/// How many mutants of each kind there are, how many are harmful, and which slip through.
#[test]
fn every_harmful_mutant_is_found() {
    assert_eq!(harm(&program(), &CENTRES, Y_END), None);
    assert!(prove(&program()).ok());
    let (mut harmful, mut blamed, mut slipped) = (0, Vec::new(), Vec::new());
    let mutants = mutants();
    for mutant in &mutants {
        let ok = prove(&mutant.text).ok();
        match (harm(&mutant.text, &CENTRES, Y_END), ok) {
            (Some(why), true) => slipped.push(format!("{} {}: {why}", mutant.kind, mutant.what)),
            (Some(_), false) => {}
            (None, false) => blamed.push(format!("{} {}", mutant.kind, mutant.what)),
            (None, true) => continue,
        }
        harmful += 1;
    }
    harmful -= blamed.len();
    println!(
        "{} mutants, {harmful} harmful, {} slip through",
        mutants.len(),
        slipped.len()
    );
    println!(
        "{} blamed without harm:\n{}",
        blamed.len(),
        blamed.join("\n")
    );
    assert!(slipped.is_empty(), "{}", slipped.join("\n"));
    assert!(harmful > 500, "the mutants hardly harm");
}

#[test]
fn a_doubled_line_is_not_called_wrong() {
    for mutant in mutants().iter().filter(|mutant| mutant.kind == "doubled") {
        let report = prove(&mutant.text);
        assert!(report.ok(), "{}: {:?}", mutant.what, report.faults);
    }
}
