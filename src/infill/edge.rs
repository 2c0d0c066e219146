//! Pieces of cells that the panel's edge cuts: worked out for the whole cell, then cut off there.

use super::convex::{HalfPlane, Tagged, cut};
use super::lie::Frame;
use super::pattern::Side;
use super::solve::{Contact, SolvedPiece};
use crate::geometry::convex::{depth, edges};
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM};

/// What becomes of cells that the panel's edge cuts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum EdgeCells {
    /// They stay open.
    #[default]
    Leave,
    /// They take the pieces of a whole cell, cut off at the edge.
    Fill,
}

/// Where a finished piece is cut off at the panel's edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrimCut {
    /// From the first end's extreme point to where the cut crosses the axis, mm.
    pub at: f64,
    /// From the axis to the cut, counter-clockwise, in (0, pi), rad.
    pub angle: f64,
    /// Whether the part toward the first end is kept.
    pub keeps_first: bool,
}

/// What of a piece lies in the panel.
pub(super) enum AtEdge {
    /// All of it.
    Whole,
    /// Nothing.
    Nothing,
    /// Too little to be held.
    TooLittle,
    /// A part.
    Part {
        /// Counter-clockwise, panel frame.
        placed: Vec<Point>,
        /// The piece with the part's outline, its own frame; its figures are those of the whole.
        piece: SolvedPiece,
        /// In order around it.
        cuts: Vec<TrimCut>,
    },
}

/// A part of a piece shorter than so many thicknesses cannot be held, nor can one that is not as
/// thick as the piece anywhere. Common practice, no source.
const SHORTEST_PART: f64 = 2.0;

/// An edge of what is left of a piece.
#[derive(Clone, Copy, PartialEq)]
enum Made {
    Before(Contact),
    ByEdge,
}

/// Cuts a piece that lies in a frame off at the edge of a convex region.
pub(super) fn at_edge(
    piece: &SolvedPiece,
    frame: &Frame,
    region: &[Point],
    thickness: f64,
) -> AtEdge {
    let is_inside = |p: Point| depth(region, frame.place(p)) >= -SAME_POSITION_MM;
    if piece.edges.iter().all(|edge| is_inside(edge.start)) {
        return AtEdge::Whole;
    }
    let Some(own) = own_frame(piece, frame) else {
        return AtEdge::Nothing;
    };
    let mut left: Tagged<Made> = piece
        .edges
        .iter()
        .map(|edge| {
            (
                own.local(frame.place(edge.start)),
                Made::Before(edge.contact),
            )
        })
        .collect();
    for (p, q) in edges(region) {
        let (p, q) = (own.local(p), own.local(q));
        let (from, to) = if own.mirrors() { (q, p) } else { (p, q) };
        let Some(along) = from.to(to).unit() else {
            continue;
        };
        let keeps = HalfPlane::left_of(from, along);
        let reaches_over = |(p, _): &(Point, Made)| keeps.depth(*p) < -SAME_POSITION_MM;
        if left.iter().any(reaches_over) {
            left = cut(&left, keeps, Made::ByEdge);
        }
    }
    if left.is_empty() {
        return AtEdge::Nothing;
    }
    let x = || left.iter().map(|(p, _)| p.x);
    let length = x().fold(f64::NEG_INFINITY, f64::max) - x().fold(f64::INFINITY, f64::min);
    let has_side = |side| {
        left.iter()
            .any(|(_, made)| *made == Made::Before(Contact::OwnSide(side)))
    };
    if length < SHORTEST_PART * thickness || !has_side(Side::Left) || !has_side(Side::Right) {
        return AtEdge::TooLittle;
    }
    let outline: Vec<Point> = left.iter().map(|(p, _)| *p).collect();
    let mut placed: Vec<Point> = outline.iter().map(|p| own.place(*p)).collect();
    if own.mirrors() {
        placed.reverse();
    }
    AtEdge::Part {
        placed,
        cuts: cuts(&left),
        piece: SolvedPiece {
            outline,
            ..piece.clone()
        },
    }
}

/// A piece's own frame in the panel: axis along x, its first extreme point at x = 0.
fn own_frame(piece: &SolvedPiece, frame: &Frame) -> Option<Frame> {
    let (from, to) = piece.axis;
    let along = from.to(to).unit()?;
    let start = piece
        .edges
        .iter()
        .map(|edge| from.to(edge.start).dot(along));
    let start = start.fold(f64::INFINITY, f64::min);
    Some(frame.within(from.plus(along.times(start)), along))
}

/// The cuts at the edges that the region's edge has made.
fn cuts(left: &Tagged<Made>) -> Vec<TrimCut> {
    let next = left.iter().cycle().skip(1);
    let made = left
        .iter()
        .zip(next)
        .filter(|((_, made), _)| *made == Made::ByEdge);
    let cut = |(p, q): (Point, Point)| {
        // Counter-clockwise, the piece lies to the left: toward the first end of a cut that rises.
        let way = p.to(q).unit()?;
        let keeps_first = way.y > 0.0;
        let rising = if keeps_first { way } else { way.times(-1.0) };
        (rising.y > PARALLEL_SINE).then(|| TrimCut {
            at: p.x - p.y * way.x / way.y,
            angle: rising.y.atan2(rising.x),
            keeps_first,
        })
    };
    made.filter_map(|((p, _), (q, _))| cut((*p, *q))).collect()
}
