//! Parts on sheets for a laser.

mod blocks;
mod pieces;
mod profile;
mod sheet;
mod strips;

use super::nesting::{NestError, nest_parts};
use super::outlines::sheet_drawing;
use crate::finding::Finding;
use crate::geometry::bounds;
use crate::instructions::laser::{LaserPlan, PartName, SheetFile};
use crate::instructions::outline::{Part, Work};
use crate::machines::{Laser, Sheet};
use crate::phrase;
use crate::units::Mm;

pub use blocks::{block_parts, plan_blocks};
pub use pieces::plan_piece_outlines;
pub use sheet::laser_sheet;
pub use strips::plan_strips;

/// Free room around an engraved label. Common practice, no source, mm.
const LABEL_MARGIN_MM: f64 = 1.0;

/// What is laid out.
struct Order<'a> {
    title: &'a str,
    machine: &'a str,
    what: &'static str,
    /// Thickness of the sheet that the parts need; any where it does not matter.
    sheet_thickness: Option<f64>,
}

/// Lays parts out on as many sheets as they need.
fn lay_out(
    order: &Order<'_>,
    parts: &[Part],
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<LaserPlan, Vec<Finding>> {
    too_thick(order, laser).map_or(Ok(()), |fault| Err(vec![fault]))?;
    // The whole groove stays out of the margin: it reaches a kerf beyond the part.
    let sheet = Sheet {
        margin: laser.sheet.margin + laser.kerf,
        ..laser.sheet
    };
    let (sheets, layout) = nest_parts(parts, &sheet).map_err(|error| vec![nest_fault(&error)])?;
    let count = sheets.len();
    let mut files = Vec::new();
    for ((at, finished), usage) in sheets.into_iter().enumerate().zip(&layout.sheets) {
        let drawing = sheet_drawing(&finished, laser.kerf).map_err(|error| {
            vec![Finding::error(
                "kerf-too-wide",
                "laser.kerf",
                error.to_string(),
            )]
        })?;
        let name = |part: &Part| PartName {
            name: part.name.clone(),
            copy: part.copy,
            layer: Work::CutOuter.layer(),
        };
        let points = drawing
            .paths
            .iter()
            .flat_map(|path| path.points.iter().copied());
        let (low, high) = bounds(points).unwrap_or_default();
        files.push(SheetFile {
            path: file_name(at, count),
            sheet: at + 1,
            used_mm: [high.x - low.x, high.y - low.y],
            utilisation: usage.utilisation,
            parts: finished.iter().map(name).collect(),
            finished,
            drawing,
        });
    }
    Ok(LaserPlan {
        title: order.title.to_owned(),
        machine: order.machine.to_owned(),
        what: order.what,
        kerf_mm: laser.kerf,
        sheet_thickness_mm: order.sheet_thickness,
        sheet_mm: [laser.sheet.length, laser.sheet.width],
        fewest_sheets: layout.fewest_sheets,
        square_cuts: Vec::new(),
        files,
    })
}

fn too_thick(order: &Order<'_>, laser: &Laser) -> Option<Finding> {
    let needed = order
        .sheet_thickness
        .filter(|needed| *needed > laser.thickest)?;
    let text = phrase!(
        "{} are cut from sheet {} thick; this laser cuts up to {}",
        order.what,
        Mm(needed),
        Mm(laser.thickest)
    );
    let fault = Finding::error("sheet-too-thick", "laser.thickest", text);
    Some(fault.hint("a stronger laser; or saw and pare them, or use a router"))
}

fn nest_fault(error: &NestError) -> Finding {
    let fault = Finding::error("does-not-fit-sheet", "sheet.length", error.phrase());
    fault.hint("a longer sheet with its grain along the length, or build the panel in parts")
}
