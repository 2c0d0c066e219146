//! Patterns: the rules from which the pieces of a cell are worked out.

mod copies;
mod design;
mod folds;
mod group;
mod known;
mod names;
mod rests;

pub use design::{
    FoldRule, JunctionRule, LineRule, MirrorRule, Neighbours, PatternDesign, PatternLine,
    PatternPoint, PieceRule, PieceSide, SectionShare, TurnRule,
};
pub use group::PatternGroup;

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

    /// Whether of cells with right angles it holds in squares only.
    pub(super) fn needs_square(&self) -> bool {
        self.cell == CellShape::Rhomb || !self.rectangles
    }

    /// Index of the corner that is to lie at the panel's middle, if one is.
    pub(super) fn middle_corner(&self) -> Option<usize> {
        let name = self.middle.as_deref()?;
        self.cell
            .corners()
            .iter()
            .position(|corner| *corner == name)
    }

    /// Names of the pieces that are one strip, folded where they meet, copies included; with the field that
    /// says so.
    pub(super) fn folded(&self) -> Vec<(String, Vec<String>)> {
        folds::all(&self.design)
    }

    /// Whether pieces of it are folded.
    pub fn folds_any(&self) -> bool {
        !self.folds.is_empty()
    }

    /// Whether pieces of it run on over strips.
    pub fn runs_over(&self) -> bool {
        let mut pieces = self.pieces.iter();
        pieces.any(|piece| piece.over.contains(&true))
    }

    /// Names of all pieces: those described, then the copies, mirrored ones first.
    pub fn piece_names(&self) -> Vec<&str> {
        let listed = self.pieces.iter().map(|piece| piece.name.as_str());
        let copies = known::copies(&self.design);
        listed.chain(copies.map(|copy| copy.name)).collect()
    }

    /// Whether a piece goes in last and holds the others: one that is said to, or a copy of it.
    pub fn locks(&self, name: &str) -> bool {
        let original = known::copies(&self.design).find(|copy| copy.name == name);
        match original {
            Some(copy) => self.locks(copy.of),
            None => self.locks.iter().any(|lock| lock == name),
        }
    }

    /// The thickness of pieces, mm, that is `share` of the pitch where strips are as thick and leave this
    /// cell. The pitch is the distance of centre lines, square to them, of an oblong cell the lesser one.
    ///
    /// Opposite walls lie a thickness nearer to each other than the centre lines, so `t = s (w + t)`;
    /// a triangle's height, three inradii, is one and a half thicknesses less: `t = s (h + 3 t / 2)`.
    pub fn thickness_at(cell: &Cell, share: f64) -> f64 {
        let (width, height) = cell.opening();
        match cell.shape() {
            CellShape::Triangle => share * height / (1.0 - 1.5 * share),
            CellShape::Square => share * width.min(height) / (1.0 - share),
            CellShape::Rhomb => share * height / (1.0 - share),
        }
    }
}

impl Deref for Pattern {
    type Target = PatternDesign;
    fn deref(&self) -> &PatternDesign {
        &self.design
    }
}
