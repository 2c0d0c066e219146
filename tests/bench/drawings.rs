//! How fast drawings are written, beside a plain copy of the same bytes and beside ezdxf's fastest
//! writer, in one run; how time and memory grow with the drawing: `cargo bench --bench drawings`.
//! Prints ratios; asserts nothing about time.
//!
//! ezdxf is found as the tests find it: `LAPWRIGHT_REFERENCE_PYTHON`, set by `tests/run`.
//! Takes 3 to 4 minutes, about 3 GB of memory and 1 GB of the disk.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)]

mod timing;

use lapwright::geometry::Point;
use lapwright::instructions::outline::{CutPath, CutWork, SheetDrawing};
use lapwright::instructions::safety::SafetyNotes;
use lapwright::machines::Colours;
use lapwright::writing::dxf::{DxfVersion, dxf, write_dxf};
use peak_alloc::PeakAlloc;
use std::fs::File;
use std::io::{BufWriter, Write, sink};
use std::process::Command;
use std::time::Duration;
use timing::{ratio, timed};

/// Counts what is in use.
#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

const SIZES: [usize; 3] = [10_000, 100_000, 1_000_000];

/// Of each measurement the best of so many counts.
const ROUNDS: usize = 5;

/// In every round each size is written until it comes to so many outlines: of the same lengths of
/// time the best are equally good, of short ones beside long ones they are not.
const OUTLINES_A_ROUND: usize = 1_000_000;

/// Strips with two notches.
const RING: [(f64, f64); 12] = [
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

/// As many closed outlines of 12 corners, turned a little so that their coordinates have all their
/// decimals, and far enough out that all have as many digits: an outline takes as many bytes in a
/// large drawing as in a small one.
fn outlines(count: usize) -> SheetDrawing {
    let (sine, cosine) = 0.3_f64.sin_cos();
    let path = |n: usize| {
        let left = 100_000.0 + (n % 300) as f64 * 110.0;
        let low = 100_000.0 + (n / 300) as f64 * 60.0;
        let place = |(x, y): (f64, f64)| {
            Point::new(left + x * cosine - y * sine, low + x * sine + y * cosine)
        };
        CutPath {
            work: CutWork::Outlines,
            closed: true,
            points: RING.map(place).to_vec(),
        }
    };
    SheetDrawing {
        safety: SafetyNotes::for_laser(),
        paths: (0..count).map(path).collect(),
    }
}

/// ezdxf's writer for streams of R12 entities, the fastest that it has; prints its own seconds. The
/// clock stands still while points are made.
const EZDXF: &str = r#"
import math, sys, time
from ezdxf.addons.r12writer import r12writer
ring = [(0, 0), (18.5, 0), (18.5, 6), (21.5, 6), (21.5, 0), (78.5, 0), (78.5, 6), (81.5, 6),
        (81.5, 0), (100, 0), (100, 12), (0, 12)]
sine, cosine = math.sin(0.3), math.cos(0.3)
count = int(sys.argv[2])
taken = -time.perf_counter()
with r12writer(sys.argv[1]) as dxf:
    for first in range(0, count, 10_000):
        taken += time.perf_counter()
        rings = [[(100_000 + n % 300 * 110 + x * cosine - y * sine,
                   100_000 + n // 300 * 60 + x * sine + y * cosine)
                  for x, y in ring] for n in range(first, first + 10_000)]
        taken -= time.perf_counter()
        for points in rings:
            dxf.add_polyline_2d(points, closed=True, layer="OUTLINES")
taken += time.perf_counter()
print(taken)
"#;

/// Seconds that ezdxf takes.
fn ezdxf(python: &std::ffi::OsStr, file: &std::path::Path, count: usize) -> Duration {
    let mut command = Command::new(python);
    command.args(["-c", EZDXF]).arg(file).arg(count.to_string());
    let output = command.output().unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{told}");
    let seconds = String::from_utf8(output.stdout).unwrap();
    Duration::from_secs_f64(seconds.trim().parse().unwrap())
}

/// Line by line through a buffer, as a program that only passes text on would do it.
fn copy_of_lines(bytes: &[u8], out: impl Write) {
    let mut copy = BufWriter::new(out);
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        copy.write_all(line).unwrap();
    }
    copy.flush().unwrap();
}

/// In pieces of 12 bytes, without a look at them.
fn copy_of_pieces(bytes: &[u8], out: impl Write) {
    let mut copy = BufWriter::new(out);
    for piece in bytes.chunks(12) {
        copy.write_all(piece).unwrap();
    }
    copy.flush().unwrap();
}

/// What is measured of one size: each the least time for a single drawing.
#[derive(Clone, Copy)]
struct Times {
    written: Duration,
    in_memory: Duration,
    lines: Duration,
    pieces: Duration,
    to_file: Duration,
    file_copied: Duration,
}

impl Times {
    const NONE: Times = Times {
        written: Duration::MAX,
        in_memory: Duration::MAX,
        lines: Duration::MAX,
        pieces: Duration::MAX,
        to_file: Duration::MAX,
        file_copied: Duration::MAX,
    };

    /// One round more. `bytes` is the file.
    fn better(&mut self, bytes: &[u8], drawing: &SheetDrawing, version: DxfVersion) {
        let colours = Colours::default();
        let times = u32::try_from(OUTLINES_A_ROUND / drawing.paths.len()).unwrap();
        let file = || tempfile::tempfile().unwrap();
        let write = |out: &mut File| write_dxf(drawing, version, colours, out).unwrap();
        let least = |known: &mut Duration, run: &mut dyn FnMut()| {
            let (taken, ()) = timed(|| (0..times).for_each(|_| run()));
            *known = (*known).min(taken / times);
        };
        least(&mut self.written, &mut || {
            write_dxf(drawing, version, colours, &mut sink()).unwrap();
        });
        least(&mut self.lines, &mut || copy_of_lines(bytes, sink()));
        least(&mut self.pieces, &mut || copy_of_pieces(bytes, sink()));
        least(&mut self.in_memory, &mut || {
            drop(dxf(drawing, version, colours).unwrap());
        });
        least(&mut self.to_file, &mut || write(&mut file()));
        least(&mut self.file_copied, &mut || copy_of_lines(bytes, file()));
    }
}

/// The most that the writer has in use of its own at any time, bytes.
fn peak(drawing: &SheetDrawing, version: DxfVersion) -> usize {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    write_dxf(drawing, version, Colours::default(), &mut sink()).unwrap();
    MEMORY.peak_usage() - before
}

/// From each size to the next: how many times as much for every time as many outlines.
fn growth(name: &str, of: [f64; SIZES.len()]) {
    let counts = SIZES.map(|count| count as f64);
    let steps = of.windows(2).zip(counts.windows(2));
    let factors: Vec<String> = steps
        .map(|(of, counts)| format!("{:.3}", of[1] / of[0] / (counts[1] / counts[0])))
        .collect();
    println!("  growth, {name}: {} (1 is linear)", factors.join(", "));
}

/// One size's line.
fn tell(count: usize, length: usize, times: &Times, reference: Option<Duration>) {
    println!(
        "  {count}: {:.1} MB, {:.0} ns an outline",
        length as f64 / 1e6,
        times.written.as_secs_f64() * 1e9 / count as f64
    );
    println!(
        "    {:.2} times a buffered copy of its lines (aim 3); {:.2} times one in pieces of 12 bytes",
        ratio(times.written, times.lines),
        ratio(times.written, times.pieces)
    );
    println!(
        "    to a file: {:.2} times a buffered copy of its lines",
        ratio(times.to_file, times.file_copied)
    );
    if let Some(reference) = reference {
        println!(
            "    ezdxf's r12writer takes {:.1} times as long to a file (aim 20)",
            ratio(reference, times.to_file)
        );
    }
}

fn measure(
    version: DxfVersion,
    drawings: &[SheetDrawing; SIZES.len()],
    reference: Option<[Duration; SIZES.len()]>,
) {
    println!("closed outlines of 12 corners, {version:?}");
    let files = drawings
        .each_ref()
        .map(|drawing| dxf(drawing, version, Colours::default()).unwrap());
    let mut of = [Times::NONE; SIZES.len()];
    for _ in 0..ROUNDS {
        for ((times, drawing), bytes) in of.iter_mut().zip(drawings).zip(&files) {
            times.better(bytes, drawing, version);
        }
    }
    for (at, times) in of.iter().enumerate() {
        let reference = reference.map(|seconds| seconds[at]);
        tell(SIZES[at], files[at].len(), times, reference);
    }
    let seconds = |which: fn(&Times) -> Duration| of.map(|times| which(&times).as_secs_f64());
    growth("bytes", files.each_ref().map(|bytes| bytes.len() as f64));
    growth(
        "time streamed (aim 0.9 to 1.1)",
        seconds(|times| times.written),
    );
    growth("time to a file", seconds(|times| times.to_file));
    growth("time of a file in memory", seconds(|times| times.in_memory));
    growth("time of the copy of lines", seconds(|times| times.lines));
    let peaks = drawings.each_ref().map(|drawing| peak(drawing, version));
    println!("  most memory of the writer itself: {peaks:?} bytes");
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("outlines.dxf");
    let reference = std::env::var_os("LAPWRIGHT_REFERENCE_PYTHON")
        .map(|python| SIZES.map(|count| ezdxf(&python, &file, count)));
    if reference.is_none() {
        println!("LAPWRIGHT_REFERENCE_PYTHON is not set: no comparison with ezdxf");
    }
    let drawings = SIZES.map(outlines);
    for version in [DxfVersion::R2000, DxfVersion::R12] {
        measure(version, &drawings, reference);
    }
}
