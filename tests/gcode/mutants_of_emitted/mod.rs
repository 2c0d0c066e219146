//! Mutants of the programs that are written for the demo jobs, and of one for a control with other
//! habits: every one that does harm, as an oracle of another kind has it, must be found.
#![allow(clippy::print_stdout)]

mod control;
mod oracle;

use crate::support::cores::on_all_cores;
use crate::support::{routers, slanted};
use lapwright::lattice::{Face, Lattice};
use lapwright::machines::{Machine, Router};
use lapwright::planning::plan_router;
use lapwright::reading::{read_job, read_machine, shipped_machine};
use lapwright::verification::{NotchingTask, ProgramReport, Tolerances, prove_program};
use lapwright::writing::gcode;
use oracle::Oracle;
use std::collections::BTreeMap;
use std::path::Path;

/// A demo job made small by changing lines of its text, and its router.
fn demo(name: &str, changes: &[(&str, &str)], router: &str) -> (Lattice, Router) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("demo/{name}.toml"));
    let mut text = std::fs::read_to_string(path).unwrap();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    let lattice = read_job(name, &text).unwrap().panel.lattice().clone();
    let profile = read_machine("router", router).unwrap();
    let Machine::Router(router) = profile.machine else {
        panic!("no router")
    };
    (lattice, router)
}

fn shipped(name: &str) -> &'static str {
    shipped_machine(name).unwrap().text
}

fn lamp(router: &str) -> (Lattice, Router) {
    let changes = [
        (r#"["31 mm", "54 mm", "54 mm", "31 mm"]"#, r#"["31 mm"]"#),
        (
            r#"["31 mm", "43 mm", "43 mm", "43 mm", "43 mm", "31 mm"]"#,
            r#"["31 mm", "43 mm"]"#,
        ),
    ];
    demo("reading-lamp", &changes, router)
}

fn prove(text: &str, task: &NotchingTask) -> ProgramReport {
    prove_program(
        text.as_bytes(),
        &task.workpiece,
        Some(&task.expected),
        &task.limits,
        &Tolerances::default(),
    )
}

/// A kind of mutant, what was done, and the program.
struct Mutant {
    kind: &'static str,
    what: String,
    text: String,
}

/// Texts that stand in for others, once in a line.
const SWAPPED_WORDS: [(&str, &str, &str); 13] = [
    ("G1 for G0", "G0 ", "G1 "),
    ("G0 for G1", "G1 ", "G0 "),
    ("lost point", ".", ""),
    ("lost minus", "-", ""),
    ("G20 for G21", "G21", "G20"),
    ("M4 for M3", "M3", "M4"),
    ("M3 for M5", "M5", "M3"),
    ("G91 for G90", "G90", "G91"),
    ("end lost", "M30", ""),
    ("end lost", "M2", ""),
    ("X for Y", "X", "Y"),
    ("Y for X", "Y", "X"),
    ("Z for Y", "Y", "Z"),
];

/// All mutants of one line, as the lines that stand in its place.
fn of_line(line: &str) -> Vec<(&'static str, Vec<String>)> {
    let mut found = vec![
        ("deleted", Vec::new()),
        ("doubled", vec![line.to_owned(); 2]),
    ];
    if line.starts_with('(') {
        return found;
    }
    for (kind, old, new) in SWAPPED_WORDS {
        for (place, _) in line.match_indices(old) {
            let new = format!("{}{new}{}", &line[..place], &line[place + old.len()..]);
            found.push((kind, vec![new]));
        }
    }
    let mut letter = ' ';
    for (place, byte) in line.bytes().enumerate() {
        if byte.is_ascii_alphabetic() {
            letter = char::from(byte);
        }
        if !byte.is_ascii_digit() || !"XYZFSP".contains(letter) {
            continue;
        }
        for step in [1, 2, 5, 9] {
            let mut new = line.as_bytes().to_vec();
            new[place] = b'0' + (byte - b'0' + step) % 10;
            found.push(("digit", vec![String::from_utf8(new).unwrap()]));
        }
        let lost = format!("{}{}", &line[..place], &line[place + 1..]);
        found.push(("lost digit", vec![lost]));
    }
    found
}

fn mutants(text: &str) -> Vec<Mutant> {
    let lines: Vec<&str> = text.lines().collect();
    let join = |lines: &[&str]| lines.join("\n") + "\n";
    let mut all = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        for (kind, new) in of_line(line) {
            let what = format!("{}: {line} -> {}", at + 1, new.join(" | "));
            let mut text = lines.clone();
            text.splice(at..=at, new.iter().map(String::as_str));
            let text = join(&text);
            all.push(Mutant { kind, what, text });
        }
        // Never the neighbour alone: a line may slip by a few places.
        for by in [1, 2, 5] {
            if let Some(other) = lines.get(at + by) {
                let mut text = lines.clone();
                text.swap(at, at + by);
                let what = format!("{}: {line} <> {other}", at + 1);
                let (kind, text) = ("swapped", join(&text));
                all.push(Mutant { kind, what, text });
            }
        }
    }
    all
}

/// Mutants, harmful ones, those found, and those blamed that do no harm.
type Counts = BTreeMap<&'static str, [usize; 4]>;

/// Passes all mutants of one program; gives back what slipped through.
fn pass(text: &str, oracle: &Oracle, task: &NotchingTask, counts: &mut Counts) -> Vec<String> {
    assert_eq!(oracle.harm(text), None);
    let report = prove(text, task);
    assert!(report.ok(), "{:?}", report.faults);
    let mut slipped = Vec::new();
    let mutants = mutants(text);
    let told = on_all_cores(&mutants, |mutant| {
        (prove(&mutant.text, task).ok(), oracle.harm(&mutant.text))
    });
    for (mutant, (ok, harm)) in mutants.iter().zip(told) {
        let count = counts.entry(mutant.kind).or_default();
        count[0] += 1;
        match harm {
            Some(why) => {
                count[1] += 1;
                count[2] += usize::from(!ok);
                if ok {
                    slipped.push(format!("{} {}: {why}", mutant.kind, mutant.what));
                }
            }
            None if !ok => {
                count[3] += 1;
                assert_ne!(mutant.kind, "doubled", "{} is blamed", mutant.what);
            }
            None => {}
        }
    }
    slipped
}

fn pass_all(name: &str, (lattice, router): (Lattice, Router)) {
    let plan = plan_router(&lattice, "router", &router, &|at, _| format!("{at}.nc"));
    let (plan, _) = plan.unwrap();
    let mut counts = Counts::new();
    let mut slipped = Vec::new();
    for setup in &plan.setups {
        let text = gcode::program(&setup.path, &router.controller).unwrap();
        let bundle = &lattice.bundles[setup.bundle - 1];
        let held = routers::held(setup);
        let oracle = Oracle::new(&lattice, bundle, &router, &held);
        let task = NotchingTask::of(&lattice, bundle, &router, &held);
        slipped.extend(pass(&text, &oracle, &task, &mut counts));
    }
    println!("{name}: mutants, harmful, of these found, blamed without harm");
    let mut all = [0; 4];
    for (kind, count) in &counts {
        println!("  {kind}: {count:?}");
        (0..4).for_each(|at| all[at] += count[at]);
    }
    println!("  all: {all:?}");
    assert!(all[1] > 800, "the mutants hardly harm");
    let few: Vec<_> = slipped.iter().take(60).cloned().collect();
    assert!(
        slipped.is_empty(),
        "{} slip through:\n{}",
        slipped.len(),
        few.join("\n")
    );
}

#[test]
fn harmful_mutants_of_the_lamp_are_found() {
    pass_all("lamp", lamp(shipped("small-router")));
}

#[test]
fn harmful_mutants_of_the_door_are_found() {
    let changes = [("columns = 4", "columns = 1"), ("rows = 8", "rows = 1")];
    let door = demo("pantry-door", &changes, shipped("mid-router"));
    pass_all("door", door);
}

#[test]
fn harmful_mutants_of_the_cabinet_are_found() {
    let changes = [("columns = 5", "columns = 2"), ("rows = 7", "rows = 1")];
    let cabinet = demo("tea-cabinet", &changes, shipped("mid-router"));
    pass_all("cabinet", cabinet);
}

/// Waits in milliseconds, four decimals, percent signs, blended corners, a cutter that is just as
/// wide as the notch.
#[test]
fn harmful_mutants_for_another_control_are_found() {
    let changes = [
        ("decimals = 3", "decimals = 4"),
        ("dwell = \"seconds\"        ", "dwell = \"milliseconds\""),
        ("program_end = \"M30\"      ", "program_end = \"M2\""),
        (
            "longest_line = 72",
            "longest_line = 60\npercent_signs = true\npath_mode = \"continuous\"",
        ),
        ("diameter = \"2.000 mm\"", "diameter = \"3.050 mm\""),
        ("clear_beside = \"8 mm\"", "clear_beside = \"9 mm\""),
        ("depth_per_pass = \"1.5 mm\"", "depth_per_pass = \"3 mm\""),
    ];
    let mut router = shipped("small-router").to_owned();
    for (old, new) in changes {
        assert!(router.contains(old), "{old}");
        router = router.replace(old, new);
    }
    pass_all("another control", lamp(&router));
}

/// A bundle stepped one way and then the other: two slots through one place from the back, the
/// second one with the first one there already.
#[test]
fn harmful_mutants_of_stepped_bundles_are_found() {
    let strips = slanted::Strips {
        count: 2,
        thickness: 3.0,
        depth: 12.0,
        length: 70.0,
    };
    let notches = [
        (22.0, 60.0, Face::Back),
        (22.0, 120.0, Face::Back),
        (48.0, 60.0, Face::Back),
    ];
    let lattice = slanted::lattice(strips, &notches);
    pass_all("stepped", (lattice, routers::roomy("", "")));
}
