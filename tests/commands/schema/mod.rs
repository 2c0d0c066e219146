//! The schemas that the program prints, held against files by a validator of its own kind.

mod bad_files;

use crate::support::check_schemas;
use crate::support::cli::Bench;
use bad_files::BAD;
use lapwright::reading::{read_job, read_machine, read_pattern};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Which schema a file is for.
fn kind_of(path: &Path, text: &str) -> &'static str {
    if path.parent().unwrap().ends_with("patterns") {
        "pattern"
    } else if text.contains("[grid]") {
        "job"
    } else {
        "machine"
    }
}

/// Every file that comes with the program.
fn shipped_files() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["demo", "profiles", "profiles/patterns", "profiles/starters"] {
        let entries = fs::read_dir(root.join(folder)).unwrap();
        let paths = entries.map(|entry| entry.unwrap().path());
        files.extend(paths.filter(|path| path.extension().is_some_and(|end| end == "toml")));
    }
    files
}

/// What the validator says of files, by their names: nothing, or why it refuses them.
fn judged(files: &[Value]) -> BTreeMap<String, Option<String>> {
    let bench = Bench::new();
    let schema = |kind: &str| bench.ok(&["schema", kind]).json();
    let schemas = json!({
        "job": schema("job"), "machine": schema("machine"), "pattern": schema("pattern"),
    });
    let description = json!({ "schemas": schemas, "files": files });
    let told = check_schemas(&description);
    let of_file = |file: &Value| {
        let name = file["name"].as_str().unwrap().to_owned();
        (name, file["why"].as_str().map(str::to_owned))
    };
    told.as_array().unwrap().iter().map(of_file).collect()
}

#[test]
fn all_shipped_files_are_as_their_schemas_say() {
    let file = |path: &PathBuf| {
        let text = fs::read_to_string(path).unwrap();
        json!({ "name": path, "schema": kind_of(path, &text), "toml": text })
    };
    let files: Vec<Value> = shipped_files().iter().map(file).collect();
    assert!(files.len() > 25, "{}", files.len());
    let refused: Vec<_> = judged(&files)
        .into_iter()
        .filter(|(_, why)| why.is_some())
        .collect();
    assert!(refused.is_empty(), "{refused:#?}");
}

/// Each bad file is refused by the program; the schema refuses those of which it can know, and lets
/// pass those alone where one figure has to be weighed against another.
#[test]
fn bad_files_are_refused_as_far_as_a_schema_can() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for (at, bad) in BAD.iter().enumerate() {
        let path = root.join(bad.file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(bad.from), "{}: {}", bad.file, bad.from);
        let kind = kind_of(&path, &text);
        let text = text.replacen(bad.from, bad.to, 1);
        let refused = match kind {
            "job" => read_job("bad", &text).is_err(),
            "pattern" => read_pattern("bad", &text).is_err(),
            _ => read_machine("bad", &text).is_err(),
        };
        assert!(refused, "{}: {} is let pass", bad.file, bad.to);
        files.push(json!({ "name": format!("{at}"), "schema": kind, "toml": text }));
    }
    let judged = judged(&files);
    let mut wrong = Vec::new();
    for (at, bad) in BAD.iter().enumerate() {
        let why = &judged[&at.to_string()];
        if why.is_some() != bad.seen {
            wrong.push(format!("{}: {:?}: {why:?}", bad.file, bad.to));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    let seen = BAD.iter().filter(|bad| bad.seen).count();
    assert_eq!((seen, BAD.len()), (52, 60));
}

#[test]
fn quantities_are_matched_as_they_are_read() {
    let good = [
        "50 mm",
        "50mm",
        "5 cm",
        "2 in",
        "1 3/8 in",
        "1-3/8\"",
        "3/64in",
        "2'",
        "2' 3 1/2\"",
        ".5 in",
        "+3 mm",
        " 42 mm ",
        "0.110 in",
        "2 ft 3 in",
        "1 m",
        "2' 3.5\"",
    ];
    let bad = [
        "",
        "50",
        "50 kg",
        "50 deg",
        "wide",
        "12. mm",
        "12,5 mm",
        "-5 mm",
        "1/0 in",
        "2 1/0 in",
        "1 3/8 mm",
        "5 mm wide",
        "inf mm",
        "NaN mm",
        "1e3 mm",
        "2' 3'",
        "2' 3 mm",
        "3 in 2'",
        "- 5 mm",
    ];
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let lamp = fs::read_to_string(root.join("demo/reading-lamp.toml")).unwrap();
    let mut files = Vec::new();
    for (at, quantity) in good.iter().chain(&bad).enumerate() {
        let quoted = serde_json::to_string(quantity).unwrap();
        let text = lamp.replacen(
            "\n[strip]\n",
            &format!("\n[strip]\nleast_floor = {quoted}\n"),
            1,
        );
        files.push(json!({ "name": at.to_string(), "schema": "job", "toml": text }));
        // Larger floors than the strips' depth are refused by the program for another reason.
        let parsed = lapwright::units::parse(quantity, lapwright::units::Kind::Length);
        assert_eq!(parsed.is_ok(), at < good.len(), "{quantity}");
    }
    let judged = judged(&files);
    for (at, quantity) in good.iter().chain(&bad).enumerate() {
        let why = &judged[&at.to_string()];
        assert_eq!(why.is_none(), at < good.len(), "{quantity}: {why:?}");
    }
}

#[test]
fn help_tells_of_files_and_of_commands() {
    let bench = Bench::new();
    let job = bench.ok(&["help", "job"]).out;
    for told in [
        "[grid]",
        "pitch = \"38 mm\"",
        "[infill]",
        "where `kind` is \"diamond\"",
    ] {
        assert!(job.contains(told), "{told}\n{job}");
    }
    let longest = job.lines().map(|line| line.chars().count()).max();
    assert!(longest <= Some(100), "{longest:?}");
    let sled = bench.ok(&["help", "machine", "sled"]).out;
    assert!(
        sled.contains("[rack]") && !sled.contains("[cutting]"),
        "{sled}"
    );
    let machine = bench.ok(&["help", "machine"]).out;
    assert!(
        machine.contains("Usage:") && machine.contains("[rack]") && machine.contains("[cutting]")
    );
    let pattern = bench.ok(&["help", "pattern"]).out;
    assert!(pattern.contains("Usage:") && pattern.contains("[[piece]]"));
    for command in [
        &["help", "sled"][..],
        &["help", "machine", "new"],
        &["help"],
    ] {
        assert!(bench.ok(command).out.contains("Usage: lapwright"));
    }
    let unknown = bench.run(&["help", "nonsense"]);
    assert_eq!(unknown.code, 2);
    assert!(unknown.err.contains("nonsense") && unknown.out.is_empty());
}

#[test]
fn pages_of_the_manual_are_written_for_all_commands() {
    let bench = Bench::new();
    bench.ok(&["man", "-o", "man1"]);
    let sled = bench.read("man1/lapwright-sled.1");
    assert!(sled.contains(".TH") && sled.contains("overhang"), "{sled}");
    for page in [
        "lapwright.1",
        "lapwright-build.1",
        "lapwright-machine-new.1",
    ] {
        assert!(
            bench.read(&format!("man1/{page}")).contains(".SH"),
            "{page}"
        );
    }
}

#[test]
fn shells_complete_names_that_come_with_the_program() {
    let bench = Bench::new();
    let script = bench.ok(&["completions", "bash"]).out;
    for name in ["paring-guides", "sheet-router", "nested-square"] {
        assert!(script.contains(name), "{name}");
    }
    // Any other text is a path still.
    let ran = bench.run(&["machine", "check", "mine.toml"]);
    assert!(
        ran.code == 2 && ran.err.contains("mine.toml"),
        "{}",
        ran.err
    );
    assert!(
        !bench
            .ok(&["machine", "check", "--help"])
            .out
            .contains("paring-guides")
    );
}
