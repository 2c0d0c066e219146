//! Which pieces of a kind lie in the panel as they are drawn, and which turned over: where two that
//! cross are the same part, one has its half lap in front, the other one at the back.

use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::infill::{FilledCell, Infilling, PieceKind, PieceLap, PlacedPiece};
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// Pieces made alike that lie turned over, their back faces in front.
#[derive(Debug, Default, PartialEq)]
pub(super) struct TurnedOver {
    pub(super) count: usize,
    /// Their names in the pattern.
    pub(super) names: Vec<String>,
    /// The names of those that lie as they are drawn.
    pub(super) as_drawn: Vec<String>,
}

/// Those of the pieces with a number, from 1, in the panel; what is trimmed of them included.
pub(super) fn turned_over(filled: &Infilling, number: usize) -> TurnedOver {
    let mut found = TurnedOver::default();
    let Some(at) = number.checked_sub(1) else {
        return found;
    };
    let Some(kind) = filled.kinds.get(at) else {
        return found;
    };
    for cell in &filled.cells {
        for piece in cell.pieces.iter().filter(|piece| piece.counts()) {
            let trimmed_from = filled.kinds.get(piece.kind).and_then(|kind| kind.whole);
            if piece.kind != at && trimmed_from != Some(at) {
                continue;
            }
            let over = lies_over(cell, piece, kind);
            found.count += usize::from(over);
            let names = match over {
                true => &mut found.names,
                false => &mut found.as_drawn,
            };
            if !names.contains(&piece.name) {
                names.push(piece.name.clone());
            }
        }
    }
    found
}

/// A mirrored cell takes all its pieces turned over.
fn lies_over(cell: &FilledCell, piece: &PlacedPiece, kind: &PieceKind) -> bool {
    let mirrored = cell.lie.mirrored;
    let laps: Vec<PieceLap> = (piece.laps.iter())
        .map(|lap| PieceLap {
            angle: if mirrored { PI - lap.angle } else { lap.angle },
            ..lap.clone()
        })
        .collect();
    let as_drawn = is_same(&laps, &kind.figures.laps, kind.figures.length);
    mirrored == as_drawn
}

/// Whether laps are those of a kind as it is drawn, or turned end for end in the plane.
fn is_same(laps: &[PieceLap], kind: &[PieceLap], length: f64) -> bool {
    let all = |ends: fn(f64, f64) -> f64| {
        laps.iter().all(|lap| {
            kind.iter().any(|other| {
                ends(other.centre, length).approx_eq(lap.centre, POSITION)
                    && other.angle.approx_eq(lap.angle, DIRECTION)
                    && other.face == lap.face
            })
        })
    };
    all(|at, _| at) || all(|at, length| length - at)
}
