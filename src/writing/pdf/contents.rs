//! The first pages: what is made, and on which page each part and section begins.

use super::Sheet;
use super::blocks::{LEADING, Setter};
use super::flow::{Box, Flow, Place};
use super::letters::Weight;
use super::mark::{MM_PER_POINT, Mark};
use crate::geometry::Point;
use crate::writing::look::{self, size};

/// Something with a heading, and where it begins.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    pub(super) heading: String,
    pub(super) place: Place,
}

/// An entry of the contents with those below it.
#[derive(Debug, Clone)]
pub(super) struct Chapter {
    pub(super) own: Entry,
    pub(super) sections: Vec<Entry>,
}

impl Chapter {
    /// Its own entry, then its sections'.
    pub(super) fn entries(&self) -> impl Iterator<Item = &Entry> {
        std::iter::once(&self.own).chain(&self.sections)
    }
}

/// Where page numbers end a line, mm wide.
const NUMBER: f64 = 12.0;

/// Sections stand this far to the right of their part, mm.
const INDENT: f64 = 5.0;

/// Puts pages with the title and a list of the chapters before all others; chapters are moved to
/// the pages on which they then are.
pub(super) fn put_before(
    pages: &mut Vec<Vec<Mark>>,
    chapters: &mut [Chapter],
    setter: &Setter<'_>,
    sheet: Sheet,
    title: &str,
) {
    // Numbers take the same room whatever they are, so their count of pages is known beforehand.
    let own = listed(chapters, setter, sheet, title).len();
    for chapter in chapters.iter_mut() {
        chapter.own.place.page += own;
        for section in &mut chapter.sections {
            section.place.page += own;
        }
    }
    let listed = listed(chapters, setter, sheet, title);
    pages.splice(0..0, listed);
}

fn listed(chapters: &[Chapter], setter: &Setter<'_>, sheet: Sheet, title: &str) -> Vec<Vec<Mark>> {
    let mut flow = Flow::new(sheet);
    flow.page();
    flow.section(&setter.title(title));
    for chapter in chapters {
        let mut boxes = vec![setter.entry(&chapter.own, true)];
        boxes.extend(
            chapter
                .sections
                .iter()
                .map(|section| setter.entry(section, false)),
        );
        flow.run(&boxes);
    }
    flow.pages
}

impl Setter<'_> {
    /// A line of the list, all of it a link; a heading that is too long takes several.
    fn entry(&self, entry: &Entry, part: bool) -> Box {
        let (left, size, weight, colour, above) = if part {
            let ink = look::ACCENT.light;
            (0.0, size::TEXT + 1.0, Weight::Bold, ink, 3.0)
        } else {
            (INDENT, size::TEXT, Weight::Plain, look::INK.light, 0.0)
        };
        let narrow = Setter {
            width: self.width - NUMBER,
            ..*self
        };
        let mut lines = narrow.text(&entry.heading, size, weight, colour, left, 0.0);
        let number = (entry.place.page + 1).to_string();
        let wide = self.letters.width(&number, size, weight);
        let step = size * LEADING * MM_PER_POINT;
        if let Some(last) = lines.last_mut() {
            let baseline = 0.78 * step;
            let end = last.marks.iter().find_map(|mark| match mark {
                Mark::Text { text, .. } => Some(left + self.letters.width(text, size, weight)),
                _ => None,
            });
            let (from, to) = (end.unwrap_or(left) + 2.0, self.width - wide - 2.0);
            if from < to {
                let (from, to) = (Point::new(from, baseline), Point::new(to, baseline));
                last.marks.push(Mark::line(from, to, look::RULE.light, 0.2));
            }
            last.marks.push(Mark::Text {
                at: Point::new(self.width - wide, baseline),
                size,
                weight,
                colour,
                text: number,
            });
        }
        let mut whole = self.joined(lines);
        whole.marks.push(Mark::Link {
            low: Point::new(left, 0.0),
            high: Point::new(self.width, whole.height),
            to: entry.place,
        });
        Box {
            marks: whole
                .marks
                .iter()
                .map(|mark| mark.moved(0.0, above))
                .collect(),
            height: whole.height + above,
            with_next: part,
            head: None,
        }
    }
}
