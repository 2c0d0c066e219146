//! `lapwright notch`

use super::answers::{Outcome, Shown, Warnings, print};
use super::arguments::{Format, NotchArguments};
use super::files::{numbered, write};
use super::{inputs, products};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::MachineKind;
use crate::planning::router_sheet;
use crate::writing::{json, text};

pub(super) fn run(asked: &NotchArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let flag = asked.machine.as_deref();
    let with_path = Some((&job, asked.job.as_path()));
    let chosen = inputs::machine_of(inputs, MachineKind::Router, flag, with_path, None, shown)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let name = |at, count| numbered(&asked.output, at, count);
    let lattice = job.panel.lattice();
    let made = products::router(lattice, &chosen, &name, &mut told);
    let (plan, programs) = made.map_err(|failed| failed.at(&chosen.profile.source, shown))?;
    let answer = match shown.format {
        Format::Text => text::sheet(&router_sheet(&plan), shown.units),
        Format::Json => {
            let safety = SafetyNotes::for_router();
            json::answer("lapwright/notch/1", &plan, &told.all(), safety.notes())?
        }
    };
    write(inputs, programs)?;
    told.show(shown);
    print(&answer)
}
