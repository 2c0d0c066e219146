//! `lapwright notch`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, NotchArguments};
use super::files::{spare, write};
use super::inputs::{self, FoundMachine, MachineFlags};
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{Router, Station};
use crate::making::{RouterPrograms, Warnings, numbered, planned_programs};
use crate::reading::Documents;
use crate::sheets::router_sheet;
use crate::writing::{json, text};

pub(super) fn run(asked: &NotchArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    spare(inputs, &asked.output)?;
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let with_path = Some((&job, asked.job.as_path()));
    let router: FoundMachine<Router> = inputs::machine_for(inputs, &flags, with_path, shown)?;
    let documents = router.among(Documents::of_job(&job.source));
    let name = |at, count| numbered(&asked.output, at, count);
    let programs = planned_programs(job.panel.lattice(), router.chosen(), &name);
    let RouterPrograms {
        plan,
        files,
        warnings,
    } = programs.map_err(|error| Failure::not_made(error, &documents, shown))?;
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    told.add(Document::Profile(Station::Router), warnings);
    let answer = match shown.format {
        Format::Text => text::sheet(&router_sheet(&plan), shown.units),
        Format::Json => {
            let safety = SafetyNotes::for_router();
            json::answer("lapwright/notch/1", &plan, told.all(), safety.notes())?
        }
    };
    write(inputs, files)?;
    warn(&told, &documents, shown);
    print(&answer)
}
