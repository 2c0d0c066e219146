//! The assembled panel from the front, and one cell of it enlarged, as a drawing to look at.

use crate::geometry::convex::common;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds, signed_area};
use crate::infill::{CellShape, FilledCell, Infilling, PieceLap, PlacedPiece, SolvedCell};
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::outline::{Path, SheetDrawing, Work};
use crate::lattice::{Face, Lattice, Strip};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, UnitSystem};

/// Between the panel and the enlarged cell, as a share of the panel's height.
const GAP: f64 = 0.12;

/// Height of the enlarged cell, as a share of the panel's height.
const ENLARGED: f64 = 0.62;

/// Greatest height of the writing below the enlarged cell, as a share of its breadth.
const TEXT_HEIGHT: f64 = 0.034;

/// Breadth of a character as a share of the writing's height, about: no line is to be broader
/// than the cell.
const CHARACTER: f64 = 0.87;

/// The panel, strips of the front layer over those behind, each with its name at its datum end,
/// pieces in their cells numbered by kind; beside it the first filled cell enlarged, with its opening and its pieces' lengths.
pub fn panel_drawing(lattice: &Lattice, filled: Option<&Infilling>) -> Drawing {
    let ends = lattice
        .strips
        .iter()
        .flat_map(|strip| [strip.start, strip.end]);
    let (low, high) = bounds(ends).unwrap_or_default();
    let mut drawing = Drawing::new(lattice.title.clone(), low, high);
    for strip in from_the_back(lattice) {
        drawing.area(tone(strip), band(strip, lattice.section.thickness));
    }
    if let Some(filled) = filled {
        for cell in &filled.cells {
            pieces(&mut drawing, filled, cell, |point| point, 1.0);
        }
    }
    if !is_square(lattice) {
        let around = lattice.region.iter().chain(lattice.region.first());
        drawing.line(Role::Measure, around.copied().collect());
    }
    names(&mut drawing, lattice);
    if let Some(filled) = filled {
        let shown = |cell: &&FilledCell| cell.whole && !cell.pieces.is_empty();
        if let Some(cell) = filled.cells.iter().find(shown) {
            enlarged(&mut drawing, cell, filled, lattice);
        }
    }
    drawing
}

/// Strips in the order in which they are drawn over each other.
fn from_the_back(lattice: &Lattice) -> Vec<&Strip> {
    let mut strips: Vec<&Strip> = lattice.strips.iter().collect();
    strips.sort_by_key(|strip| std::cmp::Reverse(strip.place));
    strips
}

/// The lighter the nearer.
fn tone(strip: &Strip) -> Role {
    match strip.place {
        0 => Role::Wood,
        1 => Role::WoodBehind,
        _ => Role::WoodAtBack,
    }
}

/// Whether strips run along x and y only: the panel then ends at its outer strips.
fn is_square(lattice: &Lattice) -> bool {
    lattice.strips.iter().all(|strip| {
        let way = strip.start.to(strip.end);
        way.x.abs() < SAME_POSITION_MM || way.y.abs() < SAME_POSITION_MM
    })
}

/// The same strips and pieces as closed lines of layer LETTERS: nothing of it is to be cut.
pub fn panel_outlines(lattice: &Lattice, filled: Option<&Infilling>) -> SheetDrawing {
    let strips = lattice
        .strips
        .iter()
        .map(|strip| band(strip, lattice.section.thickness));
    let cells = filled.into_iter().flat_map(|filled| &filled.cells);
    let pieces = cells
        .flat_map(|cell| &cell.pieces)
        .map(|piece| piece.outline.clone());
    let path = |points| Path {
        work: Work::Letters,
        closed: true,
        points,
    };
    SheetDrawing {
        paths: strips.chain(pieces).map(path).collect(),
    }
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

/// Height of the strips' names, mm; as a share of the thickness, but no smaller or larger than
/// that is read.
fn name_height(thickness: f64) -> f64 {
    (1.1 * thickness).clamp(2.5, 5.0)
}

/// Every strip's name beyond its datum end.
fn names(drawing: &mut Drawing, lattice: &Lattice) {
    let height = name_height(lattice.section.thickness);
    for strip in &lattice.strips {
        let label = lattice.label(strip.id);
        let back = strip.end.to(strip.start).unit().unwrap_or_default();
        // From the strip's end to the name's middle: half of its box, as it lies to the strip.
        let half_width = label.chars().count() as f64 * CHARACTER * height / 2.0;
        let off = back.x.abs() * half_width + back.y.abs() * height / 2.0 + 0.4 * height;
        let at = strip.start.plus(back.times(off));
        drawing.text(Role::Label, at, height, label);
        let (low, high) = (&mut drawing.low, &mut drawing.high);
        (low.x, low.y) = (low.x.min(at.x - half_width), low.y.min(at.y - height));
        (high.x, high.y) = (high.x.max(at.x + half_width), high.y.max(at.y + height));
    }
}

/// The pieces of a cell through a map of the plane that enlarges by `scale`; each bears the number
/// of its kind where there is room.
pub(super) fn pieces(
    drawing: &mut Drawing,
    filled: &Infilling,
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
        let at = map(if filled.is_trimmed(piece) {
            middle(&piece.outline)
        } else {
            label_place(piece.axis, &piece.laps)
        });
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

/// Mean of a ring's corners.
fn middle(ring: &[Point]) -> Point {
    let share = 1.0 / ring.len().max(1) as f64;
    let sum = |part: fn(&Point) -> f64| ring.iter().map(part).sum::<f64>() * share;
    Point::new(sum(|p| p.x), sum(|p| p.y))
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
fn enlarged(drawing: &mut Drawing, cell: &FilledCell, filled: &Infilling, lattice: &Lattice) {
    let thickness = lattice.section.thickness;
    let rim = grown(&cell.outline, thickness);
    let (Some((low, high)), Some((rim_low, rim_high))) = (
        bounds(cell.outline.iter().copied()),
        bounds(rim.iter().copied()),
    ) else {
        return;
    };
    let panel_height = drawing.high.y - drawing.low.y;
    let size = (rim_high.x - rim_low.x).max(rim_high.y - rim_low.y);
    let scale = ENLARGED * panel_height / size;
    let left = drawing.high.x + GAP * panel_height;
    let top = drawing.high.y;
    let map = |point: Point| {
        Point::new(
            left + (point.x - rim_low.x) * scale,
            top + (point.y - rim_high.y) * scale,
        )
    };
    for strip in from_the_back(lattice) {
        let seen = common(&band(strip, thickness), &rim);
        // What only touches the rim's edge, or runs beside it, is not at this cell.
        if signed_area(&seen) > thickness * thickness {
            drawing.area(tone(strip), seen.into_iter().map(map).collect());
        }
    }
    drawing.area(
        Role::Cut,
        cell.outline.iter().map(|point| map(*point)).collect(),
    );
    pieces(drawing, filled, cell, map, scale);
    let (outer_low, outer_high) = (map(rim_low), map(rim_high));
    let lines = told(cell, filled);
    // As broad as the longer of both units' texts.
    let longest = lines.iter().map(letters).max();
    let breadth = outer_high.x - outer_low.x;
    let text = breadth * TEXT_HEIGHT.min(1.0 / (CHARACTER * longest.unwrap_or(1) as f64));
    let mut at = outer_low.y - 1.8 * text;
    // Of a cell that stands on its walls: there the box is as wide as the opening.
    if (high.x - low.x - cell.opening.0).abs() < SAME_POSITION_MM {
        span(drawing, [map(low).x, map(high).x], at, text);
    }
    at -= 0.4 * text;
    let middle = f64::midpoint(outer_low.x, outer_high.x);
    for line in lines {
        drawing.text(Role::Measure, Point::new(middle, at), text, line);
        at -= 1.9 * text;
    }
    drawing.high.x = outer_high.x;
    drawing.low.y = drawing.low.y.min(at);
}

/// What stands below the enlarged cell: its opening, and its pieces' lengths.
fn told(cell: &FilledCell, filled: &Infilling) -> Vec<Phrase> {
    let (first, second) = (Mm(cell.opening.0), Mm(cell.opening.1));
    let mut lines = match cell.shape {
        CellShape::Square => vec![phrase!("clear opening {} x {}", first, second)],
        CellShape::Triangle => vec![
            phrase!("clear base {}", first),
            phrase!("height {}", second),
        ],
        CellShape::Rhomb => vec![
            phrase!("clear side {}", first),
            phrase!("between walls {}", second),
        ],
    };
    let mut kinds: Vec<usize> = cell.pieces.iter().map(|piece| piece.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let in_order = kinds.into_iter();
    lines.extend(in_order.filter_map(|kind| {
        let piece = filled.kinds.get(kind)?;
        let length = Mm(piece.figures.length);
        Some(phrase!("{}  {} {}", kind + 1, &piece.name, length))
    }));
    lines
}

/// Number of letters of the longer of a line's forms in both units.
fn letters(line: &Phrase) -> usize {
    let forms = [UnitSystem::Millimetres, UnitSystem::Inches];
    let counts = forms.map(|units| line.text(units).chars().count());
    counts.into_iter().max().unwrap_or(0)
}

/// A measure's line with ticks at its ends, below a drawing.
fn span(drawing: &mut Drawing, ends: [f64; 2], at: f64, text: f64) {
    for end in ends {
        let tick = [
            Point::new(end, at + 1.5 * text),
            Point::new(end, at + 0.5 * text),
        ];
        drawing.line(Role::Measure, tick.to_vec());
    }
    let line = ends.map(|end| Point::new(end, at + text));
    drawing.line(Role::Measure, line.to_vec());
}

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
    drawing.low = Point::new(outer_low.x, at);
    drawing.high = outer_high;
    drawing
}

/// Breadth of the wood shown around a pattern's cell, mm.
const WALL_MM: f64 = 3.0;

/// A ring's corners moved away from its middle, for a rim of about `by`.
fn grown(ring: &[Point], by: f64) -> Vec<Point> {
    crate::geometry::offset::offset(ring, by).unwrap_or_else(|_| ring.to_vec())
}
