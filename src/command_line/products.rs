//! What each machine's part of a job comes to: its answer and its files, each file read back
//! before anybody gets it.

use super::answers::{Failure, Shown, Warnings};
use super::inputs::{self, Chosen, wrong_kind};
use crate::finding::Finding;
use crate::infill::{Infilling, fill_to};
use crate::instructions::router::{Registered, RouterPlan, RouterSetup};
use crate::instructions::sled::SledPlan;
use crate::lattice::{Face, Lattice};
use crate::machines::{Machine, Router};
use crate::planning::{panel_drawing, plan_router, plan_sled};
use crate::reading::{Job, PatternFile};
use crate::units::UnitSystem;
use crate::verification::inputs::Tolerances;
use crate::verification::task::{Held, Task};
use crate::verification::{ProgramReport, prove_program};
use crate::writing::{gcode, svg};
use std::path::Path;

/// A file's name and content.
pub(super) type NamedFile = (String, Vec<u8>);

/// The sled's plan, and whether the saw has a motor.
pub(super) fn sled<'a>(
    lattice: &Lattice,
    chosen: &'a Chosen,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<(SledPlan, bool), Failure> {
    let Machine::Sled(sled) = &chosen.profile.machine else {
        return Err(wrong_kind(&chosen.profile.machine));
    };
    let planned = plan_sled(lattice, &chosen.profile.name, sled);
    let plan = settle(planned, chosen, shown, told)?;
    Ok((plan, sled.blade.powered.is_some()))
}

/// The router's plan and its proven programs.
pub(super) fn router<'a>(
    lattice: &Lattice,
    chosen: &'a Chosen,
    file_name: &dyn Fn(usize, usize) -> String,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<(RouterPlan, Vec<NamedFile>), Failure> {
    let Machine::Router(router) = &chosen.profile.machine else {
        return Err(wrong_kind(&chosen.profile.machine));
    };
    let planned = plan_router(lattice, &chosen.profile.name, router, file_name);
    let plan = settle(planned, chosen, shown, told)?;
    let programs = programs(&plan, lattice, router)?;
    Ok((plan, programs))
}

fn programs(
    plan: &RouterPlan,
    lattice: &Lattice,
    router: &Router,
) -> Result<Vec<NamedFile>, Failure> {
    if let Some(text) = unfinished(plan, lattice) {
        return Err(Failure { code: 1, text });
    }
    let mut proven = Vec::new();
    for setup in &plan.setups {
        let text = gcode::program(&setup.path, &router.controller)?.into_bytes();
        let Some(report) = prove_setup(&text, setup, lattice, router) else {
            let text = format!(
                "error: {} is for a bundle that the panel does not have; nothing was written\n",
                setup.file
            );
            return Err(Failure { code: 1, text });
        };
        if !report.ok() {
            let text = format!(
                "error: {} was read back and does not do what was meant; nothing was written\n{}",
                setup.file,
                proof_faults(&report)
            );
            return Err(Failure { code: 1, text });
        }
        proven.push((setup.file.clone(), text));
    }
    Ok(proven)
}

/// A set-up as the proof is told of it: only which notches are cut and what lies where, no figure.
pub(super) fn held(setup: &RouterSetup) -> Held {
    Held {
        face: if setup.face == Face::Front.name() {
            Face::Front
        } else {
            Face::Back
        },
        notches: setup.notches.iter().map(|notch| notch.index).collect(),
        before: setup.cut_before.clone(),
        on_key: match setup.registered {
            Registered::EndStop => None,
            Registered::Key { on_notch, .. } => Some(on_notch),
        },
    }
}

fn prove_setup(
    text: &[u8],
    setup: &RouterSetup,
    lattice: &Lattice,
    router: &Router,
) -> Option<ProgramReport> {
    let bundle = lattice.bundles.get(setup.bundle.checked_sub(1)?)?;
    let task = Task::of(lattice, bundle, router, &held(setup));
    Some(prove_program(
        text,
        &task.workpiece,
        Some(&task.expected),
        &task.limits,
        &Tolerances::default(),
    ))
}

/// Every notch of every bundle must be cut by one set-up, from the face that it enters, after those
/// that its set-up takes as cut.
fn unfinished(plan: &RouterPlan, lattice: &Lattice) -> Option<String> {
    for (number, bundle) in (1..).zip(&lattice.bundles) {
        let mut left: Vec<bool> = vec![true; bundle.notches.len()];
        for setup in plan.setups.iter().filter(|setup| setup.bundle == number) {
            let held = held(setup);
            let there = held.before.iter().chain(held.on_key.iter());
            let mut ok = there
                .into_iter()
                .all(|notch| left.get(notch.wrapping_sub(1)) == Some(&false));
            for notch in held.notches {
                let at = notch.wrapping_sub(1);
                let enters = bundle.notches.get(at).map(|notch| notch.face);
                ok &= enters == Some(held.face) && left.get(at) == Some(&true);
                if let Some(left) = left.get_mut(at) {
                    *left = false;
                }
            }
            if !ok {
                return Some(format!(
                    "error: {} does not follow from the set-ups before it; nothing was written\n",
                    setup.file
                ));
            }
        }
        if let Some(at) = left.iter().position(|left| *left) {
            return Some(format!(
                "error: notch {} of bundle {number} is cut by no set-up; nothing was written\n",
                at + 1
            ));
        }
    }
    None
}

/// What a proof found, one line each.
pub(super) fn proof_faults(report: &ProgramReport) -> String {
    let lines = report.faults.iter().map(|fault| {
        format!(
            "  line {}: {}: {}\n",
            fault.line,
            fault.code,
            fault.text.text(UnitSystem::Millimetres)
        )
    });
    let more = report
        .more_faults
        .iter()
        .map(|(code, count)| format!("  and {count} more of {code}\n"));
    lines.chain(more).collect()
}

/// A job's cells with their pieces.
pub(super) fn filled(job: &Job, pattern: &PatternFile, shown: Shown) -> Result<Infilling, Failure> {
    let margin = job.frame.map_or(0.0, |frame| frame.margin);
    fill_to(&job.panel, &pattern.pattern, job.edge, margin).map_err(|faults| {
        // A fault is about the pattern's file, or about what the job asks of it.
        let of_job = faults.iter().all(|fault| fault.field.starts_with("infill"));
        let source = if of_job { &job.source } else { &pattern.source };
        Failure::findings(source, &faults, shown)
    })
}

/// A job's cells with their pieces, if it has any.
pub(super) fn filled_of<'a>(
    job: &'a Job,
    path: &Path,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<Option<Infilling>, Failure> {
    if job.panel.infill.is_none() {
        return Ok(None);
    }
    let pattern = inputs::pattern_of(job, path, shown)?;
    let filled = filled(job, &pattern, shown)?;
    told.add(&job.source, filled.warnings.clone());
    Ok(Some(filled))
}

/// The assembled panel as SVG, with its pieces if it has any.
pub(super) fn picture<'a>(
    job: &'a Job,
    path: &Path,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<String, Failure> {
    let filled = filled_of(job, path, shown, told)?;
    let drawing = panel_drawing(&Lattice::of(&job.panel), filled.as_ref());
    Ok(svg::svg(&drawing, shown.units)?)
}

/// Keeps the warnings, or turns the faults into a failure, told at the profile's lines.
pub(super) fn settle<'a, T>(
    planned: Result<(T, Vec<Finding>), Vec<Finding>>,
    chosen: &'a Chosen,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<T, Failure> {
    let (plan, warnings) =
        planned.map_err(|faults| Failure::findings(&chosen.profile.source, &faults, shown))?;
    told.add(&chosen.profile.source, warnings);
    Ok(plan)
}
