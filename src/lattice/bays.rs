//! Bays of a square panel, as drawn and as measured.

use super::grid_types::SquareGrid;

/// Leaves of bays that differ by no more than this are made alike where a job does not say. Common
/// practice, no source, mm.
pub const USUAL_SAME_WITHIN_MM: f64 = 0.1;

/// What was measured of a panel's bays once its strips were put together. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredBays {
    /// Clear openings of the columns from strip to strip, from the left; nothing where they are as drawn.
    pub openings_x: Option<Vec<f64>>,
    /// The same of the rows, from the bottom.
    pub openings_y: Option<Vec<f64>>,
    /// Leaves of bays that differ by no more than this are made alike.
    pub same_within: f64,
}

/// What is known of a panel whose bays were measured.
#[derive(Debug, Clone, PartialEq)]
pub struct AsBuilt {
    /// The grid as it was drawn, and as its strips were to be cut.
    pub drawn: SquareGrid,
    /// Whether the columns were measured, and the rows; those that were not are as drawn.
    pub measured: [bool; 2],
    /// Leaves of bays that differ by no more than this are made alike, mm.
    pub same_within: f64,
}

/// A bay as drawn and as built, mm, with its number, from 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BuiltBay {
    /// From the left or from the bottom.
    pub number: usize,
    /// Clear opening as drawn.
    pub drawn: f64,
    /// As measured.
    pub built: f64,
}
