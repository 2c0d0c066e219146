//! A job's cells with their pieces, and the picture of it all.

use super::not_made::NotMade;
use crate::finding::Document;
use crate::infill::{Infilling, Pattern, fill_to};
use crate::instructions::safety::SafetyNotes;
use crate::planning::frame_outlines;
use crate::reading::Job;
use crate::sheets::panel_drawing;
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::svg;

/// A job's cells with the pieces of a pattern. Its warnings are about the job.
///
/// # Errors
/// What is wrong with the pattern in a cell of this panel, or with what the job asks of it.
pub fn filled(job: &Job, pattern: &Pattern) -> Result<Infilling, NotMade> {
    // Only slanted grids have cells that the edge cuts, and their margin is the same all round.
    let margin = job.frame.as_ref().map_or(0.0, |frame| frame.margins.x);
    fill_to(&job.panel, pattern, job.edge, margin)
        .map_err(|faults| NotMade::cannot(faults, Document::Pattern))
}

/// The assembled panel as SVG, with its pieces if it has any.
///
/// # Errors
/// Where a figure is not finite.
pub fn panel_picture(
    job: &Job,
    filled: Option<&Infilling>,
    units: UnitSystem,
) -> Result<String, NotPrintable> {
    let lattice = job.panel.lattice();
    let frame = job.frame.as_ref();
    let frame = frame.and_then(|frame| frame_outlines(lattice, frame));
    let drawing = panel_drawing(lattice, filled, frame.as_ref());
    svg::svg(&drawing, &SafetyNotes::for_assembly(), units)
}
