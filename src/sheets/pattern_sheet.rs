//! All patterns on one sheet of paper.

use crate::geometry::{Point, Vector};
use crate::instructions::drawing::{Anchor, Drawing, Role};
use crate::instructions::patterns::{PatternEntry, in_groups};
use crate::phrase::Phrase;

/// Patterns in a row. With the room below, seven fill the width of A3 within its margins.
const COLUMNS: usize = 7;

/// Room for a pattern side to side, mm.
const WIDE_MM: f64 = 39.0;

/// Longest side of a picture, mm.
const PICTURE_MM: f64 = 35.0;

/// Room below a picture, its name in it, mm.
const BELOW_MM: f64 = 8.0;

/// Capitals of a name, mm: type of 8 points.
const NAME_MM: f64 = 2.06;

/// Capitals of a heading, mm: type of 13 points.
const HEADING_MM: f64 = 3.34;

/// Room for a heading, mm.
const HEADING_ROOM_MM: f64 = 10.0;

/// Patterns in rows, group by group, each with its name below; `note` says what they are drawn with.
pub fn pattern_sheet_drawing(entries: &[PatternEntry], note: impl Into<Phrase>) -> Drawing {
    let width = COLUMNS as f64 * WIDE_MM;
    let mut drawing = Drawing::new("Patterns of pieces", Point::default(), Point::default());
    let mut top = 0.0;
    for (group, of_it) in in_groups(entries) {
        top -= HEADING_ROOM_MM;
        let at = Point::new(0.0, top + 1.5 * HEADING_MM);
        drawing.text_from(Role::Name, Anchor::Start, at, HEADING_MM, group.heading());
        for row in of_it.chunks(COLUMNS) {
            let heights = row.iter().map(|entry| size(entry).y);
            let tall = heights.fold(0.0, f64::max);
            for (column, entry) in row.iter().enumerate() {
                let middle = Point::new((column as f64 + 0.5) * WIDE_MM, top - tall / 2.0);
                pattern(&mut drawing, entry, middle, top - tall);
            }
            top -= tall + BELOW_MM;
        }
    }
    top -= NAME_MM;
    let at = Point::new(0.0, top);
    drawing.text_from(Role::Measure, Anchor::Start, at, NAME_MM, note);
    drawing.low = Point::new(0.0, top - NAME_MM);
    drawing.high = Point::new(width, 0.0);
    drawing
}

/// Of a picture on the sheet, mm.
fn size(entry: &PatternEntry) -> Vector {
    let size = entry.picture.low.to(entry.picture.high);
    size * (PICTURE_MM / size.x.max(size.y))
}

/// A picture about its middle, and its name below the row's pictures, which end at `low`.
fn pattern(drawing: &mut Drawing, entry: &PatternEntry, middle: Point, low: f64) {
    let size = size(entry);
    let scale = size.x / (entry.picture.high.x - entry.picture.low.x);
    drawing.put(&entry.picture, scale, middle + size * -0.5);
    let at = Point::new(middle.x, low - 1.6 * NAME_MM);
    drawing.text(Role::Name, at, NAME_MM, entry.name.as_str());
}
