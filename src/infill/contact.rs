//! What the edges of a piece touch.

use super::clipping::Tagged;
use super::pattern::PieceSide;

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
