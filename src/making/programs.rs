//! Programs written out of the way and read back, part by part, before anybody gets them.

use super::not_made::NotMade;
use super::strips_cut::still_to_be_cut;
use crate::dialects::Controller;
use crate::finding::{Document, Finding, all_in_document};
use crate::instructions::router::{LyingBundle, Registered, RouterPlan, RouterSetup};
use crate::instructions::tool_path::ProgramPart;
use crate::lattice::{Bundle, Lattice};
use crate::machines::{Chosen, Router, Station};
use crate::planning::plan_router;
use crate::threads;
use crate::units::UnitSystem;
use crate::verification::{HeldBundle, NotchingTask, PartTask, ProgramReport, prove_parts};
use crate::writing::files::Spool;
use crate::writing::gcode;
use std::io;
use std::iter::repeat_n;

/// A program's file: its name and content.
pub type ProgramFile = (String, Spool);

/// Where a router's findings are.
const ROUTER: Document = Document::Profile(Station::Router);

/// A router's plan with its programs, each read back and found right.
#[derive(Debug)]
pub struct RouterPrograms {
    /// What is done in which set-up.
    pub plan: RouterPlan,
    /// Names and contents.
    pub files: Vec<ProgramFile>,
    /// What is unusual about it.
    pub warnings: Vec<Finding>,
}

/// Plans a lattice's strips for a router and writes the programs.
///
/// # Errors
/// What the router cannot do, at the fields of its profile; strips that are cut; and as for [`proven_programs`].
pub fn planned_programs(
    lattice: &Lattice,
    router: Chosen<'_, Router>,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<RouterPrograms, NotMade> {
    still_to_be_cut(lattice)?;
    let planned = plan_router(lattice, router.name, router.machine, file_name);
    let (plan, warnings) = planned.map_err(|faults| NotMade::cannot(faults, ROUTER))?;
    Ok(RouterPrograms {
        files: proven_programs(&plan, lattice, router)?,
        plan,
        warnings: all_in_document(warnings, ROUTER),
    })
}

/// The programs of a plan for this router, each read back and found right.
///
/// # Errors
/// A plan that leaves a notch out or is for another lattice, a program that does not do what was meant,
/// and a temporary file that cannot be written.
pub fn proven_programs(
    plan: &RouterPlan,
    lattice: &Lattice,
    router: Chosen<'_, Router>,
) -> Result<Vec<ProgramFile>, NotMade> {
    let router = router.machine;
    if let Some(text) = unfinished(plan, lattice) {
        return Err(NotMade::disproved(&text, Vec::new()));
    }
    let count = plan.setups.len();
    let numbered: Vec<(usize, &RouterSetup)> = (1..).zip(&plan.setups).collect();
    let of_files: Vec<&[(usize, &RouterSetup)]> = numbered
        .chunk_by(|(_, a), (_, b)| a.file == b.file)
        .collect();
    let proven = threads::each(&of_files, |setups| {
        let parts = setups
            .iter()
            .flat_map(|(number, setup)| setup.parts(*number, count));
        let tasks = tasks(setups, lattice, router)?;
        let first = setups.first().map(|(_, setup)| &setup.file);
        first
            .map(|file| written(file, parts, &router.controller, &tasks))
            .transpose()
    });
    proven.into_iter().filter_map(Result::transpose).collect()
}

/// What a file's set-ups have to do: all parts for the first of the bundles that share them, then all
/// for the second.
fn tasks(
    setups: &[(usize, &RouterSetup)],
    lattice: &Lattice,
    router: &Router,
) -> Result<Vec<PartTask>, NotMade> {
    let most = setups.iter().map(|(_, setup)| setup.lying.len()).max();
    let mut tasks = Vec::new();
    for at in 0..most.unwrap_or(0) {
        for (_, setup) in setups {
            let lying = setup.lying.get(at).or(setup.lying.last());
            let Some(task) = lying.and_then(|one| task(setup, one, lattice, router)) else {
                let text = format!(
                    "{} is for a bundle that the panel does not have",
                    setup.file
                );
                return Err(NotMade::disproved(&text, Vec::new()));
            };
            tasks.extend(repeat_n(PartTask::Notches(task), setup.part_count()));
        }
    }
    Ok(tasks)
}

/// A program's file, read back and right: each of its parts for its task. A program of one part is
/// right for all tasks.
pub(super) fn written<'a>(
    file: &str,
    parts: impl IntoIterator<Item = ProgramPart<'a>>,
    controller: &Controller,
    tasks: &[PartTask],
) -> Result<ProgramFile, NotMade> {
    let unwritten = |error: io::Error| NotMade::Unwritable(format!("{file}: {error}"));
    let parts: Vec<ProgramPart<'_>> = parts.into_iter().collect();
    let at_once = parts.len().max(1);
    let spool = Spool::of(|out| gcode::write_program(parts, controller, out));
    let mut spool = spool.map_err(unwritten)?;
    for tasks in tasks.chunks(at_once) {
        let reports = prove_parts(spool.reader().map_err(unwritten)?, tasks);
        if let Some(wrong) = reports.iter().find(|report| !report.ok()) {
            let text = format!("{file} was read back and does not do what was meant");
            return Err(NotMade::disproved(&text, proof_faults(wrong)));
        }
    }
    Ok((file.to_owned(), spool))
}

/// What a set-up's program has to do to one of the bundles that share it; `None` where the panel has
/// no such bundle.
pub(crate) fn task(
    setup: &RouterSetup,
    one: &LyingBundle,
    lattice: &Lattice,
    router: &Router,
) -> Option<NotchingTask> {
    let bundle = bundle(lattice, one)?;
    let held = held(setup, one, lattice)?;
    Some(NotchingTask::of(lattice, bundle, router, &held))
}

fn bundle<'a>(lattice: &'a Lattice, one: &LyingBundle) -> Option<&'a Bundle> {
    lattice.bundles.get(one.bundle.checked_sub(1)?)
}

/// A set-up as the proof is told of it, for one of its bundles: only which notches are cut and what
/// lies where, in the words of the sheet, no figure.
fn held(setup: &RouterSetup, one: &LyingBundle, lattice: &Lattice) -> Option<HeldBundle> {
    let first = bundle(lattice, one)?.strips.first()?;
    let first = lattice.strips.iter().find(|strip| strip.id == *first)?;
    let bundles = setup.lying.iter().map(|one| bundle(lattice, one));
    Some(HeldBundle {
        strips: bundles
            .map(|bundle| bundle.map_or(0, |bundle| bundle.strips.len()))
            .sum(),
        face: one.face_up,
        far_end: one.end_at_stop != first.datum_end(),
        notches: (setup.notches.iter())
            .map(|notch| one.own_number(notch.index))
            .collect(),
        before: (setup.cut_before.iter())
            .map(|notch| one.own_number(*notch))
            .collect(),
        on_key: match setup.registered {
            Registered::EndStop => None,
            Registered::Key { on_notch, .. } => Some(one.own_number(on_notch)),
        },
    })
}

/// Every notch of every bundle must be cut by one set-up, from the face that it enters, after those
/// that its set-up takes as cut.
fn unfinished(plan: &RouterPlan, lattice: &Lattice) -> Option<String> {
    for (number, bundle) in (1..).zip(&lattice.bundles) {
        let mut left: Vec<bool> = vec![true; bundle.notches.len()];
        for (at, setup) in (1..).zip(&plan.setups) {
            let mut lying = setup.lying.iter();
            let Some(one) = lying.find(|one| one.bundle == number) else {
                continue;
            };
            let Some(held) = held(setup, one, lattice) else {
                return Some(format!("set-up {at} is for no strip of the panel"));
            };
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
                return Some(format!("set-up {at} does not follow from those before it"));
            }
        }
        if let Some(at) = left.iter().position(|left| *left) {
            return Some(format!(
                "notch {} of bundle {number} is cut by no set-up",
                at + 1
            ));
        }
    }
    None
}

/// What a proof found, one line each.
fn proof_faults(report: &ProgramReport) -> Vec<String> {
    let lines = report.faults.iter().map(|fault| {
        format!(
            "line {}: {}: {}",
            fault.line,
            fault.code,
            fault.text.text(UnitSystem::Millimetres)
        )
    });
    let more = report
        .more_faults
        .iter()
        .map(|(code, count)| format!("and {count} more of {code}"));
    lines.chain(more).collect()
}
