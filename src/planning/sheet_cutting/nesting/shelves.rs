//! Bars on shelves along the grain: what is laid out in one piece goes where it fits best.

use super::rectangle::{Extent, FITS_BY, Placement, Rectangle, between_margins};
use super::rows::Rows;
use crate::geometry::Point;
use crate::machines::Sheet;
use std::cmp::Ordering;

struct Shelf {
    sheet: usize,
    bottom: f64,
    height: f64,
    /// Where the next part's left edge goes, from the margin on.
    next: f64,
    /// Where it ends.
    end: f64,
}

/// What is laid out in one piece: parts beside each other, a gap between neighbours.
pub(super) struct Bar {
    members: Vec<usize>,
    length: f64,
    height: f64,
}

impl Bar {
    fn of(members: &[usize], rectangles: &[Rectangle], gap: f64) -> Bar {
        let parts = || members.iter().filter_map(|at| rectangles.get(*at));
        Bar {
            members: members.to_vec(),
            length: parts().map(|part| part.length + gap).sum::<f64>() - gap,
            height: parts().map(|part| part.height).fold(0.0, f64::max),
        }
    }
}

/// In the order in which they are laid out: the rows of those classes for which there are any, the
/// parts of the others one by one.
pub(super) fn bars(
    rectangles: &[Rectangle],
    classes: &[Vec<usize>],
    rows: &[Rows],
    gap: f64,
) -> Vec<Bar> {
    let mut all = Vec::new();
    for (at, class) in classes.iter().enumerate() {
        let mut bars: Vec<Bar> = match rows.get(at) {
            Some(rows) => {
                let rows = rows.rows.iter();
                rows.map(|row| Bar::of(row, rectangles, gap)).collect()
            }
            None => {
                let parts = class.chunks(1);
                parts.map(|part| Bar::of(part, rectangles, gap)).collect()
            }
        };
        bars.sort_by(|a, b| b.length.total_cmp(&a.length));
        all.extend(bars);
    }
    all
}

/// Bar by bar on the shelf that it fits best.
pub(super) fn best_fit(rectangles: &[Rectangle], bars: &[Bar], sheet: &Sheet) -> Vec<Placement> {
    let room = between_margins(sheet);
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut tops: Vec<f64> = Vec::new();
    let mut placed = Vec::with_capacity(rectangles.len());
    for bar in bars {
        let best = best_shelf(&shelves, bar);
        let chosen = best.unwrap_or_else(|| {
            shelves.push(open_shelf(&mut tops, bar.height, room, sheet.gap));
            shelves.len() - 1
        });
        let Some(shelf) = shelves.get_mut(chosen) else {
            continue;
        };
        let bottom = sheet.margin + shelf.bottom;
        let mut left = sheet.margin + shelf.next;
        for member in &bar.members {
            let place = Placement {
                sheet: shelf.sheet,
                corner: Point::new(left, bottom),
            };
            placed.push((*member, place));
            left += rectangles.get(*member).map_or(0.0, |part| part.length) + sheet.gap;
        }
        let above = Shelf {
            sheet: shelf.sheet,
            bottom: shelf.bottom + bar.height + sheet.gap,
            height: shelf.height - bar.height - sheet.gap,
            next: shelf.next,
            end: shelf.next + bar.length,
        };
        shelf.next += bar.length + sheet.gap;
        if above.height > 0.0 {
            shelves.push(above);
        }
    }
    placed.sort_by_key(|&(index, _)| index);
    placed.into_iter().map(|(_, place)| place).collect()
}

/// What a bar leaves of a shelf.
struct LeftOver {
    height: f64,
    length: f64,
}

impl LeftOver {
    /// Heights that differ by rounding only are the same.
    fn of(shelf: &Shelf, bar: &Bar) -> LeftOver {
        LeftOver {
            height: ((shelf.height - bar.height) / FITS_BY).round() * FITS_BY,
            length: shelf.end - shelf.next - bar.length,
        }
    }

    fn is_there(&self) -> bool {
        self.height >= -FITS_BY && self.length >= -FITS_BY
    }

    fn order(&self, other: &LeftOver) -> Ordering {
        let by_height = self.height.total_cmp(&other.height);
        by_height.then(self.length.total_cmp(&other.length))
    }
}

fn best_shelf(shelves: &[Shelf], bar: &Bar) -> Option<usize> {
    let all = shelves.iter().map(|shelf| LeftOver::of(shelf, bar));
    let fitting = all.enumerate().filter(|(_, left)| left.is_there());
    let best = fitting.min_by(|(_, a), (_, b)| a.order(b));
    best.map(|(index, _)| index)
}

/// A shelf on the first sheet that has room for it above its other shelves; `tops` is where the
/// next shelf of each sheet would begin.
fn open_shelf(tops: &mut Vec<f64>, height: f64, room: Extent, gap: f64) -> Shelf {
    let fits = |top: &f64| top + height <= room.across + FITS_BY;
    let sheet = tops.iter().position(fits).unwrap_or_else(|| {
        tops.push(0.0);
        tops.len() - 1
    });
    let mut bottom = 0.0;
    if let Some(top) = tops.get_mut(sheet) {
        bottom = *top;
        *top += height + gap;
    }
    Shelf {
        sheet,
        bottom,
        height,
        next: 0.0,
        end: room.along,
    }
}
