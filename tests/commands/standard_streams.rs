//! `-`: standard output among outputs, standard input among inputs.

use crate::support::cli::{Bench, JOB, Ran};
use std::io::Write;
use std::process::Stdio;

/// Runs with a text on standard input.
fn fed(bench: &Bench, arguments: &[&str], text: &str) -> Ran {
    let mut command = bench.command(arguments);
    command.stdin(Stdio::piped());
    command.stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    child
        .stdin
        .take()
        .unwrap()
        .write_all(text.as_bytes())
        .unwrap();
    let output = child.wait_with_output().unwrap();
    Ran {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// A job whose strips are cut in one program.
fn one_program() -> String {
    JOB.replace("columns = 4\nrows = 5", "columns = 4\nrows = 4")
}

#[test]
fn a_job_comes_over_standard_input() {
    let bench = Bench::with_job();
    for command in [&["sled"][..], &["show"], &["show", "--format", "json"]] {
        let [named, piped] = ["job.toml", "-"].map(|job| [command, &[job]].concat());
        let piped = fed(&bench, &piped, JOB);
        assert_eq!(piped.code, 0, "{}", piped.err);
        assert_eq!(piped.out, bench.ok(&named).out);
    }
    let wrong = fed(&bench, &["sled", "-"], &JOB.replace("40 mm", "40"));
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("--> standard input:5:"), "{}", wrong.err);
    let none = fed(&bench, &["prove", "-"], "");
    assert_eq!(none.code, 2, "{}", none.err);
}

#[test]
fn a_file_goes_to_standard_output_and_the_answer_steps_aside() {
    let bench = Bench::new();
    bench.write("job.toml", one_program());
    bench.ok(&["outline", "job.toml", "--what", "strips", "-o", "own.dxf"]);
    let job = bench.ok(&[
        "choose",
        "--sled",
        "key-sled",
        "--opening",
        "612mm,388mm",
        "--thickness",
        "3mm",
        "--depth",
        "12mm",
        "--pitch",
        "40mm",
        "-o",
        "-",
    ]);
    let kept = fed(&bench, &["show", "-"], &job.out);
    assert_eq!(kept.code, 0, "{}\n{}", job.out, kept.err);
    assert!(job.err.contains("mm"), "{}", job.err);
    assert!(!bench.path("-").exists());
    let drawing = bench.ok(&["outline", "job.toml", "--what", "strips", "-o", "-"]);
    assert_eq!(drawing.out, bench.read("own.dxf"));
}

#[test]
fn a_program_goes_to_standard_output_and_is_proved_from_standard_input() {
    let bench = Bench::new();
    bench.write("job.toml", one_program());
    let named = bench.run(&["notch", "job.toml", "-o", "a.nc"]);
    assert_eq!(named.code, 0, "{}", named.err);
    let several = bench.path("a-2.nc").exists();
    let piped = bench.run(&["notch", "job.toml", "-o", "-"]);
    if several {
        assert_eq!(piped.code, 2);
        assert!(
            piped.err.contains("do not fit standard output"),
            "{}",
            piped.err
        );
        assert_eq!(piped.out, "");
        return;
    }
    assert_eq!(piped.out, bench.read("a.nc"));
    assert!(piped.err.contains("mm"), "{}", piped.err);
    let proved = fed(&bench, &["prove", "-", "job.toml"], &piped.out);
    assert_eq!(proved.code, 0, "{}{}", proved.out, proved.err);
}

#[test]
fn what_cannot_be_a_name_is_refused_before_anything_is_made() {
    let bench = Bench::with_job();
    bench.write("folder/x", "");
    let before = bench.contents();
    let device = if cfg!(windows) { "folder" } else { "/dev/null" };
    for (arguments, says) in [
        (
            &["notch", "job.toml", "-o", "folder"][..],
            "a folder or a device",
        ),
        (&["notch", "job.toml", "-o", device], "a folder or a device"),
        (&["build", "job.toml", "-o", "-"], "is no folder"),
        (&["sheet", "job.toml", "-o", "folder"], "folder"),
        (&["sheet", "job.toml", "-o", "-"], "ends in"),
        (&["notch", "job.toml", "-o", "a\nb.nc"], "control character"),
        (&["build", "job.toml", "-o", "a\nb"], "control character"),
        (&["pare", "job.toml", "--csv", "a\nb"], "control character"),
        (&["sheet", "-", "-o", "a.html", "--watch"], "--watch"),
    ] {
        let ran = bench.run(arguments);
        assert_eq!(ran.code, 2, "{arguments:?}");
        assert!(ran.err.contains(says), "{arguments:?}: {}", ran.err);
    }
    assert_eq!(bench.contents(), before);
}

#[test]
fn no_message_is_as_long_as_what_it_is_about() {
    let bench = Bench::new();
    let long = "k".repeat(100_000);
    bench.write("key.toml", format!("{JOB}\n{long} = 1\n"));
    let key = bench.run(&["show", "key.toml"]);
    assert!(
        key.err.contains("unknown-key") && key.err.len() < 2000,
        "{}",
        key.err.len()
    );
    let flag = bench.run(&["show", "key.toml", &format!("--{long}")]);
    assert_eq!(flag.code, 2);
    assert!(
        flag.err.contains("argument 3 is longer") && flag.err.len() < 200,
        "{}",
        flag.err
    );
}

#[test]
fn a_file_that_is_none_of_ours_is_not_shown() {
    let bench = Bench::new();
    let secret = "somebody:x:1000:1000:of secrets:/home:/bin/sh\n".repeat(40);
    bench.write("other", &secret);
    bench.write("job.toml", JOB.replace("\"key-sled\"", "\"./other\""));
    for arguments in [
        &["sled", "job.toml"][..],
        &["sled", "job.toml", "--machine", "./other"],
        &["show", "other"],
    ] {
        let ran = bench.run(arguments);
        assert_eq!(ran.code, 2);
        assert!(ran.err.contains("none of the keys"), "{}", ran.err);
        assert!(
            !ran.err.contains("somebody") && ran.err.len() < 1500,
            "{}",
            ran.err
        );
    }
    let named = bench.run(&["sled", "job.toml"]);
    assert!(named.err.contains("sled = \"./other\""), "{}", named.err);
}

#[test]
fn a_mirror_across_nothing_is_told() {
    let bench = Bench::new();
    let shipped = include_str!("../../profiles/patterns/square-hemp-leaf.toml");
    bench.write("p.toml", format!("{shipped}\n[[mirror]]\nacross = []\n"));
    let ran = bench.run(&["pattern", "check", "p.toml"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("a mirror's line is given by two points"),
        "{}",
        ran.err
    );
}
