//! The set-up sheet as a document for paper: real text in an embedded font, templates at true size,
//! nothing that depends on time or place.

mod blocks;
mod file;
mod flow;
mod letters;
mod lists;
mod mark;
mod table;
mod templates;

use crate::geometry::Point;
use crate::instructions::page::Booklet;
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::look::{self, size};
use blocks::Setter;
use flow::Flow;
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
    for (at, part) in booklet.parts.iter().enumerate() {
        flow.page();
        let mut opening = setter.opening(part);
        if at == 0 {
            opening.splice(0..0, setter.title(&booklet.title));
        }
        flow.section(&opening);
        for leaf in &part.leaves {
            flow.section(&setter.leaf(leaf));
        }
    }
    let mut pages = flow.pages;
    pages.extend(templates::pages(sheet, &booklet.templates, &letters, units));
    number(&mut pages, sheet, &booklet.title, &letters);
    let lacking = pages
        .iter()
        .flatten()
        .fold(BTreeSet::new(), |mut all, mark| {
            lacking(mark, &letters, &mut all);
            all
        });
    let bytes = file::write(&pages, sheet, &booklet.title, &letters)?;
    Ok(Document { bytes, lacking })
}

fn lacking(mark: &Mark, letters: &Letters, all: &mut BTreeSet<char>) {
    match mark {
        Mark::Text { text, .. } => all.extend(letters.lacking(text)),
        Mark::Window { marks, .. } => marks.iter().for_each(|mark| lacking(mark, letters, all)),
        _ => {}
    }
}

/// At the foot of every page: what is made, which page of how many.
fn number(pages: &mut [Vec<Mark>], sheet: Sheet, title: &str, letters: &Letters) {
    let count = pages.len();
    let (width, height) = sheet.size();
    let y = height - 10.0;
    for (at, page) in pages.iter_mut().enumerate() {
        let numbers = format!("page {} of {count}", at + 1);
        let wide = letters.width(&numbers, size::SMALL, Weight::Plain);
        let room = sheet.width() - wide - 10.0;
        let title = letters.lines(title, room, size::SMALL, Weight::Plain);
        let more = if title.len() > 1 { " ..." } else { "" };
        let title = format!("{}{more}", title.first().map_or("", String::as_str));
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
