//! `lapwright build`

mod outlines;

use super::answers::{Failure, Outcome, Shown, Warnings, print, tell};
use super::arguments::{BuildArguments, Paper};
use super::cutting::Cutting;
use super::drawings::{Bench, Files, laser_of};
use super::files::{numbered, write_into};
use super::inputs::{self, Chosen};
use super::products;
use super::rails;
use super::sheet::{self, Plans};
use crate::inputs::Inputs;
use crate::instructions::laser::Ware;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::SetupSheet;
use crate::lattice::Lattice;
use crate::machines::MachineKind;
use crate::planning::{
    laser_sheet, mind_section, pare_sheet, piece_list, plan_pieces, rail_sheet, router_sheet,
    sled_sheet,
};
use crate::reading::Job;
use crate::writing::dxf::DxfVersion;
use crate::writing::files::{Content, written_before};
use crate::writing::{csv, json, text};
use serde_json::{Value, json};
use std::path::Path;

/// Name of the file that lists all others.
const MANIFEST: &str = "manifest.json";

pub(super) fn run(asked: &BuildArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let machines = machines(inputs, &job, &asked.job, shown)?;
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
    let manifest = json!({ "title": job.panel.title.clone(), "files": made.listed });
    let manifest = json::answer("lapwright/build/1", &manifest, &told.all(), &safety)?;
    made.files
        .push((MANIFEST.into(), manifest.clone().into_bytes().into()));
    let files = std::mem::take(&mut made.files);
    into_folder(inputs, asked, files)?;
    told.show(shown);
    match shown.format {
        super::arguments::Format::Json => print(&manifest),
        super::arguments::Format::Text => print(&summary(&made, &asked.output)),
    }
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
        Machine::Laser(_) => SafetyNotes::for_laser(),
        Machine::SheetRouter(_) => SafetyNotes::for_sheet_router(),
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

/// A job's files, and the plans that they were written from.
#[derive(Default)]
pub(super) struct Made {
    files: Vec<(String, Content)>,
    listed: Vec<Value>,
    pub(super) plans: Plans,
}

impl Made {
    /// Everything for the machines, read back and proven; all problems at once.
    pub(super) fn of<'a>(
        inputs: &Inputs,
        job: &'a Job,
        path: &Path,
        machines: &'a [Chosen],
        dxf: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Result<Made, Failure> {
        let mut made = Made::default();
        let mut failures = Vec::new();
        for chosen in machines {
            failures.extend(made.add(job, chosen, dxf, shown, told).err());
        }
        failures.extend(made.add_panel(inputs, job, path, machines, dxf, shown, told).err());
        if failures.is_empty() {
            Ok(made)
        } else {
            Err(Failure::joined(failures))
        }
    }

    /// The sheet that hangs beside the machines, for a screen and for paper.
    fn add_sheets(
        &mut self,
        job: &Job,
        machines: &[Chosen],
        paper: Paper,
        shown: Shown,
    ) -> Outcome {
        let booklet = self.plans.booklet(job, machines);
        for name in ["set-up.html", "set-up.pdf"] {
            let content = sheet::content(&booklet, Path::new(name), paper, shown)?;
            self.list(vec![(name.into(), content)], "set-up sheet", "");
        }
        Ok(())
    }

    /// One machine's files. Every machine has its sheet as text and its figures as JSON.
    fn add<'a>(
        &mut self,
        job: &Job,
        chosen: &'a Chosen,
        dxf: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let lattice = Lattice::of(&job.panel);
        let safety = safety(chosen);
        let mut own = Warnings::default();
        let machine = chosen.profile.name.as_str();
        match chosen.profile.machine.kind() {
            MachineKind::Sled => {
                let (plan, powered) = products::sled(&lattice, chosen, shown, &mut own)?;
                let answer = json::answer("lapwright/sled/1", &plan, &own.all(), safety.notes())?;
                let sheet = sled_sheet(&plan, powered);
                self.plain(job, &own, ("sled", machine), sheet, answer, shown);
                self.plans.sled = Some(plan);
            }
            MachineKind::Laser | MachineKind::SheetRouter => {
                let name = |at, count| numbered(Path::new("strips.dxf"), at, count);
                let bench = Bench::new(chosen, Files::Both(dxf), &name, shown)?;
                let cutting = Cutting {
                    panel: &job.panel,
                    lattice: &lattice,
                    filled: None,
                    laser: laser_of(chosen)?,
                    sled: None,
                    slots: None,
                };
                let (plan, drawings) = bench.told(&cutting, &[Ware::Strips], None, &mut own)?;
                let answer =
                    json::answer("lapwright/outline/1", &plan, &own.all(), safety.notes())?;
                let sheet = laser_sheet(&plan);
                self.plain(job, &own, ("laser", machine), sheet, answer, shown);
                self.list(drawings, "outline", machine);
                self.plans.laser.push(plan);
            }
            MachineKind::Router => {
                let name = |at, count| numbered(Path::new("notches.nc"), at, count);
                let (plan, programs) = products::router(&lattice, chosen, &name, shown, &mut own)?;
                let answer = json::answer("lapwright/notch/1", &plan, &own.all(), safety.notes())?;
                let sheet = router_sheet(&plan);
                self.plain(job, &own, ("router", machine), sheet, answer, shown);
                self.list(programs, "program", machine);
                self.plans.router = Some(plan);
            }
            // What guides pare stands in the pieces' own files.
            MachineKind::Guides => {}
        }
        told.append(own);
        Ok(())
    }

    /// A machine's plain sheet with the warnings of job and machine, and its figures.
    fn plain(
        &mut self,
        job: &Job,
        own: &Warnings<'_>,
        (name, machine): (&'static str, &str),
        mut sheet: SetupSheet,
        answer: String,
        shown: Shown,
    ) {
        let findings = [job.warnings.clone(), own.all()].concat();
        sheet.sections.splice(0..0, mind_section(&findings));
        self.sheet(name, machine, &text::sheet(&sheet, shown.units), answer);
        self.plans.told.push((name, findings));
    }

    /// The panel's picture; its pieces for the guides and, where it cuts so deep, for the laser.
    fn add_panel<'a>(
        &mut self,
        inputs: &Inputs,
        job: &'a Job,
        path: &Path,
        machines: &'a [Chosen],
        dxf: DxfVersion,
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let picture = products::picture(inputs, job, path, shown, told)?;
        self.list(
            vec![("panel.svg".into(), picture.into_bytes())],
            "picture",
            "",
        );
        self.add_rails(job, machines, shown, told)?;
        self.add_jigs(job, machines, dxf, shown, told)?;
        if job.panel.infill.is_none() {
            return Ok(());
        }
        let pattern = inputs::pattern_of(inputs, job, path, shown)?;
        let filled = products::filled(job, &pattern, shown)?;
        let of = |kind| {
            machines
                .iter()
                .find(|chosen| chosen.profile.machine.kind() == kind)
        };
        let with_guides = of(MachineKind::Guides);
        let guides = with_guides.map(super::pare::guides).transpose()?;
        let allowance = job
            .panel
            .infill
            .as_ref()
            .map_or(0.0, |infill| infill.allowance);
        let (plan, warnings) = plan_pieces(&job.panel, &filled, allowance, guides);
        let safety = SafetyNotes::for_guides();
        let answer = json::answer("lapwright/pare/1", &plan, &warnings, safety.notes())?;
        let machine = plan.machine.clone().unwrap_or_default();
        self.sheet(
            "pieces",
            &machine,
            &text::sheet(&pare_sheet(&plan), shown.units),
            answer,
        );
        self.list(
            vec![(
                "pieces.csv".into(),
                csv::csv(&piece_list(&plan)?).into_bytes(),
            )],
            "list",
            &machine,
        );
        if let Some(chosen) = with_guides {
            told.add(&chosen.profile.source, warnings);
        }
        if let Some(chosen) = of(MachineKind::Laser).or_else(|| of(MachineKind::SheetRouter)) {
            self.add_pieces(job, &filled, chosen, dxf, shown, told)?;
        }
        self.plans.pare = Some(plan);
        self.plans.filled = Some(filled);
        Ok(())
    }

    /// The frame's rails, if it has any, with programs where a router can cut them.
    fn add_rails<'a>(
        &mut self,
        job: &'a Job,
        machines: &'a [Chosen],
        shown: Shown,
        told: &mut Warnings<'a>,
    ) -> Outcome {
        let Some(frame) = &job.frame else {
            return Ok(());
        };
        let is_router = |chosen: &&Chosen| chosen.profile.machine.kind() == MachineKind::Router;
        let chosen = machines.iter().find(is_router);
        let mut own = Warnings::default();
        let mut plan = rails::rails(job, frame, chosen, shown, &mut own)?;
        // Where the tool does not go into the mortises, that has been told.
        if let Some(chosen) = chosen.filter(|_| plan.corner_radius_mm.is_some()) {
            let name = |at, count| numbered(Path::new("rails.nc"), at, count);
            let mut sought = rails::Sought {
                lattice: &Lattice::of(&job.panel),
                frame,
                chosen,
                plan: &mut plan,
            };
            match sought.programs(&name, &mut own) {
                Ok(programs) => self.list(programs, "program", &chosen.profile.name),
                Err(rails::Failed::Cannot(faults)) => {
                    let lead = "no programs for the rails: ";
                    let faults = faults.into_iter().map(|fault| fault.as_warning(lead));
                    own.add(&chosen.profile.source, faults);
                    // They are made by hand.
                    plan.corner_radius_mm = None;
                }
                Err(rails::Failed::Wrong(failure)) => return Err(failure),
            }
        }
        let answer = rails::answer(&plan, &own)?;
        self.plain(job, &own, ("rails", ""), rail_sheet(&plan), answer, shown);
        self.plans.rails = Some(plan);
        told.append(own);
        Ok(())
    }

    fn sheet(&mut self, name: &str, machine: &str, text: &str, answer: String) {
        self.list(
            vec![(format!("{name}.txt"), text.as_bytes().to_vec())],
            "set-up sheet",
            machine,
        );
        self.list(
            vec![(format!("{name}.json"), answer.into_bytes())],
            "figures",
            machine,
        );
    }

    fn list<C: Into<Content>>(&mut self, files: Vec<(String, C)>, what: &str, machine: &str) {
        for (name, content) in files {
            let content: Content = content.into();
            let bytes = content.length();
            self.listed
                .push(json!({ "path": name, "what": what, "machine": machine, "bytes": bytes }));
            self.files.push((name, content));
        }
    }
}

/// Writes everything into the folder; files of an earlier build that are not made any more are
/// told, not touched.
fn into_folder(
    inputs: &Inputs,
    asked: &BuildArguments,
    files: Vec<(String, Content)>,
) -> Outcome {
    let folder = &asked.output;
    let old = leftovers(folder, &files);
    write_into(inputs, folder, files)?;
    for name in old {
        tell(&format!(
            "warning: {}: left over from an earlier build, not part of this job any more\n",
            folder.join(name).display()
        ));
    }
    Ok(())
}

/// What the folder's old manifest lists and the new one does not.
fn leftovers(folder: &Path, files: &[(String, Content)]) -> Vec<String> {
    let old = written_before(&folder.join(MANIFEST)).unwrap_or_default();
    let old: Value = serde_json::from_str(&old).unwrap_or_default();
    let names = old["files"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(|file| file["path"].as_str());
    names
        .filter(|name| !files.iter().any(|(new, _)| new == name) && folder.join(name).is_file())
        .map(str::to_owned)
        .collect()
}

fn summary(made: &Made, folder: &Path) -> String {
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
