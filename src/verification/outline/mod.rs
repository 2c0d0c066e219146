//! Whether an outline file says what was meant: read as text and by an independent reader, the
//! kerf taken off again, compared vertex by vertex with the finished parts.

mod apart;
mod contours;
mod drawings;
mod engraving;
mod entities;
mod guide;
mod jigs;
mod matching;
mod panel;
mod pieces;
mod routed;
mod strips;
mod svg;
mod tags;
mod undo;
mod wanted;

use crate::geometry::{Point, bounds};
use crate::instructions::outline::{Part, Work};
use crate::machines::Sheet;
use crate::units::decimal;
use contours::Contour;

pub use drawings::{DrawingsReport, alike_together, holds_any, prove_drawings, prove_routed};
pub use guide::{GuideOrder, Labels};
pub use jigs::{comb_wanted, gauge_wanted, rack_wanted};
pub use panel::{check_panel, cuts};
pub use pieces::{block_angles, pieces_wanted};
pub use strips::strips_wanted;
pub use svg::check_twin;
pub use wanted::{Engraved, Text, Wanted};

/// Greatest distance in mm of a vertex from where it is meant to be: twenty times the rounding of
/// a file with 6 decimals, a thousandth of what a beam can follow.
pub const TOLERANCE_MM: f64 = 1e-5;

/// What a sheet's file is meant to cut.
#[derive(Debug, Clone, Copy)]
pub struct Meant<'a> {
    /// Finished parts at their places on the sheet.
    pub parts: &'a [Part],
    /// Width of the groove, mm; 0 where the file shows finished outlines.
    pub kerf_mm: f64,
    /// Diameter of a cutter that keeps outside the outlines shown; bridges are drawn only for one.
    pub cutter_mm: Option<f64>,
    /// The sheet, and what paths keep from its edges and from each other.
    pub sheet: Sheet,
}

/// One thing that is wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineFault {
    /// Stable short name.
    pub code: &'static str,
    /// What is wrong, with the line of the file or the part's name; lengths in mm.
    pub text: String,
}

impl OutlineFault {
    fn new(code: &'static str, text: impl Into<String>) -> Self {
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

/// Reads a DXF file and compares it with what it is meant to cut.
///
/// Codes of faults: `not-dxf`, `unreadable`, `version`, `units`, `extents`, `layer`, `entity`,
/// `group`, `number`, `flag`, `vertex-count`, `handle`, `order` for the file as such; `open`,
/// `zero-length`, `duplicate`, `too-close`, `overlap`, `off-sheet`, `in-margin` for its contours;
/// `missing`, `surplus`, `vertex-off`, `shape` against the parts. Cut paths must be at least a kerf apart,
/// so that no groove runs into another, and those around parts as far as leaves the sheet's gap
/// between parts with straight sides; grooves stay out of the sheet's margin.
pub fn check(bytes: &[u8], meant: &Meant) -> OutlineReport {
    let mut report = OutlineReport {
        contours: 0,
        worst_error_mm: 0.0,
        faults: Vec::new(),
    };
    let survey = match tags::survey(bytes, &mut report.faults) {
        Ok(survey) => survey,
        Err(fault) => {
            report.faults.push(fault);
            return report;
        }
    };
    let contours = match contours::read(bytes, &mut report.faults) {
        Ok(contours) => contours,
        Err(fault) => {
            report.faults.push(fault);
            return report;
        }
    };
    report.contours = contours.len();
    if contours.len() != survey.entities {
        report.faults.push(OutlineFault::new(
            "unreadable",
            format!(
                "{} contours were read, the file has {}",
                contours.len(),
                survey.entities
            ),
        ));
    }
    check_extents(&survey, &contours, &mut report.faults);
    contours::check(&contours, &mut report.faults);
    let bridges = contours
        .iter()
        .filter(|contour| contour.work == Work::Bridges);
    if meant.cutter_mm.is_none() && bridges.count() > 0 {
        let text = "bridges, although no cutter follows the outlines";
        report.faults.push(OutlineFault::new("layer", text));
    }
    apart::check(&contours, meant, &mut report.faults);
    report.worst_error_mm = matching::check(&contours, meant, &mut report.faults);
    report
}

/// Programs that scale to fit believe the extents in the header.
fn check_extents(survey: &tags::Survey, contours: &[Contour], faults: &mut Vec<OutlineFault>) {
    let points = contours.iter().flat_map(|contour| &contour.points);
    let Some((low, high)) = bounds(points.copied()) else {
        return;
    };
    for (name, said, is) in [
        ("$EXTMIN", survey.least, low),
        ("$EXTMAX", survey.greatest, high),
    ] {
        if !said.is_some_and(|said| said.to(is).length() < TOLERANCE_MM) {
            faults.push(OutlineFault::new(
                "extents",
                format!("{name} is not {}", place(is)),
            ));
        }
    }
}

fn mm(value: f64) -> String {
    decimal(value, 6).unwrap_or_else(|_| "(not a number)".into())
}

fn place(point: Point) -> String {
    format!("({}, {})", mm(point.x), mm(point.y))
}

/// How a contour is called in a message.
fn called(work: Work, at: Option<Point>) -> String {
    let at = at.map_or_else(String::new, |at| format!(" at {}", place(at)));
    format!("{} contour{at}", work.layer())
}
