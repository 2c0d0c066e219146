//! `lapwright sled`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, SledArguments};
use super::inputs::{self, FoundMachine, MachineFlags};
use crate::finding::Document;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{Sled, SledWork, Station};
use crate::making::{Warnings, planned_sled, size_of, slots_as_built};
use crate::reading::{Documents, GridFlags, panel_from_flags};
use crate::sheets::sled_answer;
use crate::writing::{as_built, json, text};

/// Used where neither job nor flag names a sled.
const USUAL_SLED: &str = "key-sled";

pub(super) fn run(asked: &SledArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = asked
        .job
        .as_ref()
        .map(|path| inputs::job(inputs, path, shown))
        .transpose()?;
    let of_flags;
    let (panel, source, warnings) = match &job {
        Some(job) => (&job.panel, &job.source, job.warnings.as_slice()),
        None => {
            of_flags = panel_from_flags(&flags(asked)).map_err(|bad| (bad, shown))?;
            let (panel, source) = &of_flags;
            (panel, source, panel.warnings())
        }
    };
    let with_path = job.as_ref().zip(asked.job.as_deref());
    let flags = MachineFlags {
        usual: Some(USUAL_SLED),
        ..MachineFlags::machine(asked.machine.as_deref())
    };
    let sled: FoundMachine<Sled> = inputs::machine_for(inputs, &flags, with_path, shown)?;
    let documents = sled.among(Documents::of_job(source));
    let mut work = job.as_ref().map_or_else(SledWork::default, |job| job.sled);
    if let Some(order) = asked.order {
        work.order = order.into();
    }
    if asked.as_built {
        let bays = slots_as_built(panel, sled.chosen(), work);
        let bays = bays.map_err(|error| Failure::not_made(error, &documents, shown))?;
        let safety = SafetyNotes::for_sled(sled.machine.blade.powered.is_some());
        return print(&match shown.format {
            Format::Text => as_built::table(&bays, &safety)?,
            Format::Json => json::answer("lapwright/as-built/1", &bays, warnings, safety.notes())?,
        });
    }
    let planned = planned_sled(panel.lattice(), sled.chosen(), work);
    let (mut plan, own) = planned.map_err(|error| Failure::not_made(error, &documents, shown))?;
    plan.size = job.as_ref().map(size_of);
    let powered = sled.machine.blade.powered.is_some();
    let mut told = Warnings::default();
    told.add(Document::Job, warnings.to_vec());
    told.add(Document::Profile(Station::Sled), own);
    let answer = match shown.format {
        Format::Text => {
            let worst = SafetyNotes::worst_at_sled(powered);
            text::answer(&sled_answer(&plan, powered), worst, shown.units)
        }
        Format::Json => {
            let safety = SafetyNotes::for_sled(powered);
            json::answer("lapwright/sled/1", &plan, told.all(), safety.notes())
                .map_err(Failure::from)?
        }
    };
    // On a screen they would stand before the first figure.
    let printed = print(&answer);
    warn(&told, &documents, shown);
    printed
}

fn flags(asked: &SledArguments) -> GridFlags {
    GridFlags {
        pitch: asked.pitch.clone(),
        bays: asked.bays.clone(),
        angle: asked.angle.clone(),
        overhang: asked.overhang.clone(),
        thickness: asked.thickness.clone(),
        depth: asked.depth.clone(),
        clearance: asked.clearance.clone(),
    }
}
