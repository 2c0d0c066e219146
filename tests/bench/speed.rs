//! How fast programs are read and proved, side by side with the reference interpreter on the same
//! file, in one run: `cargo bench`. Prints ratios; asserts nothing about time.
//!
//! The interpreter is found as the tests find it: `LAPWRIGHT_RS274`, set by `tests/run`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)]

mod timing;

use lapwright::dialects::{Controller, ProgramEnd};
use lapwright::instructions::tool_path::{Motion, Move, NotchPath, Position, ToolPath};
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::inputs::{Limits, Tolerances, Workpiece};
use lapwright::verification::prove_program;
use lapwright::writing::gcode::{program, write_program};
use std::io::{BufWriter, Write};
use std::process::Command;
use std::time::Instant;
use timing::{best, ratio};

const CONTROLLER: Controller = Controller {
    program_end: ProgramEnd::M2,
    work_zero: true,
    ..Controller::BARE
};

/// Twenty notches, each gone through again and again until the program has so many moves.
fn path(moves: usize) -> ToolPath {
    let at = |x: f64, y: f64, z: f64| Position { x, y, z };
    let go = |motion, to| Move { motion, to };
    let notch = |index: usize| {
        let x = 20.0 + 25.0 * index as f64;
        let mut path = vec![
            go(Motion::Rapid, at(x, -3.0, 8.0)),
            go(Motion::Air(300.0), at(x, -3.0, -1.5)),
        ];
        for turn in 0..moves / 40 {
            let depth = -1.5 - (turn % 4) as f64 * 1.5;
            let side = if turn % 2 == 0 { 18.0 } else { -3.0 };
            let from = path.last().map_or(-3.0, |step| step.to.y);
            path.push(go(Motion::Air(300.0), at(x, from, depth)));
            path.push(go(Motion::Cut(800.0), at(x, side, depth)));
        }
        let end = path.last().map_or(-3.0, |step| step.to.y);
        path.push(go(Motion::Rapid, at(x, end, 8.0)));
        NotchPath {
            index: index + 1,
            moves: path,
        }
    };
    ToolPath {
        remarks: Vec::new(),
        spindle_rpm: 16_000.0,
        spin_up_s: 3.0,
        safe_z: 8.0,
        notches: (0..20).map(notch).collect(),
        ..ToolPath::default()
    }
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    for moves in [10_000, 1_000_000] {
        let path = path(moves);
        let (written, text) = best(|| program(&path, &CONTROLLER).unwrap());
        let bytes = text.as_bytes();
        // Line by line through a buffer, as a program that only passes text on would do it.
        let (copied, _) = best(|| {
            let mut copy = BufWriter::new(Vec::with_capacity(bytes.len()));
            for line in bytes.split_inclusive(|byte| *byte == b'\n') {
                copy.write_all(line).unwrap();
            }
            copy.into_inner().unwrap()
        });
        let (streamed, ()) = best(|| {
            write_program(&path, &CONTROLLER, &mut std::io::sink()).unwrap();
        });
        let megabytes = bytes.len() as f64 / 1e6;
        println!("{moves} moves, {megabytes:.2} MB");
        println!(
            "  written in {:.1} times a buffered copy of its lines, {:.0} ns a line; streamed: {:.1} times",
            ratio(written, copied),
            written.as_secs_f64() * 1e9
                / bytes.iter().filter(|byte| **byte == b'\n').count() as f64,
            ratio(streamed, copied)
        );
        let (read, count) = best(|| blocks(bytes).filter(Result::is_ok).count());
        println!(
            "  read: {:.0} MB/s, {:.2} million blocks/s",
            megabytes / read.as_secs_f64(),
            count as f64 / 1e6 / read.as_secs_f64()
        );
        let workpiece = Workpiece::plain(5, 3.0, 12.0, 540.0);
        let limits = Limits::tool_only(2.0);
        let (proved, report) =
            best(|| prove_program(bytes, &workpiece, None, &limits, &Tolerances::default()));
        println!(
            "  proved: {:.1} MB/s, {:.2} million moves/s ({} moves, {} slots, {} faults)",
            megabytes / proved.as_secs_f64(),
            report.moves as f64 / 1e6 / proved.as_secs_f64(),
            report.moves,
            report.slots.len(),
            report.faults.len()
        );
        let file = folder.path().join("program.ngc");
        std::fs::write(&file, bytes).unwrap();
        match std::env::var_os("LAPWRIGHT_RS274") {
            Some(interpreter) => {
                let start = Instant::now();
                let done = Command::new(interpreter).arg(&file).output().unwrap();
                let taken = start.elapsed();
                assert!(done.status.success());
                println!(
                    "  reference interpreter takes {:.1} times the reading, {:.2} times the whole proof",
                    ratio(taken, read),
                    ratio(taken, proved)
                );
            }
            None => println!(
                "  LAPWRIGHT_RS274 is not set: no comparison with the reference interpreter"
            ),
        }
    }
}
