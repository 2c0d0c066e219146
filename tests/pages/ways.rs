//! Ways through the sheet: contents, bookmarks and links of the document, anchors of the page.

use super::paper::{printed, read};
use super::{DEMOS, ODD_TITLE, built, demo, titled};
use crate::support;
use crate::support::cli::{Bench, JOB};
use serde_json::Value;
use std::collections::BTreeSet;

/// Where something leads: the page's index, how far from its left edge and below its upper edge, points.
#[derive(Debug, PartialEq)]
struct Aim {
    page: usize,
    left: f64,
    below: f64,
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn page(value: &Value) -> usize {
    usize::try_from(value.as_u64().unwrap()).unwrap()
}

fn aim(way: &Value, ways: &Value) -> Aim {
    let page = page(&way["page"]);
    let height = number(&ways["pages"][page][1]);
    let below = height - number(&way["top"]);
    let left = number(&way["left"]);
    Aim { page, left, below }
}

/// A word with the middle of its box, points from the page's upper left corner.
struct Word {
    text: String,
    at: [f64; 2],
}

/// The words of every page, as they are read.
fn pages(bench: &Bench) -> Vec<Vec<Word>> {
    let boxes = read(bench, "pdftotext", &["-bbox"]);
    let pages = boxes.split("<page ").skip(1);
    pages
        .map(|page| page.lines().filter_map(word).collect())
        .collect()
}

fn word(line: &str) -> Option<Word> {
    let side = |key: &str| {
        line.split(key)
            .nth(1)?
            .split('"')
            .next()?
            .parse::<f64>()
            .ok()
    };
    let [x, y] = [["xMin=\"", "xMax=\""], ["yMin=\"", "yMax=\""]].map(|ends| {
        let [low, high] = ends.map(side);
        Some(f64::midpoint(low?, high?))
    });
    let text = line.split_once("\">")?.1.split("</word>").next()?;
    let text = text
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&quot;", "\"");
    let text = text
        .replace("&apos;", "'")
        .replace("&#39;", "'")
        .replace("&amp;", "&");
    Some(Word { text, at: [x?, y?] })
}

/// The words in a part of a page, one space apart.
fn words(page: &[Word], low: [f64; 2], size: [f64; 2]) -> String {
    let within = |word: &&Word| {
        let mut axes = (0..2).map(|axis| word.at[axis] - low[axis]).zip(size);
        axes.all(|(from, size)| from >= 0.0 && from <= size)
    };
    let mut words: Vec<&Word> = page.iter().filter(within).collect();
    // As they stand, line by line: a reader of documents takes what it holds for columns apart.
    words.sort_by(|a, b| {
        let same_line = (a.at[1] - b.at[1]).abs() < 2.0;
        let by_line = a.at[1].total_cmp(&b.at[1]);
        if same_line {
            a.at[0].total_cmp(&b.at[0])
        } else {
            by_line
        }
    });
    let words: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
    words.join(" ")
}

fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every entry of the outline leads to its heading, the list and its links say and do the same.
fn leads_where_it_says(bench: &Bench, name: &str) {
    let ways = support::read_ways(&bench.path("set-up.pdf"));
    assert_eq!(ways["mode"], "/UseOutlines");
    let entries = ways["outline"].as_array().unwrap();
    let links = ways["links"].as_array().unwrap();
    assert!(entries.len() > 8, "{name}");
    // The first chapter is the first page itself; the list has the others, the bookmarks all headings.
    assert_eq!(page(&entries[0]["page"]), 0, "{name}");
    let listed = |link: &Value| {
        let to = aim(link, &ways);
        entries.iter().any(|entry| aim(entry, &ways) == to)
    };
    assert!(links.len() > 2 && links.iter().all(listed), "{name}");
    let pages = pages(bench);
    let mut before = Aim {
        page: 0,
        left: 0.0,
        below: 0.0,
    };
    for entry in entries {
        let heading = spaced(entry["title"].as_str().unwrap());
        let to = aim(entry, &ways);
        // Down a page, or on into its next column.
        let farther = to.below >= before.below || to.left > before.left;
        let later = to.page > before.page || (to.page == before.page && farther);
        assert!(later, "{name}: {heading} comes before another one");

        // Templates stand below the bars of their page.
        let height = if to.below == 0.0 { 150.0 } else { 48.0 };
        let there = |wide: f64| words(&pages[to.page], [to.left, to.below], [wide, height]);
        let short: String = heading.chars().take(40).collect();
        // A heading in the left one of two columns has the other one's words beside it.
        let whole = there(612.0);
        let is_there = match to.below {
            0.0 => whole.contains(&short),
            _ => [&whole, &there(290.0 - to.left)]
                .iter()
                .any(|there| there.starts_with(&short)),
        };
        let templates = heading.starts_with("Templates, ") && whole.contains("Print at 100 %");
        assert!(is_there || templates, "{name}: no `{heading}` in `{whole}`");

        // Templates begin where the first of them does.
        let again = to == before && to.page > 0;
        before = aim(entry, &ways);
        if again {
            continue;
        }
        let Some(link) = links.iter().find(|link| aim(link, &ways) == to) else {
            continue;
        };
        let line = format!("{heading} {}", to.page + 1);
        let rect: Vec<f64> = link["rect"]
            .as_array()
            .unwrap()
            .iter()
            .map(number)
            .collect();
        let on = page(&link["on"]);
        assert!(on < to.page, "{name}: {heading}");
        let top = number(&ways["pages"][on][1]) - rect[3];
        let size = [rect[2] - rect[0], rect[3] - rect[1]];
        assert_eq!(words(&pages[on], [rect[0], top], size), line, "{name}");
    }
}

#[test]
fn contents_bookmarks_and_links_lead_to_the_headings() {
    for name in DEMOS {
        leads_where_it_says(&printed(&demo(name), &[]), name);
    }
    let letter = printed(
        &demo("tea-cabinet"),
        &["--paper", "letter", "--units", "in"],
    );
    leads_where_it_says(&letter, "letter");
    leads_where_it_says(&printed(&titled(JOB, ""), &[]), "no title");
    leads_where_it_says(&printed(&titled(JOB, ODD_TITLE), &[]), "odd title");
}

#[test]
fn every_page_says_what_it_begins_with_and_which_one_it_is() {
    let bench = printed(&demo("stair-window"), &[]);
    let ways = support::read_ways(&bench.path("set-up.pdf"));
    let entries = ways["outline"].as_array().unwrap();
    let count = ways["pages"].as_array().unwrap().len();
    for (at, words_on) in pages(&bench).iter().enumerate() {
        let foot = words(words_on, [0.0, 800.0], [600.0, 40.0]);
        assert!(
            foot.ends_with(&format!("page {} of {count}", at + 1)),
            "{foot}"
        );
        let begun = entries.iter().rfind(|entry| {
            let to = aim(entry, &ways);
            to.page < at || (to.page == at && to.below < 40.0)
        });
        let said = match begun {
            Some(entry) => spaced(entry["title"].as_str().unwrap()),
            None => "Stair window, hexagonal insert".into(),
        };
        let short: String = said.chars().take(40).collect();
        assert!(
            foot.starts_with(&short),
            "page {}: `{foot}` for `{said}`",
            at + 1
        );
    }
}

/// What stands between two texts, wherever they do.
fn between<'a>(text: &'a str, from: &str, to: &str) -> Vec<&'a str> {
    let parts = text.split(from).skip(1);
    parts.map(|part| part.split(to).next().unwrap()).collect()
}

#[test]
fn the_pages_contents_list_every_heading_once_and_in_order() {
    for name in DEMOS {
        let page = built(&demo(name), &[]).read("out/set-up.html");
        let ids = between(&page, " id=\"", "\"");
        assert_eq!(
            ids.iter().collect::<BTreeSet<_>>().len(),
            ids.len(),
            "{name}"
        );
        for target in between(&page, "href=\"#", "\"") {
            assert!(ids.contains(&target), "{name}: nothing is called {target}");
        }
        let (contents, sheet) = page.split_once("<main").unwrap();
        let contents = contents.split_once("<nav").unwrap().1;
        let listed: Vec<String> = between(contents, "<a href=\"#", "</bdi>")
            .iter()
            .map(|entry| entry.replacen("\"><bdi>", " ", 1))
            .collect();
        let headings = sheet.split("<h").filter(|tag| {
            let heads = ["2 id=\"", "3 id=\""];
            heads.iter().any(|head| tag.starts_with(head))
        });
        let headings: Vec<String> = headings
            .map(|tag| tag["2 id=\"".len()..].split("</bdi>").next().unwrap())
            .map(|heading| heading.replacen("\"><bdi>", " ", 1))
            .collect();
        assert!(listed.len() > 8, "{name}");
        assert_eq!(listed, headings, "{name}");
    }
}
