//! Patterns: the rules from which the pieces of a cell are worked out.

mod design;
mod names;

pub use design::{
    JunctionRule, MirrorRule, Neighbours, PatternDesign, PatternLine, PatternPoint, PieceRule,
    PieceSide, SectionShare,
};

use super::cell::Cell;
use super::cell_shape::CellShape;
use crate::finding::Finding;
use std::ops::Deref;

/// A pattern all of whose names are known and that can be worked out in the order of its pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    design: PatternDesign,
}

impl Pattern {
    /// Checks names, order and angles; whether the pieces fit a cell shows when it is solved.
    ///
    /// # Errors
    /// All that is wrong, each with its field.
    pub fn new(design: PatternDesign) -> Result<Pattern, Vec<Finding>> {
        let faults = names::faults(&design);
        if faults.is_empty() {
            Ok(Pattern { design })
        } else {
            Err(faults)
        }
    }

    /// Whether its figure holds in a cell of that shape.
    pub fn holds_in(&self, cell: &Cell) -> bool {
        match (self.cell, cell.shape()) {
            (CellShape::Triangle, CellShape::Triangle) => true,
            (CellShape::Triangle, CellShape::Square | CellShape::Rhomb)
            | (CellShape::Square | CellShape::Rhomb, CellShape::Triangle) => false,
            (CellShape::Square, CellShape::Square) => self.rectangles || cell.is_square(),
            (CellShape::Square, CellShape::Rhomb) => self.rhombs,
            (CellShape::Rhomb, CellShape::Square) => cell.is_square(),
            (CellShape::Rhomb, CellShape::Rhomb) => true,
        }
    }

    /// Whether pieces of it run on over strips.
    pub fn runs_over(&self) -> bool {
        let mut pieces = self.pieces.iter();
        pieces.any(|piece| piece.over.contains(&true))
    }

    /// Names of all pieces: those described, then the copies, mirror by mirror.
    pub fn piece_names(&self) -> Vec<&str> {
        let listed = self.pieces.iter().map(|piece| &piece.name);
        let copies = self.mirrors.iter().flat_map(|mirror| &mirror.copies);
        let copies = copies.map(|(_, copy)| copy);
        listed.chain(copies).map(String::as_str).collect()
    }
}

impl Deref for Pattern {
    type Target = PatternDesign;
    fn deref(&self) -> &PatternDesign {
        &self.design
    }
}
