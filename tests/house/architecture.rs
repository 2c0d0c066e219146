//! The shape of the project: which module may use which, what lies at the top of the repository,
//! how long a source file may be.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::sources::{is_cfg_test, item_length, root, rust_files};
use proc_macro2::{TokenStream, TokenTree};

/// Each module of `src` and the modules that it may use, lowest first. Tests inside a module are
/// free.
const MAY_USE: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("geometry", &[]),
    ("phrase", &["units"]),
    ("stick_cutting", &["units", "phrase"]),
    ("inputs", &[]),
    ("threads", &[]),
    ("woods", &[]),
    ("dialects", &["units"]),
    ("machines", &["units", "phrase", "geometry", "dialects"]),
    ("finding", &["units", "phrase", "machines"]),
    ("measuring", &["units", "phrase", "finding", "machines"]),
    ("lattice", &["units", "phrase", "finding", "geometry"]),
    (
        "opening",
        &["units", "phrase", "finding", "geometry", "lattice"],
    ),
    (
        "infill",
        &["units", "phrase", "finding", "geometry", "lattice"],
    ),
    (
        "instructions",
        &[
            "woods", "units", "phrase", "finding", "geometry", "lattice", "opening", "infill",
        ],
    ),
    (
        "planning",
        &[
            "woods",
            "units",
            "phrase",
            "finding",
            "geometry",
            "dialects",
            "machines",
            "lattice",
            "opening",
            "infill",
            "instructions",
            "stick_cutting",
        ],
    ),
    (
        "predicting",
        &[
            "units",
            "phrase",
            "finding",
            "geometry",
            "machines",
            "lattice",
            "infill",
            "instructions",
            "planning",
        ],
    ),
    (
        "sheets",
        &[
            "woods",
            "units",
            "phrase",
            "finding",
            "geometry",
            "machines",
            "measuring",
            "lattice",
            "opening",
            "infill",
            "instructions",
            "planning",
        ],
    ),
    (
        "writing",
        &[
            "units",
            "phrase",
            "finding",
            "inputs",
            "geometry",
            "dialects",
            "machines",
            "instructions",
            "threads",
        ],
    ),
    // The proof shares nothing with planning and writing.
    (
        "verification",
        &[
            "units",
            "phrase",
            "finding",
            "geometry",
            "dialects",
            "machines",
            "lattice",
            "infill",
            "instructions",
        ],
    ),
    (
        "reading",
        &[
            "woods",
            "units",
            "phrase",
            "finding",
            "geometry",
            "dialects",
            "machines",
            "measuring",
            "lattice",
            "opening",
            "infill",
        ],
    ),
    (
        "making",
        &[
            "woods",
            "units",
            "phrase",
            "finding",
            "geometry",
            "dialects",
            "machines",
            "measuring",
            "lattice",
            "opening",
            "infill",
            "instructions",
            "planning",
            "predicting",
            "sheets",
            "writing",
            "verification",
            "reading",
            "threads",
        ],
    ),
    (
        "choosing",
        &[
            "units",
            "phrase",
            "finding",
            "geometry",
            "machines",
            "lattice",
            "opening",
            "infill",
            "instructions",
            "planning",
            "reading",
            "making",
        ],
    ),
    (
        "proving",
        &[
            "units",
            "phrase",
            "finding",
            "geometry",
            "dialects",
            "machines",
            "lattice",
            "opening",
            "infill",
            "instructions",
            "planning",
            "writing",
            "verification",
            "making",
        ],
    ),
    // What a caller of the library would need is below: the command line asks and tells.
    (
        "command_line",
        &[
            "units",
            "phrase",
            "finding",
            "inputs",
            "geometry",
            "machines",
            "measuring",
            "lattice",
            "opening",
            "infill",
            "instructions",
            "planning",
            "sheets",
            "writing",
            "verification",
            "reading",
            "making",
            "choosing",
            "proving",
        ],
    ),
];

/// All that may lie at the top of the repository.
const TOP_LEVEL: &[&str] = &[
    ".ci",
    ".gitignore",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "demo",
    "profiles",
    "src",
    "tests",
];

/// Longest source file, in lines.
const LONGEST: usize = 500;

/// The module at the top of the crate to which a source file belongs; none for `lib.rs` and
/// `main.rs`, which join all of them.
fn module_of(file: &Path) -> Option<String> {
    let inside = file.strip_prefix(root().join("src")).unwrap();
    let first = Path::new(inside.components().next().unwrap().as_os_str());
    let name = first.file_stem().unwrap().to_str().unwrap();
    (!["lib", "main"].contains(&name)).then(|| name.to_owned())
}

/// How deep a source file's module lies below the crate: 1 for `src/units/mod.rs`.
fn depth_of(file: &Path) -> usize {
    let inside = file.strip_prefix(root().join("src")).unwrap();
    let is_folder_itself = file.file_name().is_some_and(|name| name == "mod.rs");
    inside.components().count() - usize::from(is_folder_itself)
}

/// The modules at the top of the crate that a piece of source names, by `crate::` or by as many
/// `super::` as it lies deep. Comments are no tokens; what stands behind `#[cfg(test)]` is passed
/// over.
fn names_used(source: TokenStream, depth: usize) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let tokens: Vec<TokenTree> = source.into_iter().collect();
    let mut at = 0;
    while at < tokens.len() {
        let (before, rest) = tokens.split_at(at);
        at += 1;
        if is_cfg_test(rest) {
            at += item_length(rest) - 1;
        } else if let TokenTree::Group(group) = &rest[0] {
            let inside = depth + usize::from(opens_module(before));
            names.extend(names_used(group.stream(), inside));
        } else if let Some(length) = length_to_top(rest, depth) {
            match rest.get(length) {
                Some(TokenTree::Group(group)) => names.extend(list_heads(group.stream())),
                name => names.extend(name.map(ToString::to_string)),
            }
            at += length - 1;
        }
    }
    names
}

/// Whether what follows is the body of an inline module.
fn opens_module(before: &[TokenTree]) -> bool {
    matches!(before, [.., word, TokenTree::Ident(_)] if word.to_string() == "mod")
}

/// Number of tokens of a path's beginning that leads to the top of the crate, if it does.
fn length_to_top(tokens: &[TokenTree], depth: usize) -> Option<usize> {
    let word = |at: usize, text: &str| {
        tokens
            .get(at)
            .is_some_and(|token| token.to_string() == text)
    };
    let step = |at, text| word(at, text) && word(at + 1, ":") && word(at + 2, ":");
    if step(0, "crate") {
        return Some(3);
    }
    (0..depth)
        .all(|n| step(3 * n, "super"))
        .then_some(3 * depth)
}

/// The first word of each member of a list such as `{units::Mm, phrase::{Phrase, Word}}`.
fn list_heads(list: TokenStream) -> BTreeSet<String> {
    let tokens: Vec<TokenTree> = list.into_iter().collect();
    tokens
        .split(|token| token.to_string() == ",")
        .filter_map(|member| member.first().map(ToString::to_string))
        .collect()
}

/// What a module uses against the table, in words.
fn wrong_uses(module: &str, depth: usize, source: &str) -> Vec<String> {
    let Some((_, allowed)) = MAY_USE.iter().find(|(name, _)| *name == module) else {
        return vec![format!("{module} is not in the table of modules")];
    };
    names_used(source.parse().unwrap(), depth)
        .into_iter()
        .filter(|name| name != module && !allowed.contains(&name.as_str()))
        .map(|name| format!("{module} may not use {name}"))
        .collect()
}

fn strangers<'a>(files: impl IntoIterator<Item = &'a str>) -> BTreeSet<&'a str> {
    files
        .into_iter()
        .filter_map(|file| file.split('/').next())
        .filter(|top| !TOP_LEVEL.contains(top))
        .collect()
}

#[test]
fn no_module_uses_what_stands_above_it() {
    let files = rust_files(&root().join("src"));
    assert!(!files.is_empty());
    let wrong: Vec<String> = files
        .iter()
        .filter_map(|file| Some((file, module_of(file)?)))
        .flat_map(|(file, module)| {
            let source = fs::read_to_string(file).unwrap();
            wrong_uses(&module, depth_of(file), &source)
                .into_iter()
                .map(move |wrong| format!("{}: {wrong}", file.display()))
        })
        .collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn depths_are_counted_from_the_top() {
    let depth = |file| depth_of(&root().join(file));
    assert_eq!(depth("src/phrase.rs"), 1);
    assert_eq!(depth("src/units/mod.rs"), 1);
    assert_eq!(depth("src/units/print.rs"), 2);
}

#[test]
fn the_table_itself_has_no_circles() {
    for (row, (name, allowed)) in MAY_USE.iter().enumerate() {
        for lower in *allowed {
            let below = MAY_USE[..row].iter().any(|(other, _)| other == lower);
            assert!(below, "{name} uses {lower}, which does not stand above it");
        }
    }
}

#[test]
fn wrong_uses_are_found_in_every_form() {
    for source in [
        "use crate::planning::Plan;",
        "use crate::{units::Mm, planning::{Plan, Step}};",
        "pub use crate::planning;",
        "fn f() -> usize { crate::planning::steps().len() }",
        "fn f() { println!(\"{}\", crate::planning::NAME); }",
        "use super::planning::Plan;",
        "mod inner { use super::super::{planning, units}; }",
        "#[cfg(test)] mod tests { fn f() {} } use crate::planning::Plan;",
    ] {
        let wrong = wrong_uses("verification", 1, source);
        assert_eq!(wrong, ["verification may not use planning"], "{source}");
    }
    for (module, depth, source) in [
        ("units", 2, "use super::super::geometry::Point;"),
        ("units", 1, "use crate::nonsense::Plan;"),
        ("units", 1, "use crate::*;"),
        ("nonsense", 1, ""),
    ] {
        assert_eq!(wrong_uses(module, depth, source).len(), 1, "{source}");
    }
}

#[test]
fn right_uses_are_let_pass() {
    for source in [
        "use crate::units::Mm; use crate::verification::Proof; pub(crate) fn f() {}",
        "//! As crate::planning does.\n/// See [`crate::planning`].\nfn f() -> &'static str { \"crate::planning\" }",
        "#[cfg(test)] mod tests { use super::*; use crate::planning::Plan; }",
        "#[cfg(test)] use crate::planning::Plan; use crate::units::Mm;",
        "#[cfg(test)] mod tests;",
        "mod inner { use super::planning; }",
    ] {
        assert!(wrong_uses("verification", 1, source).is_empty(), "{source}");
    }
}

#[test]
fn the_top_of_the_repository_holds_nothing_else() {
    let output = Command::new("git")
        .current_dir(root())
        // A checkout that belongs to another user may be looked at all the same.
        .args(["-c", "safe.directory=*", "ls-files"])
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let files = String::from_utf8(output.stdout).unwrap();
    assert!(files.lines().any(|file| file == "Cargo.toml"), "{files}");
    assert_eq!(strangers(files.lines()), BTreeSet::new());
    let stranger = strangers(["src/lib.rs", "notes/a.md", "Cargo.toml"]);
    assert_eq!(stranger, BTreeSet::from(["notes"]));
}

/// What was drawn where the stock was measured is read by the lattice's own checks and by what
/// sheets tell; a plan or proof that takes it would be for wood that is not there.
#[test]
fn drawn_sections_are_for_telling_only() {
    let takes = |file: &PathBuf| {
        let source = fs::read_to_string(file).unwrap();
        let words = ["DrawnSection", "as_drawn()", "section.drawn", "strip.drawn"];
        words.iter().any(|word| source.contains(word))
    };
    let all = rust_files(&root().join("src"));
    let source = root().join("src");
    let named = |file: &PathBuf| file.strip_prefix(&source).unwrap().display().to_string();
    let found: BTreeSet<String> = all.iter().filter(|file| takes(file)).map(named).collect();
    let allowed = [
        "lattice/check/mod.rs",
        "lattice/check/stock.rs",
        "lattice/design.rs",
        "lattice/layout.rs",
        "lattice/mod.rs",
        "planning/measured_stock.rs",
    ];
    assert_eq!(found, allowed.map(str::to_owned).into());
}

/// A file that is read elsewhere is not known as an input and could be overwritten; one that is written
/// elsewhere overwrites what it likes.
#[test]
fn files_are_read_and_written_in_one_place_each() {
    let words = [
        "fs::read",
        "read_to_string",
        "File::open",
        "File::create",
        "OpenOptions",
        "fs::write",
        "fs::rename",
        "fs::copy",
        "create_dir",
        "NamedTempFile",
    ];
    let root = root().join("src");
    for file in rust_files(&root) {
        let name = file.strip_prefix(&root).unwrap().display().to_string();
        let source = fs::read_to_string(&file).unwrap();
        let own = source.split("#[cfg(test)]").next().unwrap();
        let used = words.iter().filter(|word| own.contains(**word));
        let used: Vec<_> = used.collect();
        let may = ["inputs.rs", "writing/files.rs", "writing/temporary.rs"];
        let may = may.contains(&name.as_str());
        assert!(may || used.is_empty(), "{name}: {used:?}");
    }
}

#[test]
fn no_source_file_is_too_long() {
    for file in rust_files(&root().join("src")) {
        let lines = fs::read_to_string(&file).unwrap().lines().count();
        assert!(lines <= LONGEST, "{}: {lines} lines", file.display());
    }
}
