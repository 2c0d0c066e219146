//! `lapwright sled`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, SledArguments};
use super::inputs;
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{Lattice, Panel};
use crate::machines::{Machine, MachineKind};
use crate::planning::{plan_sled, sled_sheet};
use crate::reading::{GridFlags, Job, Source, panel_from_flags};
use crate::writing::{json, text};

/// Used where neither job nor flag names a sled.
const USUAL_SLED: &str = "key-sled";

pub(super) fn run(asked: &SledArguments, shown: Shown) -> Outcome {
    let job = asked
        .job
        .as_ref()
        .map(|path| inputs::job(path, shown))
        .transpose()?;
    let from_flags = match &job {
        Some(_) => None,
        None => Some(panel_from_flags(&flags(asked)).map_err(|unreadable| (unreadable, shown))?),
    };
    let (panel, source) = match (&job, &from_flags) {
        (Some(Job { panel, source, .. }), _) => (panel, source),
        (None, Some((panel, source))) => (panel, source),
        (None, None) => return Err(Failure::input("no job and no grid is given")),
    };
    let warnings = match &job {
        Some(job) => job.warnings.clone(),
        None => panel.warnings().to_vec(),
    };
    let with_path = job.as_ref().zip(asked.job.as_deref());
    let flag = asked.machine.as_deref();
    let chosen = inputs::machine_of(MachineKind::Sled, flag, with_path, Some(USUAL_SLED), shown)?;
    let mut told = Warnings::default();
    told.add(source, warnings);
    let answer = sled_answer(
        panel,
        &chosen.profile.name,
        &chosen.profile.machine,
        &chosen.profile.source,
        shown,
        &mut told,
    )?;
    told.show(shown);
    print(&answer)
}

/// The sled's answer for a panel, as text or JSON.
pub(super) fn sled_answer<'a>(
    panel: &Panel,
    name: &str,
    machine: &Machine,
    source: &'a Source,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<String, Failure> {
    let Machine::Sled(sled) = machine else {
        return Err(inputs::wrong_kind(machine));
    };
    let lattice = Lattice::of(panel);
    let (plan, warnings) = plan_sled(&lattice, name, sled)
        .map_err(|faults| Failure::findings(source, &faults, shown))?;
    told.add(source, warnings);
    let powered = sled.blade.powered.is_some();
    match shown.format {
        Format::Text => Ok(text::sheet(&sled_sheet(&plan, powered), shown.units)),
        Format::Json => {
            let safety = SafetyNotes::for_sled(powered);
            Ok(json::answer(
                "lapwright/sled/1",
                &plan,
                &told.all(),
                safety.notes(),
            )?)
        }
    }
}

fn flags(asked: &SledArguments) -> GridFlags {
    GridFlags {
        pitch: asked.pitch.clone(),
        bays: asked.bays.clone(),
        overhang: asked.overhang.clone(),
        thickness: asked.thickness.clone(),
        depth: asked.depth.clone(),
        clearance: asked.clearance.clone(),
    }
}
