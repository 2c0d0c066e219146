//! `--watch`: files are written again when an input changes, and the good ones stay when an edit is
//! wrong. Nothing here is timed: a test waits for what must come, and gives up after a long while.
#![cfg(unix)]

use crate::support::cli::{Bench, JOB, shipped, with_line};
use std::fs::File;
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::Duration;

/// Looks before a test gives up, a twentieth of a second apart: two minutes.
const LOOKS: usize = 2400;

/// A run that goes on, with what it says in files.
struct Watching<'a> {
    bench: &'a Bench,
    child: Child,
}

impl<'a> Watching<'a> {
    fn start(bench: &'a Bench, args: &[&str]) -> Self {
        let mut command = bench.command(args);
        command.stdout(File::create(bench.path("said.txt")).unwrap());
        command.stderr(File::create(bench.path("told.txt")).unwrap());
        let child = command.spawn().unwrap();
        let watching = Watching { bench, child };
        watching.wait("the first run", |told| told.contains("watching "));
        watching
    }

    fn told(&self) -> String {
        self.bench.read("told.txt")
    }

    /// Waits until what was told on standard error is so.
    fn wait(&self, what: &str, is_so: impl Fn(&str) -> bool) {
        for _ in 0..LOOKS {
            if is_so(&self.told()) {
                return;
            }
            sleep(Duration::from_millis(50));
        }
        panic!("{what} did not come: {}", self.told());
    }

    /// Waits until one more run has ended after an edit of a file.
    fn edited(&self, name: &str, text: &str) {
        let said = |told: &str| told.matches(" changed\n").count();
        let before = said(&self.told());
        self.bench.write(name, text);
        self.wait(&format!("a run after {name}"), |told| said(told) > before);
    }

    /// Waits until a file holds something else than it did.
    fn rewritten(&self, name: &str, old: &[u8]) -> Vec<u8> {
        for _ in 0..LOOKS {
            let now = std::fs::read(self.bench.path(name)).unwrap_or_default();
            if !now.is_empty() && now != old {
                return now;
            }
            sleep(Duration::from_millis(50));
        }
        panic!("{name} was not written again: {}", self.told());
    }

    /// Ctrl-C; what was told until then.
    fn end(mut self) -> String {
        let pid = self.child.id().to_string();
        assert!(
            Command::new("kill")
                .args(["-INT", &pid])
                .status()
                .unwrap()
                .success()
        );
        for _ in 0..LOOKS {
            if let Some(status) = self.child.try_wait().unwrap() {
                assert_eq!(status.code(), Some(0), "{}", self.told());
                return self.told();
            }
            sleep(Duration::from_millis(50));
        }
        panic!("it did not end: {}", self.told());
    }
}

impl Drop for Watching<'_> {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn bytes(bench: &Bench, name: &str) -> Vec<u8> {
    std::fs::read(bench.path(name)).unwrap()
}

#[test]
fn an_edit_is_drawn_again_and_a_wrong_one_is_told() {
    let bench = Bench::new();
    let leaf = lapwright::reading::shipped_pattern("square-hemp-leaf")
        .unwrap()
        .text;
    let brace = lapwright::reading::shipped_pattern("corner-brace")
        .unwrap()
        .text;
    bench.write("mine.toml", leaf);
    let job = format!("{JOB}\n[infill]\npattern = \"mine.toml\"\n");
    bench.write("job.toml", &job);
    let args = [
        "outline", "job.toml", "--what", "panel", "-o", "p.svg", "--watch",
    ];
    let watching = Watching::start(&bench, &args);
    let first = bytes(&bench, "p.svg");
    // The job.
    watching.edited("job.toml", &with_line(&job, "columns", "columns = 3"));
    let second = watching.rewritten("p.svg", &first);
    // A wrong edit.
    let errors = |told: &str| told.matches("nothing was written").count();
    assert_eq!(errors(&watching.told()), 0);
    watching.edited("job.toml", &with_line(&job, "pitch", "pitch = \"two\""));
    watching.wait("the error", |told| errors(told) == 1);
    assert!(watching.told().contains("job.toml:"), "{}", watching.told());
    assert_eq!(bytes(&bench, "p.svg"), second);
    // Mended.
    watching.edited("job.toml", &job);
    assert_eq!(watching.rewritten("p.svg", &second), first);
    // The pattern, wrong and then another one.
    watching.edited("mine.toml", "nothing = 1\n");
    watching.wait("the error", |told| errors(told) == 2);
    assert_eq!(bytes(&bench, "p.svg"), first);
    watching.edited("mine.toml", brace);
    watching.rewritten("p.svg", &first);
    let told = watching.end();
    assert!(!told.contains("panicked"), "{told}");
}

#[test]
fn a_profile_that_changes_or_comes_is_taken_in() {
    let bench = Bench::new();
    let profile = shipped("tube-laser");
    bench.write("job.toml", JOB.replace("\"tube-laser\"", "\"mine.toml\""));
    let args = [
        "outline", "job.toml", "--what", "strips", "-o", "s.dxf", "--watch",
    ];
    // The profile is not there yet.
    let watching = Watching::start(&bench, &args);
    assert!(watching.told().contains("nothing was written") && !bench.path("s.dxf").exists());
    watching.edited("mine.toml", &profile);
    let first = watching.rewritten("s.dxf", b"");
    let kerf = profile
        .lines()
        .find(|line| line.starts_with("kerf"))
        .unwrap();
    watching.edited("mine.toml", &profile.replace(kerf, "kerf = \"0.31 mm\""));
    watching.rewritten("s.dxf", &first);
    watching.end();
}

#[test]
fn a_panel_is_shown_again() {
    let bench = Bench::with_job();
    let watching = Watching::start(&bench, &["show", "job.toml", "--watch"]);
    assert_eq!(bench.read("said.txt").matches("finished  ").count(), 1);
    watching.edited("job.toml", &with_line(JOB, "columns", "columns = 3"));
    for _ in 0..LOOKS {
        if bench.read("said.txt").contains("finished  123.00 mm wide") {
            break;
        }
        sleep(Duration::from_millis(50));
    }
    assert!(bench.read("said.txt").contains("finished  123.00 mm wide"));
    // The same text saved again is no edit.
    let runs = bench.read("said.txt").matches("finished  ").count();
    bench.write("job.toml", with_line(JOB, "columns", "columns = 3"));
    watching.edited("job.toml", JOB);
    watching.end();
    let after = bench.read("said.txt").matches("finished  ").count();
    assert!(after <= runs + 1, "{after} runs after {runs}");
}

#[test]
fn a_folder_and_a_sheet_are_made_again() {
    let bench = Bench::new();
    let job = JOB.replace("laser = \"tube-laser\"\nrouter = \"small-router\"\n", "");
    bench.write("job.toml", &job);
    let args = ["build", "job.toml", "-o", "parts", "--watch"];
    let watching = Watching::start(&bench, &args);
    let first = bytes(&bench, "parts/set-up.html");
    assert!(String::from_utf8_lossy(&first).contains("frame-src"));
    watching.edited("job.toml", &with_line(&job, "rows", "rows = 4"));
    watching.rewritten("parts/set-up.html", &first);
    watching.end();
    // Once and for all it does not look for another one.
    bench.ok(&["sheet", "job.toml", "-o", "still.html"]);
    assert!(!bench.read("still.html").contains("frame-src"));
    let args = ["sheet", "job.toml", "-o", "sheet.html", "--watch"];
    let watching = Watching::start(&bench, &args);
    let first = bytes(&bench, "sheet.html");
    watching.edited("job.toml", &with_line(&job, "rows", "rows = 3"));
    watching.rewritten("sheet.html", &first);
    watching.end();
}
