//! What is told of work while it lasts: a line on a terminal, nothing in a pipe, a sentence where it is ended.
//! The work is to wait for a job over standard input: that lasts as long as a test wants it to.

use crate::support::at_terminal;
use crate::support::cli::{Bench, JOB};
use serde_json::{Value, json};
use std::io::Write;
use std::process::Stdio;
use std::thread::sleep;
use std::time::Duration;

/// A run at a terminal that is handed this job, or ended, once the line says two seconds.
fn waited(input: Option<&str>) -> Value {
    at_terminal(&json!({ "arguments": ["show", "-"], "until": "at work, 2 s", "input": input }))
}

#[test]
fn a_terminal_shows_long_work_and_forgets_it() {
    let ran = waited(Some(JOB));
    assert_eq!(ran["status"], 0, "{ran}");
    let bench = Bench::with_job();
    let alone = bench.ok(&["show", "job.toml"]);
    assert_eq!(ran["out"].as_str().unwrap(), alone.out);
    // Said once a second, and gone at the end.
    let terminal = ran["terminal"].as_str().unwrap();
    assert_eq!(terminal.matches("at work, 1 s").count(), 1, "{ran}");
    let shown = ran["shown"].to_string();
    assert!(!shown.contains("at work"), "{ran}");
}

#[test]
fn wrong_input_stands_where_the_line_was() {
    let ran = waited(Some(&JOB.replace("40 mm", "40")));
    assert_eq!(ran["status"], 2, "{ran}");
    let shown = ran["shown"].as_array().unwrap();
    assert!(shown[0].as_str().unwrap().contains("error"), "{ran}");
    assert!(!ran["shown"].to_string().contains("at work"), "{ran}");
}

#[test]
fn ctrl_c_is_answered_by_a_sentence_while_nothing_is_written() {
    let ran = waited(None);
    assert_eq!(ran["status"], 130, "{ran}");
    assert_eq!(ran["out"], "");
    assert_eq!(
        ran["shown"],
        json!(["stopped: nothing was written"]),
        "{ran}"
    );
}

#[test]
fn a_pipe_is_told_nothing_but_that_it_was_ended() {
    let bench = Bench::new();
    for is_ended in [false, true] {
        let mut command = bench.command(&["show", "-"]);
        command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        // Longer than a terminal would wait for the line.
        sleep(Duration::from_millis(1500));
        let mut input = child.stdin.take().unwrap();
        if is_ended {
            let pid = child.id().to_string();
            let sent = std::process::Command::new("kill")
                .args(["-TERM", &pid])
                .status();
            assert!(sent.unwrap().success());
        } else {
            input.write_all(JOB.as_bytes()).unwrap();
        }
        // At the end of its input it would be done.
        let held = is_ended.then_some(input);
        let output = child.wait_with_output().unwrap();
        drop(held);
        let told = String::from_utf8(output.stderr).unwrap();
        let (code, wanted) = if is_ended {
            (130, "stopped: nothing was written\n")
        } else {
            (0, "")
        };
        assert_eq!((output.status.code(), told.as_str()), (Some(code), wanted));
    }
}
