//! One sheet's file against the parts at their places on it.

use super::contours;
use super::dxf_survey::check_extents;
use super::meant_sheet::MeantSheet;
use super::read_drawing::ReadDrawing;
use super::report::{OutlineFault, OutlineReport};
use super::{matching, spacing};
use crate::instructions::outline::CutWork;

/// Checks one sheet's DXF file against the parts at the places that they were given.
///
/// In: the file's bytes, and what it is meant to cut. Out: what was found and all that is wrong; bytes
/// that are no DXF file are a fault too. Not checked: whether these are the parts that the job needs
/// ([`prove_drawings`](super::prove_drawings)), and what letters say.
///
/// Codes of faults: `not-dxf`, `unreadable`, `version`, `units`, `extents`, `layer`, `entity`,
/// `group`, `number`, `flag`, `vertex-count`, `handle`, `order` for the file as such; `open`,
/// `zero-length`, `duplicate`, `too-close`, `overlap`, `off-sheet`, `in-margin` for its contours;
/// `missing`, `surplus`, `vertex-off`, `shape` against the parts. Cut paths must be at least a kerf apart,
/// so that no groove runs into another, and those around parts as far as leaves the sheet's gap
/// between parts with straight sides; grooves stay out of the sheet's margin.
pub fn check_sheet(bytes: &[u8], meant: &MeantSheet) -> OutlineReport {
    check_read_sheet(&ReadDrawing::of(bytes), meant)
}

/// Checks only which contour is which of the parts at their places, and how far off: the other part of
/// [`check_sheet`] for a file that was found right as such. Out: faults `missing`, `surplus`, `vertex-off`,
/// `shape`.
pub fn check_places(drawing: &ReadDrawing, meant: &MeantSheet) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    matching::check(drawing.contours(), meant, &mut faults);
    faults
}

/// As [`check_sheet`].
pub(super) fn check_read_sheet(drawing: &ReadDrawing, meant: &MeantSheet) -> OutlineReport {
    let mut report = OutlineReport {
        contours: 0,
        worst_error_mm: 0.0,
        faults: drawing.faults.clone(),
    };
    let Some((survey, contours)) = &drawing.read else {
        return report;
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
    check_extents(survey, contours, &mut report.faults);
    contours::check(contours, &mut report.faults);
    let bridges = contours
        .iter()
        .filter(|contour| contour.work == CutWork::Bridges);
    if meant.cutter_mm.is_none() && bridges.count() > 0 {
        let text = "bridges, although no cutter follows the outlines";
        report.faults.push(OutlineFault::new("layer", text));
    }
    spacing::check(contours, meant, &mut report.faults);
    report.worst_error_mm = matching::check(contours, meant, &mut report.faults);
    report
}
