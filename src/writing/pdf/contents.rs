//! The first pages: what is made, and on which page each part and section begins.

use super::chapters::{Chapter, ContentsEntry};
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::pagination::Paginator;
use super::paper::Paper;
use super::tags::{TagRole, Tags};
use super::typesetter::{BASELINE, Typesetter, keep_with_next, line_step};
use crate::geometry::Point;
use crate::units::UnitSystem;
use crate::writing::text::FRACTIONS;
use crate::writing::theme::{self, size};

/// Where page numbers end a line, mm wide.
const NUMBER: f64 = 12.0;

/// Sections stand this far to the right of their part, mm.
const INDENT: f64 = 5.0;

/// Puts pages with the title and a list of the chapters before all others; chapters are moved to
/// the pages on which they then are.
pub(super) fn put_before(
    pages: &mut Vec<Vec<PageElement>>,
    chapters: &mut [Chapter],
    typesetter: &Typesetter<'_>,
    paper: Paper,
    title: &str,
) {
    // Numbers take the same room whatever they are, so their count of pages is known beforehand.
    let counting = Tags::new();
    let counted = Typesetter {
        tags: &counting,
        under: Tags::ROOT,
        ..*typesetter
    };
    let own = listed(chapters, &counted, paper, title).len();
    for chapter in chapters.iter_mut() {
        chapter.own.place.page += own;
        for section in &mut chapter.sections {
            section.place.page += own;
        }
    }
    let listed = listed(chapters, typesetter, paper, title);
    pages.splice(0..0, listed);
}

fn listed(
    chapters: &[Chapter],
    typesetter: &Typesetter<'_>,
    paper: Paper,
    title: &str,
) -> Vec<Vec<PageElement>> {
    let mut paginator = Paginator::new(paper);
    paginator.page();
    paginator.section(&typesetter.title(title));
    let typesetter = typesetter.within(TagRole::Contents);
    for chapter in chapters {
        let mut boxes = vec![typesetter.entry(&chapter.own, Rank::Part)];
        boxes.extend(
            chapter
                .sections
                .iter()
                .map(|section| typesetter.entry(section, Rank::Section)),
        );
        paginator.run(&boxes);
    }
    paginator.pages
}

/// What an entry of the list stands for.
#[derive(Clone, Copy)]
enum Rank {
    Part,
    Section,
}

/// How an entry is set; lengths in mm.
struct EntryLook {
    style: TextStyle,
    left: f64,
    /// Free room above it.
    above: f64,
}

impl Rank {
    fn look(self) -> EntryLook {
        match self {
            Rank::Part => EntryLook {
                style: TextStyle::bold(size::TEXT + 1.0, theme::ACCENT.light),
                left: 0.0,
                above: 3.0,
            },
            Rank::Section => EntryLook {
                style: TextStyle::plain(size::TEXT, theme::INK.light),
                left: INDENT,
                above: 0.0,
            },
        }
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

    /// A line of the list, all of it a link; a heading that is too long takes several.
    fn entry(&self, entry: &ContentsEntry, rank: Rank) -> LayoutBox {
        let EntryLook { style, left, above } = rank.look();
        let narrow = Typesetter {
            width: self.width - NUMBER,
            ..*self
        };
        let tag = self.within(TagRole::Entry).within(TagRole::Link).under;
        let mut lines = narrow.text_of(tag, &entry.heading, style, left, 0.0);
        let number = (entry.place.page + 1).to_string();
        let number_width = self.fonts.width(&number, style.size, style.weight);
        if let Some(last) = lines.last_mut() {
            let baseline = BASELINE * line_step(style.size);
            let texts = last.elements.iter().flat_map(PageElement::texts);
            let mut ends =
                texts.map(|(_, text)| left + self.fonts.width(text, style.size, style.weight));
            let end = ends.next();
            let from = end.unwrap_or(left) + 2.0;
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
        let mut whole = LayoutBox::stacked(&lines);
        whole.elements.push(PageElement::Link {
            low: Point::new(left, 0.0),
            high: Point::new(self.width, whole.height),
            to: entry.place,
            tag,
        });
        whole.shift(0.0, above);
        whole.height += above;
        whole.with_next = match rank {
            Rank::Part => true,
            Rank::Section => false,
        };
        whole
    }
}
