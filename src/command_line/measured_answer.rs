//! What `machine measure` tells of readings.

use super::answers::{Failure, Shown};
use super::arguments::Format;
use crate::machines::Date;
use crate::measuring::{
    COVERAGE, Figure, LEAST_FOR_SPREAD, Measured, Readings, ToldFigure, Unit, written, written_up,
};
use crate::phrase::counted;
use crate::reading::MachineProfile;
use crate::units::{Rad, UnitSystem, decimal};
use crate::writing::{json, text};
use serde_json::{Value, json};

/// All that is told.
pub(super) struct Answer<'a> {
    pub(super) profile: &'a MachineProfile,
    pub(super) readings: &'a Readings,
    pub(super) measured: &'a Measured,
    pub(super) from: &'a str,
    pub(super) output: &'a str,
    pub(super) dry_run: bool,
    pub(super) date: Date,
}

/// What an uncertainty is, and what it is not.
const MEANING: &str = "+-: expanded uncertainty, 95 % coverage, by Student's t from how the readings differ and from the caliper's last digit (JCGM 100:2008). The caliper's own error is not in it.";

pub(super) fn answer(told: &Answer<'_>, safety: &[&str], shown: Shown) -> Result<String, Failure> {
    match shown.format {
        Format::Text => Ok(in_words(told, shown.units)),
        Format::Json => Ok(json::answer(
            "lapwright/machine-measure/1",
            &in_json(told),
            &told.measured.warnings,
            safety,
        )?),
    }
}

fn in_words(told: &Answer<'_>, units: UnitSystem) -> String {
    let count = told.measured.figures.len();
    let figures = counted(count, "figure");
    let Answer {
        output, from, date, ..
    } = told;
    let mut out = text::wrapped(&if count == 0 {
        format!("{output}: nothing to write: no figure of {from} stands in this profile")
    } else if told.dry_run {
        format!("{output}: {figures} of {from}, measured {date}, would be written; nothing is")
    } else {
        format!("{output}: {figures} of {from}, measured {date}, written")
    });
    for figure in &told.measured.figures {
        out.push_str(&text::wrapped(&figure_words(figure, units)));
    }
    if !told.measured.told.is_empty() {
        out.push_str("\nNo profile has these:\n");
        for figure in &told.measured.told {
            out.push_str(&text::wrapped(&told_words(figure, units)));
        }
    }
    for few in &told.measured.too_few {
        let words = format!(
            "{} is left as it is: how far something differs is not told by {}; {LEAST_FOR_SPREAD} at least",
            few.field,
            counted(few.count, "reading")
        );
        out.push_str(&text::wrapped(&words));
    }
    if !told.readings.left.is_empty() {
        let left = format!(
            "\nWithout readings, so left as it is: {}",
            told.readings.left.join(", ")
        );
        out.push('\n');
        out.push_str(&text::wrapped(&left));
    }
    out.push('\n');
    out.push_str(&text::wrapped(MEANING));
    out
}

fn figure_words(figure: &Figure, units: UnitSystem) -> String {
    let before = match figure.before {
        Some(before) => format!("{} -> ", written(before, units)),
        None => String::new(),
    };
    if !figure.is_measured() {
        return format!(
            "{} = {before}{}, as the file of readings says",
            figure.field,
            written(figure.after, units)
        );
    }
    format!(
        "{} = {before}{}, +-{}; {}, standard deviation {}",
        figure.field,
        written(figure.after, units),
        fine(figure.uncertainty.expanded(), units),
        counted(figure.statistics.count(), "reading"),
        fine(figure.statistics.deviation(), units),
    )
}

/// A spread, mm, rounded up.
fn fine(mm: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Millimetres => written_up(mm),
        UnitSystem::Inches => written(mm, units),
    }
}

fn told_words(figure: &ToldFigure, units: UnitSystem) -> String {
    let value = |value: f64| match figure.unit {
        Unit::Length => written(value, units),
        Unit::Angle => Rad(value).text(),
        Unit::Share => decimal(value, 5).unwrap_or_default(),
    };
    let of = figure.of.map_or(String::new(), |axis| format!(" ({axis})"));
    format!(
        "{}{of} {}, +-{}, {}: {}",
        figure.name,
        value(figure.value),
        value(figure.uncertainty.expanded()),
        counted(figure.statistics.count(), "reading"),
        figure.then,
    )
}

fn in_json(told: &Answer<'_>) -> Value {
    let measured = told.measured;
    let figures: Vec<Value> = measured
        .figures
        .iter()
        .map(|figure| figure_json(figure, told.date))
        .collect();
    let others: Vec<Value> = measured
        .told
        .iter()
        .map(|figure| told_json(figure, told.date))
        .collect();
    json!({
        "machine": told.profile.name,
        "kind": told.profile.machine.kind().name(),
        "output": told.output,
        "written": !told.dry_run && !measured.figures.is_empty(),
        "figures": figures,
        "told": others,
        "too_few": measured.too_few.iter().map(|few| few.field.as_str()).collect::<Vec<_>>(),
        "left": told.readings.left,
    })
}

fn figure_json(figure: &Figure, date: Date) -> Value {
    let mut object = json!({
        "field": figure.field,
        "name": figure.name,
        "readings": figure.statistics.count(),
        "mean_mm": figure.statistics.mean(),
        "deviation_mm": figure.statistics.deviation(),
        "standard_uncertainty_mm": figure.uncertainty.standard,
        "expanded_uncertainty_mm": figure.uncertainty.expanded(),
        "coverage": COVERAGE,
        "date": date.to_string(),
        "after_mm": figure.after,
    });
    if let Some(before) = figure.before {
        object["before_mm"] = json!(before);
    }
    object
}

/// Angles in degrees, shares without a unit.
fn told_json(figure: &ToldFigure, date: Date) -> Value {
    let (unit, factor) = match figure.unit {
        Unit::Length => ("mm", 1.0),
        Unit::Angle => ("deg", 1.0_f64.to_degrees()),
        Unit::Share => ("1", 1.0),
    };
    let mut object = json!({
        "readings_of": figure.readings,
        "name": figure.name,
        "readings": figure.statistics.count(),
        "unit": unit,
        "value": figure.value * factor,
        "standard_uncertainty": figure.uncertainty.standard * factor,
        "expanded_uncertainty": figure.uncertainty.expanded() * factor,
        "coverage": COVERAGE,
        "date": date.to_string(),
    });
    if let Some(axis) = figure.of {
        object["of"] = json!(axis);
    }
    object
}
