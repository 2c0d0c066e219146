//! The groups in which patterns are listed.

use super::{Pattern, PatternDesign};
use crate::infill::cell_shape::CellShape;

/// What a pattern fills, for lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PatternGroup {
    /// Squares.
    Squares,
    /// Triangles.
    Triangles,
    /// Triangles, as parts of a figure about a node: of mirrored triangles like corners meet at every
    /// third node.
    Clusters,
    /// Rhombs.
    Rhombs,
}

impl PatternGroup {
    /// All, in the order of lists.
    pub const ALL: [PatternGroup; 4] = [
        PatternGroup::Squares,
        PatternGroup::Triangles,
        PatternGroup::Clusters,
        PatternGroup::Rhombs,
    ];

    /// As JSON and addresses in a page have it.
    pub fn name(self) -> &'static str {
        match self {
            PatternGroup::Squares => "squares",
            PatternGroup::Triangles => "triangles",
            PatternGroup::Clusters => "clusters",
            PatternGroup::Rhombs => "rhombs",
        }
    }

    /// Over the patterns of the group.
    pub fn heading(self) -> &'static str {
        match self {
            PatternGroup::Squares => "In squares",
            PatternGroup::Triangles => "In triangles",
            PatternGroup::Clusters => "In triangles, figures about every third crossing",
            PatternGroup::Rhombs => "In rhombs",
        }
    }
}

impl Pattern {
    /// The group that it is listed in: of triangles those that say which corner lies at the panel's
    /// middle have a figure of several cells about it.
    pub fn group(&self) -> PatternGroup {
        let PatternDesign { cell, middle, .. } = &self.design;
        match (cell, middle) {
            (CellShape::Square, _) => PatternGroup::Squares,
            (CellShape::Triangle, None) => PatternGroup::Triangles,
            (CellShape::Triangle, Some(_)) => PatternGroup::Clusters,
            (CellShape::Rhomb, _) => PatternGroup::Rhombs,
        }
    }
}
