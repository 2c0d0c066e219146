//! `lapwright outline`

use super::answers::{Outcome, Shown, Warnings, print};
use super::arguments::{Format, OutlineArguments, What};
use super::files::{inputs_of, numbered, write};
use super::{inputs, products};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::Lattice;
use crate::machines::MachineKind;
use crate::planning::laser_sheet;
use crate::writing::{json, text};

pub(super) fn run(asked: &OutlineArguments, shown: Shown) -> Outcome {
    let What::Strips = asked.what;
    let job = inputs::job(&asked.job, shown)?;
    let flag = asked.machine.as_deref();
    let with_path = Some((&job, asked.job.as_path()));
    let chosen = inputs::machine_of(MachineKind::Laser, flag, with_path, None, shown)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let name = |at, count| numbered(&asked.output, at, count);
    let lattice = Lattice::of(&job.panel);
    let (plan, drawings) =
        products::laser(&lattice, &chosen, asked.dxf.into(), &name, shown, &mut told)?;
    let answer = match shown.format {
        Format::Text => text::sheet(&laser_sheet(&plan), shown.units),
        Format::Json => {
            let safety = SafetyNotes::for_laser();
            json::answer("lapwright/outline/1", &plan, &told.all(), safety.notes())?
        }
    };
    write(inputs_of(&asked.job, &[&chosen]), &drawings)?;
    told.show(shown);
    print(&answer)
}
