//! Agreement with the stand-alone reference interpreter of RS274/NGC, move by move, on
//! hand-written programs that use every code that is known here.
//!
//! `LAPWRIGHT_RS274` names a program that takes a file and prints the canonical calls
//! (NISTIR 6556, section 4) of that program.

use crate::support::{jobs, profiles};
use float_cmp::approx_eq;
use lapwright::machines::Machine as AnyMachine;
use lapwright::planning::plan_router;
use lapwright::reading::{read_job, read_machine};
use lapwright::verification::gcode::codes::ArcPlane;
use lapwright::verification::gcode::interpreter::Interpreter;
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::gcode::state::{Event, StoredPositions, known};
use lapwright::verification::{Limits, Tolerances, Workpiece, prove_program};
use lapwright::writing::gcode;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;

/// One move, mm.
#[derive(Debug, PartialEq)]
struct Step {
    kind: &'static str,
    to: [f64; 3],
    /// Centre along the plane's first and second axis, and +1 for counter-clockwise.
    arc: Option<[f64; 3]>,
    feed: f64,
    /// What the printed decimals of the reference are good for, mm.
    tolerance: f64,
}

/// The reference keeps its state in shared memory: two at a time fall over each other.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

fn canonical_calls(file: &Path) -> String {
    let _alone = ONE_AT_A_TIME.lock();
    let program = std::env::var_os("LAPWRIGHT_RS274").expect(
        "set LAPWRIGHT_RS274 to a script that takes a program and prints the canonical calls of \
         the reference interpreter; tests/run installs one",
    );
    let output = Command::new(program).arg(file).output().unwrap();
    assert!(!output.stdout.is_empty(), "the reference said nothing");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// The canonical machine: turns the reference's calls into moves in machine coordinates.
struct Canon {
    scale: f64,
    offsets: [[f64; 3]; 2],
    plane: ArcPlane,
    feed: f64,
    steps: Vec<Step>,
    ended: bool,
}

impl Canon {
    fn machine(&self, place: [f64; 3]) -> [f64; 3] {
        std::array::from_fn(|axis| {
            (place[axis] + self.offsets[0][axis] + self.offsets[1][axis]) * self.scale
        })
    }

    fn step(&mut self, kind: &'static str, to: [f64; 3], arc: Option<[f64; 3]>) {
        // Offsets are rounded when printed as well.
        let tolerance = if self.scale > 1.0 { 0.004 } else { 1e-4 };
        let feed = self.feed;
        self.steps.push(Step {
            kind,
            to,
            arc,
            feed,
            tolerance,
        });
    }

    fn arc(&mut self, n: &[f64]) {
        let [first, second, third] = self.plane.axes();
        let mut to = [0.0; 3];
        (to[first], to[second], to[third]) = (n[0], n[1], n[5]);
        let mut centre = [0.0; 3];
        (centre[first], centre[second]) = (n[2], n[3]);
        let (to, centre) = (self.machine(to), self.machine(centre));
        self.step("arc", to, Some([centre[first], centre[second], n[4]]));
    }

    fn call(&mut self, name: &str, arguments: &str) {
        let n: Vec<f64> = arguments
            .split(',')
            .filter_map(|a| a.trim().parse().ok())
            .collect();
        match name {
            "USE_LENGTH_UNITS" => {
                let scale = if arguments.contains("INCH") {
                    25.4
                } else {
                    1.0
                };
                let ratio = self.scale / scale;
                self.offsets = self.offsets.map(|o| o.map(|v| v * ratio));
                self.scale = scale;
            }
            "SET_G5X_OFFSET" => self.offsets[0] = [n[1], n[2], n[3]],
            "SET_G92_OFFSET" => self.offsets[1] = [n[0], n[1], n[2]],
            "SELECT_PLANE" => {
                self.plane = match arguments {
                    "CANON_PLANE_XY" => ArcPlane::Xy,
                    "CANON_PLANE_XZ" => ArcPlane::Zx,
                    _ => ArcPlane::Yz,
                }
            }
            "SET_FEED_RATE" => self.feed = n[0] * self.scale,
            "STRAIGHT_TRAVERSE" => self.step("rapid", self.machine([n[0], n[1], n[2]]), None),
            "STRAIGHT_FEED" => self.step("feed", self.machine([n[0], n[1], n[2]]), None),
            "ARC_FEED" => self.arc(&n),
            "PROGRAM_END" => self.ended = true,
            _ => {}
        }
    }
}

fn reference(file: &Path) -> (Vec<Step>, bool) {
    let mut canon = Canon {
        scale: 1.0,
        offsets: [[0.0; 3]; 2],
        plane: ArcPlane::Xy,
        feed: 0.0,
        steps: Vec::new(),
        ended: false,
    };
    for line in canonical_calls(file).lines() {
        // Number, line number, call: `   13 N..... NAME(arguments)`.
        if let Some((head, rest)) = line.split_once('(') {
            let name = head.split_whitespace().last().unwrap_or_default();
            canon.call(name, rest.trim_end().trim_end_matches(')'));
        }
    }
    (canon.steps, canon.ended)
}

fn ours(text: &[u8]) -> Result<Vec<Step>, String> {
    let origin = [Some(0.0); 3];
    let mut machine = Interpreter::new(StoredPositions {
        start: origin,
        work_zeros: [origin; 6],
        machine_zero: origin,
        homes: [origin; 2],
    });
    let mut steps = Vec::new();
    for block in blocks(text) {
        let block = block.map_err(|fault| format!("{fault:?}"))?;
        let mut ended = false;
        machine
            .execute(&block, &mut |event| match event {
                Event::Move(step) => steps.push(Step {
                    kind: match (&step.arc, step.rapid) {
                        (Some(_), _) => "arc",
                        (None, true) => "rapid",
                        (None, false) => "feed",
                    },
                    to: known(step.to).unwrap(),
                    arc: step
                        .arc
                        .map(|arc| [arc.centre[0], arc.centre[1], arc.sweep.signum()]),
                    feed: step.feed.unwrap_or(0.0),
                    tolerance: 0.0,
                }),
                Event::Stop { .. } => ended |= block.only_ends(),
                _ => {}
            })
            .map_err(|fault| format!("{fault:?}"))?;
        if ended {
            break;
        }
    }
    Ok(steps)
}

/// Straight moves to where the machine stands already say nothing.
fn without_standing(steps: Vec<Step>) -> Vec<Step> {
    let mut at = [0.0; 3];
    steps
        .into_iter()
        .filter(|step| {
            let stands =
                (0..3).all(|axis| approx_eq!(f64, step.to[axis], at[axis], epsilon = 1e-4));
            at = step.to;
            step.arc.is_some() || !stands
        })
        .collect()
}

fn close(ours: &Step, theirs: &Step, inverse_time: bool) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= theirs.tolerance;
    let ends = (0..3).all(|axis| near(ours.to[axis], theirs.to[axis]));
    let arcs = match (ours.arc, theirs.arc) {
        (None, None) => true,
        (Some(a), Some(b)) => near(a[0], b[0]) && near(a[1], b[1]) && a[2] * b[2] > 0.0,
        _ => false,
    };
    let feeds = inverse_time || ours.kind == "rapid" || (ours.feed - theirs.feed).abs() < 0.01;
    ours.kind == theirs.kind && ends && arcs && feeds
}

fn programs() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/programs");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|end| end == "ngc"))
        .collect();
    files.sort();
    assert!(files.len() >= 9);
    files
}

#[test]
fn every_move_ends_where_the_reference_ends_it() {
    agrees(&programs());
}

/// The programs that the demo jobs' routers get.
#[test]
fn moves_of_written_programs_end_where_the_reference_ends_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut files = Vec::new();
    for job in ["reading-lamp", "pantry-door", "tea-cabinet"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("demo/{job}.toml"));
        let done = Command::new(env!("CARGO_BIN_EXE_lapwright"))
            .arg("notch")
            .arg(path)
            .arg("-o")
            .arg(folder.path().join(format!("{job}.nc")))
            .output()
            .unwrap();
        assert!(done.status.success(), "{job}");
        files.extend([1, 2].map(|number| folder.path().join(format!("{job}-{number}.nc"))));
    }
    agrees(&files);
}

/// Programs for made-up jobs and controls of all habits.
#[test]
fn moves_of_made_up_jobs_end_where_the_reference_ends_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut files = Vec::new();
    for (job, profile) in jobs::samples(&profiles::router_jobs(jobs::jobs()), 20) {
        let panel = read_job("job.toml", &job.toml()).unwrap().panel;
        let read = read_machine("router.toml", &profile.toml()).unwrap();
        let AnyMachine::Router(router) = read.machine else {
            panic!("no router")
        };
        let plan = plan_router(panel.lattice(), "router", &router, &|at, _| at.to_string());
        for setup in plan.unwrap().0.setups {
            let file = folder.path().join(format!("{}.ngc", files.len()));
            let text = gcode::program(&setup.path, &router.controller).unwrap();
            std::fs::write(&file, text).unwrap();
            files.push(file);
        }
    }
    agrees(&files);
}

fn agrees(files: &[PathBuf]) {
    for file in files {
        let text = std::fs::read(file).unwrap();
        let inverse_time = text.windows(3).any(|window| window == b"G93");
        let (theirs, _) = reference(file);
        let ours = ours(&text).unwrap_or_else(|fault| panic!("{}: {fault}", file.display()));
        let (ours, theirs) = (without_standing(ours), without_standing(theirs));
        for (number, (a, b)) in ours.iter().zip(&theirs).enumerate() {
            let place = format!("{}, move {}", file.display(), number + 1);
            assert!(close(a, b, inverse_time), "{place}:\n{a:?}\n{b:?}");
        }
        assert_eq!(ours.len(), theirs.len(), "{}", file.display());
        assert!(!ours.is_empty());
    }
}

/// Lines that the reference refuses, after `F100`.
const REFUSED: [&str; 36] = [
    "G1 G2 X1",
    "G0 G0",
    "G90 G91",
    "G20 G21",
    "M3 M5",
    "M7 M8",
    "X1",
    "G21 X1",
    "G0 X1 X2",
    "G4",
    "G4 P-1",
    "M0 M1",
    "G80 X1",
    "G92 X3 G1",
    "G28 G0 X1",
    "G1 X10 R3",
    "G2",
    "G2 X1 I1 R1",
    "G3 X0 Y0 R3",
    "G3 X10 Y0 R4.9",
    "G2 X10 Y0 I5.1 J0",
    "G2 X5 K1 I1",
    "G1 X1E-5",
    "G1 X1,5",
    "G1 X-",
    "G1 X1.2.3",
    "G1 N5",
    "N-5 G1",
    "(a (b))",
    "(abc",
    "G1 X1 )",
    "S-1",
    "F-1",
    "G53 X1 Y1",
    "P1",
    "G81 X1 Z1 R-1",
];

#[test]
fn what_the_reference_refuses_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("line.ngc");
    for line in REFUSED {
        let text = format!("F100\n{line}\nM2\n");
        std::fs::write(&file, &text).unwrap();
        assert!(!reference(&file).1, "the reference takes {line}");
        assert!(ours(text.as_bytes()).is_err(), "{line} is taken");
    }
    // Before any F, and with lines that only CR ends, the reference stops too; the proof names both.
    for (text, code) in [
        ("G21\nG1\nF300\nG1 X1\nM2\n", "no-feed"),
        ("G21\nG1 X1\nF300\nM2\n", "no-feed"),
        ("G21\rG0 X1\rG0 X2\rM2\r", "line-end"),
    ] {
        std::fs::write(&file, text).unwrap();
        assert!(!reference(&file).1, "the reference takes {text}");
        let report = prove_program(
            text.as_bytes(),
            &Workpiece::plain(1, 3.0, 12.0, 100.0),
            None,
            &Limits::tool_only(2.0),
            &Tolerances::default(),
        );
        assert!(
            report.faults.iter().any(|fault| fault.code == code),
            "{text}"
        );
    }
    std::fs::write(&file, "F100\nG1 X1\nM2\n").unwrap();
    assert!(reference(&file).1, "the reference takes a good line");
}
