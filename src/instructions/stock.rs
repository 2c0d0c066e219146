//! Stock that a caliper found to be something else than what was drawn. Millimetres.

use serde::Serialize;

/// A strip's section as drawn and as measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredStock {
    /// As seen from the front.
    pub drawn_thickness_mm: f64,
    /// All figures of the plan are worked out from it.
    pub measured_thickness_mm: f64,
    /// Measured less drawn: below zero where it is thinner.
    pub thicker_mm: f64,
    /// Front to back.
    pub drawn_depth_mm: f64,
    /// All figures of the plan are worked out from it.
    pub measured_depth_mm: f64,
    /// Measured less drawn: below zero where it is shallower.
    pub deeper_mm: f64,
    /// What the layers keep at a node, where the job says so and the depth is another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub keeps: Option<MeasuredShares>,
    /// Whether the notches' middles are where they are in stock as drawn, from the strips' ends.
    pub centres_as_drawn: bool,
}

/// What each layer keeps at a node, front to back.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredShares {
    /// As the job says.
    pub drawn_mm: Vec<f64>,
    /// Of the depth that was measured, in the same proportions.
    pub measured_mm: Vec<f64>,
}
