//! Guide blocks for paring mitred pieces by hand.

use super::measured::MeasuredFigure;

/// A set of guide blocks with a stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Guides {
    /// Angles between the guide face and the piece's long axis that the set has, radians: below pi/2 of
    /// sharp blocks, above it of blunt ones for birds' mouths.
    pub angles: Vec<f64>,
    /// Least distance from the stop to where the guide plane meets the fence, mm.
    pub stop_nearest: f64,
    /// Greatest such distance, mm.
    pub stop_farthest: f64,
    /// Length of a block along the fence, from its square end to its sharp corner, mm.
    pub block_length: f64,
    /// Which of its figures were measured, as its profile has it.
    pub measured: Vec<MeasuredFigure>,
}

impl Guides {
    /// The sizes by which a guide is drawn for a job that names none: those of the shipped profile.
    pub fn usual() -> Self {
        Guides {
            angles: Vec::new(),
            stop_nearest: 8.0,
            stop_farthest: 160.0,
            block_length: 120.0,
            measured: Vec::new(),
        }
    }

    /// Whether the stop can be set to this distance, mm.
    pub fn stop_goes_to(&self, distance: f64) -> bool {
        (self.stop_nearest..=self.stop_farthest).contains(&distance)
    }
}
