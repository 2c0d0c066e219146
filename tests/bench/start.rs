//! How many instructions short answers take, beside a program that only greets. Counts do not depend on what else
//! the machine does.

use std::path::Path;
use std::process::{Command, Stdio};

/// Answers that ought to be there at once.
const ANSWERS: [(&str, &str); 6] = [
    ("--version", "--version"),
    (
        "sled, by flags",
        "sled --pitch 46mm --bays 5 --overhang 14mm --thickness 2.6mm --depth 9mm",
    ),
    (
        "sled, by flags, JSON",
        "sled --pitch 46mm --bays 5 --overhang 14mm --thickness 2.6mm --depth 9mm --format json",
    ),
    ("sled --help", "sled --help"),
    ("machine list", "machine list"),
    ("wrong flag", "sled --pich 46mm"),
];

/// What is set beside them.
const GREETING: &str = "fn main() { println!(\"hello\"); }\n";

/// Rows of the answer, printed.
pub(crate) fn print_start(program: &str) {
    let folder = tempfile::tempdir().unwrap();
    let Some(bare) = greeting(folder.path()).and_then(|greeting| instructions(&greeting, &[]))
    else {
        println!(
            "instructions at the start: valgrind or rustc is not installed, nothing is counted"
        );
        return;
    };
    println!("instructions at the start, millions; beside a program that greets");
    println!("  {:<22}{:>8.3}", "a greeting", bare as f64 / 1e6);
    for (name, arguments) in ANSWERS {
        let arguments: Vec<&str> = arguments.split(' ').collect();
        if let Some(count) = instructions(program, &arguments) {
            let times = count as f64 / bare as f64;
            println!("  {name:<22}{:>8.3} {times:>6.1}", count as f64 / 1e6);
        }
    }
}

/// A program that greets; nothing where there is no compiler.
fn greeting(folder: &Path) -> Option<String> {
    let source = folder.join("greeting.rs");
    std::fs::write(&source, GREETING).ok()?;
    let program = folder.join("greeting");
    let mut compiler = Command::new("rustc");
    compiler.args(["-O", "-o"]).arg(&program).arg(&source);
    let made = compiler.status().ok()?.success();
    made.then(|| program.display().to_string())
}

/// Instructions of a whole run, by callgrind's last line; nothing where it is not installed.
fn instructions(program: &str, arguments: &[&str]) -> Option<u64> {
    let mut counter = Command::new("valgrind");
    counter.args(["--tool=callgrind", "--callgrind-out-file=/dev/null"]);
    counter.arg(program).args(arguments).stdout(Stdio::null());
    // The same whatever the terminal is.
    counter.env_remove("COLUMNS");
    let told = counter.output().ok()?.stderr;
    let told = String::from_utf8_lossy(&told).into_owned();
    let line = told.lines().rev().find(|line| line.contains("Collected"))?;
    line.split_whitespace().last()?.parse().ok()
}
