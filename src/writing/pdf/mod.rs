//! The set-up sheet as a document for paper: real text in an embedded font, templates at true size,
//! nothing that depends on time or place.

mod blocks;
mod contents;
mod file;
mod flow;
mod letters;
mod lists;
mod mark;
mod outline;
mod table;
mod templates;

use crate::geometry::Point;
use crate::instructions::page::Booklet;
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::look::{self, size};
use blocks::Setter;
use contents::{Chapter, Entry};
use flow::{Box, Flow, Place};
use letters::{Letters, Weight};
use mark::Mark;
use std::collections::BTreeSet;

/// Sizes of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8.5 by 11 in.
    Letter,
}

/// A page's measures, mm.
#[derive(Debug, Clone, Copy)]
struct Sheet {
    paper: Paper,
}

impl Sheet {
    /// Width and height.
    fn size(self) -> (f64, f64) {
        match self.paper {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        }
    }

    fn left(self) -> f64 {
        16.0
    }

    fn top(self) -> f64 {
        13.0
    }

    fn bottom(self) -> f64 {
        self.size().1 - 17.0
    }

    fn width(self) -> f64 {
        self.size().0 - 2.0 * self.left()
    }
}

/// A document.
#[derive(Debug, Clone)]
pub struct Document {
    /// The file.
    pub bytes: Vec<u8>,
    /// Letters that the embedded type lacks; a replacement sign stands for each.
    pub lacking: BTreeSet<char>,
}

/// The sheet as a PDF file, lengths in the given units.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn pdf(booklet: &Booklet, paper: Paper, units: UnitSystem) -> Result<Document, NotPrintable> {
    let letters = Letters::load()?;
    let sheet = Sheet { paper };
    let setter = Setter {
        letters: &letters,
        units,
        width: sheet.width(),
        tallest: 0.32 * sheet.size().1,
    };
    let mut flow = Flow::new(sheet);
    let mut chapters: Vec<Chapter> = Vec::new();
    for part in &booklet.parts {
        flow.page();
        let mut entry = |heading: &str, boxes: &[Box]| Entry {
            heading: heading.into(),
            place: flow.section(boxes),
        };
        let own = entry(&part.heading, &setter.opening(part));
        let leaves = part.leaves.iter();
        let sections = leaves.map(|leaf| entry(&leaf.heading, &setter.leaf(leaf)));
        let sections = sections.collect();
        chapters.push(Chapter { own, sections });
    }
    let mut pages = flow.pages;
    chapters.extend(add_templates(&mut pages, sheet, booklet, &setter));
    contents::put_before(&mut pages, &mut chapters, &setter, sheet, &booklet.title);
    number(&mut pages, &chapters, sheet, &booklet.title, &letters);
    let lacking = pages
        .iter()
        .flatten()
        .fold(BTreeSet::new(), |mut all, mark| {
            lacking(mark, &letters, &mut all);
            all
        });
    let bytes = file::write(&pages, &chapters, sheet, &booklet.title, &letters)?;
    Ok(Document { bytes, lacking })
}

fn lacking(mark: &Mark, letters: &Letters, all: &mut BTreeSet<char>) {
    match mark {
        Mark::Text { text, .. } => all.extend(letters.lacking(text)),
        Mark::Window { marks, .. } => marks.iter().for_each(|mark| lacking(mark, letters, all)),
        _ => {}
    }
}

/// Pages of templates behind the others.
fn add_templates(
    pages: &mut Vec<Vec<Mark>>,
    sheet: Sheet,
    booklet: &Booklet,
    setter: &Setter<'_>,
) -> Option<Chapter> {
    let (templates, mut sections) = templates::pages(sheet, booklet, setter.letters, setter.units);
    for section in &mut sections {
        section.place.page += pages.len();
    }
    pages.extend(templates);
    let place = sections.first()?.place;
    let heading = "Templates, to be printed at 100 %".into();
    let own = Entry { heading, place };
    Some(Chapter { own, sections })
}

/// At the foot of every page: what it begins with, what is made, which page of how many.
fn number(
    pages: &mut [Vec<Mark>],
    chapters: &[Chapter],
    sheet: Sheet,
    title: &str,
    letters: &Letters,
) {
    let count = pages.len();
    let (width, height) = sheet.size();
    let y = height - 10.0;
    for (at, page) in pages.iter_mut().enumerate() {
        let top = Place {
            page: at,
            y: sheet.top(),
        };
        let before = chapters.iter().flat_map(Chapter::entries);
        let begun = before
            .take_while(|entry| !top.is_before(entry.place))
            .last();
        let words = match begun.map(|entry| entry.heading.as_str()) {
            Some(heading) if title.trim().is_empty() => heading.into(),
            Some(heading) => format!("{heading} - {title}"),
            None => title.to_owned(),
        };
        let numbers = format!("page {} of {count}", at + 1);
        let wide = letters.width(&numbers, size::SMALL, Weight::Plain);
        let room = sheet.width() - wide - 10.0;
        let words = letters.lines(&words, room, size::SMALL, Weight::Plain);
        let more = if words.len() > 1 { " ..." } else { "" };
        let title = format!("{}{more}", words.first().map_or("", String::as_str));
        for (x, text) in [
            (sheet.left(), title),
            (width - sheet.left() - wide, numbers),
        ] {
            page.push(Mark::Text {
                at: Point::new(x, y),
                size: size::SMALL,
                weight: Weight::Plain,
                colour: look::QUIET.light,
                text,
            });
        }
    }
}
