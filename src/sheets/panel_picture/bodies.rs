//! Strips and pieces as they are drawn.

use super::seen::{Body, Line};
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, Vector};
use crate::infill::{FilledCell, PieceLap, PlacedPiece};
use crate::instructions::drawing::{Drawing, Role};
use crate::lattice::{Face, Lattice, Strip};
use float_cmp::ApproxEq;

/// Strips in the order in which they are drawn over each other.
pub(super) fn from_the_back(lattice: &Lattice) -> Vec<&Strip> {
    let mut strips: Vec<&Strip> = lattice.strips.iter().collect();
    strips.sort_by_key(|strip| std::cmp::Reverse(strip.place));
    strips
}

/// The lighter the nearer.
pub(super) fn tone(strip: &Strip) -> Role {
    match strip.place {
        0 => Role::Wood,
        1 => Role::WoodBehind,
        _ => Role::WoodAtBack,
    }
}

/// Whether strips run along x and y only: the panel then ends at its outer strips.
pub(super) fn is_square(lattice: &Lattice) -> bool {
    lattice.strips.iter().all(|strip| {
        let way = strip.start.to(strip.end);
        way.x.approx_eq(0.0, POSITION) || way.y.approx_eq(0.0, POSITION)
    })
}

/// The strips as bodies, those in front first: where two strips cross, the one in front keeps its
/// front face all along.
pub(super) fn strip_bodies(lattice: &Lattice, ring: impl Fn(&Strip) -> Vec<Point>) -> Vec<Body> {
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
pub(super) fn from_the_front(cell: &FilledCell) -> Vec<&PlacedPiece> {
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
pub(super) fn lies_over(piece: &PlacedPiece, other: &PlacedPiece) -> bool {
    let is_mate = |lap: &PieceLap| lap.mate == piece.name && lap.face == Face::Front;
    other.laps.iter().any(is_mate)
}

/// A cell's pieces as bodies, through a map of the plane.
pub(super) fn piece_bodies(cell: &FilledCell, map: impl Fn(Point) -> Point) -> Vec<Body> {
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

/// Pieces that run over strips with the strips below them, those in front first; `strips` come in that
/// order too.
pub(super) fn crossing_bodies<'c>(
    cells: impl Iterator<Item = &'c FilledCell>,
    strips: Vec<Body>,
) -> Vec<Body> {
    let mut all: Vec<Body> = Vec::new();
    let mut running: Vec<(usize, usize)> = Vec::new();
    for cell in cells {
        let before = all.len();
        let of_cell = from_the_front(cell).into_iter().enumerate();
        let runs = of_cell.filter(|(_, piece)| piece.run.is_some());
        running.extend(runs.map(|(at, piece)| (before + at, piece.kind)));
        let bodies = piece_bodies(cell, |point| point).into_iter();
        all.extend(bodies.map(|body| Body {
            under: body.under.iter().map(|at| before + at).collect(),
            ..body
        }));
    }
    // Two parts of one piece cover each other where they cross the same strip: no line parts them.
    for (at, kind) in &running {
        let mates = running
            .iter()
            .filter(|(other, of)| other != at && of == kind);
        let mates: Vec<usize> = mates.map(|(other, _)| *other).collect();
        if let Some(body) = all.get_mut(*at) {
            body.under.extend(mates);
        }
    }
    let before = all.len();
    all.extend(strips.into_iter().map(|body| {
        let strips = body.under.iter().map(|at| before + at);
        Body {
            under: strips.chain(running.iter().map(|(at, _)| *at)).collect(),
            ..body
        }
    }));
    all
}

/// The faces of a cell's pieces, those at the back first.
pub(super) fn faces(drawing: &mut Drawing, cell: &FilledCell, map: impl Fn(Point) -> Point) {
    for body in piece_bodies(cell, map).into_iter().rev() {
        drawing.face(body.role, body.ring);
    }
}

/// Lines through a map of the plane.
pub(super) fn draw(drawing: &mut Drawing, lines: &[Line], map: impl Fn(Point) -> Point) {
    for line in lines {
        let first = line.points.first().filter(|_| line.closed);
        let points = line.points.iter().chain(first);
        drawing.line(line.role, points.map(|point| map(*point)).collect());
    }
}

/// A strip as seen from the front.
pub(super) fn band(strip: &Strip, thickness: f64) -> Vec<Point> {
    let along = strip.start.to(strip.end).unit().unwrap_or_default();
    let half = Vector::new(-along.y, along.x) * (thickness / 2.0);
    let back = -half;
    vec![
        strip.start + back,
        strip.end + back,
        strip.end + half,
        strip.start + half,
    ]
}
