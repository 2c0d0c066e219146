//! How fast programs are read and proved, side by side with the reference interpreter on the same
//! file, in one run: `cargo bench`. Prints ratios; asserts nothing about time.
//!
//! The interpreter is found as the tests find it: `LAPWRIGHT_RS274`, set by `tests/run`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)]

use lapwright::dialects::{Controller, ProgramEnd};
use lapwright::geometry::Point;
use lapwright::instructions::outline::{Path, SheetDrawing, Work};
use lapwright::instructions::tool_path::{Motion, Move, NotchPath, Part, Position, ToolPath};
use lapwright::machines::Colours;
use lapwright::verification::gcode::program::blocks;
use lapwright::verification::inputs::{Limits, Tolerances, Workpiece};
use lapwright::verification::prove_program;
use lapwright::writing::dxf::{DxfVersion, dxf};
use lapwright::writing::gcode::{program, write_program};
use std::io::{BufWriter, Write};
use std::process::Command;
use std::sync::Arc;
use std::time::{Duration, Instant};

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
        spindle_rpm: 16_000.0,
        spin_up_s: 3.0,
        safe_z: 8.0,
        cuts: Arc::new((0..20).map(notch).collect::<Vec<_>>()),
        ..ToolPath::default()
    }
}

fn part(path: &ToolPath) -> Part<'_> {
    Part {
        path,
        message: String::new(),
    }
}

/// The best of a few runs.
fn best<T>(mut run: impl FnMut() -> T) -> (Duration, T) {
    let mut least = Duration::MAX;
    let mut last = None;
    for _ in 0..5 {
        let start = Instant::now();
        last = Some(run());
        least = least.min(start.elapsed());
    }
    (least, last.unwrap())
}

/// As many closed outlines of 12 corners, strips with two notches, turned a little so that their
/// coordinates have all their decimals.
fn outlines(count: usize) -> SheetDrawing {
    let ring = [
        (0.0, 0.0),
        (18.5, 0.0),
        (18.5, 6.0),
        (21.5, 6.0),
        (21.5, 0.0),
        (78.5, 0.0),
        (78.5, 6.0),
        (81.5, 6.0),
        (81.5, 0.0),
        (100.0, 0.0),
        (100.0, 12.0),
        (0.0, 12.0),
    ];
    let (sine, cosine) = 0.3_f64.sin_cos();
    let path = |n: usize| {
        let (left, low) = ((n % 300) as f64 * 110.0, (n / 300) as f64 * 60.0);
        let place = |(x, y): (f64, f64)| {
            Point::new(left + x * cosine - y * sine, low + x * sine + y * cosine)
        };
        Path {
            work: Work::CutOuter,
            closed: true,
            points: ring.map(place).to_vec(),
        }
    };
    SheetDrawing {
        paths: (0..count).map(path).collect(),
    }
}

/// ezdxf's writer for streams of R12 entities, the fastest that it has; prints its own seconds.
const EZDXF: &str = r#"
import math, sys, time
from ezdxf.addons.r12writer import r12writer
ring = [(0, 0), (18.5, 0), (18.5, 6), (21.5, 6), (21.5, 0), (78.5, 0), (78.5, 6), (81.5, 6),
        (81.5, 0), (100, 0), (100, 12), (0, 12)]
sine, cosine = math.sin(0.3), math.cos(0.3)
count = int(sys.argv[2])
rings = [[(n % 300 * 110 + x * cosine - y * sine, n // 300 * 60 + x * sine + y * cosine)
          for x, y in ring] for n in range(count)]
start = time.perf_counter()
with r12writer(sys.argv[1]) as dxf:
    for points in rings:
        dxf.add_polyline_2d(points, closed=True, layer="CUT_OUTER")
print(time.perf_counter() - start)
"#;

/// Drawings beside a plain copy of their bytes in the pieces in which they are written, and beside
/// ezdxf, which writes to a file: so do both others.
fn drawings(folder: &std::path::Path) {
    let file = folder.join("outlines.dxf");
    for count in [10_000, 100_000] {
        let drawing = outlines(count);
        for version in [DxfVersion::R2000, DxfVersion::R12] {
            let (made, bytes) = best(|| dxf(&drawing, version, Colours::default()).unwrap());
            let (copied, _) = best(|| {
                bytes
                    .chunks(12)
                    .fold(Vec::with_capacity(bytes.len()), |mut copy, chunk| {
                        copy.extend_from_slice(chunk);
                        copy
                    })
            });
            let (to_file, ()) = best(|| {
                let bytes = dxf(&drawing, version, Colours::default()).unwrap();
                std::fs::write(&file, bytes).unwrap();
            });
            println!(
                "{count} outlines of 12 corners, {version:?}, {:.1} MB: {:.3} s, {:.1} times a copy of its bytes",
                bytes.len() as f64 / 1e6,
                made.as_secs_f64(),
                ratio(made, copied)
            );
            let (Some(python), DxfVersion::R12) =
                (std::env::var_os("LAPWRIGHT_REFERENCE_PYTHON"), version)
            else {
                continue;
            };
            let mut command = Command::new(python);
            command
                .args(["-c", EZDXF])
                .arg(&file)
                .arg(count.to_string());
            let output = command.output().unwrap();
            assert!(
                output.status.success(),
                "{}",
                String::from_utf8_lossy(&output.stderr)
            );
            let taken: f64 = String::from_utf8(output.stdout)
                .unwrap()
                .trim()
                .parse()
                .unwrap();
            println!(
                "  ezdxf's r12writer takes {:.1} times as long",
                taken / to_file.as_secs_f64()
            );
        }
    }
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    drawings(folder.path());
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
            write_program([part(&path)], &CONTROLLER, &mut std::io::sink()).unwrap();
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

fn ratio(a: Duration, b: Duration) -> f64 {
    a.as_secs_f64() / b.as_secs_f64()
}
