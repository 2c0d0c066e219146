//! What a plan tells of its machine's figures that were measured. Millimetres.

use serde::Serialize;

/// A figure of the machine's profile that was measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasuredNote {
    /// Where the profile has it.
    pub field: String,
    /// What it is called.
    pub name: String,
    /// What the plan reckons with.
    pub value_mm: f64,
    /// Year, month and day.
    pub date: String,
    /// From how many readings.
    pub readings: usize,
    /// Standard deviation of what the readings gave, one by one.
    pub deviation_mm: f64,
    /// Of the figure, coverage 95 %.
    pub expanded_uncertainty_mm: f64,
}
