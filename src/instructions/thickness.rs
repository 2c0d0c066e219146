//! Which strips suit a blade. Millimetres.

use serde::Serialize;

/// Thicknesses and joints of a blade's notches.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThicknessPlan {
    /// The profile.
    pub machine: String,
    /// Width of the groove that the blade leaves in one pass.
    pub kerf_mm: f64,
    /// Notch less strip, as it is wanted.
    pub clearance_mm: f64,
    /// Strips to be planed, so that one pass makes the notch.
    pub one_pass: Joint,
    /// The thickest strips whose notches two passes make with that clearance; a hand saw cuts both walls
    /// however far they are apart.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickest_two_passes_mm: Option<f64>,
    /// Strips that are there already.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub in_hand: Option<InHand>,
    /// What the joints' ranges come from.
    pub spreads: Vec<SpreadUsed>,
}

/// A joint: a strip in a notch.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Joint {
    /// Of the strips, in the middle.
    pub thickness_mm: f64,
    /// Notch less strip, in the middle.
    pub clearance_mm: f64,
    /// 95 of 100 joints are no tighter; below zero the notch squeezes its strip.
    pub tightest_mm: f64,
    /// 95 of 100 joints are no looser.
    pub loosest_mm: f64,
}

/// What to do with strips that are there already.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct InHand {
    /// With one pass.
    pub one_pass: Joint,
    /// A second pass with a shim between the strip's end and the stop; nothing where one pass is as wide as
    /// wanted or wider.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub with_shim: Option<Shimmed>,
}

/// A second pass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shimmed {
    /// Thickness of the shim; a third pass takes two of them, and so on.
    pub shim_mm: f64,
    /// With the first.
    pub passes: usize,
    /// What comes of it.
    pub joint: Joint,
}

/// A figure plus or minus that a range comes from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SpreadUsed {
    /// What differs.
    pub what: &'static str,
    /// Plus or minus.
    pub half_mm: f64,
    /// Whether nobody gave it.
    pub is_assumed: bool,
}
