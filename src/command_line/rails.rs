//! `lapwright rails`

use super::answers::{Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, RailsArguments};
use super::inputs;
use crate::instructions::rails::RailPlan;
use crate::instructions::safety::SafetyNotes;
use crate::lattice::Lattice;
use crate::machines::{Machine, MachineKind};
use crate::planning::{plan_rails, rail_sheet};
use crate::reading::Job;
use crate::writing::{json, text};
use std::path::Path;

pub(super) fn run(asked: &RailsArguments, shown: Shown) -> Outcome {
    let job = inputs::job(&asked.job, shown)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let Some(plan) = rails(&job, &asked.job, shown, &mut told)? else {
        return Err(Failure::input(format!(
            "{}: there is no [frame] in this job; it says how thick the rails are and how deep the mortises",
            asked.job.display()
        )));
    };
    let answer = match shown.format {
        Format::Text => text::sheet(&rail_sheet(&plan), shown.units),
        Format::Json => answer(&plan, &told)?,
    };
    told.show(shown);
    print(&answer)
}

/// The JSON answer.
pub(super) fn answer(plan: &RailPlan, told: &Warnings<'_>) -> Result<String, Failure> {
    let safety = SafetyNotes::for_mortises();
    Ok(json::answer(
        "lapwright/rails/1",
        plan,
        &told.all(),
        safety.notes(),
    )?)
}

/// The plan of a job's frame, if it has one; the router that the job names would cut it.
pub(super) fn rails<'a>(
    job: &'a Job,
    path: &Path,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<Option<RailPlan>, Failure> {
    let Some(frame) = &job.frame else {
        return Ok(None);
    };
    let named = job.machines.router.is_some();
    let router = named
        .then(|| inputs::machine_of(MachineKind::Router, None, Some((job, path)), None, shown))
        .transpose()?;
    let router = router
        .as_ref()
        .and_then(|chosen| match &chosen.profile.machine {
            Machine::Router(router) => Some(router),
            _ => None,
        });
    let (plan, warnings) = plan_rails(&Lattice::of(&job.panel), frame, router)
        .map_err(|faults| Failure::findings(&job.source, &faults, shown))?;
    told.add(&job.source, warnings);
    Ok(Some(plan))
}
