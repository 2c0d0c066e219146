//! `lapwright pattern`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, PatternAction, PatternArguments};
use super::files::write;
use super::inputs;
use super::lengths::above_zero;
use crate::finding::Document;
use crate::infill::{Cell, CellShape, PieceStock, SolvedCell, solve};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::making::{Warnings, filled};
use crate::reading::{Documents, SHIPPED_PATTERNS, read_pattern};
use crate::sheets::{cell_drawing, pattern_map};
use crate::units::Mm;
use crate::writing::{json, svg};
use serde_json::json;
use std::path::Path;

/// Pitch and thickness that a pattern is shown with, where no others are given.
const USUAL_PITCH_MM: f64 = 50.0;
const USUAL_THICKNESS_MM: f64 = 3.0;
const USUAL_DEPTH_MM: f64 = 12.0;

/// Sharp angle of the rhomb in which a pattern for rhombs is shown: two triangles of equal sides.
const USUAL_RHOMB: f64 = std::f64::consts::FRAC_PI_3;

/// The cell that a pattern is shown in, as far as it is given.
#[derive(Clone, Copy)]
struct CellSizes<'a> {
    pitch: Option<&'a str>,
    thickness: Option<&'a str>,
}

impl<'a> CellSizes<'a> {
    fn of(pitch: Option<&'a str>, thickness: Option<&'a str>) -> Self {
        CellSizes { pitch, thickness }
    }
}

pub(super) fn run(asked: &PatternArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    match &asked.action {
        PatternAction::List => list(shown),
        PatternAction::Show {
            pattern,
            output,
            pitch,
            thickness,
        } => show(
            pattern,
            inputs,
            output.as_deref(),
            CellSizes::of(pitch.as_deref(), thickness.as_deref()),
            shown,
        ),
        PatternAction::Check {
            pattern,
            pitch,
            thickness,
        } => check(
            pattern,
            inputs,
            CellSizes::of(pitch.as_deref(), thickness.as_deref()),
            shown,
        ),
        PatternAction::Map { job } => map(job, inputs, shown),
    }
}

/// Which cell of a job takes which pattern. The patterns are read, so that what is printed can be used.
fn map(path: &Path, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, path, shown)?;
    let patterns = inputs::patterns_of(inputs, &job, path, shown)?;
    let documents = Documents::of_job(&job.source).with_patterns(patterns.sources());
    let filled = filled(&job, &patterns.patterns)
        .map_err(|error| Failure::not_made(error, &documents, shown))?;
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    told.add(Document::Job, filled.warnings.clone());
    let toml = pattern_map(&filled.map, &job.panel.design().grid.cells());
    warn(&told, &documents, shown);
    match shown.format {
        Format::Text => print(&toml),
        Format::Json => {
            let kinds = filled.cell_kinds();
            let kinds: Vec<_> = kinds
                .iter()
                .map(|kind| json!({ "kind": kind.name, "cells": kind.cells.len() }))
                .collect();
            let answer = json!({ "toml": toml, "cell_kinds": kinds });
            print(&json::answer(
                "lapwright/pattern-map/1",
                &answer,
                told.all(),
                &[],
            )?)
        }
    }
}

fn list(shown: Shown) -> Outcome {
    let mut rows = Vec::new();
    for shipped in SHIPPED_PATTERNS {
        let file = read_pattern(shipped.name, shipped.text).map_err(|bad| (bad, shown))?;
        rows.push((
            shipped.name,
            file.pattern.cell.name(),
            file.pattern.about.clone(),
        ));
    }
    match shown.format {
        Format::Text => {
            let lines = rows
                .iter()
                .map(|(name, cell, about)| format!("{name:<24}{cell:<10}{about}\n"));
            print(&lines.collect::<String>())
        }
        Format::Json => {
            let patterns: Vec<_> = rows
                .iter()
                .map(|(name, cell, about)| json!({ "name": name, "cell": cell, "about": about }))
                .collect();
            print(&json::answer(
                "lapwright/pattern-list/1",
                &json!({ "patterns": patterns }),
                &[],
                &[],
            )?)
        }
    }
}

/// A pattern's pieces in one cell, with the sizes given or usual ones.
fn solved(
    name: &str,
    inputs: &Inputs,
    sizes: CellSizes<'_>,
    shown: Shown,
) -> Result<(SolvedCell, String), Failure> {
    let file = inputs::pattern(inputs, name, &inputs::Named::Argument, shown)?;
    let size = |flag: &str, given: Option<&str>, usual: f64| {
        given.map_or(Ok(usual), |text| above_zero(flag, text, text))
    };
    let pitch = size("--pitch", sizes.pitch, USUAL_PITCH_MM)?;
    let thickness = size("--thickness", sizes.thickness, USUAL_THICKNESS_MM)?;
    let cell = match file.pattern.cell {
        CellShape::Square => Cell::rectangle(pitch - thickness, pitch - thickness),
        CellShape::Triangle => Cell::triangle_of_grid(pitch, thickness),
        CellShape::Rhomb => Cell::rhomb_of_grid(pitch, USUAL_RHOMB, thickness),
    };
    let Some(cell) = cell else {
        return Err(Failure::input(
            "a cell of this pitch and thickness has no opening",
        ));
    };
    let stock = PieceStock {
        thickness,
        depth: USUAL_DEPTH_MM,
        clearance: 0.0,
    };
    let solved = solve(&file.pattern, &cell, stock)
        .map_err(|faults| Failure::findings(&file.source, &faults, shown))?;
    Ok((solved, file.source.text))
}

fn show(
    name: &str,
    inputs: &Inputs,
    output: Option<&Path>,
    sizes: CellSizes<'_>,
    shown: Shown,
) -> Outcome {
    let (cell, toml) = solved(name, inputs, sizes, shown)?;
    let drawing = svg::svg(
        &cell_drawing(&cell, name),
        &SafetyNotes::for_guides(),
        shown.units,
    )?;
    if let Some(path) = output {
        let name = path.display().to_string();
        write(inputs, [(name, drawing.into_bytes())])?;
    }
    match shown.format {
        Format::Text => print(&toml),
        Format::Json => {
            let pieces: Vec<_> = cell.pieces.iter().map(|piece| {
                let outline: Vec<_> = piece.outline.iter().map(|point| [point.x, point.y]).collect();
                json!({ "name": piece.name, "length_over_points_mm": piece.figures.length, "outline_mm": outline })
            }).collect();
            let answer = json!({ "name": name, "toml": toml, "pieces": pieces });
            print(&json::answer(
                "lapwright/pattern-show/1",
                &answer,
                &[],
                &[],
            )?)
        }
    }
}

fn check(name: &str, inputs: &Inputs, sizes: CellSizes<'_>, shown: Shown) -> Outcome {
    let (cell, _) = solved(name, inputs, sizes, shown)?;
    match shown.format {
        Format::Text => {
            let (wide, tall) = cell.cell.size();
            let mut text = format!(
                "{name}: a sound pattern; in a cell {} by {}:\n",
                Mm(wide).text(shown.units),
                Mm(tall).text(shown.units)
            );
            for piece in &cell.pieces {
                text.push_str(&format!(
                    "  {:<16}{} over points\n",
                    piece.name,
                    Mm(piece.figures.length).text(shown.units)
                ));
            }
            print(&text)
        }
        Format::Json => {
            let answer = json!({ "name": name, "ok": true, "pieces": cell.pieces.len() });
            print(&json::answer(
                "lapwright/pattern-check/1",
                &answer,
                &[],
                &[],
            )?)
        }
    }
}
