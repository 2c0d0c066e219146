//! What the edges of a piece touch.

use super::clipping::Tagged;
use super::pattern::PieceSide;
use crate::geometry::Point;

/// What an edge of a piece is, or what it touches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contact {
    /// A long side of the piece itself.
    OwnSide(PieceSide),
    /// A wall of the cell: its place in [`super::CellShape::walls`].
    Wall(usize),
    /// The side of another piece of the cell: its index.
    SideOf(usize),
    /// A facet of another piece of the cell, at a junction: its index.
    FacetOf(usize),
    /// Nothing: the end of a horn.
    Free,
}

/// A piece's polygon: each edge knows what it touches.
pub(super) type Polygon = Tagged<Contact>;

/// What a long side is called from the other end; everything else keeps its name.
pub(super) fn other_side(tag: Contact) -> Contact {
    match tag {
        Contact::OwnSide(side) => Contact::OwnSide(side.other()),
        other => other,
    }
}

/// A polygon with its sides as seen from the other end, where it is `reversed`.
pub(super) fn facing(polygon: &Polygon, reversed: bool) -> Polygon {
    let turned = |(p, tag): &(Point, Contact)| match reversed {
        true => (*p, other_side(*tag)),
        false => (*p, *tag),
    };
    polygon.iter().map(turned).collect()
}

/// The edges of an end, from where a side ends that goes before it.
fn end_of(polygon: &Polygon, after: PieceSide) -> Polygon {
    let count = polygon.len();
    let is_after = |(_, tag): &(Point, Contact)| *tag == Contact::OwnSide(after);
    let Some(start) = polygon.iter().position(is_after) else {
        return Vec::new();
    };
    let around = (1..count).filter_map(|step| polygon.get((start + step) % count));
    around
        .take_while(|(_, tag)| !matches!(tag, Contact::OwnSide(_)))
        .copied()
        .collect()
}

/// One polygon of the first and the last part of a piece, both with their sides as seen along it.
///
/// Counter-clockwise: the right side from the first part's end, the far end and the left side of the last
/// part, the first part's end again.
pub(super) fn joined(first: &Polygon, last: &Polygon) -> Polygon {
    let side = |polygon: &Polygon, side: PieceSide| -> Polygon {
        let edges = polygon.iter();
        let own = edges.filter(|(_, tag)| *tag == Contact::OwnSide(side));
        own.copied().collect()
    };
    let mut whole = side(first, PieceSide::Right);
    whole.extend(end_of(last, PieceSide::Right));
    whole.extend(side(last, PieceSide::Left));
    whole.extend(end_of(first, PieceSide::Left));
    whole
}
