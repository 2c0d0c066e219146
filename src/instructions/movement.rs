//! What the seasons do to a panel's wood. Millimetres; shares and moistures in percent.

use crate::woods::Basis;
use serde::Serialize;

/// A panel from the bench to the room in which it hangs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MovementPlan {
    /// What is made.
    pub title: String,
    /// How the strips' wood moves.
    pub strips: WoodMovement,
    /// Of a strip, as it is cut.
    pub thickness_mm: f64,
    /// The same, front to back.
    pub depth_mm: f64,
    /// Notch less strip, as it is cut.
    pub clearance_mm: f64,
    /// The air at the bench.
    pub bench: AirFigures,
    /// The room at its driest, then at its dampest.
    pub seasons: [Season; 2],
    /// Least clearance to cut, so that no strip is squeezed in its notch all year.
    pub free_all_year: CutToday,
    /// Greatest clearance to cut, so that no strip is loose in its notch all year.
    pub tight_all_year: CutToday,
}

/// How a wood moves across its grain.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WoodMovement {
    /// What it is called in the table, or by the job.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wood: Option<String>,
    /// Of its width square to the growth rings, for each percent of moisture.
    pub radial_percent: f64,
    /// The same along them.
    pub tangential_percent: f64,
    /// How sure these are.
    pub basis: Basis,
    /// Where they come from.
    pub source: &'static str,
}

/// Air, and what wood comes to in it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct AirFigures {
    /// Relative humidity; nothing where the wood's moisture was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub humidity_percent: Option<f64>,
    /// Water by oven-dry wood.
    pub moisture_percent: f64,
    /// Whether the job says so; else it is an example.
    pub is_own: bool,
}

/// From the least to the greatest, as the growth rings may lie.
pub type Range = [f64; 2];

/// What a season does, against the bench.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Season {
    /// The air.
    pub air: AirFigures,
    /// How much thicker the strips are; below zero where they are thinner.
    pub thickness_change_mm: Range,
    /// How much deeper they are.
    pub depth_change_mm: Range,
    /// Notch less strip: notches lie along their strips' grain and keep their widths.
    pub clearance_mm: Range,
    /// How much wider the open cells are, between strips' faces and square to them; centre lines stay.
    pub opening_change_mm: Range,
    /// The frame, where there is one whose members' widths are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<FrameSeason>,
}

/// What a season does to the widest member of a frame and to its mitres.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FrameSeason {
    /// Width of the widest member, as it is cut.
    pub width_mm: f64,
    /// How much wider it is.
    pub width_change_mm: Range,
    /// How far mitres stand open at one of their ends; nothing for other joints.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mitre_gap_mm: Option<Range>,
}

/// A clearance to cut, and what becomes of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CutToday {
    /// Notch less strip, at the bench.
    pub clearance_mm: f64,
    /// Least and greatest in the room, over the year.
    pub over_the_year_mm: Range,
}
