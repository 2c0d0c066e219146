//! The document for those who hear it: its tree walked by pypdf, and as poppler reads it out.

use super::paper::{printed, read};
use super::{DEMOS, ODD_TITLE, demo, titled};
use crate::support;
use crate::support::cli::JOB;
use serde_json::Value;
use std::collections::BTreeSet;

/// Every element with those above it, the nearest last.
fn walk<'a>(
    element: &'a Value,
    above: &mut Vec<&'a str>,
    found: &mut Vec<(Vec<&'a str>, &'a Value)>,
) {
    found.push((above.clone(), element));
    above.push(element["role"].as_str().unwrap());
    for kid in element["kids"].as_array().unwrap() {
        walk(kid, above, found);
    }
    above.pop();
}

fn elements(tree: &Value) -> Vec<(Vec<&str>, &Value)> {
    let mut found = Vec::new();
    walk(tree, &mut Vec::new(), &mut found);
    found
}

/// What may stand in what (ISO 32000-1, 14.8.4): lists, tables and contents are whole.
fn stands_right(above: &[&str], role: &str) -> bool {
    let parent = above.last().copied();
    match role {
        "Document" => parent.is_none(),
        "LI" => parent == Some("L"),
        "Lbl" | "LBody" => parent == Some("LI"),
        "TR" => parent == Some("Table"),
        "TH" | "TD" => parent == Some("TR"),
        "TOCI" => parent == Some("TOC"),
        "Link" => parent == Some("TOCI"),
        "P" | "Figure" | "L" | "Table" => {
            matches!(parent, Some("Sect" | "LBody"))
        }
        "H1" | "H2" | "H3" | "H4" | "TOC" => parent == Some("Sect"),
        "Sect" => matches!(parent, Some("Document" | "Sect")),
        _ => false,
    }
}

#[test]
fn every_mark_has_its_place_in_a_tree_of_headings_lists_tables_and_pictures() {
    for name in DEMOS {
        let bench = printed(&demo(name), &[]);
        let found = support::read_structure(&bench.path("set-up.pdf"));
        assert_eq!(found["faults"], serde_json::json!([]), "{name}");
        assert_eq!(
            (&found["marked"], &found["shows_title"]),
            (&true.into(), &true.into())
        );
        assert_eq!(found["lang"], "en");
        let all = elements(&found["tree"]);
        for (above, element) in &all {
            let role = element["role"].as_str().unwrap();
            assert!(stands_right(above, role), "{name}: {role} in {above:?}");
            let says = element["text"].as_str().unwrap();
            match role {
                "Figure" => {
                    let alt = element["alt"].as_str().unwrap();
                    assert!(alt.len() > 3, "{name}: {alt}");
                    let room: Vec<f64> = (element["room"].as_array().unwrap().iter())
                        .map(|part| part.as_f64().unwrap())
                        .collect();
                    assert!(room[0] < room[2] && room[1] < room[3], "{name}: {room:?}");
                }
                "TH" => assert_eq!(element["scope"], "/Column", "{name}: {says}"),
                "Link" => assert_eq!(element["links"], 1, "{name}: {says}"),
                "P" | "H1" | "H2" | "H3" | "H4" | "Lbl" => {
                    assert!(!says.is_empty(), "{name}: an empty {role}");
                }
                _ => {}
            }
        }
        levels(name, &all);
        rows(name, &all);
        steps(name, &all);
    }
}

/// No heading is more than one level below the one before it.
fn levels(name: &str, all: &[(Vec<&str>, &Value)]) {
    let mut before = 0;
    let mut count = 0;
    for (_, element) in all {
        let role = element["role"].as_str().unwrap();
        let Some(level) = role
            .strip_prefix('H')
            .and_then(|level| level.parse::<u8>().ok())
        else {
            continue;
        };
        assert!(
            level <= before + 1,
            "{name}: {role} {} after {before}",
            element["text"]
        );
        before = level;
        count += 1;
    }
    assert!(count > 10, "{name}: {count}");
}

/// Every row of a table has as many cells as the head.
fn rows(name: &str, all: &[(Vec<&str>, &Value)]) {
    let tables = all.iter().filter(|(_, element)| element["role"] == "Table");
    let mut count = 0;
    for (_, table) in tables {
        let widths: BTreeSet<usize> = (table["kids"].as_array().unwrap().iter())
            .map(|row| row["kids"].as_array().unwrap().len())
            .collect();
        assert_eq!(widths.len(), 1, "{name}: {table}");
        count += 1;
    }
    assert!(count > 1, "{name}: {count}");
}

/// Steps are items of lists, each with its number.
fn steps(name: &str, all: &[(Vec<&str>, &Value)]) {
    let items = all.iter().filter(|(_, element)| element["role"] == "LI");
    let numbered = items
        .filter(|(_, item)| item["kids"][0]["role"] == "Lbl")
        .count();
    assert!(numbered > 10, "{name}: {numbered}");
}

/// Words of what a picture shows, in the units of the document.
#[test]
fn pictures_say_what_is_to_be_seen_in_the_documents_units() {
    for (units, wanted) in [("mm", "stop to kerf"), ("in", " in")] {
        let bench = printed(&demo("reading-lamp"), &["--units", units]);
        let found = support::read_structure(&bench.path("set-up.pdf"));
        let all = elements(&found["tree"]);
        let alts: Vec<&str> = all.iter().filter_map(|(_, e)| e["alt"].as_str()).collect();
        let sled = alts
            .iter()
            .find(|alt| alt.starts_with("Sled from above"))
            .unwrap();
        assert!(sled.contains("fence") && sled.contains(wanted), "{sled}");
    }
}

#[test]
fn poppler_reads_the_same_tree_out() {
    let bench = printed(&demo("tea-cabinet"), &[]);
    assert!(read(&bench, "pdfinfo", &[]).contains("Tagged:          yes"));
    let told = read(&bench, "pdfinfo", &["-struct-text"]);
    for part in [
        "Document", "H1", "H2", "H3", "Table", "TH", "Figure", "LBody", "TOCI",
    ] {
        assert!(told.contains(part), "{part}");
    }
    let order = [
        "Tea cabinet, sliding door",
        "Sled: key-sled",
        "Safety first",
        "Have ready",
    ];
    let mut from = 0;
    for says in order {
        let at = told[from..].find(&format!("\"{says}\""));
        from += at.unwrap_or_else(|| panic!("no {says:?} after {}", &told[..from]));
    }
}

/// Whatever letters a title has, they are read as they were written.
#[test]
fn titles_are_heard_as_they_were_given() {
    for title in [
        "T\u{fc}r \u{5d3}\u{5dc}\u{5ea} \u{bd}",
        "\u{7d44}\u{5b50} door",
        "a\u{a0}b\u{ad}c \u{2126}\u{3a9} \u{2010}\u{2011}",
        ODD_TITLE,
    ] {
        let bench = printed(&titled(JOB, title), &[]);
        let found = support::read_structure(&bench.path("set-up.pdf"));
        assert_eq!(found["faults"], serde_json::json!([]), "{title}");
        let all = elements(&found["tree"]);
        let heading = all
            .iter()
            .find(|(_, element)| element["role"] == "H1")
            .unwrap();
        let plain = |text: &str| -> String {
            text.chars()
                .filter(|letter| !letter.is_whitespace())
                .collect()
        };
        let heard = plain(heading.1["text"].as_str().unwrap());
        if title
            .chars()
            .any(|letter| ('\u{5d0}'..='\u{5ea}').contains(&letter))
        {
            // Letters from right to left stand as they are seen: the same ones, in another order.
            let sorted = |text: &str| {
                let mut letters: Vec<char> = text.chars().collect();
                letters.sort_unstable();
                letters
            };
            assert_eq!(sorted(&heard), sorted(&plain(title)));
        } else {
            assert_eq!(heard, plain(title));
        }
        assert_eq!(plain(found["title"].as_str().unwrap()), plain(title));
    }
}
