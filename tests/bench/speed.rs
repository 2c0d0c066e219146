//! How fast programs are written, read and proved, beside a plain copy of the same bytes and beside
//! the reference interpreter on the same file, in one run; how time and memory grow with the
//! program; how long slanted moves and arcs take; how fast panels are drawn and sticks planned: `cargo bench --bench speed`. Prints ratios;
//! asserts nothing about time.
//!
//! The interpreter is found as the tests find it: `LAPWRIGHT_RS274`, set by `tests/run`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod fit_draws;
mod stick_plans;
mod timing;
mod ways;

use lapwright::dialects::{Controller, ProgramEnd};
use lapwright::instructions::tool_path::{
    Motion, Move, NotchPath, Notches, Position, ProgramPart, ToolPath,
};
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::{
    Limits, Program, ProgramReport, Tolerances, Until, Workpiece, prove_program,
};
use lapwright::writing::files::Spool;
use lapwright::writing::gcode::{program, write_program};
use peak_alloc::PeakAlloc;
use std::fs::File;
use std::io::{BufWriter, Write, sink};
use std::path::Path;
use std::process::Command;
use std::sync::Arc;
use std::time::Duration;
use timing::{best, ratio, timed};

/// Counts what is in use.
#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

const SIZES: [usize; 3] = [10_000, 100_000, 1_000_000];

/// Of each measurement the best of so many counts.
const ROUNDS: usize = 9;

const CONTROLLER: Controller = Controller {
    program_end: ProgramEnd::M2,
    work_zero: true,
    ..Controller::BARE
};

/// Passes of a notch.
const PASSES: usize = 100;

/// Twenty notches, cut again and again until the program has so many moves.
#[derive(Debug)]
struct Again {
    moves: usize,
}

impl Notches for Again {
    fn notch(&self, at: usize) -> Option<NotchPath> {
        if at * PASSES * 2 >= self.moves {
            return None;
        }
        let position = |x: f64, y: f64, z: f64| Position { x, y, z };
        let go = |motion, to| Move { motion, to };
        let x = 20.123 + 25.0 * (at % 20) as f64;
        let mut moves = vec![
            go(Motion::Rapid, position(x, -3.0, 8.0)),
            go(Motion::Air(300.0), position(x, -3.0, -1.5)),
        ];
        let mut from = -3.0;
        for turn in 1..PASSES {
            let depth = -1.5 - (turn % 4) as f64 * 1.5;
            let side = if turn % 2 == 0 { 18.517 } else { -3.0 };
            moves.push(go(Motion::Air(300.0), position(x, from, depth)));
            moves.push(go(Motion::Cut(800.0), position(x, side, depth)));
            from = side;
        }
        moves.push(go(Motion::Rapid, position(x, from, 8.0)));
        Some(NotchPath {
            index: at % 20 + 1,
            moves,
        })
    }
}

fn path(moves: usize) -> ToolPath {
    ToolPath {
        spindle_rpm: 16_000.0,
        spin_up_s: 3.0,
        safe_height: 8.0,
        cuts: Arc::new(Again { moves }),
        ..ToolPath::default()
    }
}

fn part(path: &ToolPath) -> ProgramPart<'_> {
    ProgramPart {
        path,
        message: String::new(),
    }
}

/// Line by line through a buffer, as a program that only passes text on would do it.
fn copy(bytes: &[u8], out: impl Write) {
    let mut copy = BufWriter::new(out);
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        copy.write_all(line).unwrap();
    }
    copy.flush().unwrap();
}

fn written(path: &ToolPath, mut out: impl Write) {
    write_program([part(path)], &CONTROLLER, &mut out).unwrap();
}

/// The best times of two things for every size. All are done in turn, each so often that they take
/// alike: whatever else the machine does meets them all.
fn interleaved(
    mut one: impl FnMut(usize),
    mut other: impl FnMut(usize),
) -> [[Duration; SIZES.len()]; 2] {
    let mut least = [[Duration::MAX; SIZES.len()]; 2];
    for _ in 0..ROUNDS {
        for at in 0..SIZES.len() {
            let times = SIZES[SIZES.len() - 1] / SIZES[at];
            let taken = [
                timed(|| (0..times).for_each(|_| one(at))).0,
                timed(|| (0..times).for_each(|_| other(at))).0,
            ];
            for (least, taken) in least.iter_mut().zip(taken) {
                let single = taken / u32::try_from(times).unwrap();
                least[at] = least[at].min(single);
            }
        }
    }
    least
}

/// The most that is in use at any time beyond what is before, bytes.
fn peak<T>(run: impl FnOnce() -> T) -> usize {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    run();
    MEMORY.peak_usage() - before
}

/// From each size to the next: how many times as much for every time as many moves.
fn growth(of: &[Duration]) -> String {
    let factors = of
        .windows(2)
        .map(|pair| format!("{:.3}", ratio(pair[1], pair[0]) / 10.0));
    factors.collect::<Vec<_>>().join(", ")
}

fn bench() -> (Workpiece, Limits) {
    (
        Workpiece::plain(5, 3.0, 12.0, 540.0),
        Limits::tool_only(2.0),
    )
}

/// Written out of the way and proved from there, as the program does it.
fn write_and_prove(path: &ToolPath) -> ProgramReport {
    let spool = Spool::of(|out| write_program([part(path)], &CONTROLLER, out));
    let mut spool = spool.unwrap();
    let (workpiece, limits) = bench();
    let mut program = Program::new(spool.reader().unwrap());
    let tolerances = Tolerances::default();
    program.prove_notches(&workpiece, None, &limits, &tolerances, Until::End)
}

fn writing(paths: &[ToolPath], texts: &[String], file: &Path) {
    let made = || File::create(file).unwrap();
    let [taken, copied] = interleaved(
        |at| written(&paths[at], sink()),
        |at| copy(texts[at].as_bytes(), sink()),
    );
    let [taken_to_file, copied_to_file] = interleaved(
        |at| written(&paths[at], made()),
        |at| copy(texts[at].as_bytes(), made()),
    );
    for (at, moves) in SIZES.iter().enumerate() {
        let lines = texts[at].lines().count() as f64;
        println!(
            "{moves} moves, {:.2} MB: written in {:.2} times a buffered copy of its lines, {:.1} ns a line; to a file {:.2} times; the writer's own memory at most {} bytes",
            texts[at].len() as f64 / 1e6,
            ratio(taken[at], copied[at]),
            taken[at].as_secs_f64() * 1e9 / lines,
            ratio(taken_to_file[at], copied_to_file[at]),
            peak(|| written(&paths[at], sink()))
        );
    }
    println!(
        "time from each size to the next over ten times as much: written {}, copied {}",
        growth(&taken),
        growth(&copied)
    );
    for (path, moves) in paths.iter().zip(SIZES) {
        let most = peak(|| write_and_prove(path));
        println!("{moves} moves written and proved: at most {most} bytes in use");
    }
}

fn main() {
    fit_draws::print_draws();
    stick_plans::print_plans();
    ways::print_ways();
    let paths = SIZES.map(path);
    let texts: Vec<String> = paths
        .iter()
        .map(|path| program(path, &CONTROLLER).unwrap())
        .collect();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("program.ngc");
    writing(&paths, &texts, &file);
    let (workpiece, limits) = bench();
    let tolerances = Tolerances::default();
    let prove = |at: usize| {
        let text = texts[at].as_bytes();
        prove_program(text, &workpiece, None, &limits, &tolerances)
    };
    let [all_proved, all_copied] = interleaved(
        |at| drop(prove(at)),
        |at| copy(texts[at].as_bytes(), sink()),
    );
    for (at, (text, moves)) in texts.iter().zip(SIZES).enumerate() {
        let bytes = text.as_bytes();
        let megabytes = bytes.len() as f64 / 1e6;
        let (read, count) = best(|| blocks(bytes).filter(Result::is_ok).count());
        let report = prove(at);
        let proved = all_proved[at];
        println!(
            "{moves} moves read: {:.0} MB/s, {:.2} million blocks/s; proved: {:.1} MB/s, {:.2} million moves/s ({} slots, {} faults)",
            megabytes / read.as_secs_f64(),
            count as f64 / 1e6 / read.as_secs_f64(),
            megabytes / proved.as_secs_f64(),
            report.moves as f64 / 1e6 / proved.as_secs_f64(),
            report.slots.len(),
            report.faults.len()
        );
        let Some(interpreter) = std::env::var_os("LAPWRIGHT_RS274") else {
            println!("  LAPWRIGHT_RS274 is not set: no comparison with the reference interpreter");
            continue;
        };
        std::fs::write(&file, bytes).unwrap();
        let (taken, done) = timed(|| Command::new(interpreter).arg(&file).output().unwrap());
        assert!(done.status.success());
        println!(
            "  reference interpreter takes {:.1} times the reading, {:.2} times the whole proof",
            ratio(taken, read),
            ratio(taken, proved)
        );
    }
    println!(
        "proof, time from each size to the next over ten times as much: {}; of the copy: {}",
        growth(&all_proved),
        growth(&all_copied)
    );
}
