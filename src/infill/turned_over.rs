//! How a piece lies in the panel: with its front face in front, or turned over.

use super::filled::PlacedPiece;
use super::piece_figures::PieceLap;
use super::piece_kinds::{PieceKind, PieceTurn};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM};
use float_cmp::ApproxEq;

/// Whether a piece lies turned over in the panel, its back face in front: where two that cross are the same
/// part, one has its half lap in front, the other one at the back.
pub fn lies_turned_over(kind: &PieceKind, piece: &PlacedPiece, is_trimmed: bool) -> bool {
    let figures = &kind.figures;
    let length = figures.length;
    // Of a trimmed piece, of a folded one and of one that runs over strips a part lies there.
    let is_whole = !is_trimmed && piece.run.is_none() && piece.arm.is_none();
    let own = own_ring(piece);
    let fits = |turn: &PieceTurn| {
        let has_lap = |lap: &PieceLap| {
            let (centre, angle, face) = turn.lap(lap, length);
            piece.laps.iter().any(|mate| {
                mate.centre.approx_eq(centre, POSITION)
                    && mate.angle.approx_eq(angle, DIRECTION)
                    && mate.face == face
            })
        };
        let has_corner = |p: &Point| {
            let turned = turn.point(*p, length);
            own.iter()
                .any(|q| turned.to(*q).length() < SAME_POSITION_MM)
        };
        figures.laps.iter().all(has_lap) && (!is_whole || kind.outline.iter().all(has_corner))
    };
    !PieceTurn::ALL.iter().filter(|turn| !turn.over).any(fits)
}

/// A piece's outline in its own frame, as it lies in the panel.
fn own_ring(piece: &PlacedPiece) -> Vec<Point> {
    let (from, to) = piece.axis;
    let Some(along) = from.to(to).unit() else {
        return Vec::new();
    };
    let start = piece.outline.iter().map(|p| from.to(*p).dot(along));
    let start = start.fold(f64::INFINITY, f64::min);
    let local = |p: &Point| {
        let way = from.to(*p);
        Point::new(way.dot(along) - start, along.cross(way))
    };
    piece.outline.iter().map(local).collect()
}
