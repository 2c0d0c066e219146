//! The document by poppler: size of pages, text, fonts, bars of true length, same bytes.

use super::{ODD_TITLE, demo, titled};
use crate::support::cli::{Bench, JOB, with_line};
use crate::support::poppler;
use lapwright::instructions::safety::SafetyNotes;
use serde_json::Value;
use std::fs;

/// A bench with the document of a job.
pub(super) fn printed(job: &str, flags: &[&str]) -> Bench {
    let bench = Bench::new();
    bench.write("job.toml", job);
    let mut args = vec!["sheet", "job.toml", "-o", "set-up.pdf"];
    args.extend(flags);
    bench.ok(&args);
    bench
}

pub(super) fn read(bench: &Bench, program: &str, args: &[&str]) -> String {
    let path = bench.path("set-up.pdf");
    let mut all = args.to_vec();
    all.push(path.to_str().unwrap());
    if program == "pdftotext" {
        all.push("-");
    }
    String::from_utf8_lossy(&poppler(program, &all)).into_owned()
}

pub(super) fn pages(bench: &Bench) -> usize {
    let about = read(bench, "pdfinfo", &[]);
    let line = about
        .lines()
        .find(|line| line.starts_with("Pages:"))
        .unwrap();
    line["Pages:".len()..].trim().parse().unwrap()
}

#[test]
fn pages_have_the_size_that_was_asked_for_and_fonts_are_embedded() {
    let papers = [
        ("a4", 595.276, 841.89),
        ("letter", 612.0, 792.0),
        ("a5", 419.528, 595.276),
        ("half-letter", 396.0, 612.0),
    ];
    for (paper, width, height) in papers {
        let bench = printed(JOB, &["--paper", paper]);
        let about = read(&bench, "pdfinfo", &["-f", "1", "-l", "999"]);
        let sizes: Vec<&str> = about
            .lines()
            .filter(|line| line.contains(" size:"))
            .collect();
        assert!(sizes.len() > pages(&bench), "{about}");
        for line in sizes.iter().filter(|line| line.starts_with("Page ")) {
            let numbers = line
                .split_whitespace()
                .filter_map(|word| word.parse::<f64>().ok());
            let numbers: Vec<f64> = numbers.collect();
            let [.., w, h] = numbers[..] else {
                panic!("{line}")
            };
            assert!(
                (w - width).abs() < 0.01 && (h - height).abs() < 0.01,
                "{line}"
            );
        }
        assert!(!about.contains("Date"), "{about}");
        let fonts = read(&bench, "pdffonts", &[]);
        let fonts: Vec<&str> = fonts.lines().skip(2).collect();
        assert_eq!(fonts.len(), 2, "{fonts:?}");
        for font in fonts {
            let words: Vec<&str> = font.split_whitespace().collect();
            // Embedded, a subset, readable as text.
            assert!(
                words.windows(3).any(|three| three == ["yes", "yes", "yes"]),
                "{font}"
            );
        }
        let bytes = fs::read(bench.path("set-up.pdf")).unwrap();
        assert!(
            bytes
                .windows(18)
                .any(|part| part == b"/PrintScaling/None" || part == b"/PrintScaling /Non")
        );
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    let bytes = |bench: Bench| fs::read(bench.path("set-up.pdf")).unwrap();
    let job = demo("tea-cabinet");
    assert!(bytes(printed(&job, &[])) == bytes(printed(&job, &[])));
    assert!(bytes(printed(&job, &[])) != bytes(printed(&job, &["--units", "in"])));
}

/// Dark pixels of a row of a page in a rendering of 600 dots to the inch, as one run.
fn dark_run(bench: &Bench, page: usize, row: usize) -> usize {
    let (page, row) = (page.to_string(), row.to_string());
    let path = bench.path("set-up.pdf");
    let args = [
        "-r",
        "600",
        "-gray",
        "-f",
        &page,
        "-l",
        &page,
        "-x",
        "0",
        "-y",
        &row,
        "-W",
        "5100",
        "-H",
        "1",
        path.to_str().unwrap(),
    ];
    let image = poppler("pdftoppm", &args);
    // The head is `P5`, width, height and greatest value, parted by single spaces or line ends.
    let mut head = 0;
    let mut at = 0;
    while head < 4 {
        head += usize::from(image[at].is_ascii_whitespace());
        at += 1;
    }
    let line = &image[at..];
    let dark = |pixel: &u8| *pixel < 128;
    let from = line.iter().position(dark).expect("nothing dark");
    line[from..].iter().take_while(|pixel| dark(pixel)).count()
}

#[test]
fn both_bars_have_their_length_on_every_page_of_templates() {
    // Nothing but paper: what a laser cuts is drawn there.
    let job = with_line(&demo("tea-cabinet"), "laser", "");
    for paper in ["a4", "letter", "a5", "half-letter"] {
        let bench = printed(&job, &["--paper", paper, "--part", "templates"]);
        let (mut bars, mut titles) = (0, String::new());
        for page in 1..=pages(&bench) {
            let number = page.to_string();
            let text = read(&bench, "pdftotext", &["-f", &number, "-l", &number]);
            if !text.contains("Print at 100 %") {
                continue;
            }
            bars += 1;
            let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for line in SafetyNotes::for_assembly().short() {
                assert!(words.contains(line), "page {page}: {text}");
            }
            titles += &text;
            // The bars' middles lie 21.5 and 28.5 mm from the upper edge.
            for (row, wanted) in [(508, 100.0), (673, 101.6)] {
                let length = dark_run(&bench, page, row) as f64 * 25.4 / 600.0;
                assert!((length - wanted).abs() <= 0.05, "page {page}: {length}");
            }
        }
        assert!(bars >= 2, "{bars}");
        // The whole guide is there at true size.
        for part in ["block 22.5 deg", "block 45 deg", "block 67.5 deg"] {
            assert!(titles.contains(&format!("Guide {part}")), "{part}");
        }
        for part in ["base", "fence", "stop"] {
            assert!(titles.contains(&format!("Guide: {part}")), "{part}");
        }
    }
}

#[test]
fn every_notch_is_extractable_text_in_its_row() {
    for name in ["reading-lamp", "stair-window"] {
        let bench = printed(&demo(name), &[]);
        let text = read(&bench, "pdftotext", &["-layout"]);
        let rows: Vec<Vec<&str>> = text
            .lines()
            .map(|line| line.split_whitespace().collect())
            .collect();
        let sled: Value = bench.ok(&["sled", "job.toml", "--format", "json"]).json();
        let own = sled["bundles"].as_array().unwrap().iter();
        for bundle in own.filter(|bundle| bundle.get("same_as_bundle").is_none()) {
            for notch in bundle["notches"].as_array().unwrap() {
                let mm = |key: &str| {
                    format!(
                        "{:.2}",
                        (notch[key].as_f64().unwrap() * 100.0 + 1e-7).round() / 100.0
                    )
                };
                let wanted = [
                    notch["index"].to_string(),
                    mm("centre_mm"),
                    mm("near_edge_mm"),
                    mm("far_edge_mm"),
                ];
                // Long tables stand in two halves beside each other. Where a sled has several
                // settings, face and angle (two words) stand between index and centre.
                let found = rows.iter().any(|row| {
                    let slanted =
                        |seven: &[&str]| seven[0] == wanted[0] && seven[4..] == wanted[1..];
                    row.windows(4).any(|four| four == wanted) || row.windows(7).any(slanted)
                });
                assert!(found, "{name}: no row {wanted:?}");
            }
        }
    }
}

#[test]
fn nothing_leaves_the_page() {
    for (job, flags) in [
        (
            demo("stair-window"),
            &["--units", "in", "--paper", "letter"][..],
        ),
        (demo("tea-cabinet"), &["--paper", "a5"]),
        (demo("wardrobe-vent"), &["--paper", "half-letter"]),
        (titled(JOB, &"w".repeat(200)), &[]),
        (titled(JOB, ODD_TITLE), &[]),
    ] {
        let bench = printed(&job, flags);
        let boxes = read(&bench, "pdftotext", &["-bbox"]);
        let mut room = (0.0, 0.0);
        let mut words = 0;
        for line in boxes.lines() {
            let number = |key: &str| -> Option<f64> {
                line.split(&format!("{key}=\""))
                    .nth(1)?
                    .split('"')
                    .next()?
                    .parse()
                    .ok()
            };
            if let (Some(width), Some(height)) = (number("width"), number("height")) {
                room = (width, height);
            }
            let Some(right) = number("xMax") else {
                continue;
            };
            words += 1;
            let edges = [
                number("xMin").unwrap(),
                number("yMin").unwrap(),
                room.0 - right,
                room.1 - number("yMax").unwrap(),
            ];
            // A quarter of an inch is what printers leave white.
            assert!(edges.iter().all(|edge| *edge >= 18.0), "{line} on {room:?}");
        }
        assert!(words > 300, "{words}");
    }
}

#[test]
fn titles_are_extractable_as_they_were_given() {
    let title = "Tür \u{5d3}\u{5dc}\u{5ea} ½";
    let bench = printed(&titled(JOB, title), &[]);
    let text = read(&bench, "pdftotext", &["-l", "1"]);
    for word in ["Tür", "\u{5d3}\u{5dc}\u{5ea}", "½"] {
        assert!(text.contains(word), "{word}: {text}");
    }
    let bench = Bench::new();
    bench.write("job.toml", titled(JOB, "\u{7d44} door"));
    let ran = bench.ok(&["sheet", "job.toml", "-o", "set-up.pdf"]);
    assert!(ran.err.contains("lacks \u{7d44}"), "{}", ran.err);
}

/// Who stands at the saw has it all before them on two sheets of paper, or one that is printed on both sides.
#[test]
fn the_sheet_for_mitres_takes_two_pages() {
    let bench = printed(&demo("tray-insert"), &["--paper", "a4"]);
    let starts = |heading: &str| {
        let found = (1..=pages(&bench)).find(|page| {
            let number = page.to_string();
            let text = read(&bench, "pdftotext", &["-f", &number, "-l", &number]);
            text.starts_with(heading)
        });
        found.unwrap_or_else(|| panic!("no page starts with {heading:?}"))
    };
    let [mitres, pieces] = ["Mitres: key-sled", "Pieces: paring-guides"].map(starts);
    assert_eq!(pieces - mitres, 2);
}
