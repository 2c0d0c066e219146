//! How whole commands grow with the panel: time, most memory and length of what they write, for panels from a
//! door to the largest that a job may ask for; and how many instructions a short answer takes beside a
//! program that only greets: `cargo bench --bench growth`, or with words of the rows that are wanted,
//! `cargo bench --bench growth -- door sheet`. Prints figures; asserts nothing about time.
//!
//! `LAPWRIGHT_MEASURED` names another build of the program to be measured instead of this one.
//! Instructions are counted by valgrind where it is installed; without it a line says so.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)]

mod growth_jobs;
mod start;

use growth_jobs::{Job, Work, series, write_profiles};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use wait4::Wait4;

/// The program that is measured: this build's, or another one to set beside it.
fn program() -> String {
    let own = || env!("CARGO_BIN_EXE_lapwright").to_owned();
    std::env::var("LAPWRIGHT_MEASURED").unwrap_or_else(|_| own())
}

/// A short command is run so often, and its best time counts.
const RUNS: usize = 3;

/// What takes longer is run once.
const LONG: Duration = Duration::from_secs(2);

/// What one run takes.
#[derive(Clone, Copy)]
struct Cost {
    /// By the clock on the wall.
    elapsed: Duration,
    /// Of all processors, in the program and in the system for it.
    worked: Duration,
    /// Most memory at once, bytes.
    memory: u64,
    /// What it printed and wrote, bytes.
    written: u64,
    /// Its exit code; -1 where a signal ended it.
    code: i32,
}

/// One run of the program in a folder.
fn run_once(folder: &Path, arguments: &[String]) -> Cost {
    let mut command = Command::new(program());
    command.current_dir(folder).args(arguments);
    command.stdin(Stdio::null()).stderr(Stdio::null());
    let answer = std::fs::File::create(folder.join("answer")).unwrap();
    command.stdout(answer);
    let before = Instant::now();
    let used = command.spawn().unwrap().wait4().unwrap();
    Cost {
        elapsed: before.elapsed(),
        worked: used.rusage.utime + used.rusage.stime,
        memory: used.rusage.maxrss,
        written: length_of(folder),
        code: used.status.code().unwrap_or(-1),
    }
}

/// Bytes of all that a run left behind: what is no input.
fn length_of(folder: &Path) -> u64 {
    let made = |entry: std::io::Result<std::fs::DirEntry>| {
        let entry = entry.unwrap();
        let metadata = entry.metadata().unwrap();
        if metadata.is_dir() {
            length_of(&entry.path())
        } else if entry.path().extension().is_some_and(|end| end == "toml") {
            0
        } else {
            metadata.len()
        }
    };
    std::fs::read_dir(folder).unwrap().map(made).sum()
}

/// The best of a few runs, in a folder of its own.
fn cost(job: &Job, work: &Work) -> Cost {
    let mut best: Option<Cost> = None;
    for _ in 0..RUNS {
        let folder = tempfile::tempdir().unwrap();
        write_profiles(folder.path());
        std::fs::write(folder.path().join("job.toml"), &job.text).unwrap();
        let mut inputs = 0;
        if let Some(before) = work.before {
            before(job, folder.path(), &program());
            inputs = length_of(folder.path());
        }
        let mut one = run_once(folder.path(), &work.arguments);
        one.written -= inputs;
        let better = best.is_none_or(|best| one.worked < best.worked);
        best = if better { Some(one) } else { best };
        if one.elapsed > LONG {
            break;
        }
    }
    best.unwrap()
}

/// How a figure grows from one size to the next: the power of the number of cells.
fn exponent(of: [f64; 2], cells: [f64; 2]) -> String {
    let power = (of[1] / of[0]).ln() / (cells[1] / cells[0]).ln();
    format!("{power:.2}")
}

/// One kind of work, from size to size.
fn measure(jobs: &[Job], work: &Work) {
    println!("{}", work.what);
    let mut last: Option<(f64, Cost)> = None;
    for job in jobs {
        let cost = cost(job, work);
        let cells = job.cells as f64;
        let grown = last.map(|(fewer, last)| {
            let power = |of: fn(&Cost) -> f64| exponent([of(&last), of(&cost)], [fewer, cells]);
            [
                power(|cost| cost.worked.as_secs_f64()),
                power(|cost| cost.memory as f64),
                power(|cost| cost.written as f64),
            ]
        });
        let [time, memory, length] = grown.unwrap_or_default();
        let code = match cost.code {
            0 => String::new(),
            code => format!("   exit code {code}"),
        };
        println!(
            "  {:<22}{:>8} {:>9.3} {:>9.3} {time:>6} {:>8.1} {memory:>6} {:>9.3} {length:>6}{code}",
            job.name,
            job.cells,
            cost.elapsed.as_secs_f64(),
            cost.worked.as_secs_f64(),
            cost.memory as f64 / 1e6,
            cost.written as f64 / 1e6,
        );
        last = Some((cells, cost));
    }
}

fn main() {
    let wanted: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let asked = |text: &str| {
        let text = text.to_lowercase();
        wanted
            .iter()
            .all(|word| text.contains(&word.to_lowercase()))
    };
    println!(
        "cells; seconds by the clock and of all processors, power of the cells; most memory in MB, power; MB written, power"
    );
    for (jobs, works) in series() {
        for work in &works {
            let jobs: Vec<Job> = (jobs.iter())
                .filter(|job| asked(&format!("{} {}", job.name, work.what)))
                .cloned()
                .collect();
            if !jobs.is_empty() {
                measure(&jobs, work);
            }
        }
    }
    if asked("start") {
        start::print_start(&program());
    }
}
