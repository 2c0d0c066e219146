//! A sheet's pages from the first to the last: contents, parts, templates, and what stands at the
//! foot of each.

use super::chapters::{Chapter, ContentsEntry};
use super::contents;
use super::file::{self, SetDocument};
use super::fitted::{Fit, Pages, fit};
use super::fonts::{FontWeight, Fonts};
use super::page_element::{PageElement, TextStyle};
use super::page_place::PagePlace;
use super::pagination::Paginator;
use super::paper::Paper;
use super::tags::{TagRole, Tags};
use super::templates;
use super::typesetter::Typesetter;
use crate::geometry::Point;
use crate::instructions::booklet::Booklet;
use crate::instructions::sheet::{Block, SetupSheet, SheetPart};
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::theme::{self, size};
use std::collections::BTreeSet;

/// The set-up sheet as a file.
#[derive(Debug, Clone)]
pub struct PdfDocument {
    /// The file.
    pub bytes: Vec<u8>,
    /// Letters that the embedded type lacks; a replacement sign stands for each.
    pub lacking: BTreeSet<char>,
}

/// The sheet as a PDF file, lengths in the given units.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn pdf(
    booklet: &Booklet,
    paper: Paper,
    units: UnitSystem,
) -> Result<PdfDocument, NotPrintable> {
    let fonts = Fonts::load()?;
    let tags = Tags::new();
    // Title and contents are heard first, though they are set last.
    let front = tags.open(TagRole::Section, Tags::ROOT);
    let typesetter = Typesetter {
        tags: &tags,
        under: Tags::ROOT,
        fonts: &fonts,
        units,
        width: paper.column(),
        tallest: 0.32 * paper.size().height,
        scale: 1.0,
        draws: true,
    };
    let mut pages = Vec::new();
    let mut chapters: Vec<Chapter> = Vec::new();
    for sheets in booklet.sheets.chunk_by(may_share_a_page) {
        for (begun, own) in cards_that_share(sheets, &typesetter, paper) {
            chapters.extend(begun.into_iter().map(|chapter| chapter.moved(pages.len())));
            pages.extend(own);
        }
    }
    chapters.extend(add_templates(&mut pages, paper, booklet, &typesetter));
    // Parts alone have their own headings.
    if !booklet.front.is_empty() {
        let front = Typesetter {
            under: front,
            ..typesetter
        };
        contents::put_before(&mut pages, &mut chapters, &front, paper, booklet);
    }
    add_feet(&mut pages, &chapters, paper, &booklet.title, &fonts);
    let mut lacking = BTreeSet::new();
    for element in pages.iter().flatten() {
        add_lacking(element, &fonts, &mut lacking);
    }
    let set = SetDocument {
        pages: &pages,
        chapters: &chapters,
        tags: &tags.all(),
        title: &booklet.title,
    };
    let bytes = file::write(&set, paper, &fonts)?;
    Ok(PdfDocument { bytes, lacking })
}

/// How low pictures on cards may be, over their usual greatest height.
const LEAST_PICTURE: f64 = 0.8;

fn has_pictures(sheet: &SetupSheet) -> bool {
    let mut blocks = sheet.sections.iter().flat_map(|section| &section.blocks);
    blocks.any(|block| matches!(block, Block::Picture(_) | Block::Gallery(_)))
}

/// Whether a card may begin on the last page of another: the panel is put together where its pieces are pared,
/// and what is not made hangs nowhere.
fn may_share_a_page(a: &SetupSheet, b: &SetupSheet) -> bool {
    let at_one_bench = a.part == SheetPart::Pieces && b.part == SheetPart::Assembly;
    at_one_bench || a.part == SheetPart::Missing
}

/// Cards that may share a page: each on pages of its own, or one after the other where that saves a page.
fn cards_that_share(
    sheets: &[SetupSheet],
    typesetter: &Typesetter<'_>,
    paper: Paper,
) -> Vec<(Vec<Chapter>, Pages)> {
    let set = |typesetter: &Typesetter<'_>, sheets: &[SetupSheet]| cards(sheets, typesetter, paper);
    let fit = |sheets: &[SetupSheet]| {
        let least_picture = match sheets.iter().any(has_pictures) {
            true => LEAST_PICTURE,
            false => 1.0,
        };
        fit(typesetter, least_picture, |typesetter| {
            set(typesetter, sheets)
        })
    };
    let alone: Vec<Fit<'_>> = sheets.chunks(1).map(fit).collect();
    let apart: usize = alone.iter().map(|fit| fit.pages).sum();
    if sheets.len() > 1 {
        let together = fit(sheets);
        if together.pages < apart {
            return vec![together.set(|typesetter| set(typesetter, sheets))];
        }
    }
    let each = alone.iter().zip(sheets.chunks(1));
    each.map(|(fit, sheet)| fit.set(|typesetter| set(typesetter, sheet)))
        .collect()
}

/// Cards one after the other, from a new page on.
fn cards(
    sheets: &[SetupSheet],
    typesetter: &Typesetter<'_>,
    paper: Paper,
) -> (Vec<Chapter>, Pages) {
    let mut paginator = Paginator::scaled(paper, typesetter.scale);
    let chapters = sheets
        .iter()
        .map(|sheet| card(sheet, typesetter, &mut paginator));
    (chapters.collect(), paginator.pages)
}

fn card(sheet: &SetupSheet, typesetter: &Typesetter<'_>, paginator: &mut Paginator) -> Chapter {
    let typesetter = typesetter.within(TagRole::Section);
    let own = ContentsEntry {
        heading: sheet.heading.clone(),
        place: paginator.section(typesetter.opening(sheet)),
    };
    let earlier = paginator.begun.len();
    for sections in typesetter.flow(&sheet.sections) {
        paginator.section(sections);
    }
    let begun = paginator.begun.iter().skip(earlier);
    let sections = sheet.sections.iter().zip(begun);
    let sections = sections.map(|(section, place)| ContentsEntry {
        heading: section.heading.clone(),
        place: *place,
    });
    Chapter {
        own,
        sections: sections.collect(),
    }
}

/// Adds the letters that the fonts lack.
fn add_lacking(element: &PageElement, fonts: &Fonts, all: &mut BTreeSet<char>) {
    for (_, text) in element.texts() {
        all.extend(fonts.lacking(text));
    }
}

/// Pages of templates behind the others.
fn add_templates(
    pages: &mut Vec<Vec<PageElement>>,
    paper: Paper,
    booklet: &Booklet,
    typesetter: &Typesetter<'_>,
) -> Option<Chapter> {
    let typesetter = typesetter.within(TagRole::Section);
    let templates = templates::pages(paper, booklet, &typesetter);
    let mut sections = templates.entries;
    for section in &mut sections {
        section.place.page += pages.len();
    }
    pages.extend(templates.pages);
    let place = sections.first()?.place;
    let heading = "Templates, to be printed at 100 %".into();
    let own = ContentsEntry { heading, place };
    Some(Chapter { own, sections })
}

/// At the foot of every page: what it begins with, what is made, which page of how many.
fn add_feet(
    pages: &mut [Vec<PageElement>],
    chapters: &[Chapter],
    paper: Paper,
    title: &str,
    fonts: &Fonts,
) {
    let count = pages.len();
    let y = paper.size().height - 8.5;
    for (at, page) in pages.iter_mut().enumerate() {
        let top = PagePlace {
            page: at,
            x: 0.0,
            y: paper.top(),
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
        let wide = fonts.width(&numbers, size::SMALL, FontWeight::Plain);
        let room = paper.column() - wide - 10.0;
        let words = fonts.lines(&words, room, size::SMALL, FontWeight::Plain);
        let more = if words.len() > 1 { " ..." } else { "" };
        let title = format!("{}{more}", words.first().map_or("", String::as_str));
        let right = paper.size().width - paper.left() - wide;
        page.push(foot(title, Point::new(paper.left(), y)));
        page.push(foot(numbers, Point::new(right, y)));
    }
}

fn foot(text: String, at: Point) -> PageElement {
    PageElement::Text {
        at,
        style: TextStyle::plain(size::SMALL, theme::QUIET.light),
        text,
    }
}
