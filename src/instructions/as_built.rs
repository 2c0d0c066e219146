//! What was measured of a panel whose strips are cut. Millimetres.

use serde::Serialize;

/// The bays of a panel as built.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AsBuiltFigures {
    /// From the left; none where the columns are as drawn.
    pub columns: Vec<BayFigures>,
    /// From the bottom; none where the rows are as drawn.
    pub rows: Vec<BayFigures>,
    /// Leaves of bays that differ by no more than this are made alike.
    pub same_within_mm: f64,
}

/// A column or a row, clear from strip to strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BayFigures {
    /// From 1.
    pub number: usize,
    /// As drawn.
    pub drawn_mm: f64,
    /// As measured.
    pub measured_mm: f64,
}

/// How leaves that are made alike fit their cells as built.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeafFigures {
    /// The most that the opening they are made for is longer than that of one of their cells, the fit of the
    /// pieces apart; nought where it is longer than none.
    pub too_long_mm: f64,
    /// The same of shorter.
    pub too_short_mm: f64,
    /// Whether so few cells take them that each needs its own.
    pub own: bool,
}

/// Clear openings that a sled's slots give as they were measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SlotBays {
    /// What is made.
    pub title: String,
    /// The sled.
    pub machine: String,
    /// Columns, from the left.
    pub openings_x_mm: Vec<f64>,
    /// Rows, from the bottom.
    pub openings_y_mm: Vec<f64>,
}
