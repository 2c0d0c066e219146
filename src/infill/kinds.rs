//! Which pieces are the same part: equal polygons and laps, up to turning end for end and turning
//! over.

use super::figures::{Figures, PieceLap};
use super::solve::SolvedPiece;
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM};
use crate::lattice::Face;
use std::f64::consts::PI;

/// One distinct piece of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceKind {
    /// Name of the first such piece in the pattern.
    pub name: String,
    /// How many the panel takes.
    pub count: usize,
    /// Clear opening of the cells that take it: width and height, mm.
    pub opening: (f64, f64),
    /// Indices of the panel's cells that hold one or more.
    pub cells: Vec<usize>,
    /// Its figures.
    pub figures: Figures,
    /// Counter-clockwise in its own frame: axis along x, the first end's extreme point at x = 0, y
    /// to the left.
    pub outline: Vec<Point>,
}

/// A way to lay a piece on another.
#[derive(Clone, Copy)]
struct Turn {
    end_for_end: bool,
    over: bool,
}

impl Turn {
    const ALL: [Turn; 4] = [
        Turn {
            end_for_end: false,
            over: false,
        },
        Turn {
            end_for_end: true,
            over: false,
        },
        Turn {
            end_for_end: false,
            over: true,
        },
        Turn {
            end_for_end: true,
            over: true,
        },
    ];

    /// Turning end for end in the plane reverses x and y; turning over about the axis reverses y.
    fn point(self, p: Point, length: f64) -> Point {
        let x = if self.end_for_end { length - p.x } else { p.x };
        let y = if self.end_for_end == self.over {
            p.y
        } else {
            -p.y
        };
        Point::new(x, y)
    }

    /// Turning over changes faces and the sense of angles.
    fn lap(self, lap: &PieceLap, length: f64) -> (f64, f64, Face) {
        let centre = if self.end_for_end {
            length - lap.centre
        } else {
            lap.centre
        };
        match (self.over, lap.face) {
            (false, face) => (centre, lap.angle, face),
            (true, Face::Front) => (centre, PI - lap.angle, Face::Back),
            (true, Face::Back) => (centre, PI - lap.angle, Face::Front),
        }
    }
}

/// Whether two pieces are the same part.
pub(super) fn same_part(one: &SolvedPiece, other: &SolvedPiece) -> bool {
    let length = one.figures.length;
    (length - other.figures.length).abs() < SAME_POSITION_MM
        && one.outline.len() == other.outline.len()
        && one.figures.laps.len() == other.figures.laps.len()
        && Turn::ALL
            .iter()
            .any(|turn| lies_on(one, other, *turn, length))
}

/// Convex polygons are the same where their corners are.
fn lies_on(one: &SolvedPiece, other: &SolvedPiece, turn: Turn, length: f64) -> bool {
    let has_corner = |p: &Point| {
        let turned = turn.point(*p, length);
        other
            .outline
            .iter()
            .any(|q| turned.to(*q).length() < SAME_POSITION_MM)
    };
    let has_lap = |lap: &PieceLap| {
        let (centre, angle, face) = turn.lap(lap, length);
        other.figures.laps.iter().any(|mate| {
            (mate.centre - centre).abs() < SAME_POSITION_MM
                && (mate.width - lap.width).abs() < SAME_POSITION_MM
                && (mate.angle - angle).abs() < PARALLEL_SINE
                && (mate.fraction - lap.fraction).abs() < PARALLEL_SINE
                && mate.face == face
        })
    };
    one.outline.iter().all(has_corner) && one.figures.laps.iter().all(has_lap)
}

/// The place in `kinds` of the part that `piece` is, added there if it is new. Parts for different
/// openings are kept apart.
pub(super) fn kind_of(
    piece: &SolvedPiece,
    opening: (f64, f64),
    kinds: &mut Vec<(SolvedPiece, PieceKind)>,
) -> usize {
    let known = kinds
        .iter()
        .position(|(first, kind)| kind.opening == opening && same_part(first, piece));
    if let Some(at) = known {
        return at;
    }
    let kind = PieceKind {
        name: piece.name.clone(),
        count: 0,
        opening,
        cells: Vec::new(),
        figures: piece.figures.clone(),
        outline: piece.outline.clone(),
    };
    kinds.push((piece.clone(), kind));
    kinds.len() - 1
}
