//! What each machine's part of a job comes to: its answer and its files, each file read back
//! before anybody gets it.

use super::answers::{Failure, Outcome, Shown, Warnings};
use super::inputs::{Chosen, wrong_kind};
use crate::finding::Finding;
use crate::instructions::laser::{LaserPlan, SheetFile};
use crate::instructions::router::RouterPlan;
use crate::instructions::sled::SledPlan;
use crate::lattice::Lattice;
use crate::machines::{Laser, Machine, Router};
use crate::planning::{plan_router, plan_sled, plan_strips};
use crate::units::UnitSystem;
use crate::verification::inputs::Tolerances;
use crate::verification::outline::{prove_drawings, strips_wanted};
use crate::verification::task::Task;
use crate::verification::{ProgramReport, prove_program};
use crate::writing::dxf::{DxfVersion, dxf};
use crate::writing::gcode;

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
    let mut proven = Vec::new();
    for (setup, bundle) in plan.setups.iter().zip(&lattice.bundles) {
        let text = gcode::program(&setup.path, &router.controller)?.into_bytes();
        let task = Task::of(lattice, bundle, router);
        let report = prove_program(
            &text,
            &task.workpiece,
            Some(&task.expected),
            &task.limits,
            &Tolerances::default(),
        );
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

/// The laser's plan and its proven drawings.
pub(super) fn laser<'a>(
    lattice: &Lattice,
    chosen: &'a Chosen,
    version: DxfVersion,
    file_name: &dyn Fn(usize, usize) -> String,
    shown: Shown,
    told: &mut Warnings<'a>,
) -> Result<(LaserPlan, Vec<NamedFile>), Failure> {
    let Machine::Laser(laser) = &chosen.profile.machine else {
        return Err(wrong_kind(&chosen.profile.machine));
    };
    let planned = plan_strips(lattice, &chosen.profile.name, laser, file_name);
    let plan = settle(planned, chosen, shown, told)?;
    let drawings = plan.files.iter().map(|file| drawing(file, laser, version));
    let drawings = drawings.collect::<Result<Vec<_>, _>>()?;
    prove(&drawings, lattice, laser)?;
    Ok((plan, drawings))
}

fn drawing(file: &SheetFile, laser: &Laser, version: DxfVersion) -> Result<NamedFile, Failure> {
    Ok((
        file.path.clone(),
        dxf(&file.drawing, version, laser.colours)?,
    ))
}

/// Reads the drawings back; nothing is written if they are not just the lattice's strips.
fn prove(drawings: &[NamedFile], lattice: &Lattice, laser: &Laser) -> Outcome {
    let bytes: Vec<&[u8]> = drawings.iter().map(|(_, bytes)| bytes.as_slice()).collect();
    let sheet_mm = (laser.sheet.length, laser.sheet.width);
    let report = prove_drawings(&bytes, &strips_wanted(lattice), laser.kerf, sheet_mm);
    if report.ok() {
        return Ok(());
    }
    let names = drawings.iter().map(|(name, _)| name.as_str());
    let of_files = names.zip(&report.files).flat_map(|(name, file)| {
        file.faults
            .iter()
            .map(move |fault| format!("  {name}: {}: {}\n", fault.code, fault.text))
    });
    let of_all = report
        .faults
        .iter()
        .map(|fault| format!("  {}: {}\n", fault.code, fault.text));
    let faults: String = of_files.chain(of_all).collect();
    let text = format!(
        "error: the drawings were read back and are not what was meant; nothing was written\n{faults}"
    );
    Err(Failure { code: 1, text })
}

/// Keeps the warnings, or turns the faults into a failure, told at the profile's lines.
fn settle<'a, T>(
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
