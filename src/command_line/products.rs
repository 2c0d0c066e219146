//! What each machine's part of a job comes to: its answer and its files, each file read back
//! before anybody gets it.

use super::answers::{Failed, Failure, Shown, Warnings};
use super::inputs::{self, Chosen, wrong_kind};
use super::programs::{ProgramFile, programs};
use crate::finding::Finding;
use crate::infill::{Infilling, fill_to};
use crate::inputs::Inputs;
use crate::instructions::router::RouterPlan;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sled::SledPlan;
use crate::lattice::Lattice;
use crate::machines::Machine;
use crate::planning::{panel_drawing, plan_router, plan_sled};
use crate::reading::{Job, PatternFile};
use crate::writing::svg;
use std::path::Path;

/// A file's name and content.
pub(super) type NamedFile = (String, Vec<u8>);

/// The sled's plan, and whether the saw has a motor.
pub(super) fn sled<'a>(
    lattice: &Lattice,
    chosen: &'a Chosen,
    told: &mut Warnings<'a>,
) -> Result<(SledPlan, bool), Failed> {
    let Machine::Sled(sled) = &chosen.profile.machine else {
        return Err(Failed::Wrong(wrong_kind(&chosen.profile.machine)));
    };
    let planned = plan_sled(lattice, &chosen.profile.name, sled);
    let plan = settle(planned, chosen, told)?;
    Ok((plan, sled.blade.powered.is_some()))
}

/// The router's plan and its proven programs.
pub(super) fn router<'a>(
    lattice: &Lattice,
    chosen: &'a Chosen,
    file_name: &dyn Fn(usize, usize) -> String,
    told: &mut Warnings<'a>,
) -> Result<(RouterPlan, Vec<ProgramFile>), Failed> {
    let Machine::Router(router) = &chosen.profile.machine else {
        return Err(Failed::Wrong(wrong_kind(&chosen.profile.machine)));
    };
    let planned = plan_router(lattice, &chosen.profile.name, router, file_name);
    let plan = settle(planned, chosen, told)?;
    let programs = programs(&plan, lattice, router).map_err(Failed::Wrong)?;
    Ok((plan, programs))
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
    inputs: &Inputs,
    job: &'a Job,
    path: &Path,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<Option<Infilling>, Failure> {
    if job.panel.design().infill.is_none() {
        return Ok(None);
    }
    let pattern = inputs::pattern_of(inputs, job, path, shown)?;
    let filled = filled(job, &pattern, shown)?;
    told.add(&job.source, filled.warnings.clone());
    Ok(Some(filled))
}

/// The assembled panel as SVG, with its pieces if it has any.
pub(super) fn picture(
    job: &Job,
    filled: Option<&Infilling>,
    shown: Shown,
) -> Result<String, Failure> {
    let drawing = panel_drawing(job.panel.lattice(), filled);
    Ok(svg::svg(
        &drawing,
        &SafetyNotes::for_assembly(),
        shown.units,
    )?)
}

/// Keeps the warnings, told at the profile's lines.
fn settle<'a, T>(
    planned: Result<(T, Vec<Finding>), Vec<Finding>>,
    chosen: &'a Chosen,
    told: &mut Warnings<'a>,
) -> Result<T, Failed> {
    let (plan, warnings) = planned.map_err(Failed::Cannot)?;
    told.add(&chosen.profile.source, warnings);
    Ok(plan)
}
