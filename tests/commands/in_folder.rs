//! The program run in a folder, where a test needs what it came to as bytes.

use std::path::Path;
use std::process::{Command, Output};

pub(crate) fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lapwright"))
        .args(arguments)
        .current_dir(folder)
        .output()
        .unwrap()
}

/// What it says, in one line.
pub(crate) fn words(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    let both = [output.stdout, output.stderr].concat();
    let text = String::from_utf8(both).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
