//! `lapwright pare`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, PareArguments};
use super::files::write;
use super::inputs::{self, FoundMachine, MachineFlags};
use super::lengths::above_zero;
use crate::finding::Document;
use crate::infill::{Opening, measured};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{Guides, Station};
use crate::making::{NotMade, Warnings, filled};
use crate::planning::{plan_measured, plan_pieces};
use crate::reading::Documents;
use crate::sheets::{pare_sheet, piece_list};
use crate::writing::{csv, json, text};

pub(super) fn run(asked: &PareArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let pattern = inputs::pattern_of(inputs, &job, &asked.job, shown)?;
    let documents = Documents::of_job(&job.source).with_pattern(&pattern.source);
    let filled = filled(&job, &pattern.pattern)
        .map_err(|error| Failure::not_made(error, &documents, shown))?;
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let with_path = Some((&job, asked.job.as_path()));
    let wanted = flags.given.is_some() || job.machines.at(Station::Guides).is_some();
    let guides: Option<FoundMachine<Guides>> = wanted
        .then(|| inputs::machine_for(inputs, &flags, with_path, shown))
        .transpose()?;
    let documents = FoundMachine::among_if(guides.as_ref(), documents);
    let with_name = guides.as_ref().map(FoundMachine::chosen);
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    told.add(Document::Job, filled.warnings.clone());
    let infill = job.panel.design().infill.as_ref();
    let allowance = infill.map_or(0.0, |infill| infill.allowance);
    let (plan, warnings) = match &asked.opening {
        None => plan_pieces(&job.panel, &filled, allowance, with_name),
        Some(text) => {
            let cell = measured(&filled, &pattern.pattern, opening(text)?).map_err(|faults| {
                let error = NotMade::cannot(faults, Document::Pattern);
                Failure::not_made(error, &documents, shown)
            })?;
            told.add(Document::Job, cell.warnings.clone());
            plan_measured(&job.panel, &filled, &cell, allowance, with_name)
        }
    };
    if guides.is_some() {
        told.add(Document::Profile(Station::Guides), warnings);
    }
    let safety = SafetyNotes::for_guides();
    let answer = match shown.format {
        Format::Text => text::sheet(&pare_sheet(&plan), shown.units),
        Format::Json => json::answer("lapwright/pare/1", &plan, told.all(), safety.notes())?,
    };
    if let Some(path) = &asked.csv {
        let list = csv::csv(&piece_list(&plan)?);
        let files = [(path.display().to_string(), list.into_bytes())];
        write(inputs, files)?;
    }
    warn(&told, &documents, shown);
    print(&answer)
}

/// `35.6mm`, or width and height: `35.6mm,35.3mm`.
fn opening(text: &str) -> Result<Opening, Failure> {
    let length = |part: &str| above_zero("--opening", text, part);
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
