//! The assembled panel from the front, and one cell of it enlarged, as a drawing to look at.

use crate::geometry::{Point, Vector, bounds};
use crate::infill::{FilledCell, Infilling, PieceLap, PlacedPiece, SolvedCell};
use crate::instructions::drawing::{Drawing, Role};
use crate::lattice::{Face, Lattice, Strip};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// Between the panel and the enlarged cell, as a share of the panel's height.
const GAP: f64 = 0.12;

/// Height of the enlarged cell, as a share of the panel's height.
const ENLARGED: f64 = 0.62;

/// Height of the writing below the enlarged cell, as a share of its breadth: its longest line is
/// as broad as the cell.
const TEXT_HEIGHT: f64 = 0.034;

/// The panel, strips of the front layer over those behind, pieces in their cells numbered by
/// kind; beside it the first filled cell enlarged, with its opening and its pieces' lengths.
pub fn panel_drawing(lattice: &Lattice, filled: Option<&Infilling>) -> Drawing {
    let ends = lattice
        .strips
        .iter()
        .flat_map(|strip| [strip.start, strip.end]);
    let (low, high) = bounds(ends).unwrap_or_default();
    let mut drawing = Drawing::new(lattice.title.clone(), low, high);
    let mut layers: Vec<(usize, &Strip)> = lattice
        .strips
        .iter()
        .map(|strip| (strip.place, strip))
        .collect();
    layers.sort_by_key(|(layer, _)| std::cmp::Reverse(*layer));
    for (layer, strip) in layers {
        let role = if layer == 0 {
            Role::Wood
        } else {
            Role::WoodBehind
        };
        drawing.area(role, band(strip, lattice.section.thickness));
    }
    if let Some(filled) = filled {
        for cell in &filled.cells {
            pieces(&mut drawing, cell, |point| point, 1.0);
        }
        if let Some(cell) = filled.cells.iter().find(|cell| !cell.pieces.is_empty()) {
            enlarged(&mut drawing, cell, filled, lattice.section.thickness);
        }
    }
    drawing
}

/// A strip as seen from the front.
fn band(strip: &Strip, thickness: f64) -> Vec<Point> {
    let along = strip.start.to(strip.end).unit().unwrap_or_default();
    let half = Vector::new(-along.y, along.x).times(thickness / 2.0);
    let back = half.times(-1.0);
    vec![
        strip.start.plus(back),
        strip.end.plus(back),
        strip.end.plus(half),
        strip.start.plus(half),
    ]
}

/// The pieces of a cell through a map of the plane that enlarges by `scale`; each bears the number
/// of its kind where there is room.
pub(super) fn pieces(
    drawing: &mut Drawing,
    cell: &FilledCell,
    map: impl Fn(Point) -> Point,
    scale: f64,
) {
    let mut laid: Vec<&PlacedPiece> = cell.pieces.iter().collect();
    laid.sort_by_key(|piece| keeps_front(&piece.laps));
    for piece in laid {
        let ring = piece.outline.iter().map(|point| map(*point)).collect();
        drawing.area(Role::Piece, ring);
    }
    for piece in &cell.pieces {
        let (from, to) = piece.axis;
        let height = LABEL_HEIGHT * narrowest(&piece.outline, from.to(to)) * scale;
        let at = map(label_place(piece.axis, &piece.laps));
        drawing.text(Role::Label, at, height, (piece.kind + 1).to_string());
    }
}

/// Whether a lapped piece lies over its mates.
fn keeps_front(laps: &[PieceLap]) -> bool {
    laps.iter().any(|lap| lap.face == Face::Back)
}

/// The middle of a piece, or beside it where another piece crosses there.
fn label_place((from, to): (Point, Point), laps: &[PieceLap]) -> Point {
    let share = if laps.is_empty() { 0.5 } else { 0.3 };
    from.plus(from.to(to).times(share))
}

/// Height of a number as a share of its piece's thickness.
const LABEL_HEIGHT: f64 = 0.62;

/// Width of a ring square to a direction.
fn narrowest(ring: &[Point], along: Vector) -> f64 {
    let along = along.unit().unwrap_or_default();
    let across = ring
        .iter()
        .map(|point| along.cross(Vector::new(point.x, point.y)));
    let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
        (low.min(at), high.max(at))
    });
    (high - low).max(0.0)
}

/// One cell with the strips around it, to the right of the panel.
fn enlarged(drawing: &mut Drawing, cell: &FilledCell, filled: &Infilling, thickness: f64) {
    let Some((low, high)) = bounds(cell.outline.iter().copied()) else {
        return;
    };
    let panel_height = drawing.high.y - drawing.low.y;
    let size = (high.x - low.x).max(high.y - low.y) + 2.0 * thickness;
    let scale = ENLARGED * panel_height / size;
    let left = drawing.high.x + GAP * panel_height + thickness * scale;
    let bottom = drawing.high.y - thickness * scale - (high.y - low.y) * scale;
    let map = |point: Point| {
        Point::new(
            left + (point.x - low.x) * scale,
            bottom + (point.y - low.y) * scale,
        )
    };
    let rim = |x: f64, y: f64| map(Point::new(x, y));
    let (outer_low, outer_high) = (
        rim(low.x - thickness, low.y - thickness),
        rim(high.x + thickness, high.y + thickness),
    );
    drawing.rectangle(Role::WoodBehind, outer_low, outer_high);
    for (from, to) in [(low.x - thickness, low.x), (high.x, high.x + thickness)] {
        drawing.rectangle(
            Role::Wood,
            rim(from, low.y - thickness),
            rim(to, high.y + thickness),
        );
    }
    drawing.area(
        Role::Cut,
        cell.outline.iter().map(|point| map(*point)).collect(),
    );
    pieces(drawing, cell, map, scale);
    let text = (outer_high.x - outer_low.x) * TEXT_HEIGHT;
    let mut at = outer_low.y - 1.8 * text;
    let middle = f64::midpoint(outer_low.x, outer_high.x);
    let (left, right) = (rim(low.x, 0.0).x, rim(high.x, 0.0).x);
    for end in [left, right] {
        let tick = [
            Point::new(end, at + 1.5 * text),
            Point::new(end, at + 0.5 * text),
        ];
        drawing.line(Role::Measure, tick.to_vec());
    }
    let span = vec![Point::new(left, at + text), Point::new(right, at + text)];
    drawing.line(Role::Measure, span);
    at -= 0.4 * text;
    let mut say = |line: Phrase| {
        drawing.text(Role::Measure, Point::new(middle, at), text, line);
        at -= 1.9 * text;
    };
    let (wide, tall) = cell.opening();
    say(phrase!("clear opening {} x {}", Mm(wide), Mm(tall)));
    let mut told: Vec<usize> = cell.pieces.iter().map(|piece| piece.kind).collect();
    told.sort_unstable();
    told.dedup();
    for kind in told {
        if let Some(piece) = filled.kinds.get(kind) {
            say(phrase!(
                "{}  {} {}",
                kind + 1,
                &piece.name,
                Mm(piece.figures.length)
            ));
        }
    }
    drawing.high.x = outer_high.x;
    drawing.low.y = drawing.low.y.min(at);
}

/// One cell of a pattern with its walls, for showing the pattern.
pub fn cell_drawing(cell: &SolvedCell, title: &str) -> Drawing {
    let (low, high) = bounds(cell.cell.corners().iter().copied()).unwrap_or_default();
    let mut drawing = Drawing::new(title, low, high);
    drawing.area(Role::WoodBehind, grown(cell.cell.corners(), WALL_MM));
    drawing.area(Role::Cut, cell.cell.corners().to_vec());
    let mut laid: Vec<_> = cell.pieces.iter().collect();
    laid.sort_by_key(|piece| keeps_front(&piece.figures.laps));
    for piece in laid {
        drawing.area(Role::Piece, piece.polygon());
    }
    let text = (high.y - low.y) * 0.035;
    let mut at = low.y - WALL_MM - 1.5 * text;
    let mut told: Vec<&str> = Vec::new();
    for piece in &cell.pieces {
        let middle = label_place(piece.axis, &piece.figures.laps);
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
    drawing.low = Point::new(low.x - WALL_MM, at);
    drawing.high = Point::new(high.x + WALL_MM, high.y + WALL_MM);
    drawing
}

/// Breadth of the wood shown around a pattern's cell, mm.
const WALL_MM: f64 = 3.0;

/// A ring's corners moved away from its middle, for a rim of about `by`.
fn grown(ring: &[Point], by: f64) -> Vec<Point> {
    crate::geometry::offset::offset(ring, by).unwrap_or_else(|_| ring.to_vec())
}
