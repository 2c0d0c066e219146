//! A frame's rails, and the programs that cut their mortises.

use super::not_made::NotMade;
use super::programs::{ProgramFile, written};
use crate::finding::{Document, Finding, all_in_document};
use crate::instructions::rails::{LyingRail, RailPlan, RailProgram};
use crate::lattice::{Frame, Lattice, Rail};
use crate::machines::{Chosen, Router, Sled, Station};
use crate::planning::{MortisePrograms, add_mitre_settings, plan_mortises, plan_rails, rail_names};
use crate::verification::{MortisingTask, PartTask};

/// Where a router's findings are.
const ROUTER: Document = Document::Profile(Station::Router);

/// Where a sled's are.
const SLED: Document = Document::Profile(Station::Sled);

/// A frame and the router that cuts its mortises.
#[derive(Debug, Clone, Copy)]
pub struct RailWork<'a> {
    /// The panel's strips.
    pub lattice: &'a Lattice,
    /// The frame that takes their ends.
    pub frame: &'a Frame,
    /// The router.
    pub router: Chosen<'a, Router>,
}

/// What is to be told of mitres at a sled.
#[derive(Debug, Default)]
pub struct MitreFindings {
    /// Why some members have no settings.
    pub unsawn: Vec<Finding>,
    /// What is unusual.
    pub warnings: Vec<Finding>,
}

/// A frame's programs, each read back and found right.
#[derive(Debug)]
pub struct RailPrograms {
    /// Names and contents; none where no rail has a mortise.
    pub files: Vec<ProgramFile>,
    /// Why some rails have none.
    pub unreached: Vec<Finding>,
    /// What is unusual about them.
    pub warnings: Vec<Finding>,
}

/// The plan of a frame, and what is unusual about it; `router` is the one that would cut it.
///
/// # Errors
/// What cannot be made, at the job's fields.
pub fn planned_rails(
    lattice: &Lattice,
    frame: &Frame,
    router: Option<&Router>,
) -> Result<(RailPlan, Vec<Finding>), NotMade> {
    match plan_rails(lattice, frame, router) {
        Ok((plan, warnings)) => Ok((plan, all_in_document(warnings, Document::Job))),
        Err(faults) => Err(NotMade::cannot(faults, Document::Job)),
    }
}

/// Gives a plan the settings of a sled for the members' mitres, where there are any; what the sled does
/// not saw is named in the plan.
pub fn saw_mitres(plan: &mut RailPlan, sled: Chosen<'_, Sled>) -> MitreFindings {
    let thickness = plan.thickness_mm;
    let Some(mitres) = &mut plan.mitres else {
        return MitreFindings::default();
    };
    let (unsawn, warnings) = add_mitre_settings(mitres, thickness, sled);
    MitreFindings {
        unsawn: all_in_document(unsawn, SLED),
        warnings: all_in_document(warnings, SLED),
    }
}

/// The programs of a frame; the plan takes their figures.
///
/// # Errors
/// What the router cannot do, at the fields of its profile; programs that are not what was meant.
pub fn proven_rail_programs(
    work: &RailWork<'_>,
    plan: &mut RailPlan,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<RailPrograms, NotMade> {
    let Chosen { name, machine } = work.router;
    let planned = plan_mortises(work.lattice, work.frame, name, machine, file_name);
    let (planned, warnings) = planned.map_err(|faults| NotMade::cannot(faults, ROUTER))?;
    let files = work.proven(&planned)?;
    plan.programs = planned.programs;
    plan.without_program = planned.left_out;
    Ok(RailPrograms {
        files,
        unreached: all_in_document(planned.unreached, ROUTER),
        warnings: all_in_document(warnings, ROUTER),
    })
}

impl RailWork<'_> {
    /// Every program must cut the mortises of all rails that it is for, and every rail with
    /// mortises must have one or be told as left out.
    fn proven(&self, planned: &MortisePrograms) -> Result<Vec<ProgramFile>, NotMade> {
        let wrong = |text: &str| NotMade::disproved(text, Vec::new());
        let made = self.frame.rails(self.lattice);
        let made = made.map_err(|_| wrong("the frame has no rails"))?;
        let names = rail_names(&made.rails);
        let named: Vec<(String, &Rail)> = names.into_iter().zip(&made.rails).collect();
        for (name, _) in named.iter().filter(|(_, rail)| !rail.mortises.is_empty()) {
            let of = planned.programs.iter().flat_map(|program| &program.rails);
            let count = of.filter(|rail| rail.name == *name).count();
            if count != usize::from(!planned.left_out.contains(name)) {
                return Err(wrong(&format!("{name} has not one program")));
            }
        }
        let task = |lying: &LyingRail| {
            let found = named.iter().find(|(name, _)| *name == lying.name);
            let (_, rail) = found.ok_or_else(|| wrong("a program is for no rail"))?;
            let task = MortisingTask::of(self.lattice, self.frame, rail, self.router.machine);
            Ok(PartTask::Mortises(task))
        };
        let controller = &self.router.machine.controller;
        let mut proven = Vec::new();
        for of_file in planned.programs.chunk_by(|a, b| a.file == b.file) {
            let rails = of_file.iter().flat_map(|program| &program.rails);
            let tasks = rails.map(task).collect::<Result<Vec<_>, NotMade>>()?;
            let parts = of_file.iter().flat_map(RailProgram::parts);
            if let Some(first) = of_file.first() {
                proven.push(written(&first.file, parts, controller, &tasks)?);
            }
        }
        Ok(proven)
    }
}
