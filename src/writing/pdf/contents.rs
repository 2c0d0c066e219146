//! The first pages: what is made, and on which page each part and section begins.

use super::chapters::{Chapter, ContentsEntry};
use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::PageElement;
use super::pagination::Paginator;
use super::paper::Paper;
use super::points::MM_PER_POINT;
use super::typesetter::{LEADING, Typesetter};
use crate::geometry::Point;
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
    let own = listed(chapters, typesetter, paper, title).len();
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
    for chapter in chapters {
        let mut boxes = vec![typesetter.entry(&chapter.own, true)];
        boxes.extend(
            chapter
                .sections
                .iter()
                .map(|section| typesetter.entry(section, false)),
        );
        paginator.run(&boxes);
    }
    paginator.pages
}

impl Typesetter<'_> {
    /// The title, once, above the first part.
    pub(super) fn title(&self, title: &str) -> Vec<LayoutBox> {
        let mut boxes = self.text(
            title,
            size::TITLE,
            FontWeight::Bold,
            theme::INK.light,
            0.0,
            1.5,
        );
        let about = "Set-up sheet. Every setting says what it is measured from. In inches, brackets hold the nearest 1/64 and what must be added to it to come out true: 0.0361 in [1/32 +0.0048].";
        boxes.extend(self.text(
            about,
            size::SMALL,
            FontWeight::Plain,
            theme::QUIET.light,
            0.0,
            4.0,
        ));
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes
    }

    /// A line of the list, all of it a link; a heading that is too long takes several.
    fn entry(&self, entry: &ContentsEntry, part: bool) -> LayoutBox {
        let (left, size, weight, colour, above) = if part {
            let ink = theme::ACCENT.light;
            (0.0, size::TEXT + 1.0, FontWeight::Bold, ink, 3.0)
        } else {
            (INDENT, size::TEXT, FontWeight::Plain, theme::INK.light, 0.0)
        };
        let narrow = Typesetter {
            width: self.width - NUMBER,
            ..*self
        };
        let mut lines = narrow.text(&entry.heading, size, weight, colour, left, 0.0);
        let number = (entry.place.page + 1).to_string();
        let wide = self.fonts.width(&number, size, weight);
        let step = size * LEADING * MM_PER_POINT;
        if let Some(last) = lines.last_mut() {
            let baseline = 0.78 * step;
            let end = last.elements.iter().find_map(|element| match element {
                PageElement::Text { text, .. } => Some(left + self.fonts.width(text, size, weight)),
                _ => None,
            });
            let from = end.unwrap_or(left) + 2.0;
            let to = self.width - wide - 2.0;
            if from < to {
                last.elements.push(PageElement::line(
                    Point::new(from, baseline),
                    Point::new(to, baseline),
                    theme::RULE.light,
                    0.2,
                ));
            }
            last.elements.push(PageElement::Text {
                at: Point::new(self.width - wide, baseline),
                size,
                weight,
                colour,
                text: number,
            });
        }
        let mut whole = self.joined(lines);
        whole.elements.push(PageElement::Link {
            low: Point::new(left, 0.0),
            high: Point::new(self.width, whole.height),
            to: entry.place,
        });
        LayoutBox {
            elements: whole
                .elements
                .iter()
                .map(|element| element.moved(0.0, above))
                .collect(),
            height: whole.height + above,
            with_next: part,
            head: None,
        }
    }
}
