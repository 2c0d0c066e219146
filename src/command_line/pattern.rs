//! `lapwright pattern`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, PatternAction, PatternArguments};
use super::files::write;
use super::inputs;
use super::lengths::above_zero;
use crate::finding::Document;
use crate::infill::{Pattern, PatternGroup, SolvedCell};
use crate::inputs::Inputs;
use crate::instructions::patterns::{PatternEntry, in_groups};
use crate::instructions::safety::SafetyNotes;
use crate::making::{LISTED, Warnings, filled, pattern_entry};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::{PatternFigure, ShownSizes};
use crate::reading::{Documents, PATTERN_LESSON, PatternFile, SHIPPED_PATTERNS, read_pattern};
use crate::sheets::{pattern_drawing, pattern_map, pattern_sheet_drawing};
use crate::units::{AtMost, Mm};
use crate::writing::{html, json, svg, text};
use serde_json::json;
use std::path::Path;

/// Pitch and thickness that a pattern is shown with, where no others are given.
const USUAL_PITCH_MM: f64 = 50.0;
const USUAL_THICKNESS_MM: f64 = 3.0;

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
        PatternAction::Learn => learn(shown),
        PatternAction::List { picture } => list(inputs, picture.as_deref(), shown),
        PatternAction::Show {
            pattern,
            picture,
            pitch,
            thickness,
        } => show(
            pattern,
            inputs,
            picture.as_deref(),
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

/// The lesson, step by step.
fn learn(shown: Shown) -> Outcome {
    match shown.format {
        Format::Text => print(&PATTERN_LESSON.join("\n")),
        Format::Json => print(&json::answer(
            "lapwright/pattern-learn/1",
            &json!({ "steps": PATTERN_LESSON }),
            &[],
            &[],
        )?),
    }
}

/// The patterns that come with the program.
fn list(inputs: &Inputs, picture: Option<&Path>, shown: Shown) -> Outcome {
    let mut entries = Vec::new();
    for shipped in SHIPPED_PATTERNS {
        let file = read_pattern(shipped.name, shipped.text).map_err(|bad| (bad, shown))?;
        let entry = pattern_entry(&file.pattern);
        entries.push(entry.map_err(|faults| Failure::findings(&file.source, &faults, shown))?);
    }
    if let Some(path) = picture {
        write(
            inputs,
            [(path.display().to_string(), drawn(&entries, path, shown)?)],
        )?;
    }
    match shown.format {
        Format::Text => print(&listed(&entries, shown)),
        Format::Json => {
            let patterns: Vec<_> = entries.iter().map(entry_json).collect();
            print(&json::answer(
                "lapwright/pattern-list/1",
                &json!({ "patterns": patterns }),
                &[],
                &[],
            )?)
        }
    }
}

/// All of them as a page or as a sheet, as the file's name ends.
fn drawn(entries: &[PatternEntry], path: &Path, shown: Shown) -> Result<Vec<u8>, Failure> {
    let mut note = phrase!(
        "Strips {} thick at a pitch of {}",
        Mm(LISTED.thickness),
        Mm(LISTED.pitch)
    );
    note.append(Phrase::from(
        " (side of triangles); pieces as thick as each pattern has them.",
    ));
    let safety = SafetyNotes::for_guides();
    if ends_in(path, "html") {
        Ok(html::patterns(entries, &note, &safety, shown.units)?.into_bytes())
    } else if ends_in(path, "svg") {
        Ok(svg::svg(&pattern_sheet_drawing(entries, note), &safety, shown.units)?.into_bytes())
    } else {
        Err(Failure::input(format!(
            "--picture {}: all patterns are drawn as a page or as a sheet; let the name end in .html or .svg",
            path.display()
        )))
    }
}

fn ends_in(path: &Path, ending: &str) -> bool {
    let known = path.extension();
    known.is_some_and(|known| known.eq_ignore_ascii_case(ending))
}

/// Group by group: of each pattern what it is, and what it needs.
fn listed(entries: &[PatternEntry], shown: Shown) -> String {
    let longest = entries.iter().map(|entry| entry.name.chars().count()).max();
    let longest = longest.unwrap_or(0);
    let group = |(group, of_it): (PatternGroup, Vec<&PatternEntry>)| {
        let mut lines = Vec::new();
        for entry in of_it {
            let label = format!("  {:<longest$}", entry.name);
            lines.push((label, Phrase::from(entry.about.as_str())));
            lines.push((String::new(), entry.facts.words()));
        }
        let lines = lines.iter().map(|(label, words)| (label.as_str(), words));
        format!(
            "{}\n{}",
            group.heading(),
            text::labelled(lines, shown.units)
        )
    };
    in_groups(entries).map(group).collect::<Vec<_>>().join("\n")
}

fn entry_json(entry: &PatternEntry) -> serde_json::Value {
    let degrees = entry
        .facts
        .guide_angles
        .iter()
        .map(|angle| angle.to_degrees());
    json!({
        "name": entry.name,
        "cell": entry.cell,
        "group": entry.group.name(),
        "about": entry.about,
        "pieces": entry.facts.pieces,
        "greatest_thickness_to_pitch": entry.facts.greatest,
        "guide_angles_deg": degrees.collect::<Vec<_>>(),
    })
}

/// A pattern in one cell, with the sizes given or usual ones.
struct InOneCell {
    file: PatternFile,
    sizes: ShownSizes,
    cell: SolvedCell,
}

impl InOneCell {
    fn of(
        name: &str,
        inputs: &Inputs,
        given: CellSizes<'_>,
        shown: Shown,
    ) -> Result<Self, Failure> {
        let file = inputs::pattern(inputs, name, &inputs::Named::Argument, shown)?;
        let size = |flag: &str, given: Option<&str>, usual: f64| {
            given.map_or(Ok(usual), |text| above_zero(flag, text, text))
        };
        let thickness = size("--thickness", given.thickness, USUAL_THICKNESS_MM)?;
        let sizes = ShownSizes {
            pitch: size("--pitch", given.pitch, USUAL_PITCH_MM)?,
            thickness,
            pieces: Some(thickness),
        };
        if sizes.opening(file.pattern.cell).is_none() {
            return Err(Failure::input(
                "a cell of this pitch and thickness has no opening",
            ));
        }
        let cell = sizes.solve(&file.pattern);
        let cell = cell.map_err(|faults| Failure::findings(&file.source, &faults, shown))?;
        Ok(InOneCell { file, sizes, cell })
    }

    /// One cell and several.
    fn drawn(&self, name: &str, shown: Shown) -> Result<String, Failure> {
        let figure = PatternFigure::of(&self.file.pattern, self.sizes);
        let figure =
            figure.map_err(|faults| Failure::findings(&self.file.source, &faults, shown))?;
        let drawing = pattern_drawing(&self.cell, &figure, self.sizes, name);
        Ok(svg::svg(&drawing, &SafetyNotes::for_guides(), shown.units)?)
    }
}

fn show(
    name: &str,
    inputs: &Inputs,
    picture: Option<&Path>,
    sizes: CellSizes<'_>,
    shown: Shown,
) -> Outcome {
    let pattern = InOneCell::of(name, inputs, sizes, shown)?;
    if let Some(path) = picture {
        if !ends_in(path, "svg") {
            return Err(Failure::input(format!(
                "--picture {}: a pattern is drawn as SVG; let the name end in .svg",
                path.display()
            )));
        }
        let file = path.display().to_string();
        write(inputs, [(file, pattern.drawn(name, shown)?.into_bytes())])?;
    }
    let toml = pattern.file.source.text;
    let cell = pattern.cell;
    match shown.format {
        Format::Text => print(&toml),
        Format::Json => {
            let pieces: Vec<_> = cell.all_made().into_iter().map(|piece| {
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
    let InOneCell { file, cell, .. } = InOneCell::of(name, inputs, sizes, shown)?;
    let greatest = file.pattern.greatest;
    match shown.format {
        Format::Text => {
            let (wide, tall) = cell.cell.size();
            let mut text = format!(
                "{name}: a sound pattern; in a cell {} by {}:\n",
                Mm(wide).text(shown.units),
                Mm(tall).text(shown.units)
            );
            if let Some(greatest) = greatest {
                let thickest = Pattern::thickness_at(&cell.cell, greatest);
                text.push_str(&format!(
                    "  pieces up to {} thick ({greatest} of the pitch, strips as thick)\n",
                    AtMost(thickest).text(shown.units)
                ));
            }
            for piece in cell.all_made() {
                let unfolded = match piece.figures.folds.is_empty() {
                    true => "",
                    false => ", unfolded",
                };
                text.push_str(&format!(
                    "  {:<16}{} over points{unfolded}\n",
                    piece.name,
                    Mm(piece.figures.length).text(shown.units)
                ));
            }
            print(&text)
        }
        Format::Json => {
            let thickest = greatest.map(|share| Pattern::thickness_at(&cell.cell, share));
            let answer = json!({
                "name": name,
                "ok": true,
                "pieces": cell.all_made().len(),
                "greatest_thickness_mm": thickest,
            });
            print(&json::answer(
                "lapwright/pattern-check/1",
                &answer,
                &[],
                &[],
            )?)
        }
    }
}
