//! Programs that someone might try to slip past the proof, by malice or by tiredness, each with the
//! code of the fault that must name it; and their harmless look-alikes.

mod rows;

use lapwright::lattice::Lattice;
use lapwright::machines::{Machine, Router};
use lapwright::planning::plan_router;
use lapwright::reading::{read_job, read_machine, shipped_machine};
use lapwright::verification::{HeldBundle, NotchingTask, ProgramReport, Tolerances, prove_program};
use lapwright::writing::gcode;
use rows::{frames, paths, process, spelling};

/// Two uprights with notches at 15, 45 and 85 mm, 6 mm deep; two cross strips with two notches.
const JOB: &str = r#"
title = "Corner of a lamp"
[grid]
kind = "square"
pitches_x = ["30 mm"]
pitches_y = ["30 mm", "40 mm"]
overhang = "15 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
clearance = "0.05 mm"
"#;

struct Bench {
    lattice: Lattice,
    router: Router,
    programs: Vec<String>,
}

impl Bench {
    fn new() -> Self {
        let lattice = read_job("job.toml", JOB).unwrap().panel.lattice().clone();
        let text = shipped_machine("small-router").unwrap().text;
        let Machine::Router(router) = read_machine("router.toml", text).unwrap().machine else {
            panic!("no router")
        };
        let plan = plan_router(&lattice, "router", &router, &|at, _| format!("{at}.nc"));
        let (plan, _) = plan.unwrap();
        let write = |path| gcode::program(path, &router.controller).unwrap();
        let programs = plan.setups.iter().map(|setup| write(&setup.path)).collect();
        Bench {
            lattice,
            router,
            programs,
        }
    }

    fn prove(&self, text: &[u8]) -> ProgramReport {
        let task = NotchingTask::of(
            &self.lattice,
            &self.lattice.bundles[0],
            &self.router,
            &HeldBundle::all(&self.lattice.bundles[0]),
        );
        prove_program(
            text,
            &task.workpiece,
            Some(&task.expected),
            &task.limits,
            &Tolerances::default(),
        )
    }

    fn good(&self) -> &str {
        &self.programs[0]
    }

    /// The good program with a text replaced once.
    fn swap(&self, old: &str, new: &str) -> String {
        assert!(self.good().contains(old), "{old}");
        self.good().replacen(old, new, 1)
    }

    /// With lines put in before the spindle stops: the cutter is up beside the last notch.
    fn late(&self, lines: &str) -> String {
        self.swap("\nM5\n", &format!("\n{lines}M5\n"))
    }

    /// With lines put in where the cutter is up between two notches.
    fn between(&self, lines: &str) -> String {
        self.swap("(Notch 2)\n", &format!("(Notch 2)\n{lines}"))
    }

    /// With lines put in where the cutter stands at the first notch, beside the bundle, 1.5 down.
    fn low(&self, lines: &str) -> String {
        self.swap("G1 Z-1.500 F300\n", &format!("G1 Z-1.500 F300\n{lines}"))
    }

    /// The moves of the notches, apart from what comes before and after them.
    fn parts(&self) -> (String, Vec<String>, String) {
        let mut parts: Vec<String> = self
            .good()
            .split("(Notch ")
            .map(|part| format!("(Notch {part}"))
            .collect();
        let head = parts.remove(0).replacen("(Notch ", "", 1);
        let last = parts.last_mut().unwrap();
        let foot = last.find("M5\n").unwrap();
        let foot = last.split_off(foot);
        (head, parts, foot)
    }
}

/// The same program in inches, with so many decimals.
fn in_inches(text: &str, decimals: usize) -> String {
    let word = |word: &str| match (word.chars().next(), word.get(1..)) {
        (Some(letter @ ('X' | 'Y' | 'Z' | 'F')), Some(number)) => {
            let inches = number.parse::<f64>().unwrap() / 25.4;
            // A feed may be a limit.
            let inches = if letter == 'F' {
                inches - 0.001
            } else {
                inches
            };
            format!("{letter}{inches:.decimals$}")
        }
        _ => word.replace("G21", "G20"),
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

type Row = (&'static str, &'static str, Vec<u8>);

fn row(code: &'static str, what: &'static str, text: impl Into<Vec<u8>>) -> Row {
    (code, what, text.into())
}

/// The first notch's left wall cut from both sides, each pass ending inside the bundle.
fn from_both_sides(bench: &Bench, front: f64, back: f64) -> String {
    let (head, mut notches, foot) = bench.parts();
    let mut parts: Vec<String> = notches[0]
        .split("G1 X14.475\nG1 Y-2.500\n")
        .map(str::to_owned)
        .collect();
    for (part, depth) in parts.iter_mut().zip(["1.500", "3.000", "4.500", "6.000"]) {
        let half = |y: &str, end: f64| {
            format!("G0 Z8.000\nG0 X14.475 Y{y}\nG1 Z-{depth} F300\nG1 Y{end:.3} F800\n")
        };
        let out = format!("G0 Z8.000\nG0 Y-2.500\nG1 Z-{depth} F300\n");
        *part += &(half("8.500", back) + &half("-2.500", front) + &out);
    }
    notches[0] = parts.concat();
    format!("{head}{}{foot}", notches.concat()).replacen("G54\n", "G54\nG61\n", 1)
}

fn ends_inside(bench: &Bench) -> Vec<Row> {
    let halves = |front, back| from_both_sides(bench, front, back);
    vec![
        row("notch-width", "halves that do not meet", halves(2.0, 4.0)),
        row("notch-width", "halves that hardly meet", halves(1.05, 1.95)),
        row("notch-width", "in the other strip", halves(4.02, 4.98)),
        row("notch-width", "nearer still", halves(1.3, 1.7)),
    ]
}

#[test]
fn harmful_programs_are_named() {
    let bench = Bench::new();
    assert!(bench.prove(bench.good().as_bytes()).ok());
    let groups = [frames, spelling, process, paths, ends_inside];
    let mut wrong = Vec::new();
    for (code, what, text) in groups.iter().flat_map(|group| group(&bench)) {
        let report = bench.prove(&text);
        let codes: Vec<_> = report.faults.iter().map(|fault| fault.code).collect();
        if report.ok() || !codes.contains(&code) {
            wrong.push(format!("{code}, {what}: {codes:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What looks odd and does just what was meant.
#[test]
fn harmless_look_alikes_pass() {
    let bench = Bench::new();
    let good = bench.good();
    let (head, notches, foot) = bench.parts();
    let other_way: String = notches.iter().rev().map(String::as_str).collect();
    let standing = "G1 X14.675\n".repeat(3000);
    let relative = "G91\nG1 X0.650\nG90\n";
    let rows = [
        row("", "in inches", in_inches(good, 5)),
        row("", "in small letters", good.to_lowercase()),
        row("", "without blanks", good.replace(' ', "")),
        row("", "with tabs", good.replace(' ', "\t")),
        row("", "CR LF", good.replace('\n', "\r\n")),
        row("", "blank lines", good.replace('\n', "\n\n")),
        row("", "between percent signs", format!("%\n{good}%\n")),
        row("", "other order", format!("{head}{other_way}{foot}")),
        row(
            "",
            "every notch twice",
            format!("{head}{}{}{foot}", notches.concat(), notches.concat()),
        ),
        row("", "moves to where it stands", bench.low(&standing)),
        row(
            "",
            "no zeros",
            good.replace(".000", ".").replace("500\n", "5\n"),
        ),
        row("", "a step in G91", bench.swap("G1 X15.325\n", relative)),
        row(
            "",
            "words that say nothing new",
            bench.swap("G54\n", "G54 G40 G49 G80\nG91.1 G98\n"),
        ),
        row("", "G61", bench.swap("G54\n", "G54\nG61\n")),
        row("", "M2", bench.swap("M30\n", "M2\n")),
        row("", "the end twice", bench.swap("M30\n", "M30\nM30\n")),
        row("", "a longer wait", bench.swap("G4 P4.0", "G4 P9.0")),
        row("", "two waits", bench.swap("G4 P4.0", "G4 P2.0\nG4 P2.0")),
        row(
            "",
            "a higher retract",
            good.replace("G0 Z8.000", "G0 Z12.000"),
        ),
        row(
            "",
            "a rest between notches",
            bench.between("M5\nM0\nM3\nG4 P4.0\n"),
        ),
        row(
            "",
            "along a finished notch",
            bench.late("G0 X15.525 Y-2.500\nG1 Z-6.000 F300\nG1 Y8.500 F800\nG0 Z8.000\n"),
        ),
        row("", "dust taken away", bench.between("M8\nM9\n")),
        row("", "a message", bench.between("(MSG, half done)\n")),
        row(
            "",
            "an arc in the air",
            bench.late("G0 X80.000 Y-2.500\nG2 X90.000 Y-2.500 I5.000 J0 F800\n"),
        ),
        row("", "halves that meet", from_both_sides(&bench, 2.3, 2.3)),
        row("", "halves that overlap", from_both_sides(&bench, 4.1, 3.9)),
        row("", "more turns", bench.swap("S16000", "S20000")),
    ];
    let mut wrong = Vec::new();
    for (_, what, text) in rows {
        let report = bench.prove(&text);
        if !report.ok() {
            let faults: Vec<_> = report.faults.iter().take(3).collect();
            wrong.push(format!("{what}: {faults:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
