//! Names that were given up stay away; every package is used under a licence that is kept.

use crate::sources::root;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;
use std::process::Command;

/// Names that this project gave up for its own, in parts, so that this file does not hold them.
const GIVEN_UP: &[&[&str]] = &[
    &["CUT", "_INNER"],
    &["CUT", "_OUTER"],
    &["Cut", "Inner"],
    &["Cut", "Outer"],
    &["\"MA", "RK\""],
    &["`MA", "RK`"],
    &["\\nMA", "RK\\n"],
    &["layer MA", "RK"],
    &["\"TA", "B\""],
    &["`TA", "B`"],
    &["[ta", "bs]"],
    &["\"tab", "-"],
    &["mark_", "width"],
    &["\"one", "-way\""],
    &["\"both", "-ways\""],
    &["step_", "down"],
    &["safe_", "z"],
    &["plunge_", "mm_per_min"],
    &["name = \"", "key\""],
    &["jig = { ", "key"],
    &["key ", "piece"],
];

/// Every file that git has or would take, read as text where it is text.
fn texts() -> Vec<(String, String)> {
    let output = Command::new("git")
        .current_dir(root())
        .args(["-c", "safe.directory=*", "ls-files"])
        .args(["--cached", "--others", "--exclude-standard"])
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let names = String::from_utf8(output.stdout).unwrap();
    let text = |name: &str| Some((name.to_owned(), fs::read_to_string(root().join(name)).ok()?));
    names.lines().filter_map(text).collect()
}

#[test]
fn names_that_were_given_up_stay_away() {
    let texts = texts();
    assert!(texts.len() > 300, "{}", texts.len());
    let mut found = BTreeSet::new();
    for parts in GIVEN_UP {
        let name = parts.concat();
        for (file, text) in &texts {
            if text.contains(&name) {
                found.insert(format!("{file}: {name}"));
            }
        }
    }
    assert_eq!(found, BTreeSet::new());
}

/// Whether a licence expression lets a package be used under the MIT licence or the Apache
/// License 2.0; else the licence that it asks for beside them. Expressions of crates are flat:
/// alternatives, or one part `AND` another (SPDX 2.3, annex D; `/` is an older OR).
fn own_terms(expression: &str) -> Option<String> {
    let free = |part: &str| {
        part.split(" OR ")
            .flat_map(|choice| choice.split('/'))
            .map(|choice| choice.trim_matches(['(', ')', ' ']))
            .any(|choice| ["MIT", "Apache-2.0", "0BSD"].contains(&choice))
    };
    expression
        .split(" AND ")
        .find(|part| !free(part))
        .map(|part| part.trim_matches(['(', ')', ' ']).to_owned())
}

#[test]
fn expressions_are_read_right() {
    for free in [
        "MIT",
        "MIT OR Apache-2.0",
        "Zlib OR Apache-2.0 OR MIT",
        "MIT/Apache-2.0",
    ] {
        assert_eq!(own_terms(free), None, "{free}");
    }
    assert_eq!(own_terms("Zlib").as_deref(), Some("Zlib"));
    let both = "(Apache-2.0 OR MIT) AND BSD-3-Clause";
    assert_eq!(own_terms(both).as_deref(), Some("BSD-3-Clause"));
}

fn list(value: &Value) -> Vec<Value> {
    value.as_array().unwrap().clone()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// The packages that a built program contains, by their name: licence and folder.
fn packages() -> BTreeMap<String, (String, PathBuf)> {
    let output = Command::new(env!("CARGO"))
        .current_dir(root())
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let told: Value = serde_json::from_slice(&output.stdout).unwrap();
    let nodes: BTreeMap<String, Value> = list(&told["resolve"]["nodes"])
        .into_iter()
        .map(|node| (text(&node["id"]), node))
        .collect();
    let (mut seen, mut next) = (BTreeSet::new(), vec![text(&told["resolve"]["root"])]);
    while let Some(id) = next.pop() {
        if !seen.insert(id.clone()) {
            continue;
        }
        for dependency in list(&nodes[&id]["deps"]) {
            // Neither for tests nor for building alone.
            let kinds = list(&dependency["dep_kinds"]);
            if kinds.iter().any(|kind| kind["kind"].is_null()) {
                next.push(text(&dependency["pkg"]));
            }
        }
    }
    let all = list(&told["packages"]);
    let used = all
        .iter()
        .filter(|package| seen.contains(&text(&package["id"])));
    used.map(|package| {
        let manifest = PathBuf::from(text(&package["manifest_path"]));
        let folder = manifest.parent().unwrap().to_owned();
        (text(&package["name"]), (text(&package["license"]), folder))
    })
    .collect()
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Both licences stand in full, and so do the terms of every package that cannot be had under one
/// of them, word for word as that package brings them.
#[test]
fn terms_of_all_packages_are_kept() {
    let licence = squeezed(&fs::read_to_string(root().join("LICENSE")).unwrap());
    for part in [
        "MIT License Copyright",
        "Apache License Version 2.0",
        "END OF TERMS AND CONDITIONS",
    ] {
        assert!(licence.contains(part), "{part}");
    }
    let packages = packages();
    assert!(packages.len() > 80, "{}", packages.len());
    let mut of_their_own = Vec::new();
    for (name, (expression, folder)) in &packages {
        let Some(terms) = own_terms(expression) else {
            continue;
        };
        assert!(
            licence.contains(&format!("{name}: {terms}")),
            "{name}: {terms}"
        );
        let files = fs::read_dir(folder).unwrap();
        let held = files.map(|entry| entry.unwrap().path()).any(|file| {
            let title = file.file_name().unwrap().to_string_lossy().to_uppercase();
            title.starts_with("LICENSE")
                && !title.contains("MIT")
                && !title.contains("APACHE")
                && licence.contains(&squeezed(&fs::read_to_string(file).unwrap()))
        });
        assert!(held, "{name}: its terms are not in LICENSE word for word");
        of_their_own.push(name.as_str());
    }
    assert!(of_their_own.contains(&"foldhash"), "{of_their_own:?}");
}
