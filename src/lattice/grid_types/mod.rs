//! Grid types: each turns its own measures into families of parallel lines and the region that
//! they fill.
//!
//! The region's bounding box has its lower left corner one overhang to the right of and above the
//! panel frame's origin, so that the strips of an upright grid start at it.

mod cells;
mod diamond;
mod family;
mod region;
mod ruling;
mod square;
mod triangular;

pub use cells::{CellMeasures, GridCell};
pub use diamond::{DiamondGrid, DiamondStance};
pub use family::Family;
pub use region::Region;
pub(super) use ruling::Ruling;
pub use square::SquareGrid;
pub use triangular::{TriangularGrid, TriangularStance};

use crate::geometry::Point;

/// The grid types that can be built.
#[derive(Debug, Clone, PartialEq)]
pub enum Grid {
    /// Two families at right angles, equal or uneven pitches.
    Square(SquareGrid),
    /// Two families at any angle.
    Diamond(DiamondGrid),
    /// Three families, all three through every node.
    Triangular(TriangularGrid),
}

impl Grid {
    /// The families, front layer first.
    pub fn families(&self) -> &'static [Family] {
        match self {
            Grid::Square(_) => SquareGrid::FAMILIES,
            Grid::Diamond(grid) => grid.families(),
            Grid::Triangular(grid) => grid.families(),
        }
    }

    /// From the region's edge to a strip's end, mm.
    pub fn overhang(&self) -> f64 {
        match self {
            Grid::Square(grid) => grid.overhang,
            Grid::Diamond(grid) => grid.overhang,
            Grid::Triangular(grid) => grid.overhang,
        }
    }

    /// The grid, where its pitches may differ from bay to bay and each has a field of its own.
    pub fn with_uneven_pitches(&self) -> Option<&SquareGrid> {
        match self {
            Grid::Square(grid) => Some(grid),
            Grid::Diamond(_) | Grid::Triangular(_) => None,
        }
    }

    pub(super) fn ruling(&self) -> Ruling {
        match self {
            Grid::Square(grid) => grid.ruling(),
            Grid::Diamond(grid) => grid.ruling(),
            Grid::Triangular(grid) => grid.ruling(),
        }
    }

    /// The outline that the panel is trimmed to, convex, counter-clockwise, panel frame.
    pub fn region(&self) -> Vec<Point> {
        self.ruling().region
    }

    /// The cells that lie in the region or overlap it, row by row from the bottom, each from the
    /// left. Of a square grid all are whole.
    pub fn cells(&self) -> Vec<GridCell> {
        match self {
            Grid::Square(grid) => grid.cells(),
            Grid::Diamond(grid) => grid.cells(),
            Grid::Triangular(grid) => grid.cells(),
        }
    }
}
