//! The assembled panel from the front, and cells of it enlarged, as a drawing to look at.

mod enlarged;
mod labels;
mod seen;

use crate::geometry::convex::common;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, Vector, bounds};
use crate::infill::{FilledCell, Infilling, PieceLap, PlacedPiece, SolvedCell};
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::outline::{Path, SheetDrawing, Work};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{Face, Lattice, Strip};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;
use labels::{Label, Taken};
use seen::{Body, Line};

pub(super) use enlarged::kinds_drawing;

/// The panel as it is seen from the front, each strip with its name at its datum end, pieces in their
/// cells numbered by kind; beside it one cell of each kind enlarged, with its opening and its pieces'
/// lengths. Where there are several kinds every cell bears its kind's name, rows and columns are
/// numbered.
pub fn panel_drawing(lattice: &Lattice, filled: Option<&Infilling>) -> Drawing {
    let mut drawing = panel_alone(lattice, filled);
    if let Some(filled) = filled {
        enlarged::beside(&mut drawing, filled, lattice);
    }
    drawing
}

/// The same without enlarged cells.
pub(super) fn panel_alone(lattice: &Lattice, filled: Option<&Infilling>) -> Drawing {
    let ends = lattice
        .strips
        .iter()
        .flat_map(|strip| [strip.start, strip.end]);
    let (low, high) = bounds(ends).unwrap_or_default();
    let mut drawing = Drawing::new(lattice.title.clone(), low, high);
    for strip in from_the_back(lattice) {
        drawing.face(tone(strip), band(strip, lattice.section.thickness));
    }
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        faces(&mut drawing, cell, |point| point);
    }
    let lines = panel_lines(lattice, filled);
    draw(&mut drawing, &lines, |point| point);
    let mut taken = Taken::default();
    if !is_square(lattice) {
        let drawn = seen::near(&seen::segments(&lines), &lattice.region);
        let around = seen::not_drawn(&lattice.region, Role::Measure, &drawn);
        draw(&mut drawing, &around, |point| point);
        taken.add(lattice.region.clone());
    }
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        numbers(&mut drawing, cell, |point| point, 1.0);
    }
    names(&mut drawing, &mut taken, lattice);
    if let Some(filled) = filled {
        enlarged::marks(&mut drawing, &mut taken, filled, lattice);
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
        way.x.approx_eq(0.0, POSITION) || way.y.approx_eq(0.0, POSITION)
    })
}

/// What is seen of strips and pieces as lines of layer LETTERS: nothing of it is to be cut. No line lies
/// behind a strip or piece, and none is there twice.
pub fn panel_outlines(lattice: &Lattice, filled: Option<&Infilling>) -> SheetDrawing {
    let path = |line: Line| Path {
        work: Work::Letters,
        closed: line.closed,
        points: line.points,
    };
    let lines = panel_lines(lattice, filled).into_iter();
    SheetDrawing {
        safety: SafetyNotes::for_assembly(),
        paths: lines.map(path).collect(),
    }
}

/// The lines that are seen of the strips and of the pieces.
fn panel_lines(lattice: &Lattice, filled: Option<&Infilling>) -> Vec<Line> {
    let thickness = lattice.section.thickness;
    let mut lines = seen::lines(&strip_bodies(lattice, |strip| band(strip, thickness)), &[]);
    let of_strips = seen::segments(&lines);
    for cell in filled.into_iter().flat_map(|filled| &filled.cells) {
        let bodies = piece_bodies(cell, |point| point);
        let around = seen::near(&of_strips, &cell.outline);
        lines.extend(seen::lines(&bodies, &around));
    }
    lines
}

/// The strips as bodies, those in front first: where two strips cross, the one in front keeps its
/// front face all along.
fn strip_bodies(lattice: &Lattice, ring: impl Fn(&Strip) -> Vec<Point>) -> Vec<Body> {
    let mut strips = from_the_back(lattice);
    strips.reverse();
    let body = |strip: &&Strip| {
        let places = strips.iter().map(|other| other.place).enumerate();
        let before = places.filter(|(_, place)| *place < strip.place);
        Body {
            role: tone(strip),
            ring: ring(strip),
            under: before.map(|(at, _)| at).collect(),
        }
    };
    strips.iter().map(body).collect()
}

/// A cell's pieces, those in front first.
fn from_the_front(cell: &FilledCell) -> Vec<&PlacedPiece> {
    let mut left: Vec<&PlacedPiece> = cell.pieces.iter().collect();
    let mut laid: Vec<&PlacedPiece> = Vec::new();
    while !left.is_empty() {
        let free = |piece: &PlacedPiece| !left.iter().any(|other| lies_over(other, piece));
        let (first, rest): (Vec<_>, Vec<_>) = left.iter().partition(|piece| free(piece));
        if first.is_empty() {
            // Each lies under another one: no order is right for all of them.
            laid.extend(rest);
            break;
        }
        laid.extend(first);
        left = rest;
    }
    laid
}

/// Whether a piece keeps its front face where another one crosses it.
fn lies_over(piece: &PlacedPiece, other: &PlacedPiece) -> bool {
    let is_mate = |lap: &PieceLap| lap.mate == piece.name && lap.face == Face::Front;
    other.laps.iter().any(is_mate)
}

/// A cell's pieces as bodies, through a map of the plane.
fn piece_bodies(cell: &FilledCell, map: impl Fn(Point) -> Point) -> Vec<Body> {
    let pieces = from_the_front(cell);
    let body = |piece: &&PlacedPiece| {
        let over = pieces.iter().enumerate();
        let over = over.filter(|(_, other)| lies_over(other, piece));
        Body {
            role: Role::Piece,
            ring: piece.outline.iter().map(|point| map(*point)).collect(),
            under: over.map(|(at, _)| at).collect(),
        }
    };
    pieces.iter().map(body).collect()
}

/// The faces of a cell's pieces, those at the back first.
fn faces(drawing: &mut Drawing, cell: &FilledCell, map: impl Fn(Point) -> Point) {
    for body in piece_bodies(cell, map).into_iter().rev() {
        drawing.face(body.role, body.ring);
    }
}

/// Lines through a map of the plane.
fn draw(drawing: &mut Drawing, lines: &[Line], map: impl Fn(Point) -> Point) {
    for line in lines {
        let first = line.points.first().filter(|_| line.closed);
        let points = line.points.iter().chain(first);
        drawing.line(line.role, points.map(|point| map(*point)).collect());
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

/// Every strip's name beyond its datum end, farther out where others stand in its way.
fn names(drawing: &mut Drawing, taken: &mut Taken, lattice: &Lattice) {
    let thickness = lattice.section.thickness;
    for strip in &lattice.strips {
        taken.add(band(strip, thickness));
    }
    let farthest = 2.0 * (drawing.high.x - drawing.low.x + drawing.high.y - drawing.low.y);
    for strip in &lattice.strips {
        let label = Label {
            role: Role::Label,
            height: name_height(thickness),
            text: lattice.label(strip.id).into(),
        };
        let back = strip.end.to(strip.start).unit().unwrap_or_default();
        taken.write_outward(drawing, label, strip.start, back, farthest);
    }
}

/// The pieces of a cell through a map of the plane that enlarges by `scale`, in an opening whose edge
/// is drawn already; each bears the number of its kind.
pub(super) fn pieces(
    drawing: &mut Drawing,
    cell: &FilledCell,
    map: impl Fn(Point) -> Point,
    scale: f64,
) {
    faces(drawing, cell, &map);
    let opening: Vec<Point> = cell.outline.iter().map(|point| map(*point)).collect();
    let edge = seen::not_drawn(&opening, Role::Cut, &[]);
    let lines = seen::lines(&piece_bodies(cell, &map), &seen::segments(&edge));
    draw(drawing, &lines, |point| point);
    numbers(drawing, cell, map, scale);
}

/// The numbers of a cell's pieces, inside of them and clear of pieces that cross them.
fn numbers(drawing: &mut Drawing, cell: &FilledCell, map: impl Fn(Point) -> Point, scale: f64) {
    for piece in &cell.pieces {
        let (from, to) = piece.axis;
        let text = (piece.kind + 1).to_string();
        let height = LABEL_HEIGHT * narrowest(&piece.outline, from.to(to));
        let crossing = cell
            .pieces
            .iter()
            .filter(|other| lies_over(other, piece) || lies_over(piece, other));
        let crossing: Vec<&[Point]> = crossing.map(|other| &other.outline[..]).collect();
        let (at, height) = labels::inside(
            &piece.outline,
            from.to(to),
            &crossing,
            text.chars().count(),
            height,
        );
        drawing.text(Role::Label, map(at), height * scale, text);
    }
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

/// Whether a lapped piece lies over its mates.
fn keeps_front(laps: &[PieceLap]) -> bool {
    laps.iter().any(|lap| lap.face == Face::Back)
}

/// The middle of a piece, or beside it where another piece crosses there.
fn label_place((from, to): (Point, Point), laps: &[PieceLap]) -> Point {
    let share = if laps.is_empty() { 0.5 } else { 0.3 };
    from.plus(from.to(to).times(share))
}

/// Breadth of the wood shown around a pattern's cell, mm.
const WALL_MM: f64 = 3.0;

/// A ring's corners moved away from its middle, for a rim of about `by`.
fn grown(ring: &[Point], by: f64) -> Vec<Point> {
    crate::geometry::offset::offset(ring, by).unwrap_or_else(|_| ring.to_vec())
}
