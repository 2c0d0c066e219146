//! What a sheet's file is meant to cut.

use crate::instructions::outline::CutPart;
use crate::machines::Sheet;

/// What a sheet's file is meant to cut.
#[derive(Debug, Clone, Copy)]
pub struct MeantSheet<'a> {
    /// Finished parts at their places on the sheet.
    pub parts: &'a [CutPart],
    /// Width of the groove, mm; 0 where the file shows finished outlines.
    pub kerf_mm: f64,
    /// Diameter of a cutter that keeps outside the outlines shown; bridges are drawn only for one.
    pub cutter_mm: Option<f64>,
    /// The sheet, and what paths keep from its edges and from each other.
    pub sheet: Sheet,
}
