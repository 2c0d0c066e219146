//! One cell with its pieces.

use crate::geometry::{Point, bounds};
use crate::infill::{PieceLap, SolvedCell};
use crate::instructions::drawing::{Drawing, Role};
use crate::lattice::Face;
use crate::phrase;
use crate::units::Mm;

/// Breadth of the wood shown around a pattern's cell, mm.
const WALL_MM: f64 = 3.0;

/// One cell of a pattern with its walls, for showing the pattern.
pub fn cell_drawing(cell: &SolvedCell, title: &str) -> Drawing {
    let (low, high) = bounds(cell.cell.corners().iter().copied()).unwrap_or_default();
    let mut drawing = Drawing::new(title, low, high);
    let walls = grown(cell.cell.corners(), WALL_MM);
    let (outer_low, outer_high) = bounds(walls.iter().copied()).unwrap_or_default();
    drawing.area(Role::WoodBehind, walls);
    drawing.area(Role::Cut, cell.cell.corners().to_vec());
    let mut laid: Vec<_> = cell.pieces.iter().collect();
    laid.sort_by_key(|piece| keeps_front(&piece.figures.laps));
    for piece in laid {
        drawing.area(Role::Piece, piece.polygon());
    }
    let text = (high.y - low.y) * 0.035;
    let mut at = outer_low.y - 1.5 * text;
    let mut told: Vec<&str> = Vec::new();
    for piece in &cell.pieces {
        let middle = label_place(piece.axis.0, piece.axis.1, &piece.figures.laps);
        drawing.text(Role::Label, middle, text, piece.name.as_str());
        if told.iter().all(|name| *name != piece.name) {
            told.push(&piece.name);
            let line = phrase!("{}  {}", &piece.name, Mm(piece.figures.length));
            drawing.text(
                Role::Measure,
                Point::new(f64::midpoint(low.x, high.x), at),
                text,
                line,
            );
            at -= 1.9 * text;
        }
    }
    drawing.low = Point::new(outer_low.x, at);
    drawing.high = outer_high;
    drawing
}

/// Whether a lapped piece lies over its mates.
fn keeps_front(laps: &[PieceLap]) -> bool {
    laps.iter().any(|lap| lap.face == Face::Back)
}

/// The middle of a piece, or beside it where another piece crosses there.
fn label_place(from: Point, to: Point, laps: &[PieceLap]) -> Point {
    let share = if laps.is_empty() { 0.5 } else { 0.3 };
    from + from.to(to) * share
}

/// A ring's corners moved away from its middle, for a rim of about `by`.
fn grown(ring: &[Point], by: f64) -> Vec<Point> {
    crate::geometry::offset::offset(ring, by).unwrap_or_else(|_| ring.to_vec())
}
