//! What each type of grid is checked for.

use super::slanted::{self, Spacing};
use super::square;
use crate::finding::Finding;
use crate::lattice::design::Design;
use crate::lattice::grid_types::Grid;

/// Measures of a grid that make no sense, before any strip is laid out.
pub(super) fn measure_faults(design: &Design) -> Vec<Finding> {
    let strip = &design.strip;
    match &design.grid {
        Grid::Square(grid) => square::faults(grid, strip),
        Grid::Diamond(grid) => slanted::diamond_faults(grid, strip),
        Grid::Triangular(grid) => slanted::triangular_faults(grid, strip),
    }
}

/// What widens the webs between slots; none for a grid whose measures tell all its webs.
pub(super) fn spacing(design: &Design) -> Option<Spacing> {
    match &design.grid {
        Grid::Square(_) => None,
        Grid::Diamond(_) => Some(slanted::diamond_spacing(&design.strip)),
        Grid::Triangular(_) => Some(slanted::triangular_spacing(&design.strip)),
    }
}
