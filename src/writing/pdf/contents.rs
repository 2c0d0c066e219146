//! The first page: what is made, the front's sections, and on which page each card begins.

use super::chapters::{Chapter, ContentsEntry};
use super::fitted::fitted;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::page_place::PagePlace;
use super::pagination::Paginator;
use super::paper::Paper;
use super::tags::{TagRole, Tags};
use super::typesetter::{BASELINE, BETWEEN, TWO_COLUMNS, Typesetter, keep_with_next, line_step};
use crate::geometry::Point;
use crate::instructions::booklet::Booklet;
use crate::instructions::sheet::Section;
use crate::units::UnitSystem;
use crate::writing::text::FRACTIONS;
use crate::writing::theme::{self, size};

/// Where page numbers end a line, mm wide.
const NUMBER: f64 = 9.0;

/// How much higher the panel's picture may be than others.
const FRONT: f64 = 1.35;

/// How low it may be, over that.
const LEAST_FRONT: f64 = 0.7;

/// Puts pages with the title, the front and a list of the chapters before all others; chapters are
/// moved to the pages on which they then are, and the front becomes the first of them.
pub(super) fn put_before(
    pages: &mut Vec<Vec<PageElement>>,
    chapters: &mut Vec<Chapter>,
    typesetter: &Typesetter<'_>,
    paper: Paper,
    booklet: &Booklet,
) {
    // Numbers take the same room whatever they are, so their count of pages is known beforehand.
    let front = Typesetter {
        tallest: FRONT * typesetter.tallest,
        ..*typesetter
    };
    let set = |chapters: &[Chapter], front: &Typesetter<'_>| {
        fitted(front, LEAST_FRONT, |typesetter| {
            let FirstPages { pages, places } = listed(chapters, typesetter, paper, booklet);
            (places, pages)
        })
    };
    let counting = Tags::new();
    let counted = Typesetter {
        tags: &counting,
        under: Tags::ROOT,
        draws: false,
        ..front
    };
    let own = set(chapters, &counted).1.len();
    let moved = chapters.drain(..).map(|chapter| chapter.moved(own));
    let moved: Vec<Chapter> = moved.collect();
    chapters.extend(moved);
    let (places, first) = set(chapters, &front);
    pages.splice(0..0, first);
    let mut places = places.into_iter().zip(&booklet.front);
    if let Some((place, first)) = places.next() {
        let entry = |(place, section): (PagePlace, &Section)| ContentsEntry {
            heading: section.heading.clone(),
            place,
        };
        let front = Chapter {
            own: entry((place, first)),
            sections: places.map(entry).collect(),
        };
        chapters.insert(0, front);
    }
}

/// The first pages, and where the front's sections begin on them.
struct FirstPages {
    pages: Vec<Vec<PageElement>>,
    places: Vec<PagePlace>,
}

fn listed(
    chapters: &[Chapter],
    typesetter: &Typesetter<'_>,
    paper: Paper,
    booklet: &Booklet,
) -> FirstPages {
    let mut paginator = Paginator::scaled(paper, typesetter.scale);
    paginator.page();
    paginator.section(typesetter.title(&booklet.title));
    let mut places = Vec::new();
    for section in &booklet.front {
        let typesetter = typesetter.within(TagRole::Section);
        places.push(paginator.section(typesetter.blocks_of_front(section)));
    }
    if !chapters.is_empty() {
        paginator.section(typesetter.list(chapters));
    }
    FirstPages {
        pages: paginator.pages,
        places,
    }
}

impl Typesetter<'_> {
    /// The title, once, above the first part.
    pub(super) fn title(&self, title: &str) -> Vec<LayoutBox> {
        let heading = self.tags.open(TagRole::Heading(1), self.under);
        let mut boxes = self.text_of(
            heading,
            title,
            TextStyle::bold(size::TITLE, theme::INK.light),
            0.0,
            1.5,
        );
        let mut about = String::from("Set-up sheet. Every setting says what it is measured from.");
        if self.units == UnitSystem::Inches {
            about = format!("{about} {FRACTIONS}");
        }
        boxes.extend(self.text(
            &about,
            TextStyle::plain(size::SMALL, theme::QUIET.light),
            0.0,
            4.0,
        ));
        keep_with_next(&mut boxes);
        boxes
    }

    /// The list of the chapters, in two columns where there is room.
    fn list(&self, chapters: &[Chapter]) -> Vec<LayoutBox> {
        let heading = "Cards, and the pages where they begin";
        let mut boxes = self.heading(2, heading, size::SECTION, theme::INK.light);
        let columns = if self.width > TWO_COLUMNS { 2 } else { 1 };
        let narrow = self.column(columns).within(TagRole::Contents);
        let entries: Vec<LayoutBox> = chapters
            .iter()
            .map(|chapter| narrow.entry(&chapter.own))
            .collect();
        let each = entries.len().div_ceil(columns).max(1);
        let mut whole = LayoutBox::default();
        for (at, column) in entries.chunks(each).enumerate() {
            let stacked = LayoutBox::stacked(column.to_vec());
            whole.height = whole.height.max(stacked.height);
            whole.put(stacked, at as f64 * (narrow.width + BETWEEN), 0.0);
        }
        boxes.push(whole);
        boxes
    }

    /// A line of the list, all of it a link; a heading that is too long takes several.
    fn entry(&self, entry: &ContentsEntry) -> LayoutBox {
        let style = TextStyle::bold(size::TEXT, theme::ACCENT.light);
        let narrow = Typesetter {
            width: self.width - NUMBER,
            ..*self
        };
        let tag = self.within(TagRole::Entry).within(TagRole::Link).under;
        let mut lines = narrow.text_of(tag, &entry.heading, style, 0.0, 0.0);
        let number = (entry.place.page + 1).to_string();
        let number_width = self.fonts.width(&number, style.size, style.weight);
        if let Some(last) = lines.last_mut() {
            let baseline = BASELINE * line_step(style.size);
            let texts = last.elements.iter().flat_map(PageElement::texts);
            let mut ends = texts.map(|(_, text)| self.fonts.width(text, style.size, style.weight));
            let end = ends.next();
            let from = end.unwrap_or_default() + 2.0;
            let to = self.width - number_width - 2.0;
            if from < to {
                last.elements.push(PageElement::line(
                    Point::new(from, baseline),
                    Point::new(to, baseline),
                    theme::RULE.light,
                    0.2,
                ));
            }
            let number = PageElement::Text {
                at: Point::new(self.width - number_width, baseline),
                style,
                text: number,
            };
            last.elements.push(PageElement::marked(tag, vec![number]));
        }
        let mut whole = LayoutBox::stacked(lines);
        whole.elements.push(PageElement::Link {
            low: Point::new(0.0, 0.0),
            high: Point::new(self.width, whole.height),
            to: entry.place,
            tag,
        });
        whole.height += 0.8;
        whole
    }
}
