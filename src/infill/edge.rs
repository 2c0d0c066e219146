//! Pieces of cells that the panel's edge cuts: worked out for the whole cell, then cut off there.

use super::clipping::{HalfPlane, Tagged, cut};
use super::contact::Contact;
use super::mirror::mirrored_ring;
use super::pattern::PieceSide;
use super::placing::CellFrame;
use super::solve::SolvedPiece;
use crate::geometry::convex::edges;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM, Vector};
use float_cmp::ApproxEq;
use std::f64::consts::PI;

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

impl TrimCut {
    /// Seen in a mirror along the axis.
    fn mirrored(&self) -> TrimCut {
        TrimCut {
            angle: PI - self.angle,
            ..*self
        }
    }
}

/// What lies in the panel of one piece of a cut cell.
pub(super) struct PlacedPart {
    /// Counter-clockwise, panel frame.
    pub(super) placed: Vec<Point>,
    /// The whole piece, with those laps only whose mates are there too.
    pub(super) whole: SolvedPiece,
    /// The part's outline in the piece's own frame.
    pub(super) outline: Vec<Point>,
    /// In order around it; none where all of it lies in the panel.
    pub(super) cuts: Vec<TrimCut>,
}

impl PlacedPart {
    /// Outline and cuts of the part that is made of it, in a cell that is mirrored or not: see
    /// [`SolvedPiece::as_laid`].
    pub(super) fn as_made(&self, mirrored: bool) -> (Vec<Point>, Vec<TrimCut>) {
        if mirrored && !self.whole.figures.laps.is_empty() {
            let cuts = self.cuts.iter().map(TrimCut::mirrored).collect();
            return (mirrored_ring(&self.outline), cuts);
        }
        (self.outline.clone(), self.cuts.clone())
    }
}

/// What lies in a convex region of the pieces of a cell, and how many are left out because too
/// little of them does.
pub(super) fn parts(
    pieces: &[SolvedPiece],
    frame: &CellFrame,
    region: &[Point],
) -> (Vec<PlacedPart>, usize) {
    let mut parts = Vec::new();
    let mut left_out = 0;
    for piece in pieces {
        match at_edge(piece, frame, region) {
            AtEdge::PlacedPart(part) => parts.push(*part),
            AtEdge::Nothing => {}
            AtEdge::TooLittle => left_out += 1,
        }
    }
    let there: Vec<String> = parts.iter().map(|part| part.whole.name.clone()).collect();
    for part in &mut parts {
        let laps = &mut part.whole.figures.laps;
        laps.retain(|lap| there.contains(&lap.mate));
    }
    (parts, left_out)
}

enum AtEdge {
    Nothing,
    TooLittle,
    PlacedPart(Box<PlacedPart>),
}

/// A part of a piece shorter than so many thicknesses cannot be held, nor can one that is not as
/// thick as the piece anywhere, nor the two points of a mouth without what joins them. Common practice, no
/// source.
const SHORTEST_PART: f64 = 2.0;

/// An edge of what is left of a piece.
#[derive(Clone, Copy, PartialEq)]
enum Made {
    Before(Contact),
    ByEdge,
}

/// Cuts a piece that lies in a frame off at the edge of a convex region.
fn at_edge(piece: &SolvedPiece, frame: &CellFrame, region: &[Point]) -> AtEdge {
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
    let mut apart = false;
    for (p, q) in edges(region) {
        let p = own.local(p);
        let q = own.local(q);
        let (from, to) = if own.mirrors() { (q, p) } else { (p, q) };
        let Some(along) = from.to(to).unit() else {
            continue;
        };
        let keeps = HalfPlane::left_of(from, along);
        let reaches_over = |(p, _): &(Point, Made)| keeps.depth(*p) < -SAME_POSITION_MM;
        if left.iter().any(reaches_over) {
            left = cut(&left, keeps, Made::ByEdge);
            apart |= falls_apart(&left, keeps, along);
        }
    }
    if left.is_empty() {
        return AtEdge::Nothing;
    }
    let is_cut = left.iter().any(|(_, made)| *made == Made::ByEdge);
    let x = || left.iter().map(|(p, _)| p.x);
    let length = x().fold(f64::NEG_INFINITY, f64::max) - x().fold(f64::INFINITY, f64::min);
    let has_side = |side| {
        left.iter()
            .any(|(_, made)| *made == Made::Before(Contact::OwnSide(side)))
    };
    let holds = length >= SHORTEST_PART * piece.stock.thickness
        && has_side(PieceSide::Left)
        && has_side(PieceSide::Right)
        && !apart;
    if is_cut && !holds {
        return AtEdge::TooLittle;
    }
    let mut placed: Vec<Point> = left.iter().map(|(p, _)| own.place(*p)).collect();
    if own.mirrors() {
        placed.reverse();
    }
    AtEdge::PlacedPart(Box::new(PlacedPart {
        placed,
        whole: piece.clone(),
        outline: left.iter().map(|(p, _)| *p).collect(),
        cuts: cuts(&left),
    }))
}

/// Whether a cut has left parts that only its own line joins, such as both points of a mouth. What is kept
/// lies to the left of the line, and so do its edges there run along it; the one that goes from part to part
/// runs back.
fn falls_apart(left: &Tagged<Made>, keeps: HalfPlane, along: Vector) -> bool {
    let next = left.iter().cycle().skip(1);
    let on_line = |p: Point| keeps.depth(p).abs() < SAME_POSITION_MM;
    left.iter()
        .zip(next)
        .any(|((p, _), (q, _))| on_line(*p) && on_line(*q) && p.to(*q).dot(along) < 0.0)
}

/// A piece's own frame in the panel: axis along x, its first extreme point at x = 0.
fn own_frame(piece: &SolvedPiece, frame: &CellFrame) -> Option<CellFrame> {
    let (from, to) = piece.axis;
    let along = from.to(to).unit()?;
    let start = piece
        .edges
        .iter()
        .map(|edge| from.to(edge.start).dot(along));
    let start = start.fold(f64::INFINITY, f64::min);
    Some(frame.within(from + along * start, along))
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
        let rising = if keeps_first { way } else { -way };
        (rising.y > PARALLEL_SINE).then(|| TrimCut {
            at: p.x - p.y * way.x / way.y,
            angle: rising.y.atan2(rising.x),
            keeps_first,
        })
    };
    let mut cuts: Vec<TrimCut> = made.filter_map(|((p, _), (q, _))| cut((*p, *q))).collect();
    // One line may cut off both points of a mouth.
    let same = |a: &TrimCut, b: &TrimCut| {
        a.keeps_first == b.keeps_first
            && a.at.approx_eq(b.at, POSITION)
            && a.angle.approx_eq(b.angle, DIRECTION)
    };
    for at in (0..cuts.len()).rev() {
        let twice = cuts
            .get(at)
            .is_some_and(|own| cuts.iter().take(at).any(|other| same(own, other)));
        if twice {
            cuts.remove(at);
        }
    }
    cuts
}
