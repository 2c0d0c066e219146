//! `lapwright rails`

use super::answers::{Failed, Failure, Outcome, Shown, Warnings, print};
use super::arguments::{Format, RailsArguments};
use super::files::{numbered, write};
use super::inputs::{self, Chosen};
use super::programs::{ProgramFile, refused, written};
use crate::finding::Finding;
use crate::inputs::Inputs;
use crate::instructions::rails::{LyingRail, RailPlan, RailProgram};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{Frame, Lattice};
use crate::machines::{Machine, MachineKind, Router};
use crate::planning::{MortisePrograms, plan_mortises, plan_rails, rail_names, rail_sheet};
use crate::reading::Job;
use crate::verification::{MortisingTask, PartTask};
use crate::writing::{json, text};
use std::path::Path;

pub(super) fn run(asked: &RailsArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let Some(frame) = &job.frame else {
        return Err(Failure::input(format!(
            "{}: there is no [frame] in this job; it says how thick the rails are and how deep the mortises",
            asked.job.display()
        )));
    };
    let needed = asked.output.is_some() || asked.machine.is_some();
    let chosen = router(
        inputs,
        &job,
        asked.machine.as_deref(),
        &asked.job,
        needed,
        shown,
    )?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let mut plan = rails(&job, frame, chosen.as_ref(), shown, &mut told)?;
    if let (Some(output), Some(chosen)) = (&asked.output, &chosen) {
        let name = |at, count| numbered(output, at, count);
        let lattice = Lattice::of(&job.panel);
        let mut sought = Sought {
            lattice: &lattice,
            frame,
            chosen,
            plan: &mut plan,
        };
        let programs = sought.programs(&name, &mut told);
        let programs = programs.map_err(|failed| failed.at(&chosen.profile.source, shown));
        let (programs, unreached) = programs?;
        let lead = "no program for this: ";
        let unreached = unreached.into_iter().map(|fault| fault.as_warning(lead));
        told.add(&chosen.profile.source, unreached);
        if programs.is_empty() {
            return Err(Failure::input(format!(
                "{}: no strip meets a rail far enough from its corners for a mortise: there is nothing to cut",
                asked.job.display()
            )));
        }
        write(inputs, programs)?;
    }
    let answer = match shown.format {
        Format::Text => text::sheet(&rail_sheet(&plan), shown.units),
        Format::Json => answer(&plan, &told)?,
    };
    told.show(shown);
    print(&answer)?;
    if plan.without_program.is_empty() {
        return Ok(());
    }
    Err(Failure {
        code: 1,
        text: format!(
            "not made: programs for the {}; the others are written\n",
            plan.without_program.join(" and the ")
        ),
    })
}

/// The JSON answer.
pub(super) fn answer(plan: &RailPlan, told: &Warnings<'_>) -> Result<String, Failure> {
    let safety = SafetyNotes::for_mortises(!plan.programs.is_empty());
    Ok(json::answer(
        "lapwright/rails/1",
        plan,
        &told.all(),
        safety.notes(),
    )?)
}

/// The router that a flag names, else the job; one must be named where it is `needed`.
pub(super) fn router(
    inputs: &Inputs,
    job: &Job,
    flag: Option<&str>,
    path: &Path,
    needed: bool,
    shown: Shown,
) -> Result<Option<Chosen>, Failure> {
    (needed || job.machines.router.is_some())
        .then(|| {
            inputs::machine_of(
                inputs,
                MachineKind::Router,
                flag,
                Some((job, path)),
                None,
                shown,
            )
        })
        .transpose()
}

fn router_of(chosen: &Chosen) -> Option<&Router> {
    match &chosen.profile.machine {
        Machine::Router(router) => Some(router),
        _ => None,
    }
}

/// The plan of a job's frame; the router would cut it.
pub(super) fn rails<'a>(
    job: &'a Job,
    frame: &Frame,
    chosen: Option<&Chosen>,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<RailPlan, Failure> {
    let router = chosen.and_then(router_of);
    let (plan, warnings) = plan_rails(&Lattice::of(&job.panel), frame, router)
        .map_err(|faults| Failure::findings(&job.source, &faults, shown))?;
    told.add(&job.source, warnings);
    Ok(plan)
}

/// A frame's programs for a router.
pub(super) struct Sought<'a, 'b> {
    pub(super) lattice: &'b Lattice,
    pub(super) frame: &'b Frame,
    pub(super) chosen: &'a Chosen,
    /// Takes the programs' figures.
    pub(super) plan: &'b mut RailPlan,
}

impl<'a> Sought<'a, '_> {
    /// The proven programs, none where no rail has a mortise; and why some rails have none.
    pub(super) fn programs(
        &mut self,
        name: &dyn Fn(usize, usize) -> String,
        told: &mut Warnings<'a>,
    ) -> Result<(Vec<ProgramFile>, Vec<Finding>), Failed> {
        let profile = &self.chosen.profile;
        let Some(router) = router_of(self.chosen) else {
            return Err(Failed::Wrong(inputs::wrong_kind(&profile.machine)));
        };
        let machine = (profile.name.as_str(), router);
        let planned = plan_mortises(self.lattice, self.frame, machine, name);
        let (planned, warnings) = planned.map_err(Failed::Cannot)?;
        told.add(&profile.source, warnings);
        let proven = self.proven(&planned, router).map_err(Failed::Wrong)?;
        self.plan.programs = planned.programs;
        self.plan.without_program = planned.left_out;
        Ok((proven, planned.unreached))
    }

    /// Every program must cut the mortises of all rails that it is for, and every rail with
    /// mortises must have one or be told as left out.
    fn proven(
        &self,
        MortisePrograms {
            programs, left_out, ..
        }: &MortisePrograms,
        router: &Router,
    ) -> Result<Vec<ProgramFile>, Failure> {
        let made = self.frame.rails(self.lattice);
        let made = made.map_err(|_| refused("the frame has no rails", ""))?;
        let named: Vec<_> = rail_names(&made.rails)
            .into_iter()
            .zip(&made.rails)
            .collect();
        for (name, _) in named.iter().filter(|(_, rail)| !rail.mortises.is_empty()) {
            let of = programs.iter().flat_map(|program| &program.rails);
            let count = of.filter(|rail| rail.name == *name).count();
            if count != usize::from(!left_out.contains(name)) {
                return Err(refused(&format!("{name} has not one program"), ""));
            }
        }
        let task = |lying: &LyingRail| {
            let found = named.iter().find(|(name, _)| *name == lying.name);
            let (_, rail) = found.ok_or_else(|| refused("a program is for no rail", ""))?;
            let task = MortisingTask::of(self.lattice, self.frame, rail, router);
            Ok(PartTask::Mortises(task))
        };
        let mut proven = Vec::new();
        for of_file in programs.chunk_by(|a, b| a.file == b.file) {
            let rails = of_file.iter().flat_map(|program| &program.rails);
            let tasks = rails.map(task).collect::<Result<Vec<_>, Failure>>()?;
            let parts = of_file.iter().flat_map(RailProgram::parts);
            if let Some(first) = of_file.first() {
                proven.push(written(&first.file, parts, &router.controller, &tasks)?);
            }
        }
        Ok(proven)
    }
}
