//! All set-ups of a job in one program with stops: what every part does, that each can be started
//! alone, that no fault at a stop goes unseen, and what the reference interpreter makes of it.

use float_cmp::approx_eq;
use std::io::{self, BufReader, Cursor, Read, Seek, SeekFrom};
use std::iter::repeat_n;

use crate::support::cli::{Bench, shipped};
use crate::support::routers::{plan, router, task};
use crate::support::{Canonical, rs274};
use lapwright::instructions::router::{Registered, RouterPlan, RouterSetup};
use lapwright::lattice::Lattice;
use lapwright::machines::Router;
use lapwright::reading::read_job;
use lapwright::verification::faults::PART_CODES;
use lapwright::verification::{PartTask, ProgramReport, Tolerances, prove_parts, prove_program};
use lapwright::writing::gcode::{program, write_program};

/// Strips longer than the machine, several runs, both faces.
const JOB: &str = r#"
title = "Long shelf back"
[grid]
kind = "square"
pitches_x = ["70 mm", "60 mm", "65 mm", "70 mm", "75 mm"]
pitches_y = ["55 mm", "50 mm"]
overhang = "20 mm"
[strip]
thickness = "3 mm"
depth = "12 mm"
"#;

const KEY: (&str, &str) = (
    "[fixture]",
    "[fixture]\nkey_x = \"40 mm\"\nkey_error = \"0.02 mm\"",
);

const NARROW: (&str, &str) = ("widest_bundle = \"60 mm\"", "widest_bundle = \"7 mm\"");

fn machine(dialect: &str, more: &str) -> Router {
    let controller = format!("[controller]\ndialect = \"{dialect}\"\n{more}");
    router(&[KEY, NARROW, ("[controller]", &controller)])
}

const ONE: &str = "set_ups = \"one-file\"";

struct Job {
    lattice: Lattice,
    router: Router,
    plan: RouterPlan,
}

impl Job {
    fn new(router: Router) -> Job {
        let lattice = read_job("job.toml", JOB).unwrap().panel.lattice().clone();
        let plan = plan(&lattice, &router);
        Job {
            lattice,
            router,
            plan,
        }
    }

    fn one(dialect: &str) -> Job {
        Job::new(machine(dialect, ONE))
    }

    fn text(&self) -> String {
        let count = self.plan.setups.len();
        let setups = (1..).zip(&self.plan.setups);
        let parts = setups.flat_map(|(number, setup)| setup.parts(number, count));
        let mut text = Vec::new();
        write_program(parts, &self.router.controller, &mut text).unwrap();
        String::from_utf8(text).unwrap()
    }

    fn tasks(&self) -> Vec<PartTask> {
        let setups = self.plan.setups.iter();
        let tasks = setups.flat_map(|setup| {
            let task = task(&self.lattice, &self.router, setup);
            repeat_n(PartTask::Notches(task), setup.part_count())
        });
        tasks.collect()
    }

    fn prove(&self, text: &str) -> Vec<ProgramReport> {
        prove_parts(Cursor::new(text), &self.tasks())
    }

    /// Codes of the faults found, with the part that they were found in.
    fn codes(&self, text: &str) -> Vec<(usize, &'static str)> {
        let reports = (1..).zip(self.prove(text));
        let codes = reports.flat_map(|(part, report)| {
            let codes: Vec<_> = report
                .faults
                .iter()
                .map(|fault| (part, fault.code))
                .collect();
            codes
        });
        codes.collect()
    }
}

fn is_stop(line: &str) -> bool {
    line == "M0" || line.ends_with(" M0")
}

#[test]
fn every_run_of_every_set_up_is_a_part_and_proves() {
    for dialect in ["full", "bare", "numbered"] {
        let job = Job::one(dialect);
        let setups = &job.plan.setups;
        assert!(setups.iter().all(|setup| setup.file == "0.nc"));
        assert!(setups.iter().any(|setup| setup.parts > 1), "no long strips");
        assert!(setups.iter().any(|setup| setup.runs > 1), "no second run");
        let text = job.text();
        let runs: usize = setups.iter().map(|setup| setup.runs).sum();
        assert_eq!(text.lines().filter(|line| is_stop(line)).count() + 1, runs);
        // The stop before a set-up's first run is the one that its sheet names.
        let messages: Vec<&str> = text
            .lines()
            .filter(|line| line.starts_with("(MSG,"))
            .collect();
        for (number, setup) in (1..).zip(setups) {
            let stop = setup.after_stop.unwrap();
            let Some(before) = stop.checked_sub(1) else {
                assert_eq!(number, 1);
                continue;
            };
            let mut wanted = format!("(MSG,Set-up {number} of {}, ", setups.len());
            if setup.runs > 1 {
                wanted.push_str(&format!("run 1 of {}, ", setup.runs));
            }
            assert!(
                messages[before].starts_with(&wanted),
                "{}",
                messages[before]
            );
        }
        // What changes is said at the stop: the key, and the end stop that comes back after it.
        let keyed = |text: &&&str| text.contains(" on key");
        assert!(messages.iter().any(|text| keyed(&text)), "{messages:?}");
        for (before, after) in setups.iter().zip(setups.iter().skip(1)) {
            let key = |setup: &RouterSetup| matches!(setup.registered, Registered::Key { .. });
            assert_eq!(after.stop_back, key(before) && !key(after));
            let stop = after.after_stop.unwrap() - 1;
            assert_eq!(messages[stop].contains("end stop back"), after.stop_back);
        }
        let reports = job.prove(&text);
        assert_eq!(reports.len(), runs);
        for report in &reports {
            assert!(report.ok(), "{dialect}: {:?}", report.faults);
        }
        // One after the other, and none left out.
        assert_eq!(reports[0].lines[0], 1);
        for pair in reports.windows(2) {
            assert_eq!(pair[0].lines[1] + 1, pair[1].lines[0]);
        }
        assert_eq!(reports[runs - 1].lines[1], text.lines().count());
    }
}

#[test]
fn every_part_can_be_started_alone() {
    let job = Job::one("full");
    let text = job.text();
    let lines: Vec<&str> = text.lines().collect();
    let parts: Vec<&[&str]> = lines.split(|line| is_stop(line)).collect();
    let tasks = job.tasks();
    assert_eq!(parts.len(), tasks.len());
    for (at, (part, task)) in parts.iter().zip(&tasks).enumerate() {
        let PartTask::Notches(task) = task else {
            panic!()
        };
        let mut alone = part.join("\n") + "\n";
        if at + 1 < parts.len() {
            alone.push_str("M2\n");
        }
        let report = prove_program(
            alone.as_bytes(),
            &task.workpiece,
            Some(&task.expected),
            &task.limits,
            &Tolerances::default(),
        );
        assert!(report.ok(), "part {}: {:?}", at + 1, report.faults);
    }
}

/// The text with line `at` (from 0, counted from the `part`th stop) taken out.
fn without(text: &str, line: &str, stop: usize, forward: bool) -> String {
    let lines: Vec<&str> = text.lines().collect();
    let stops: Vec<usize> = (0..lines.len()).filter(|at| is_stop(lines[*at])).collect();
    let found = if forward {
        (stops[stop]..).find(|at| lines[*at] == line)
    } else {
        (0..=stops[stop]).rev().find(|at| lines[*at] == line)
    };
    let taken = found.unwrap();
    let kept = lines.iter().enumerate().filter(|(at, _)| *at != taken);
    kept.map(|(_, line)| format!("{line}\n")).collect()
}

#[test]
fn faults_at_a_stop_are_found_and_near_twins_are_not_blamed() {
    let job = Job::one("full");
    let text = job.text();
    assert_eq!(job.codes(&text), []);
    // What the part before a stop leaves behind.
    let turning = without(&text, "M5", 1, false);
    assert_eq!(job.codes(&turning), [(2, "stop-while-turning")]);
    let rise = "G0 Z8.000";
    let low = without(&without(&text, rise, 1, false), rise, 1, false);
    let found = job.codes(&low);
    assert!(found.contains(&(2, "not-retracted")), "{found:?}");
    // The tool rises at the end of its last notch already: one of both is enough.
    assert_eq!(job.codes(&without(&text, rise, 1, false)), []);
    // What the part behind it must say for itself, as it may be started there.
    for (line, code) in [
        ("G21", "units-unstated"),
        ("G17 G90 G94", "distance-unstated"),
        ("G54", "work-zero-unstated"),
        ("G4 P4.0", "no-spin-up"),
    ] {
        let found = job.codes(&without(&text, line, 1, true));
        assert!(found.contains(&(3, code)), "{line}: {found:?}");
        assert!(
            found.iter().all(|(part, _)| *part == 3),
            "{line}: {found:?}"
        );
    }
    // A stop that is missing, or one by a switch: two parts run into each other.
    for stop in ["", "M1"] {
        let at = text.find("\nM0\n").unwrap();
        let found = job.codes(&format!("{}\n{stop}\n{}", &text[..at], &text[at + 4..]));
        assert!(
            found.iter().any(|(_, code)| *code == "set-up-missing"),
            "{found:?}"
        );
        assert!(
            found.iter().any(|(_, code)| code.starts_with("notch-")),
            "{found:?}"
        );
    }
    // A stop more, at the same height and with the spindle off, within a part: wanted by nobody.
    let more = text.replacen("\nM0\n", "\nM0\nM0\n", 1);
    assert!(!job.codes(&more).is_empty());
    // So is one behind the last stop: a part that nobody wants begins there.
    let at = text.rfind("\nG21\n").unwrap();
    let paused = format!("{}\nM0{}", &text[..at], &text[at..]);
    let parts = job.tasks().len();
    assert_eq!(job.codes(&paused), [(parts, "set-up-surplus")]);
    let end = text.rfind("\nM30\n").unwrap();
    assert_eq!(
        job.codes(&format!("{}\nM0{}", &text[..end], &text[end..])),
        [(parts, "set-up-surplus")]
    );
    // The optional stop is no part's end.
    let optional = format!("{}\nM1{}", &text[..end], &text[end..]);
    assert_eq!(job.codes(&optional), []);
    // An end too early.
    let early = text.replacen("\nM0\n", "\nM30\n", 1);
    let found = job.codes(&early);
    assert!(found.contains(&(1, "set-up-missing")), "{found:?}");
    assert!(found.contains(&(1, "text-after-end")), "{found:?}");
}

#[test]
fn set_ups_in_the_wrong_order_are_found() {
    let job = Job::one("bare");
    let text = job.text();
    let parts: Vec<&str> = text.split("\nM0\n").collect();
    for (a, b) in [(0, 1), (1, 2), (0, parts.len() - 1)] {
        let mut swapped = parts.clone();
        swapped.swap(a, b);
        if parts[a].contains("M30") || parts[b].contains("M30") {
            continue;
        }
        let same = job.plan.setups[0].runs > a.max(b);
        let codes = job.codes(&swapped.join("\nM0\n"));
        assert_eq!(codes.is_empty(), same, "{a} {b}: {codes:?}");
    }
}

/// A file of which a part cannot be read.
struct Broken {
    text: Cursor<Vec<u8>>,
    good: u64,
}

impl Read for Broken {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.text.position() >= self.good {
            return Err(io::Error::other("bad sector"));
        }
        let room = usize::try_from(self.good - self.text.position()).unwrap();
        let room = room.min(buffer.len());
        self.text.read(&mut buffer[..room])
    }
}

impl Seek for Broken {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.text.seek(to)
    }
}

#[test]
fn a_file_that_cannot_be_read_is_not_right() {
    let job = Job::one("full");
    let text = job.text();
    let length = text.len() as u64;
    for good in [0, 100, length / 2, length - 1] {
        let source = Broken {
            text: Cursor::new(text.clone().into_bytes()),
            good,
        };
        let reports = prove_parts(BufReader::new(source), &job.tasks());
        let last = reports.last().unwrap();
        assert!(last.faults.iter().any(|fault| fault.code == "unreadable"));
        assert!(!last.ok());
    }
    let whole = Broken {
        text: Cursor::new(text.into_bytes()),
        good: length + 1,
    };
    let reports = prove_parts(BufReader::new(whole), &job.tasks());
    assert!(reports.iter().all(ProgramReport::ok));
    let tested = ["unreadable", "set-up-missing", "set-up-surplus"];
    assert!(PART_CODES.iter().all(|(code, _)| tested.contains(code)));
}

/// The reference interpreter goes the same ways as in programs of their own, and stops for a hand
/// with the spindle off between them.
#[test]
fn the_reference_interpreter_agrees_with_separate_programs() {
    let folder = tempfile::tempdir().unwrap();
    let calls = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).unwrap();
        let mut calls = rs274(&path);
        calls.retain(|call| !matches!(call, Canonical::Comment(_)));
        calls
    };
    let job = Job::one("full");
    let all = calls("all.ngc", &job.text());
    let is_stop = |call: &Canonical| *call == Canonical::Other("PROGRAM_STOP()".into());
    let parts: Vec<&[Canonical]> = all.split(is_stop).collect();
    let apart = Job::new(machine("full", ""));
    let mut at = 0;
    for (one, setup) in apart.plan.setups.iter().zip(&job.plan.setups) {
        let text = program(&one.path, &apart.router.controller).unwrap();
        let own = calls("own.ngc", &text);
        let moves = |calls: &[Canonical]| -> Vec<Canonical> {
            let wanted = |call: &&Canonical| {
                matches!(
                    call,
                    Canonical::Traverse { .. } | Canonical::Feed { .. } | Canonical::Dwell(_)
                )
            };
            calls.iter().filter(wanted).cloned().collect()
        };
        for _ in 0..setup.runs {
            let part = parts[at];
            // The first rise is from wherever the last part ended.
            assert_eq!(moves(part)[1..], moves(&own)[1..]);
            let off = part.iter().rposition(|call| *call == Canonical::SpindleOff);
            let moved = part
                .iter()
                .rposition(|call| matches!(call, Canonical::Traverse { .. }));
            assert!(off > moved, "part {at}");
            at += 1;
        }
    }
    assert_eq!(at, parts.len());
}

#[test]
fn the_program_is_written_proved_and_told_of() {
    let bench = Bench::new();
    bench.write("job.toml", JOB);
    let text = [
        KEY,
        NARROW,
        ("[controller]", "[controller]\nset_ups = \"one-file\""),
    ]
    .iter()
    .fold(shipped("small-router"), |text, (old, new)| {
        text.replacen(old, new, 1)
    });
    bench.write("router.toml", &text);
    let with = |more: &[&'static str]| [more, &["--machine", "router.toml"]].concat();
    let told = bench.ok(&with(&["notch", "job.toml", "-o", "all.nc"])).out;
    assert!(
        told.contains("it has all set-ups and stops between them"),
        "{told}"
    );
    assert!(told.contains("goes on after stop"), "{told}");
    assert_eq!(told.matches("load this file").count(), 1);
    let json = bench
        .ok(&with(&[
            "notch", "job.toml", "-o", "all.nc", "--format", "json",
        ]))
        .json();
    let stops: Vec<u64> = json["setups"]
        .as_array()
        .unwrap()
        .iter()
        .map(|setup| setup["after_stop"].as_u64().unwrap())
        .collect();
    assert_eq!(stops[0], 0);
    assert!(stops.windows(2).all(|pair| pair[0] < pair[1]));
    let proof = bench.ok(&with(&["prove", "all.nc", "job.toml"])).out;
    assert!(proof.contains("SET-UPS OF THE JOB"), "{proof}");
    let third = bench.ok(&with(&[
        "prove",
        "all.nc",
        "job.toml",
        "--part",
        "3",
        "--picture",
        "three.svg",
        "--format",
        "json",
    ]));
    let third = third.json();
    let notches = third["notches"].as_array().unwrap();
    assert!(notches.iter().all(|notch| notch["part"] == 3));
    assert!(bench.read("three.svg").contains("<svg"));
    for (flags, says) in [
        (["--part", "99"], "parts 1 to"),
        (["--part", "0"], "parts 1 to"),
        (["--bundle", "1"], "all set-ups in one program"),
    ] {
        let ran = bench.run(&with(&["prove", "all.nc", "job.toml", flags[0], flags[1]]));
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains(says), "{}", ran.err);
    }
    // Damage in one part is told with its part, and the rest is right.
    let whole = bench.read("all.nc");
    let stop = whole.find("\nM0\n").unwrap();
    let broken = whole[stop..].replacen("G1 X", "G1 X1", 1);
    bench.write("broken.nc", format!("{}{broken}", &whole[..stop]));
    let ran = bench.run(&with(&["prove", "broken.nc", "job.toml"]));
    assert_eq!(ran.code, 1);
    assert!(ran.out.starts_with("broken.nc\n\nNOT RIGHT"), "{}", ran.out);
    // A stop that is missing is named before all that follows from it.
    bench.write("run-on.nc", whole.replacen("\nM0\n", "\n", 1));
    let ran = bench.run(&with(&[
        "prove",
        "run-on.nc",
        "job.toml",
        "--format",
        "json",
    ]));
    let first = ran.json()["faults"][0].clone();
    assert_eq!(first["code"], "set-up-missing");
    let said = first["text"].as_str().unwrap();
    assert!(said.contains("a stop (M0)"), "{said}");
    // Rails too: one program, a stop before every rail but the first.
    bench.write(
        "framed.toml",
        format!("{JOB}[frame]\nthickness = \"20 mm\"\nmortise_depth = \"8 mm\"\n"),
    );
    let deep = text
        .replace("x = \"280 mm\"", "x = \"900 mm\"")
        .replace("widest_bundle = \"7 mm\"", "widest_bundle = \"60 mm\"");
    bench.write("router.toml", &deep);
    let told = bench
        .ok(&with(&["rails", "framed.toml", "-o", "rails.nc"]))
        .out;
    assert!(
        told.contains("The program stops after every rail"),
        "{told}"
    );
    let rails = bench.read("rails.nc");
    let messages: Vec<&str> = rails
        .lines()
        .filter(|line| line.starts_with("(MSG,"))
        .collect();
    assert_eq!(messages.len(), 3, "{messages:?}");
    assert_eq!(rails.matches("\nM0\n").count(), 3);
    let json = bench.ok(&with(&[
        "rails",
        "framed.toml",
        "-o",
        "rails.nc",
        "--format",
        "json",
    ]));
    let mut parts = 0;
    for program in json.json()["programs"].as_array().unwrap() {
        assert_eq!(program["after_stop"].as_u64(), Some(parts));
        for rail in program["rails"].as_array().unwrap() {
            let name = rail["name"].as_str().unwrap();
            if let Some(stop) = parts.checked_sub(1) {
                let message = messages[usize::try_from(stop).unwrap()];
                assert!(
                    message.starts_with(&format!("(MSG,Next the {name}")),
                    "{message}"
                );
            }
            parts += 1;
        }
    }
    let proof = bench.ok(&with(&["prove", "rails.nc", "framed.toml"])).out;
    assert!(proof.contains("ALL 4 RAILS OF THE JOB"), "{proof}");
    let short = rails.replacen("\nM0\n", "\n", 1);
    bench.write("short.nc", short);
    assert_eq!(
        bench.run(&with(&["prove", "short.nc", "framed.toml"])).code,
        1
    );
    bench.write("bad.toml", text.replace("one-file", "one-tape"));
    let ran = bench.run(&["notch", "job.toml", "--machine", "bad.toml", "-o", "x.nc"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("set_ups") && ran.err.contains("one-file"),
        "{}",
        ran.err
    );
}

#[test]
fn the_demo_of_a_long_panel_is_one_program() {
    let bench = Bench::new();
    let job = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/hall-screen.toml");
    // Its stiles are longer than the router: what it lacks is told, the rest is there.
    let told = bench.run(&["build", job, "-o", "out"]);
    assert_eq!(told.code, 1, "{}", told.err);
    let said = "not made: program for the right stile and the left stile (";
    assert!(told.err.contains(said), "{}", told.err);
    let text = bench.read("out/notches.nc");
    // Uprights over the key twice, then the cross strips.
    assert_eq!(text.matches("\nM0\n").count(), 3);
    // The key has taken the end stop's place.
    let last = text
        .lines()
        .rfind(|line| line.starts_with("(MSG,"))
        .unwrap();
    assert!(last.contains("Set-up 4 of 4, end stop back"), "{last}");
    bench.ok(&["prove", "out/notches.nc", job]);
    bench.ok(&["prove", "out/rails.nc", job]);
    // What lies on the key is the strip as measured.
    let plan: serde_json::Value = serde_json::from_str(&bench.read("out/router.json")).unwrap();
    let width = plan["setups"][0]["notches"][0]["width_mm"]
        .as_f64()
        .unwrap();
    assert!(approx_eq!(f64, width, 3.33, epsilon = 1e-9));
}
