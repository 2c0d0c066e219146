//! The job file: a panel's design and the machines that make it.

use super::fields::{Fields, with_document};
use super::mixed_units::mixed_units;
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::lattice::{Design, Grid, Infill, MOST_BAYS, Panel, SquareGrid, StripSection};
use crate::units::Kind;

/// Least wood between notches where a job does not say. Common practice, no source, mm.
pub(super) const USUAL_LEAST_WEB_MM: f64 = 2.0;

/// A job that can be built.
#[derive(Debug, Clone)]
pub struct Job {
    /// The panel.
    pub panel: Panel,
    /// Names or paths of profiles, as written.
    pub machines: MachineNames,
    /// Where warnings about it point.
    pub source: Source,
    /// What is unusual.
    pub warnings: Vec<Finding>,
}

/// The profiles that a job names.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct MachineNames {
    /// For `sled`.
    pub sled: Option<String>,
    /// For `pare`.
    pub guides: Option<String>,
    /// For `notch`.
    pub router: Option<String>,
    /// For `outline`.
    pub laser: Option<String>,
}

/// Reads the text of a job file; `name` is what messages call it.
///
/// # Errors
/// All that is wrong with it.
pub fn read_job(name: &str, text: &str) -> Result<Job, Unreadable> {
    let (mut log, read) = with_document(name, text, |top| {
        let title = top.required_text("title");
        let grid = top.required_table("grid").and_then(read_grid);
        let strip = top.required_table("strip").and_then(read_strip);
        let infill = if top.has("infill") {
            top.table("infill").and_then(read_infill).map(Some)
        } else {
            Some(None)
        };
        let machines = match top.table("machines") {
            Some(fields) => read_machines(fields),
            None => MachineNames::default(),
        };
        top.finish();
        Some((title?, grid?, strip?, infill?, machines))
    });
    let lengths = std::mem::take(&mut log.lengths);
    let ((title, grid, strip, infill, machines), source) = log.outcome(read)?;
    let panel = match Panel::new(Design {
        title,
        grid,
        strip,
        infill,
    }) {
        Ok(panel) => panel,
        Err(findings) => return Err(Unreadable { source, findings }),
    };
    let mut warnings = panel.warnings().to_vec();
    warnings.extend(mixed_units(&lengths, &panel));
    Ok(Job {
        panel,
        machines,
        source,
        warnings,
    })
}

fn read_grid(fields: Fields<'_>) -> Option<Grid> {
    let kinds = [("square", true), ("diamond", false), ("triangular", false)];
    let square = fields.required_choice("kind", &kinds);
    if square == Some(false) {
        let message = "grids at other than right angles are not built yet";
        fields.report(
            Finding::error("grid-not-built", fields.path("kind"), message)
                .hint("kind = \"square\" is; it takes any list of pitches"),
        );
        // Keys of that kind are not known here, but what is known can still be wrong.
        fields.quantity("pitch", Kind::Length);
        fields.quantity("overhang", Kind::Length);
        return None;
    }
    let pitch = fields.quantity("pitch", Kind::Length);
    let xs = read_pitches(&fields, "pitches_x", "columns", pitch);
    let ys = read_pitches(&fields, "pitches_y", "rows", pitch);
    if fields.has("pitch") && fields.has("pitches_x") && fields.has("pitches_y") {
        let message = "both directions have their own list, so this says nothing";
        fields.report(
            Finding::error("said-twice", fields.path("pitch"), message).hint("leave it out"),
        );
    }
    let overhang = fields.required_quantity("overhang", Kind::Length);
    fields.finish();
    square?;
    Some(Grid::Square(SquareGrid {
        pitches_x: xs?,
        pitches_y: ys?,
        overhang: overhang?,
    }))
}

/// One direction's pitches: a list of its own, or `pitch` as often as the count says.
fn read_pitches(
    fields: &Fields<'_>,
    list: &'static str,
    count: &'static str,
    pitch: Option<f64>,
) -> Option<Vec<f64>> {
    let most = u32::try_from(MOST_BAYS).unwrap_or(u32::MAX);
    if !fields.has(list) {
        let count = fields.required_count(count, 1..=most);
        if !fields.has("pitch") {
            let message = format!("neither `pitch` nor `{list}` is given");
            let field = fields.path("pitch");
            fields.report(Finding::error("missing", field, message).hint(
                "add `pitch`: the distance between neighbouring centre lines, such as \"42 mm\"",
            ));
        }
        fields.alias(fields.path(list), fields.path("pitch"));
        return Some(vec![pitch?; count? as usize]);
    }
    let pitches = fields.quantities(list, Kind::Length)?;
    if let Some(bays) = fields.count(count, 1..=most)
        && bays as usize != pitches.len()
    {
        let message = format!(
            "{bays} bays here, but {} pitches in `{list}`",
            pitches.len()
        );
        fields.report(
            Finding::error("said-twice", fields.path(count), message)
                .hint(format!("leave out `{count}`: the list counts the bays")),
        );
    }
    Some(pitches)
}

fn read_strip(fields: Fields<'_>) -> Option<StripSection> {
    let thickness = fields.required_quantity("thickness", Kind::Length);
    let depth = fields.required_quantity("depth", Kind::Length);
    let clearance = optional(&fields, "clearance", Kind::SignedLength, 0.0);
    let least_web = optional(&fields, "least_web", Kind::Length, USUAL_LEAST_WEB_MM);
    let wood = fields.text("wood");
    fields.finish();
    Some(StripSection {
        thickness: thickness?,
        depth: depth?,
        clearance: clearance?,
        least_web: least_web?,
        wood,
    })
}

/// The field's value, or what holds where it is not written; `None` where it is written wrong.
pub(super) fn optional(
    fields: &Fields<'_>,
    key: &'static str,
    kind: Kind,
    otherwise: f64,
) -> Option<f64> {
    if fields.has(key) {
        fields.quantity(key, kind)
    } else {
        Some(otherwise)
    }
}

/// Rough pieces are this much longer where a job does not say. Common practice, no source, mm.
const USUAL_ALLOWANCE_MM: f64 = 4.0;

fn read_infill(fields: Fields<'_>) -> Option<Infill> {
    let pattern = fields.required_text("pattern");
    let allowance = optional(&fields, "allowance", Kind::Length, USUAL_ALLOWANCE_MM);
    fields.finish();
    Some(Infill {
        pattern: pattern?,
        allowance: allowance?,
    })
}

fn read_machines(fields: Fields<'_>) -> MachineNames {
    let names = MachineNames {
        sled: fields.text("sled"),
        guides: fields.text("guides"),
        router: fields.text("router"),
        laser: fields.text("laser"),
    };
    fields.finish();
    names
}
