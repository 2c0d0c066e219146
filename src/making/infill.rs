//! A job's cells with their pieces, and the picture of it all.

use super::not_made::NotMade;
use crate::finding::{Document, Finding};
use crate::infill::{EdgeCells, FillOrder, Infilling, Pattern, fill, fill_map};
use crate::instructions::drawing::Drawing;
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{Margins, NotchMate, Panel};
use crate::planning::frame_outlines;
use crate::reading::{Job, SHIPPED_PATTERNS, read_pattern};
use crate::sheets::panel_drawing;
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::svg;

/// A job's cells with the pieces of its patterns, which come in the order of [`Job::pattern_names`]. Its
/// warnings are about the job.
///
/// # Errors
/// A job without pieces; what is wrong with a pattern in a cell of this panel, or with what the job asks
/// of it.
pub fn filled(job: &Job, patterns: &[Pattern]) -> Result<Infilling, NotMade> {
    let filled = filled_as_is(job, patterns)?;
    let bundles = job.panel.lattice().strips.iter();
    let notches = bundles.flat_map(|strip| &strip.notches);
    let crossed = notches.filter(|notch| notch.mate == NotchMate::Piece);
    if crossed.count() != filled.crossed.len() {
        let text = "pieces run over strips that have no notches for them";
        let fault = Finding::error("strips-not-crossed", "infill", text);
        let hint = "take the job through `with_crossing_pieces` first";
        return Err(NotMade::cannot(vec![fault.hint(hint)], Document::Job));
    }
    Ok(filled)
}

/// A job whose strips have notches for those pieces of its patterns that run over them. Without such
/// pieces, or without any, it is the same.
///
/// # Errors
/// As for [`filled`]; strips that keep too little wood; a fit or bays as built, since such pieces are
/// not made for one cell.
pub fn with_crossing_pieces(job: Job, patterns: &[Pattern]) -> Result<Job, NotMade> {
    if job.map.is_none() || !patterns.iter().any(Pattern::runs_over) {
        return Ok(job);
    }
    let cannot = |faults| NotMade::cannot(faults, Document::Job);
    if job.panel.piece_section().fit != 0.0 {
        let text = "pieces that run over strips go through several cells: none is longer for a fit";
        let fault = Finding::error("fit-over-strips", "infill.fit", text);
        return Err(cannot(vec![fault.hint("leave `fit` out")]));
    }
    if job.panel.known_as_built().is_some() {
        let text =
            "pieces that run over strips go through several bays, and are notched with the strips";
        let fault = Finding::error("as-built-over-strips", "as_built", text);
        let hint = "leave [as_built] out, and mark these pieces on the panel itself";
        return Err(cannot(vec![fault.hint(hint)]));
    }
    let filled = filled_as_is(&job, patterns)?;
    let panel = job.panel.with_crossing_pieces(&filled.crossed);
    Ok(Job {
        panel: panel.map_err(cannot)?,
        ..job
    })
}

fn filled_as_is(job: &Job, patterns: &[Pattern]) -> Result<Infilling, NotMade> {
    let Some(map) = &job.map else {
        let text = "the job has no pieces";
        let fault = Finding::error("no-pieces", "infill", text);
        return Err(NotMade::cannot(vec![fault], Document::Job));
    };
    let patterns: Vec<&Pattern> = patterns.iter().collect();
    let fitted = job.fitted.as_ref().map(|fitted| fitted.margins);
    let margins = fitted.or(job.frame.as_ref().map(|frame| frame.margins));
    let order = FillOrder {
        margins: margins.unwrap_or(Margins::even(0.0)),
        ..FillOrder::new(map, &patterns, job.edge)
    };
    let told = |findings| would_hold(findings, job, &patterns);
    match fill_map(&job.panel, &order) {
        Ok(filled) => Ok(Infilling {
            warnings: told(filled.warnings.clone()),
            ..filled
        }),
        Err(faults) => Err(NotMade::cannot(told(faults), Document::Job)),
    }
}

/// Findings about cells that stay open, with the shipped patterns that would fill them.
fn would_hold(findings: Vec<Finding>, job: &Job, known: &[&Pattern]) -> Vec<Finding> {
    if !findings.iter().any(is_open) {
        return findings;
    }
    let panel = &job.panel;
    let mut holding = Vec::new();
    for shipped in SHIPPED_PATTERNS {
        let Ok(file) = read_pattern(shipped.name, shipped.text) else {
            continue;
        };
        let is_used = known.iter().any(|pattern| pattern.name == shipped.name);
        if !is_used && fills_all(panel, &file.pattern) {
            holding.push(shipped.name);
        }
    }
    if holding.is_empty() {
        return findings;
    }
    let more = format!(
        "; shipped patterns that fill every whole cell of this panel: {}",
        holding.join(", ")
    );
    let with_more = |mut finding: Finding| {
        if is_open(&finding)
            && let Some(hint) = &mut finding.hint
        {
            hint.append(more.as_str().into());
        }
        finding
    };
    findings.into_iter().map(with_more).collect()
}

/// Whether it is about cells in which a figure does not hold.
fn is_open(finding: &Finding) -> bool {
    let codes = [
        "cells-left-open",
        "no-cell-filled",
        "pattern-for-triangles",
        "pattern-for-squares",
    ];
    codes.contains(&finding.code)
}

/// Whether a pattern alone fills every whole cell of a panel.
fn fills_all(panel: &Panel, pattern: &Pattern) -> bool {
    let filled = fill(panel, pattern, EdgeCells::Leave);
    filled.is_ok_and(|filled| {
        let mut whole = filled.cells.iter().filter(|cell| cell.whole);
        whole.all(|cell| !cell.pieces.is_empty())
    })
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
    written(&drawn(job, filled), units)
}

/// The assembled panel, not written yet.
pub(super) fn drawn(job: &Job, filled: Option<&Infilling>) -> Drawing {
    let lattice = job.panel.lattice();
    let frame = job.frame.as_ref();
    let frame = frame.and_then(|frame| frame_outlines(lattice, frame));
    panel_drawing(lattice, filled, frame.as_ref())
}

pub(super) fn written(panel: &Drawing, units: UnitSystem) -> Result<String, NotPrintable> {
    svg::svg(panel, &SafetyNotes::for_assembly(), units)
}
