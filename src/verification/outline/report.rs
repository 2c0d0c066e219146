//! What is said of a drawing, and how exact a drawing must be.

use crate::geometry::Point;
use crate::instructions::outline::CutWork;
use crate::units::decimal;

/// Greatest distance in mm of a vertex from where it is meant to be: twenty times the rounding of
/// a file with 6 decimals, a thousandth of what a beam can follow.
pub(super) const TOLERANCE_MM: f64 = 1e-5;

/// One thing that is wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineFault {
    /// Stable short name.
    pub code: &'static str,
    /// What is wrong, with the line of the file or the part's name; lengths in mm.
    pub text: String,
}

impl OutlineFault {
    pub(super) fn new(code: &'static str, text: impl Into<String>) -> Self {
        let text = text.into();
        OutlineFault { code, text }
    }
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineReport {
    /// Number of contours and strokes in the file.
    pub contours: usize,
    /// Greatest distance of a vertex from where it is meant to be, kerf taken off, mm.
    pub worst_error_mm: f64,
    /// All that is wrong; empty for a file that may be used.
    pub faults: Vec<OutlineFault>,
}

pub(super) fn mm(value: f64) -> String {
    decimal(value, 6).unwrap_or_else(|_| "(not a number)".into())
}

pub(super) fn place(point: Point) -> String {
    format!("({}, {})", mm(point.x), mm(point.y))
}

/// How a contour is called in a message.
pub(super) fn called(work: CutWork, at: Option<Point>) -> String {
    let at = at.map_or_else(String::new, |at| format!(" at {}", place(at)));
    format!("{} contour{at}", work.layer())
}
