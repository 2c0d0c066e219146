//! The system fails a run: no room, no right, no memory, readers that go away, files that change, others at work
//! in the same folder. No panic, nothing half written, nothing left behind, a plain sentence.

use crate::support::cli::{Bench, JOB};
use std::collections::BTreeMap;
use std::fs;
use std::process::{Child, Command, Output, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{scope, sleep};
use std::time::{Duration, Instant, SystemTime};

/// Long enough for any of these runs on a busy machine.
const ENDLESS: Duration = Duration::from_secs(60);

/// A job that is made quickly: without a router, whose programs take longest to prove.
fn quick() -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", quick_job());
    bench
}

fn quick_job() -> String {
    JOB.lines()
        .filter(|line| !line.starts_with("router"))
        .map(|line| format!("{line}\n"))
        .collect()
}

/// What is told and how it ends; never a hang, a panic or an end by a signal.
fn ended(mut child: Child) -> (i32, String) {
    let begun = Instant::now();
    while child.try_wait().unwrap().is_none() {
        if begun.elapsed() > ENDLESS {
            child.kill().unwrap();
            panic!("it hangs");
        }
        sleep(Duration::from_millis(5));
    }
    let Output { status, stderr, .. } = child.wait_with_output().unwrap();
    let told = String::from_utf8_lossy(&stderr).into_owned();
    assert!(!told.contains("panicked"), "{told}");
    (
        status.code().unwrap_or_else(|| panic!("{status}: {told}")),
        told,
    )
}

fn spawned(command: &mut Command) -> Child {
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped());
    command.spawn().unwrap()
}

/// The program under a shell that sets limits first.
fn limited(bench: &Bench, limits: &str, arguments: &str) -> (i32, String) {
    let program = env!("CARGO_BIN_EXE_lapwright");
    let script = format!("{limits}; exec '{program}' {arguments}");
    ended(spawned(
        Command::new("/bin/sh")
            .args(["-c", &script])
            .current_dir(bench.path("")),
    ))
}

#[test]
fn a_full_disk_leaves_nothing() {
    let bench = quick();
    let before = bench.contents();
    // Blocks of 512 bytes: the first file, one of those in the middle, one of the last is too large.
    for blocks in [1, 40, 300] {
        let full = format!("trap '' XFSZ; ulimit -f {blocks}");
        let (code, told) = limited(&bench, &full, "build job.toml -o new/out");
        assert_eq!(code, 2, "{told}");
        assert!(
            told.contains("error: new/out/") && told.contains("File too large"),
            "{told}"
        );
        assert_eq!(bench.contents(), before, "{blocks}");
    }
    // The old files stay where new ones do not fit.
    bench.ok(&["build", "job.toml", "-o", "out"]);
    let built = bench.contents();
    bench.write("job.toml", quick_job().replace("40 mm", "41 mm"));
    let (code, _) = limited(
        &bench,
        "trap '' XFSZ; ulimit -f 40",
        "build job.toml -o out",
    );
    assert_eq!(code, 2);
    bench.write("job.toml", quick_job());
    assert_eq!(bench.contents(), built);
}

#[test]
fn an_answer_that_finds_no_room_is_told() {
    let bench = quick();
    for arguments in [
        "sled job.toml > /dev/full",
        "outline job.toml --what strips -o - > /dev/full",
    ] {
        let (code, told) = limited(&bench, ":", arguments);
        assert_eq!(code, 1, "{told}");
        assert!(
            told.contains("error: the answer could not be shown"),
            "{told}"
        );
    }
}

#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let bench = quick();
    for arguments in [
        &["sled", "job.toml"][..],
        &["show", "job.toml", "--format", "json"],
        &["outline", "job.toml", "--what", "strips", "-o", "-"],
        &["help", "job"],
        &["schema", "job"],
        &["completions", "bash"],
        &["pattern", "list"],
        &["build", "job.toml", "-o", "out", "--format", "json"],
        &["--help"],
    ] {
        let mut child = bench
            .command(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let (code, told) = ended(child);
        assert_eq!(code, 0, "{arguments:?}: {told}");
        // Nobody hears what is wrong either.
        let mut child = bench
            .command(&["sled", "none.toml"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop((child.stdout.take(), child.stderr.take()));
        assert_eq!(ended(child).0, 2);
    }
    assert!(bench.path("out/manifest.json").is_file());
    // Not even open when the run begins.
    let (code, _) = limited(&bench, "exec <&- >&- 2>&-", "sled job.toml");
    assert!(code <= 1, "{code}");
}

/// Without the right to write wherever it likes, which an administrator has.
fn without_rights(command: &mut Command) -> Command {
    let mut limited = Command::new("setpriv");
    limited
        .arg("--bounding-set=-dac_override")
        .arg(command.get_program())
        .args(command.get_args());
    limited.current_dir(command.get_current_dir().unwrap());
    limited
}

#[test]
#[cfg(target_os = "linux")]
fn folders_that_may_not_be_written() {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    let bench = quick();
    fs::create_dir(bench.path("kept")).unwrap();
    fs::set_permissions(bench.path("kept"), fs::Permissions::from_mode(0o555)).unwrap();
    let is_administrator = fs::metadata("/proc/self").unwrap().uid() == 0;
    let before = bench.contents();
    for (folder, says) in [
        ("kept", "error: kept/strips"),
        ("kept/new", "error: kept/new"),
        ("/proc/new", "error: /proc/new"),
        ("job.toml/new", "error: job.toml/new"),
    ] {
        let mut command = bench.command(&["build", "job.toml", "-o", folder]);
        if is_administrator {
            command = without_rights(&mut command);
        }
        let (code, told) = ended(spawned(&mut command));
        assert_eq!(code, 2, "{told}");
        assert!(told.contains(says) && !told.contains(".part"), "{told}");
        assert_eq!(bench.contents(), before, "{told}");
    }
    fs::set_permissions(bench.path("kept"), fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn a_folder_that_goes_away_meanwhile() {
    let bench = quick();
    let ends = AtomicBool::new(false);
    scope(|scope| {
        scope.spawn(|| {
            while !ends.load(Ordering::Relaxed) {
                let _ = fs::remove_dir_all(bench.path("out"));
                sleep(Duration::from_micros(700));
            }
        });
        for _ in 0..6 {
            let (code, told) = ended(spawned(
                &mut bench.command(&["build", "job.toml", "-o", "out"]),
            ));
            assert!(
                code == 0 || (code == 2 && told.contains("error: out")),
                "{code} {told}"
            );
        }
        ends.store(true, Ordering::Relaxed);
    });
    let _ = fs::remove_dir_all(bench.path("out"));
    assert_eq!(bench.contents().len(), 1);
}

#[test]
fn what_is_no_file_is_not_waited_for() {
    let bench = quick();
    let pipe = bench.path("pipe");
    assert!(
        Command::new("mkfifo")
            .arg(&pipe)
            .status()
            .unwrap()
            .success()
    );
    bench.write(
        "piped.toml",
        quick_job().replace("\"key-sled\"", "\"./pipe\""),
    );
    bench.write(
        "endless.toml",
        quick_job().replace("\"key-sled\"", "\"/dev/zero\""),
    );
    for arguments in [
        ["sled", "pipe"],
        ["show", "/dev/zero"],
        ["prove", "pipe"],
        ["sled", "piped.toml"],
        ["show", "piped.toml"],
        ["sled", "endless.toml"],
        ["build", "piped.toml"],
    ] {
        let mut command = bench.command(&arguments);
        if arguments[0] == "build" {
            command.args(["-o", "out"]);
        }
        let (code, told) = ended(spawned(&mut command));
        assert_eq!(code, 2, "{arguments:?}: {told}");
        assert!(
            told.contains("pipe") || told.contains("/dev/zero"),
            "{told}"
        );
    }
}

#[test]
fn a_job_that_changes_while_it_is_read_is_one_or_the_other_or_refused() {
    let bench = quick();
    let texts = [quick_job(), quick_job().replace("40 mm", "47.5 mm")];
    let answers = texts.clone().map(|text| {
        bench.write("job.toml", &text);
        bench.ok(&["sled", "job.toml"]).out
    });
    let ends = AtomicBool::new(false);
    scope(|scope| {
        scope.spawn(|| {
            // In place, a piece at a time, as no good editor saves.
            for at in 0.. {
                if ends.load(Ordering::Relaxed) {
                    break;
                }
                let text = &texts[at % 2];
                let half = text.len() / 2;
                fs::write(bench.path("job.toml"), &text[..half]).unwrap();
                bench.write("job.toml", text);
            }
        });
        for _ in 0..20 {
            let ran = bench.run(&["sled", "job.toml"]);
            assert!(!ran.err.contains("panicked"), "{}", ran.err);
            let whole = ran.code == 0 && answers.contains(&ran.out);
            assert!(
                whole || (ran.code == 2 && ran.out.is_empty() && ran.err.contains("error")),
                "{} {}",
                ran.code,
                ran.err
            );
        }
        ends.store(true, Ordering::Relaxed);
    });
}

#[test]
fn of_runs_into_one_folder_the_last_ones_files_lie_there() {
    let bench = quick();
    let other = quick_job().replace("40 mm", "47.5 mm");
    bench.write("other.toml", other);
    let files = |folder: &str| -> BTreeMap<_, _> {
        let all = bench.contents().into_iter();
        let inside = all.filter_map(|(path, content)| {
            Some((
                path.strip_prefix(bench.path(folder)).ok()?.to_owned(),
                content?,
            ))
        });
        inside.collect()
    };
    let jobs = ["job.toml", "other.toml"];
    let alone = jobs.map(|job| {
        bench.ok(&["build", job, "-o", job.trim_end_matches(".toml")]);
        files(job.trim_end_matches(".toml"))
    });
    assert!(alone[0] != alone[1]);
    for _ in 0..3 {
        let children = jobs.map(|job| spawned(&mut bench.command(&["build", job, "-o", "both"])));
        for child in children {
            let (code, told) = ended(child);
            assert_eq!(code, 0, "{told}");
        }
        let both = files("both");
        assert!(alone.contains(&both), "{:?}", both.keys());
    }
}

#[test]
fn little_memory_and_few_files() {
    let bench = quick();
    bench.ok(&["build", "job.toml", "-o", "out"]);
    let whole = bench.contents().len();
    fs::remove_dir_all(bench.path("out")).unwrap();
    let program = env!("CARGO_BIN_EXE_lapwright");
    for limits in [
        "ulimit -v 45000",
        "ulimit -v 70000",
        "ulimit -v 100000",
        "ulimit -n 3",
        "ulimit -n 4",
        "ulimit -n 5",
    ] {
        // Memory that is not there ends a program of this language at once: what it then leaves is the next
        // run's to clear.
        let script = format!("{limits}; exec '{program}' build job.toml -o out");
        let output = Command::new("/bin/sh")
            .args(["-c", &script])
            .current_dir(bench.path(""))
            .env("RUST_BACKTRACE", "0")
            .output()
            .unwrap();
        let told = String::from_utf8_lossy(&output.stderr);
        assert!(!told.contains("panicked"), "{limits}: {told}");
        let named = bench
            .contents()
            .into_keys()
            .filter(|path| path.extension().is_none_or(|ending| ending != "part"));
        let named = named.count();
        match output.status.code() {
            Some(0) => assert_eq!(named, whole, "{limits}"),
            _ => assert!(named <= 2, "{limits}: {named} {told}"),
        }
        bench.ok(&["build", "job.toml", "-o", "out"]);
        assert_eq!(bench.contents().len(), whole, "{limits}");
        fs::remove_dir_all(bench.path("out")).unwrap();
    }
}

#[test]
fn a_clock_that_was_set_back_changes_nothing() {
    let bench = quick();
    bench.ok(&["build", "job.toml", "-o", "out"]);
    let built = bench.contents();
    let later = SystemTime::now() + Duration::from_secs(40 * 365 * 86400);
    for path in built.keys().filter(|path| path.is_file()) {
        fs::File::options()
            .append(true)
            .open(path)
            .unwrap()
            .set_modified(later)
            .unwrap();
    }
    bench.ok(&["build", "job.toml", "-o", "out"]);
    assert_eq!(bench.contents(), built);
    let when = fs::metadata(bench.path("out/manifest.json"))
        .unwrap()
        .modified()
        .unwrap();
    assert!(when < later, "the files were not written anew");
}
