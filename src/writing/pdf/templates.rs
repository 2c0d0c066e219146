//! Templates at true size, tiled over pages where they are larger than one. Every page has two bars
//! to be measured after printing, and the short safety notes of the bench.

use super::Sheet;
use super::contents::Entry;
use super::flow::Place;
use super::letters::{Letters, Weight};
use super::mark::{Mark, drawn};
use crate::geometry::Point;
use crate::instructions::drawing::Drawing;
use crate::instructions::page::Booklet;
use crate::units::{MM_PER_INCH, UnitSystem};
use crate::writing::look::{self, size};

/// Free edge of the paper: half an inch, which every printer leaves.
const EDGE: f64 = 12.7;

/// Where drawings begin below the bars, and how much they end above the paper's edge.
const HEAD: f64 = 42.0;
const FOOT: f64 = 18.0;

/// What neighbouring pages have in common: more than a short text is wide, so that each stands whole
/// on one of them.
const OVERLAP: f64 = 30.0;

/// Room for a template's title.
const TITLE: f64 = 7.0;

/// The pages, and where each template begins.
pub(super) fn pages(
    sheet: Sheet,
    booklet: &Booklet,
    letters: &Letters,
    units: UnitSystem,
) -> (Vec<Vec<Mark>>, Vec<Entry>) {
    let mut pages = Pages {
        sheet,
        letters,
        safety: booklet.templates_safety.short(),
        units,
        pages: Vec::new(),
        y: f64::INFINITY,
    };
    let entry = |template: &Drawing| Entry {
        heading: template.title.clone(),
        place: pages.add(template),
    };
    let entries = booklet.templates.iter().map(entry).collect();
    (pages.pages, entries)
}

struct Pages<'a> {
    sheet: Sheet,
    letters: &'a Letters,
    safety: [&'static str; 2],
    units: UnitSystem,
    pages: Vec<Vec<Mark>>,
    /// How far the last page is filled.
    y: f64,
}

impl Pages<'_> {
    fn room(&self) -> (f64, f64) {
        let (width, height) = self.sheet.size();
        (width - 2.0 * EDGE, height - HEAD - FOOT - TITLE)
    }

    /// Below the last one where there is room, else on pages of its own. Tells where it begins:
    /// the first on a page with the bars above it.
    fn add(&mut self, template: &Drawing) -> Place {
        let size = template.low.to(template.high);
        let (width, height) = self.room();
        let (across, down) = (tiles(size.x, width), tiles(size.y, height));
        let mut begin = None;
        for row in 0..down {
            for column in 0..across {
                let place = self.tile(template, (row, down), (column, across));
                begin.get_or_insert(place);
            }
        }
        begin.unwrap_or(Place { page: 0, y: 0.0 })
    }

    /// One page's share of a template. Shares that are low stand below each other.
    fn tile(
        &mut self,
        template: &Drawing,
        (row, down): (usize, usize),
        (column, across): (usize, usize),
    ) -> Place {
        let (width, height) = self.room();
        let (x, y) = (
            column as f64 * (width - OVERLAP),
            row as f64 * (height - OVERLAP),
        );
        let tall = (template.high.y - template.low.y - y).min(height);
        let (_, paper) = self.sheet.size();
        if self.y + TITLE + tall > paper - FOOT + 1e-6 {
            self.page();
        }
        let begin = Place {
            page: self.pages.len().saturating_sub(1),
            y: if self.y > HEAD { self.y } else { 0.0 },
        };
        let mut title = template.title.clone();
        if across > 1 {
            title.push_str(&format!(", part {} of {across} across", column + 1));
        }
        if down > 1 {
            title.push_str(&format!(", part {} of {down} down", row + 1));
        }
        self.say(&title, Point::new(EDGE, self.y + 4.0));
        let top = self.y + TITLE;
        let corner = Point::new(EDGE - x, top - y);
        let mut marks = drawn(template, 1.0, corner, self.letters, self.units);
        marks.extend(register(template, corner, (width, height), (across, down)));
        // Lines on the edge of a drawing are seen in their whole width.
        let spare = 0.5;
        let low = Point::new(EDGE - spare, top - spare);
        let high = Point::new(EDGE + width + spare, top + tall + spare);
        if across > 1 {
            marks.retain(|mark| self.is_whole(mark, low.x, high.x));
        }
        self.put(vec![Mark::Window { low, high, marks }]);
        self.y = top + tall + 6.0;
        begin
    }

    /// Whether a mark is no text that would be cut here and stands whole on the next page.
    fn is_whole(&self, mark: &Mark, left: f64, right: f64) -> bool {
        match mark {
            Mark::Text {
                at,
                size,
                weight,
                text,
                ..
            } => {
                let width = self.letters.width(text, *size, *weight);
                width > OVERLAP || (at.x >= left && at.x + width <= right)
            }
            _ => true,
        }
    }

    fn page(&mut self) {
        let mut marks = Vec::new();
        let bold = |text: &str, at: Point| Mark::Text {
            at,
            size: size::SECTION,
            weight: Weight::Bold,
            colour: look::INK.light,
            text: text.into(),
        };
        marks.push(bold(
            "Print at 100 %, no fitting to the page",
            Point::new(EDGE, 16.0),
        ));
        let bars = [(100.0, "100 mm", 20.0), (4.0 * MM_PER_INCH, "4 in", 27.0)];
        for (length, name, y) in bars {
            let (low, high) = (Point::new(EDGE, y), Point::new(EDGE + length, y + 3.0));
            marks.push(Mark::filled(low, high, look::INK.light));
            let words = format!("{name}, end to end: measure it before you use this page");
            marks.push(small(&words, Point::new(high.x + 3.0, y + 2.6)));
        }
        for (line, y) in self.safety.into_iter().zip([35.0, 38.6]) {
            marks.push(small(line, Point::new(EDGE, y)));
        }
        self.pages.push(marks);
        self.y = HEAD;
    }

    fn say(&mut self, text: &str, at: Point) {
        let (width, _) = self.sheet.size();
        let lines = self
            .letters
            .lines(text, width - 2.0 * EDGE, size::TEXT, Weight::Bold);
        let text = lines.into_iter().next().unwrap_or_default();
        self.put(vec![Mark::Text {
            at,
            size: size::TEXT,
            weight: Weight::Bold,
            colour: look::INK.light,
            text,
        }]);
    }

    fn put(&mut self, marks: Vec<Mark>) {
        if let Some(page) = self.pages.last_mut() {
            page.extend(marks);
        }
    }
}

fn small(text: &str, at: Point) -> Mark {
    Mark::Text {
        at,
        size: size::SMALL,
        weight: Weight::Plain,
        colour: look::QUIET.light,
        text: text.into(),
    }
}

/// How many pages a length takes.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a panel takes few pages
fn tiles(length: f64, room: f64) -> usize {
    if length <= room {
        return 1;
    }
    ((length - OVERLAP) / (room - OVERLAP) - 1e-9)
        .ceil()
        .max(1.0) as usize
}

/// Crosses in the middle of what neighbouring pages have in common, at the same places of the
/// drawing on both.
fn register(
    template: &Drawing,
    corner: Point,
    (width, height): (f64, f64),
    (across, down): (usize, usize),
) -> Vec<Mark> {
    let size = template.low.to(template.high);
    let joins = |count: usize, room: f64| -> Vec<f64> {
        (1..count)
            .map(|at| at as f64 * (room - OVERLAP) + OVERLAP / 2.0)
            .collect()
    };
    let mut marks = Vec::new();
    let mut cross = |x: f64, y: f64| {
        let at = Point::new(corner.x + x, corner.y + y);
        for (dx, dy) in [(3.0, 0.0), (0.0, 3.0)] {
            let (from, to) = (
                Point::new(at.x - dx, at.y - dy),
                Point::new(at.x + dx, at.y + dy),
            );
            marks.push(Mark::line(from, to, look::ACCENT.light, 0.2));
        }
    };
    // Two along every join on every page.
    let along = |length: f64, room: f64| -> Vec<f64> {
        let pages = tiles(length, room);
        let from = (0..pages).map(|at| at as f64 * (room - OVERLAP));
        from.flat_map(|from| {
            let to = (from + room).min(length);
            [from + 0.2 * (to - from), from + 0.8 * (to - from)]
        })
        .collect()
    };
    for x in joins(across, width) {
        for y in along(size.y, height) {
            cross(x, y);
        }
    }
    for y in joins(down, height) {
        for x in along(size.x, width) {
            cross(x, y);
        }
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_cover_the_whole_length() {
        for length in [10.0, 184.6, 184.7, 339.2, 339.3, 1200.0] {
            let count = tiles(length, 184.6);
            let covered = 184.6 + (count - 1) as f64 * (184.6 - OVERLAP);
            assert!(
                covered >= length - 1e-9 && (count == 1 || covered - length < 184.6 - OVERLAP),
                "{length}"
            );
        }
    }
}
