//! Runs that are ended from outside leave nothing behind, and the next one clears what a killed one left.

use crate::support::cli::{Bench, JOB};
use std::path::Path;
use std::process::{Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Names that only runs under way have.
fn parts(bench: &Bench) -> Vec<String> {
    let names = bench.contents().into_keys();
    let names = names.filter_map(|path| Some(path.file_name()?.to_str()?.to_owned()));
    names.filter(|name| name.ends_with(".part")).collect()
}

/// A job that is quickly made.
fn sled_alone() -> Bench {
    let bench = Bench::new();
    let keeps = |line: &&str| !line.starts_with("laser") && !line.starts_with("router");
    let lines: Vec<&str> = JOB.lines().filter(keeps).collect();
    bench.write("job.toml", lines.join("\n"));
    bench
}

fn build(bench: &Bench) -> Command {
    let mut command = bench.command(&["build", "job.toml", "-o", "out"]);
    command.stdout(Stdio::null()).stderr(Stdio::piped());
    command
}

#[test]
fn a_signal_leaves_all_files_or_none() {
    let bench = sled_alone();
    let begun = Instant::now();
    assert!(build(&bench).output().unwrap().status.success());
    let whole = begun.elapsed();
    let all = bench.contents().len();
    let runs = 12;
    let mut stopped = 0;
    for run in 0..runs {
        std::fs::remove_dir_all(bench.path("out")).unwrap_or_default();
        let child = build(&bench).spawn().unwrap();
        sleep(whole * run / runs);
        let signal = ["-INT", "-TERM", "-HUP"][run as usize % 3];
        let pid = child.id().to_string();
        let _ = Command::new("kill").args([signal, &pid]).status();
        let output = child.wait_with_output().unwrap();
        let told = String::from_utf8(output.stderr).unwrap();
        stopped += usize::from(told.contains("stopped: nothing was written"));
        assert_eq!(parts(&bench), Vec::<String>::new(), "{run} {told}");
        let left = bench.contents().len();
        assert!(
            left == all || left == 1 || left == 2,
            "{left} of {all}: {told}"
        );
        if output.status.code() == Some(130) {
            assert_eq!(left, 1, "{told}");
        }
    }
    // How often depends on the machine: where a run is slow to plan, few signals meet it writing.
    assert!(stopped <= runs as usize);
}

#[test]
fn the_next_run_clears_what_a_killed_one_left() {
    let bench = sled_alone();
    let child = build(&bench).spawn().unwrap();
    let pid = child.id();
    // Caught with a temporary file in the folder, or done: then a made-up one stands for it.
    let begun = Instant::now();
    let mut child = child;
    while parts(&bench).is_empty() && begun.elapsed() < Duration::from_secs(60) {
        if child.try_wait().unwrap().is_some() {
            break;
        }
    }
    let name = parts(&bench).pop();
    child.kill().unwrap_or_default();
    child.wait().unwrap();
    let Some(name) = name else {
        return;
    };
    let machine = name.split('-').nth(1).unwrap().to_owned();
    assert!(name.contains(&format!("-{pid}-")), "{name}");
    // Of the killed run, of this one, which lives, and of one elsewhere.
    let dead = format!("out/.lapwright-{machine}-{pid}-Made1.part");
    let alive = format!("out/.lapwright-{machine}-{}-Made2.part", std::process::id());
    let elsewhere = format!("out/.lapwright-else{machine}-{pid}-Made3.part");
    for path in [&dead, &alive, &elsewhere] {
        bench.write(path, "x");
    }
    assert!(build(&bench).output().unwrap().status.success());
    assert!(!bench.path(&dead).exists() && !bench.path(&format!("out/{name}")).exists());
    assert!(bench.path(&alive).exists() && bench.path(&elsewhere).exists());
}

#[test]
fn a_job_of_many_files_needs_few_open() {
    if !Path::new("/bin/sh").exists() {
        return;
    }
    let bench = Bench::with_job();
    let program = env!("CARGO_BIN_EXE_lapwright");
    let ran = Command::new("/bin/sh")
        .args([
            "-c",
            &format!("ulimit -n 16; exec '{program}' build job.toml -o out"),
        ])
        .current_dir(bench.path(""))
        .output()
        .unwrap();
    assert!(
        ran.status.success(),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    assert!(bench.contents().len() > 16, "{}", bench.contents().len());
}
