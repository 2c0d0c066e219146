//! `lapwright pare`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, PareArguments};
use super::files::write;
use super::inputs::{self, Chosen};
use super::products;
use crate::infill::{Opening, measured};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{Guides, Machine, MachineKind};
use crate::planning::{pare_sheet, piece_list, plan_measured, plan_pieces};
use crate::units::{Kind, parse};
use crate::writing::{csv, json, text};

pub(super) fn run(asked: &PareArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let pattern = inputs::pattern_of(inputs, &job, &asked.job, shown)?;
    let filled = products::filled(&job, &pattern, shown)?;
    let with_path = Some((&job, asked.job.as_path()));
    let flag = asked.machine.as_deref();
    let wanted = flag.is_some() || job.machines.guides.is_some();
    let chosen = wanted
        .then(|| inputs::machine_of(inputs, MachineKind::Guides, flag, with_path, None, shown))
        .transpose()?;
    let guides = chosen.as_ref().map(guides).transpose()?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    told.add(&job.source, filled.warnings.clone());
    let allowance = job
        .panel
        .design()
        .infill
        .as_ref()
        .map_or(0.0, |infill| infill.allowance);
    let (plan, warnings) = match &asked.opening {
        None => plan_pieces(&job.panel, &filled, allowance, guides),
        Some(text) => {
            let cell = measured(&filled, &pattern.pattern, opening(text)?)
                .map_err(|faults| Failure::findings(&pattern.source, &faults, shown))?;
            told.add(&job.source, cell.warnings.clone());
            plan_measured(&job.panel, &filled, &cell, allowance, guides)
        }
    };
    if let Some(chosen) = &chosen {
        told.add(&chosen.profile.source, warnings);
    }
    let safety = SafetyNotes::for_guides();
    let answer = match shown.format {
        Format::Text => text::sheet(&pare_sheet(&plan), shown.units),
        Format::Json => json::answer("lapwright/pare/1", &plan, &told.all(), safety.notes())?,
    };
    if let Some(path) = &asked.csv {
        let list = csv::csv(&piece_list(&plan)?);
        let files = [(path.display().to_string(), list.into_bytes())];
        write(inputs, files)?;
    }
    told.show(shown);
    print(&answer)
}

/// The guides of a profile, with its name.
pub(super) fn guides(chosen: &Chosen) -> Result<(&str, &Guides), Failure> {
    match &chosen.profile.machine {
        Machine::Guides(guides) => Ok((chosen.profile.name.as_str(), guides)),
        other => Err(inputs::wrong_kind(other)),
    }
}

/// `35.6mm`, or width and height: `35.6mm,35.3mm`.
fn opening(text: &str) -> Result<Opening, Failure> {
    let length = |part: &str| match parse(part, Kind::Length) {
        Ok(quantity) if quantity.value > 0.0 => Ok(quantity.value),
        Ok(_) => Err(Failure::input(format!(
            "--opening `{text}`: this must be above zero"
        ))),
        Err(error) => Err(Failure::input(format!(
            "--opening `{text}`: {error}; {}",
            error.hint()
        ))),
    };
    match text.split_once(',') {
        None => length(text).map(|side| Opening {
            width: side,
            height: side,
        }),
        Some((width, height)) => Ok(Opening {
            width: length(width)?,
            height: length(height)?,
        }),
    }
}
