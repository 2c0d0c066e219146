//! The wood of the pieces.

/// The wood of the pieces. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceStock {
    /// Width of a piece as seen from the front.
    pub thickness: f64,
    /// What a notch of a lap is wider than the piece in it; negative for a press fit.
    pub clearance: f64,
}
