//! The wood of the pieces.

use super::pattern::SectionShare;
use crate::geometry::tolerance::POSITION;
use crate::lattice::{PieceSection, USUAL_FOLD_SKIN_MM};
use float_cmp::ApproxEq;

/// The wood of the pieces. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceStock {
    /// Width of a piece as seen from the front.
    pub thickness: f64,
    /// Front to back.
    pub depth: f64,
    /// What a notch of a lap is wider than the piece in it; negative for a press fit.
    pub clearance: f64,
    /// What a V leaves at the outer side where a strip is folded.
    pub skin: f64,
}

impl PieceStock {
    /// Of a section, with the usual skin.
    pub fn of(section: &PieceSection) -> Self {
        PieceStock {
            thickness: section.thickness,
            depth: section.depth,
            clearance: section.clearance,
            skin: USUAL_FOLD_SKIN_MM,
        }
    }

    /// The same with another skin where strips are folded.
    pub fn with_skin(self, skin: f64) -> PieceStock {
        PieceStock { skin, ..self }
    }

    /// Whether it is the same wood.
    pub fn is_like(&self, other: &PieceStock) -> bool {
        self.thickness.approx_eq(other.thickness, POSITION)
            && self.depth.approx_eq(other.depth, POSITION)
    }

    /// A part of it.
    pub fn share(self, share: SectionShare) -> PieceStock {
        PieceStock {
            thickness: self.thickness * share.thickness,
            depth: self.depth * share.depth,
            ..self
        }
    }
}
