//! Written programs with something changed.

use super::{EXACT, SQUARE, job, prove, proven};
use crate::support::routers::router;
use lapwright::verification::MortisingTask;

/// Every figure of one axis, changed.
fn shifted(text: &str, axis: char, by: f64) -> String {
    let word = |word: &str| match word.strip_prefix(axis) {
        Some(figure) => format!("{axis}{:.3}", figure.parse::<f64>().unwrap() + by),
        None => word.to_owned(),
    };
    let line = |line: &str| {
        if line.starts_with('(') {
            return line.to_owned();
        }
        let words: Vec<String> = line.split(' ').map(word).collect();
        words.join(" ")
    };
    text.lines().map(|text| line(text) + "\n").collect()
}

/// A text without so many lines from the last one on that starts so.
fn without(text: &str, first: &str, count: usize) -> String {
    let lines: Vec<&str> = text.lines().collect();
    let at = lines
        .iter()
        .rposition(|line| line.starts_with(first))
        .unwrap();
    let kept = lines.iter().enumerate();
    kept.filter(|(line, _)| !(at..at + count).contains(line))
        .map(|(_, line)| format!("{line}\n"))
        .collect()
}

#[test]
fn mutants_of_what_is_written_are_found() {
    let machine = router(&[EXACT]);
    let (lattice, frame) = job(SQUARE);
    let (rail, _, text) = proven(&lattice, &frame, &machine).swap_remove(0);
    let task = MortisingTask::of(&lattice, &frame, &rail, &machine);
    let found = |text: &str, code: &str| {
        let report = prove(text, &task);
        assert!(
            report.faults.iter().any(|fault| fault.code == code),
            "{code}: {:?}\n{text}",
            report.faults
        );
    };
    for by in [0.02, -0.02] {
        for axis in ['X', 'Y'] {
            found(&shifted(&text, axis, by), "mortise-surplus");
            found(&shifted(&text, axis, by), "mortise-walls");
        }
        found(&shifted(&text, 'Z', by), "mortise-depth");
    }
    // A tenth of what the tolerance allows and of what three decimals can say.
    assert!(prove(&shifted(&text, 'X', 0.001), &task).ok());
    // Mortise at 31.5, 3.1 wide: walls of the tool's centre at X 30.95 and 32.05, Y 4.95 and 15.05.
    assert!(text.contains("G1 X32.050 Y4.950\nG1 Y15.050\nG1 X30.950\nG1 Y4.950\nG1 X32.050\n"));
    // Of the lowest way round wood stands on the floor.
    found(&without(&text, "G1 X32.050 Y4.950", 5), "mortise-depth");
    let round = "G1 X32.050 Y4.950\nG1 Y15.050\nG1 X30.950\nG1 Y4.950\nG1 X32.050\n";
    found(&text.replace(round, ""), "mortise-walls");
    // The ramp's two ways; the way down before it gets its depth.
    let ramp = "G1 Z0.000 F300\nG1 Y14.850 Z-0.750 F800\nG1 Y5.150 Z-1.500\n";
    assert!(text.contains(ramp));
    found(&text.replace(ramp, "G1 Z-1.500 F300\n"), "plunge");
    found(
        &text.replace("Y14.850 Z-0.750", "Y14.850 Z-1.500"),
        "ramp-too-steep",
    );
    // Of another rail.
    let (_, _, other) = proven(&lattice, &frame, &machine).swap_remove(1);
    found(&other, "mortise-surplus");
}
