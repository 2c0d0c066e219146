//! No file of a room uses one that uses it in turn, by however many between.
//!
//! A file uses another where it takes a name from it that stands there: a name that a folder's
//! `mod.rs` only hands on is taken from the file that defines it, and handing on is no use.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use crate::paths::{Arrows, Modules};
use crate::sources::{root, rust_files};

/// All that files of `src` use of each other. `main.rs` is a crate of its own.
fn arrows_of_the_project() -> Arrows {
    let folder = root().join("src");
    let read = |file: &std::path::PathBuf| {
        let name = file.strip_prefix(&folder).unwrap().to_str().unwrap();
        (name.to_owned(), fs::read_to_string(file).unwrap())
    };
    let files: Vec<(String, String)> = rust_files(&folder).iter().map(read).collect();
    let sources = files.iter().filter(|(name, _)| name != "main.rs");
    Modules::of(sources.map(|(name, source)| (name.as_str(), source.as_str()))).arrows()
}

/// The files that a file leads to, itself only where it lies on a loop.
fn reached(arrows: &Arrows, from: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut open = vec![from.to_owned()];
    while let Some(file) = open.pop() {
        for next in arrows.get(&file).into_iter().flat_map(BTreeMap::keys) {
            if found.insert(next.clone()) {
                open.push(next.clone());
            }
        }
    }
    found
}

/// Groups of files each of which leads to all others of its group.
fn loops(arrows: &Arrows) -> BTreeSet<Vec<String>> {
    let ends_of: BTreeMap<&str, BTreeSet<String>> = arrows
        .keys()
        .map(|file| (file.as_str(), reached(arrows, file)))
        .collect();
    let on_loop = ends_of.iter().filter(|(file, ends)| ends.contains(**file));
    on_loop
        .map(|(file, ends)| {
            let returns = |end: &&String| ends_of[end.as_str()].contains(*file);
            let leads = |end: &&String| ends_of.contains_key(end.as_str());
            ends.iter().filter(leads).filter(returns).cloned().collect()
        })
        .collect()
}

/// What ties a loop, a line for each file and one that it uses.
fn ties(arrows: &Arrows, files: &[String]) -> String {
    let mut text = String::new();
    for from in files {
        for (to, names) in arrows[from].iter().filter(|(to, _)| files.contains(to)) {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            text += &format!("  {from} -> {to}: {}\n", names.join(", "));
        }
    }
    text
}

#[test]
fn no_files_go_round_in_a_loop() {
    let arrows = arrows_of_the_project();
    assert!(arrows.len() > 100, "{}", arrows.len());
    let found = loops(&arrows);
    let found: Vec<String> = (found.iter())
        .map(|files| format!("{files:?}\n{}", ties(&arrows, files)))
        .collect();
    assert!(found.is_empty(), "loops of files:\n{}", found.join("\n"));
}

/// `a -> b: Name`, for each file that uses another.
fn told(sources: &[(&str, &str)]) -> Vec<String> {
    let arrows = Modules::of(sources.iter().copied()).arrows();
    let mut lines = Vec::new();
    for (from, uses) in &arrows {
        for (to, names) in uses {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            lines.push(format!("{from} -> {to}: {}", names.join(" ")));
        }
    }
    lines
}

/// A room of three files: the source given, a folder's file that hands on, and one that defines.
fn told_of(source: &str) -> Vec<String> {
    let folder = "mod frame; mod lines; mod own; pub use frame::{Rail, rails as all_rails};
        pub use lines::Line; #[cfg(test)] mod tests; fn own() {} macro_rules! phrase { () => {} }";
    told(&[
        ("lib.rs", "pub mod lattice;"),
        ("lattice/mod.rs", folder),
        (
            "lattice/frame.rs",
            "pub struct Rail; pub fn rails() {} pub mod holes { pub fn drill() {} }",
        ),
        ("lattice/lines.rs", source),
        ("lattice/own.rs", "pub fn own() {}"),
        (
            "lattice/tests.rs",
            "use super::Rail; use crate::lattice::own;",
        ),
    ])
}

#[test]
fn paths_lead_to_the_file_that_defines() {
    for (source, names) in [
        ("use super::frame::Rail;", "Rail"),
        ("use super::{frame::Rail};", "Rail"),
        ("use super::Rail;", "Rail"),
        ("pub(super) use super::Rail; fn f(_: Rail) {}", "Rail"),
        ("use super::all_rails as bars;", "rails"),
        ("use crate::lattice::Rail as Bar;", "Rail"),
        ("use crate::{lattice::{frame::{self, Rail}}};", "Rail frame"),
        ("fn f() { let a = super::Rail::count(); a }", "Rail"),
        (
            "fn f() { println!(\"{}\", crate::lattice::frame::Rail); }",
            "Rail",
        ),
        ("struct Own(Vec<super::frame::Rail>);", "Rail"),
        ("use super::*; fn f() -> Rail { Rail }", "Rail"),
        ("use super::frame::*; fn f(_: &Rail) {}", "Rail"),
        ("use super::frame; fn f(_: frame::Rail) {}", "Rail frame"),
        (
            "use super::frame::holes; fn f() { holes::drill() }",
            "drill holes",
        ),
        ("use crate::lattice; fn f(_: lattice::Rail) {}", "Rail"),
        ("mod inner { use super::super::Rail; }", "Rail"),
        (
            "mod inner { fn f() -> super::super::frame::Rail {} }",
            "Rail",
        ),
        ("fn f() { use super::Rail; }", "Rail"),
        (
            "#[cfg(test)] mod tests { fn f() {} } use super::Rail;",
            "Rail",
        ),
    ] {
        let wanted = format!("lattice/lines.rs -> lattice/frame.rs: {names}");
        assert_eq!(told_of(source), [wanted], "{source}");
    }
}

#[test]
fn what_a_folder_defines_itself_is_used_from_there() {
    let file = |source| told_of(source).concat();
    let folder = "lattice/lines.rs -> lattice/mod.rs: ";
    assert_eq!(file("fn f() { super::own() }"), format!("{folder}own"));
    assert_eq!(
        file("use crate::lattice::phrase;"),
        format!("{folder}phrase")
    );
    // What goes on behind it is in the module of that name.
    let module = "lattice/lines.rs -> lattice/own.rs: own";
    assert_eq!(file("fn f() { super::own::own() }"), module);
}

#[test]
fn what_is_no_use_makes_no_arrow() {
    for source in [
        "pub struct Line; impl Line { pub(in crate::lattice) fn f(&self) { Self::g() } }",
        "pub(super) use super::Rail;",
        "mod rails; pub(super) use super::Rail as rails;",
        "use std::fmt; use serde_json::Value; fn f() { lattice::Rail; fmt::own(); }",
        "use crate::lattice; use super::super::lattice as room;",
        "//! As crate::lattice::Rail.\n/// [`super::Rail`]\nfn f() { \"super::Rail\" }",
        "#[cfg(test)] mod tests { use crate::lattice::Rail; }",
        "fn f() { #[cfg(test)] { super::own() } }",
        "use super::*; fn f(_: Plank) {}",
        "use super::Line; use super::lines::Line as Twin;",
        "use super::nonsense::Rail; use super::super::super::Rail;",
    ] {
        assert_eq!(told_of(source), [""; 0], "{source}");
    }
}

#[test]
fn loops_are_found_however_long() {
    let next = |files: &[(&str, &str)]| {
        let named = files.iter().map(|(from, to)| {
            (
                format!("room/{from}.rs"),
                format!("use super::{to}::F; pub fn F() {{}}"),
            )
        });
        let files: Vec<(String, String)> = named.collect();
        let sources = files
            .iter()
            .map(|(file, source)| (file.as_str(), source.as_str()));
        let arrows = Modules::of([("room/mod.rs", "")].into_iter().chain(sources)).arrows();
        (loops(&arrows), arrows)
    };
    let ways = [
        ("a", "b"),
        ("b", "c"),
        ("c", "a"),
        ("d", "a"),
        ("e", "f"),
        ("f", "e"),
        ("g", "h"),
        ("h", "none"),
    ];
    let (found, arrows) = next(&ways);
    let file = |names: &str| {
        names
            .chars()
            .map(|name| format!("room/{name}.rs"))
            .collect::<Vec<_>>()
    };
    assert_eq!(found, BTreeSet::from([file("abc"), file("ef")]));
    let told = ties(&arrows, &file("ef"));
    assert_eq!(
        told,
        "  room/e.rs -> room/f.rs: F\n  room/f.rs -> room/e.rs: F\n"
    );
    assert!(next(&ways[3..4]).0.is_empty());
    // A folder that uses its child, which takes something from it.
    let folder = |child| {
        let own = "mod part; use part::Part; pub fn counted(_: Part) {}";
        loops(&Modules::of([("room/mod.rs", own), ("room/part.rs", child)]).arrows()).len()
    };
    assert_eq!(folder("use super::counted; pub struct Part;"), 1);
    assert_eq!(folder("pub struct Part;"), 0);
}
