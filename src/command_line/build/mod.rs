//! `lapwright build`

mod lacking;
mod outlines;
mod plain;

use super::answers::{Failed, Failure, Outcome, Shown, Warnings, print, tell};
use super::arguments::{BuildArguments, Paper};
use super::cutting::Cutting;
use super::drawings::{Bench, Files, laser_of};
use super::files::{numbered, spare, write_into};
use super::inputs::{self, Chosen};
use super::products;
use super::rails;
use super::sheet::{self, Plans};
use crate::infill::Infilling;
use crate::inputs::Inputs;
use crate::instructions::laser::Ware;
use crate::instructions::missing::Missing;
use crate::instructions::page::Booklet;
use crate::instructions::safety::SafetyNotes;
use crate::machines::MachineKind;
use crate::planning::{
    laser_sheet, missing_first, pare_sheet, piece_list, plan_pieces, rail_sheet, router_sheet,
    safety_for, sled_sheet,
};
use crate::reading::Job;
use crate::writing::dxf::DxfVersion;
use crate::writing::files::{Content, written_before};
use crate::writing::{csv, json, text};
use lacking::Lacking;
use plain::Plain;
use serde_json::{Value, json};
use std::path::Path;

/// Name of the file that lists all others.
const MANIFEST: &str = "manifest.json";

pub(super) fn run(asked: &BuildArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let machines = machines(inputs, &job, &asked.job, shown)?;
    spare(inputs, &asked.output)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let mut made = Made::of(
        inputs,
        &job,
        &asked.job,
        &machines,
        asked.dxf.into(),
        shown,
        &mut told,
    )?;
    made.add_sheets(&job, &machines, asked.paper, shown)?;
    let safety = all_safety(&machines);
    let old = leftovers(&asked.output, &made.files);
    let mut manifest = json!({
        "title": job.panel.design().title.clone(),
        "files": made.listed,
        "missing": json::missing(&made.missing()),
    });
    if !old.is_empty() {
        manifest["left_over"] = json!(old);
    }
    let manifest = json::answer("lapwright/build/1", &manifest, &told.all(), &safety)?;
    made.files
        .push((MANIFEST.into(), manifest.clone().into_bytes().into()));
    let files = std::mem::take(&mut made.files);
    write_into(inputs, &asked.output, files)?;
    told.show(shown);
    match shown.format {
        super::arguments::Format::Json => print(&manifest)?,
        super::arguments::Format::Text => {
            let notes = short_safety(&machines);
            print(&format!("{}{notes}", summary(&made, &asked.output)))?;
        }
    }
    // Last, so that it is seen: under the names of this job lie another one's programs.
    for name in old {
        tell(&format!(
            "warning: {}: left over from an earlier build, not part of this job any more: delete it\n",
            asked.output.join(name).display()
        ));
    }
    made.outcome(shown)
}

/// The profiles that the job names, in working order; all problems at once.
pub(super) fn machines(
    inputs: &Inputs,
    job: &Job,
    path: &Path,
    shown: Shown,
) -> Result<Vec<Chosen>, Failure> {
    let names = &job.machines;
    let named = [
        (MachineKind::Sled, &names.sled),
        (MachineKind::Laser, &names.laser),
        (MachineKind::Router, &names.router),
        (MachineKind::Guides, &names.guides),
    ];
    let mut found = Vec::new();
    let mut failures = Vec::new();
    for (kind, _) in named.iter().filter(|(_, name)| name.is_some()) {
        match inputs::machine_of(inputs, *kind, None, Some((job, path)), None, shown) {
            Ok(chosen) => found.push(chosen),
            Err(failure) => failures.push(failure),
        }
    }
    if !failures.is_empty() {
        return Err(Failure::joined(failures));
    }
    if found.is_empty() {
        return Err(Failure::input(format!(
            "{}: the job names no machine: add a table [machines], such as sled = \"key-sled\"",
            path.display()
        )));
    }
    Ok(found)
}

fn safety(chosen: &Chosen) -> SafetyNotes {
    use crate::machines::Machine;
    match &chosen.profile.machine {
        Machine::Sled(sled) => SafetyNotes::for_sled(sled.blade.powered.is_some()),
        Machine::Router(_) => SafetyNotes::for_router(),
        Machine::Laser(laser) | Machine::SheetRouter(laser) => safety_for(laser),
        Machine::Guides(_) => SafetyNotes::for_guides(),
    }
}

/// The safety notes of several machines, each once.
pub(super) fn all_safety(machines: &[Chosen]) -> Vec<&'static str> {
    let mut all = Vec::new();
    for note in machines
        .iter()
        .flat_map(|chosen| safety(chosen).notes().to_vec())
    {
        if !all.contains(&note) {
            all.push(note);
        }
    }
    all
}

/// The short ones under an answer for people.
pub(super) fn short_safety(machines: &[Chosen]) -> String {
    let notes: Vec<SafetyNotes> = machines.iter().map(safety).collect();
    text::safety_in_short(&SafetyNotes::short_of(&notes))
}

/// A job's files, and the plans that they were written from.
#[derive(Default)]
pub(super) struct Made<'a> {
    files: Vec<(String, Content)>,
    listed: Vec<Value>,
    plans: Plans,
    /// The machines' plain sheets, which tell of all that is missing: so they are written last.
    plain: Vec<Plain>,
    lacking: Vec<Lacking<'a>>,
    /// Whether any of it is a machine's.
    by_machines: bool,
}

impl<'a> Made<'a> {
    /// All that the machines can make, read back and proven, and what they cannot.
    ///
    /// # Errors
    /// What is wrong with the design, before anything is made of it; and where no machine can make
    /// anything.
    pub(super) fn of(
        inputs: &Inputs,
        job: &'a Job,
        path: &Path,
        machines: &'a [Chosen],
        dxf: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Result<Made<'a>, Failure> {
        let mut made = Made::default();
        made.plans.filled = products::filled_of(inputs, job, path, shown, told)?;
        if let Some(frame) = &job.frame {
            rails::rails(job, frame, None, shown, &mut Warnings::default())?;
        }
        for chosen in machines {
            made.add(job, chosen, dxf, shown, told)?;
        }
        let picture = products::picture(job, made.plans.filled.as_ref(), shown)?;
        made.list([("panel.svg".into(), picture.into_bytes())], "picture", "");
        made.add_rails(job, machines, shown, told)?;
        made.add_jigs(job, machines, dxf, shown, told)?;
        if let Some(filled) = made.plans.filled.take() {
            made.add_pared(job, machines, &filled, told)?;
            let guides = one(machines, MachineKind::Guides)
                .map(super::pare::guides)
                .transpose()?;
            let guides = guides.map(|(_, guides)| guides);
            made.add_pieces(job, machines, (&filled, guides), dxf, shown, told)?;
            made.plans.filled = Some(filled);
        }
        made.withdraw(machines);
        if !made.lacking.is_empty() && !made.by_machines {
            return Err(lacking::nothing_made(made.lacking, shown));
        }
        Ok(made)
    }

    /// What is not made.
    pub(super) fn missing(&self) -> Vec<Missing> {
        let all = self.lacking.iter();
        all.map(|lacking| lacking.missing.clone()).collect()
    }

    /// Whether all was made.
    pub(super) fn outcome(&self, shown: Shown) -> Outcome {
        lacking::outcome(&self.lacking, shown)
    }

    /// The sheet that hangs beside the machines; it begins with what is missing.
    pub(super) fn booklet(&self, job: &Job, machines: &[Chosen]) -> Booklet {
        let mut booklet = self.plans.booklet(job, machines);
        missing_first(&mut booklet, &self.missing());
        booklet
    }

    /// The machines' plain sheets, and the sheet for all of them, for a screen and for paper.
    fn add_sheets(
        &mut self,
        job: &Job,
        machines: &[Chosen],
        paper: Paper,
        shown: Shown,
    ) -> Outcome {
        self.add_plain(job, machines, shown);
        let booklet = self.booklet(job, machines);
        for name in ["set-up.html", "set-up.pdf"] {
            let content = sheet::content(&booklet, Path::new(name), paper, shown)?;
            self.list([(name.into(), content)], "set-up sheet", "");
        }
        Ok(())
    }

    /// One machine's files. Every machine has its sheet as text, and its figures as JSON where there
    /// are any.
    fn add(
        &mut self,
        job: &'a Job,
        chosen: &'a Chosen,
        dxf: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let lattice = job.panel.lattice();
        let safety = safety(chosen);
        let mut own = Warnings::default();
        let machine = chosen.profile.name.as_str();
        match chosen.profile.machine.kind() {
            MachineKind::Sled => match products::sled(lattice, chosen, &mut own) {
                Ok((plan, powered)) => {
                    let answer =
                        json::answer("lapwright/sled/1", &plan, &own.all(), safety.notes())?;
                    let sheet = sled_sheet(&plan, powered);
                    self.keep(job, &own, ("sled", machine), sheet, answer);
                    self.plans.sled = Some(plan);
                }
                Err(failed) => self.lacks(("sled", "sled settings"), chosen, failed),
            },
            MachineKind::Laser | MachineKind::SheetRouter => {
                let name = |at, count| numbered(Path::new("strips.dxf"), at, count);
                let bench = Bench::new(chosen, Files::Both(dxf), &name, shown)?;
                let cutting = Cutting {
                    panel: &job.panel,
                    lattice,
                    filled: None,
                    laser: laser_of(chosen)?,
                    guides: None,
                    sled: None,
                    slots: None,
                };
                match bench.drawn(&cutting, &[Ware::Strips]) {
                    Ok(((plan, drawings), warnings)) => {
                        own.add(&chosen.profile.source, warnings);
                        let answer =
                            json::answer("lapwright/outline/1", &plan, &own.all(), safety.notes())?;
                        let sheet = laser_sheet(&plan);
                        self.keep(job, &own, ("laser", machine), sheet, answer);
                        self.list(drawings, "outline", machine);
                        self.plans.laser.push(plan);
                    }
                    Err(failed) => self.lacks(("laser", "outlines of strips"), chosen, failed),
                }
            }
            MachineKind::Router => {
                let name = |at, count| numbered(Path::new("notches.nc"), at, count);
                match products::router(lattice, chosen, &name, &mut own) {
                    Ok((plan, programs)) => {
                        let answer =
                            json::answer("lapwright/notch/1", &plan, &own.all(), safety.notes())?;
                        let sheet = router_sheet(&plan);
                        self.keep(job, &own, ("router", machine), sheet, answer);
                        self.list(programs, "program", machine);
                        self.plans.router = Some(plan);
                    }
                    Err(failed) => self.lacks(("router", "notching programs"), chosen, failed),
                }
            }
            // What guides pare stands in the pieces' own files.
            MachineKind::Guides => {}
        }
        told.append(own);
        Ok(())
    }

    /// The pieces, pared by guides or without.
    fn add_pared(
        &mut self,
        job: &'a Job,
        machines: &'a [Chosen],
        filled: &Infilling,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let with_guides = one(machines, MachineKind::Guides);
        let guides = with_guides.map(super::pare::guides).transpose()?;
        let infill = job.panel.design().infill.as_ref();
        let allowance = infill.map_or(0.0, |infill| infill.allowance);
        let (plan, warnings) = plan_pieces(&job.panel, filled, allowance, guides);
        let safety = SafetyNotes::for_guides();
        let answer = json::answer("lapwright/pare/1", &plan, &warnings, safety.notes())?;
        let machine = plan.machine.clone().unwrap_or_default();
        let list = csv::csv(&piece_list(&plan)?).into_bytes();
        self.list([("pieces.csv".into(), list)], "list", &machine);
        let sheet = pare_sheet(&plan);
        self.plain
            .push(Plain::new(("pieces", &machine), sheet, answer));
        if let Some(chosen) = with_guides {
            told.add(&chosen.profile.source, warnings);
        }
        self.plans.pare = Some(plan);
        Ok(())
    }

    /// The frame's rails, if it has any, with programs as far as a router can cut them.
    fn add_rails(
        &mut self,
        job: &'a Job,
        machines: &'a [Chosen],
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let Some(frame) = &job.frame else {
            return Ok(());
        };
        let router = one(machines, MachineKind::Router).filter(|chosen| !self.distrusts(chosen));
        let mut own = Warnings::default();
        let mut plan = rails::rails(job, frame, router, shown, &mut own)?;
        if let Some(chosen) = router {
            let name = |at, count| numbered(Path::new("rails.nc"), at, count);
            let mut sought = rails::Sought {
                lattice: job.panel.lattice(),
                frame,
                chosen,
                plan: &mut plan,
            };
            match sought.programs(&name, &mut own) {
                Ok((programs, unreached)) => {
                    self.list(programs, "program", &chosen.profile.name);
                    if !unreached.is_empty() {
                        let of = plan.without_program.join(" and the ");
                        let failed = Failed::Cannot(unreached);
                        self.lacks(("rails", &format!("program for the {of}")), chosen, failed);
                    }
                }
                Err(failed) => {
                    // They are made by hand.
                    own = Warnings::default();
                    plan = rails::rails(job, frame, None, shown, &mut own)?;
                    self.lacks(("rails", "programs for the rails"), chosen, failed);
                }
            }
        }
        let answer = rails::answer(&plan, &own)?;
        self.keep(job, &own, ("rails", ""), rail_sheet(&plan), answer);
        self.plans.rails = Some(plan);
        told.append(own);
        Ok(())
    }

    fn list<C: Into<Content>>(
        &mut self,
        files: impl IntoIterator<Item = (String, C)>,
        what: &str,
        machine: &str,
    ) {
        for (name, content) in files {
            let content: Content = content.into();
            let bytes = content.length();
            self.listed
                .push(json!({ "path": name, "what": what, "machine": machine, "bytes": bytes }));
            self.files.push((name, content));
        }
    }
}

/// What an earlier build left in the folder and this one does not make, by the manifest that is there:
/// its files, and what it already told to be left over. It is told, not touched, at every build until it
/// is gone.
fn leftovers(folder: &Path, files: &[(String, Content)]) -> Vec<String> {
    let old = written_before(&folder.join(MANIFEST)).unwrap_or_default();
    let old: Value = serde_json::from_str(&old).unwrap_or_default();
    let list = |key: &str| old[key].as_array().cloned().unwrap_or_default();
    let made = list("files").into_iter().map(|file| file["path"].clone());
    let names = made.chain(list("left_over"));
    names
        .filter_map(|name| name.as_str().map(str::to_owned))
        .filter(|name| !files.iter().any(|(new, _)| new == name) && folder.join(name).is_file())
        .collect()
}

/// The profile of a kind, if the job names one.
fn one(machines: &[Chosen], kind: MachineKind) -> Option<&Chosen> {
    let mut all = machines.iter();
    all.find(|chosen| chosen.profile.machine.kind() == kind)
}

fn summary(made: &Made<'_>, folder: &Path) -> String {
    let rows = made.listed.iter().map(|file| {
        let field = |key: &str| file[key].as_str().unwrap_or_default().to_owned();
        format!(
            "  {:<20}{:<14}{}\n",
            field("path"),
            field("what"),
            field("machine")
        )
    });
    let rows: String = rows.collect();
    format!(
        "{}:\n{rows}  {MANIFEST:<20}list of all of them\nEvery drawing and program was read back and found right before it got its name.\n",
        folder.display()
    )
}
