//! Parts laid out on sheets, and the files that cut them.

use super::nesting::nest_parts;
use super::outlines::{OutlineError, outline_boxes, sheet_drawing};
use super::reliefs_and_bridges;
use super::sheet_faults;
use super::travel::{shortened, travel};
use crate::finding::Finding;
use crate::geometry::{Point, bounds};
use crate::instructions::laser::{LaserPlan, PartName, RowsFound, SheetFile, StickLabels, Ware};
use crate::instructions::outline::{CutPart, CutPath, CutWork};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::stock::MeasuredStock;
use crate::machines::{Laser, Sheet};
use crate::planning::measured_figures::measured_figures;
use crate::units::UnitSystem;
use std::borrow::Cow;

/// What is laid out.
pub(super) struct SheetOrder<'a> {
    pub(super) title: &'a str,
    pub(super) machine: &'a str,
    pub(super) wares: Vec<Ware>,
    /// Thickness of the sheet that the parts need; any where it does not matter.
    pub(super) sheet_thickness: Option<f64>,
    pub(super) measured_stock: Option<MeasuredStock>,
}

/// Lays parts out on as many sheets as they need.
pub(super) fn lay_out(
    order: &SheetOrder<'_>,
    parts: &[CutPart],
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<LaserPlan, Vec<Finding>> {
    let relieved = match &laser.cutter {
        None => Cow::Borrowed(parts),
        Some(cutter) => Cow::Owned(reliefs_and_bridges::with_relief(parts, cutter)?),
    };
    // What has no room for its bridges is sheet_faults before the long work.
    if let Some(cutter) = &laser.cutter {
        reliefs_and_bridges::bridge_paths(&relieved, cutter)?;
    }
    // What is laid out are the paths: where a tip's mitre reaches out beyond the part, it keeps the
    // margin and its distance too. A beam's path has lost half a kerf of the gap on either side;
    // from it the groove, which stays out of the margin, reaches out by what is left.
    let sheet = Sheet {
        margin: laser.sheet.margin + laser.groove() - laser.kerf / 2.0,
        gap: laser.sheet.gap - laser.kerf,
        ..laser.sheet
    };
    let boxes = outline_boxes(&relieved, laser.kerf).map_err(|error| vec![kerf_fault(&error)])?;
    let (sheets, layout) = nest_parts(&relieved, &boxes, &sheet)
        .map_err(|error| vec![sheet_faults::nest_fault(&error, &order.wares)])?;
    let count = sheets.len();
    let mut files = Vec::new();
    for ((at, finished), usage) in sheets.into_iter().enumerate().zip(&layout.sheets) {
        let path = file_name(at, count);
        files.push(sheet_file(
            path,
            at + 1,
            finished,
            usage.utilisation,
            laser,
        )?);
    }
    Ok(LaserPlan {
        title: order.title.to_owned(),
        machine: order.machine.to_owned(),
        measured_stock: order.measured_stock.clone(),
        measured_figures: measured_figures(&laser.measured),
        what: Ware::in_words(&order.wares),
        wares: order.wares.clone(),
        kerf_mm: laser.kerf,
        cutter_mm: laser.cutter.map(|cutter| cutter.diameter),
        letter_line_mm: laser
            .cutter
            .filter(|cutter| cutter.diameter > laser.letter_line)
            .map(|_| laser.letter_line),
        bridges_of_each_part: laser.cutter.and_then(|cutter| Some(cutter.bridges?.count)),
        fitted_clearance_mm: None,
        sheet_thickness_mm: order.sheet_thickness,
        stack: None,
        sheet_mm: [laser.sheet.length, laser.sheet.width],
        fewest_sheets: layout.bounds.sheets(),
        fewest_sheets_by_area: layout.bounds.sheets_by_area,
        fewest_sheets_by_length: layout.bounds.sheets_by_length,
        width_taken_mm: layout.width,
        least_width_mm: layout.bounds.width(count),
        rows: layout
            .rows
            .zip(layout.bounds.rows)
            .map(|(taken, least)| RowsFound {
                taken,
                fewest: least.rows,
                proved: taken == least.rows,
            }),
        square_cuts: Vec::new(),
        stick_labels: StickLabels::default(),
        marked_in: UnitSystem::default(),
        lapped: Vec::new(),
        unlabelled: Vec::new(),
        assembly: Vec::new(),
        files,
    })
}

/// One sheet's file, its name and number given.
fn sheet_file(
    path: String,
    sheet: usize,
    finished: Vec<CutPart>,
    utilisation: f64,
    laser: &Laser,
) -> Result<SheetFile, Vec<Finding>> {
    let mut drawing = sheet_drawing(
        &finished,
        laser.kerf,
        SafetyNotes::for_sheet(laser.cutter.is_some()),
    )
    .map_err(|error| vec![kerf_fault(&error)])?;
    if let Some(cutter) = &laser.cutter {
        drawing
            .paths
            .extend(reliefs_and_bridges::bridge_paths(&finished, cutter)?);
    }
    let travel_before_mm = travel(&drawing.paths);
    let before = outline_starts(&drawing.paths);
    drawing.paths = shortened(drawing.paths);
    let finished = as_cut(finished, &before, &outline_starts(&drawing.paths));
    let points = drawing
        .paths
        .iter()
        .flat_map(|path| path.points.iter().copied());
    let (low, high) = bounds(points).unwrap_or_default();
    let offcut_from = offcut_from(high, laser);
    Ok(SheetFile {
        path,
        sheet,
        used_mm: [high.x - low.x, high.y - low.y],
        utilisation,
        travel_before_mm,
        travel_mm: travel(&drawing.paths),
        offcut_mm: [
            laser.sheet.length - offcut_from.x,
            laser.sheet.width - offcut_from.y,
        ],
        offcut_from_mm: [offcut_from.x, offcut_from.y],
        parts: finished.iter().map(part_name).collect(),
        finished,
        drawing,
    })
}

fn part_name(part: &CutPart) -> PartName {
    PartName {
        name: part.name.clone(),
        copy: part.copy,
        layer: CutWork::Outlines.layer(),
    }
}

/// Where each outline begins.
fn outline_starts(paths: &[CutPath]) -> Vec<Point> {
    let outlines = paths.iter().filter(|path| path.work == CutWork::Outlines);
    outlines
        .filter_map(|path| path.points.first().copied())
        .collect()
}

/// The parts, whose outlines began at `before` in this order, in the order in which they are cut
/// free now.
fn as_cut(parts: Vec<CutPart>, before: &[Point], now: &[Point]) -> Vec<CutPart> {
    let place = |start: &Point| now.iter().position(|other| other == start);
    let mut placed: Vec<_> = before.iter().map(place).zip(parts).collect();
    placed.sort_by_key(|(place, _)| *place);
    placed.into_iter().map(|(_, part)| part).collect()
}

/// Lower left corner of the larger of the two rectangles above and to the right of all paths, the
/// last of which runs through `high`.
fn offcut_from(high: Point, laser: &Laser) -> Point {
    // A beam runs in the middle of its groove, a cutter beside the line drawn.
    let half = laser
        .cutter
        .map_or(laser.kerf / 2.0, |cutter| cutter.diameter);
    let Sheet { length, width, .. } = laser.sheet;
    let right = high.x + half;
    let top = high.y + half;
    if (length - right) * width > (width - top) * length {
        Point::new(right, 0.0)
    } else {
        Point::new(0.0, top)
    }
}

fn kerf_fault(error: &OutlineError) -> Finding {
    Finding::error("kerf-too-wide", "laser.kerf", error.to_string())
}
