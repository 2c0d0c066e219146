//! `lapwright sled`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, SledArguments};
use super::{inputs, products};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::MachineKind;
use crate::planning::sled_answer;
use crate::reading::{GridFlags, panel_from_flags};
use crate::writing::{json, text};

/// Used where neither job nor flag names a sled.
const USUAL_SLED: &str = "key-sled";

pub(super) fn run(asked: &SledArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = asked
        .job
        .as_ref()
        .map(|path| inputs::job(inputs, path, shown))
        .transpose()?;
    let (panel, source, warnings) = match &job {
        Some(job) => (job.panel.clone(), job.source.clone(), job.warnings.clone()),
        None => {
            let (panel, source) = panel_from_flags(&flags(asked)).map_err(|bad| (bad, shown))?;
            let warnings = panel.warnings().to_vec();
            (panel, source, warnings)
        }
    };
    let with_path = job.as_ref().zip(asked.job.as_deref());
    let flag = asked.machine.as_deref();
    let chosen = inputs::machine_of(
        inputs,
        MachineKind::Sled,
        flag,
        with_path,
        Some(USUAL_SLED),
        shown,
    )?;
    let mut told = Warnings::default();
    told.add(&source, warnings);
    let made = products::sled(panel.lattice(), &chosen, &mut told);
    let (plan, powered) = made.map_err(|failed| failed.at(&chosen.profile.source, shown))?;
    let answer = match shown.format {
        Format::Text => {
            let worst = SafetyNotes::worst_at_sled(powered);
            text::answer(&sled_answer(&plan, powered), worst, shown.units)
        }
        Format::Json => {
            let safety = SafetyNotes::for_sled(powered);
            json::answer("lapwright/sled/1", &plan, &told.all(), safety.notes())
                .map_err(Failure::from)?
        }
    };
    // On a screen they would stand before the first figure.
    let printed = print(&answer);
    told.show(shown);
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
