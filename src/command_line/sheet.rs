//! `lapwright sheet`

use super::answers::{Failure, Outcome, Shown, Warnings, print, tell};
use super::arguments::{Format, Paper, SheetArguments};
use super::build::{self, Made};
use super::files::{spare, write};
use super::inputs::{self, Chosen};
use crate::finding::Finding;
use crate::infill::Infilling;
use crate::inputs::Inputs;
use crate::instructions::laser::LaserPlan;
use crate::instructions::page::Booklet;
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::router::RouterPlan;
use crate::instructions::sled::SledPlan;
use crate::machines::{Machine, Router, Sled};
use crate::planning::{Work, booklet, mind_in};
use crate::reading::Job;
use crate::writing::dxf::DxfVersion;
use crate::writing::{html, json, pdf};
use serde_json::json;
use std::path::Path;

/// What a job's machines have to do, as far as it is known.
#[derive(Default)]
pub(super) struct Plans {
    pub(super) sled: Option<SledPlan>,
    pub(super) router: Option<RouterPlan>,
    pub(super) laser: Vec<LaserPlan>,
    pub(super) pare: Option<ParePlan>,
    pub(super) rails: Option<RailPlan>,
    pub(super) filled: Option<Infilling>,
    /// Warnings by the part of the sheet that they belong to.
    pub(super) told: Vec<(&'static str, Vec<Finding>)>,
}

impl Plans {
    /// The sheet for them.
    pub(super) fn booklet(&self, job: &Job, machines: &[Chosen]) -> Booklet {
        let lattice = job.panel.lattice();
        let mut made = booklet(&Work {
            lattice,
            sled: self.sled.as_ref().zip(sled_of(machines)),
            router: self.router.as_ref().zip(router_of(machines)),
            laser: &self.laser,
            pare: self.pare.as_ref(),
            rails: self.rails.as_ref(),
            filled: self.filled.as_ref(),
        });
        for (part, findings) in &self.told {
            mind_in(&mut made, part, findings);
        }
        if self.told.is_empty() {
            mind_in(&mut made, "assembly", &job.warnings);
        }
        made
    }
}

pub(super) fn sled_of(machines: &[Chosen]) -> Option<&Sled> {
    machines
        .iter()
        .find_map(|chosen| match &chosen.profile.machine {
            Machine::Sled(sled) => Some(sled),
            _ => None,
        })
}

fn router_of(machines: &[Chosen]) -> Option<&Router> {
    machines
        .iter()
        .find_map(|chosen| match &chosen.profile.machine {
            Machine::Router(router) => Some(router),
            _ => None,
        })
}

pub(super) fn run(asked: &SheetArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    kind(&asked.output)?;
    let job = inputs::job(inputs, &asked.job, shown)?;
    let machines = build::machines(inputs, &job, &asked.job, shown)?;
    spare(inputs, &asked.output)?;
    let mut told = Warnings::default();
    told.add(&job.source, job.warnings.clone());
    let version = DxfVersion::R2000;
    let made = Made::of(
        inputs, &job, &asked.job, &machines, version, shown, &mut told,
    )?;
    let booklet = made.booklet(&job, &machines);
    let content = content(&booklet, &asked.output, asked.paper, shown)?;
    let name = asked.output.display().to_string();
    write(inputs, [(name.clone(), content)])?;
    told.show(shown);
    match shown.format {
        Format::Text => print(&format!(
            "{name}: set-up sheet for {}\n{}",
            names(&machines),
            build::short_safety(&machines)
        ))?,
        Format::Json => {
            let answer = json!({
                "title": job.panel.design().title.clone(),
                "files": [{ "path": name }],
                "missing": json::missing(&made.missing()),
            });
            let safety = build::all_safety(&machines);
            print(&json::answer(
                "lapwright/sheet/1",
                &answer,
                &told.all(),
                &safety,
            )?)?;
        }
    }
    made.outcome(shown)
}

enum SheetKind {
    Page,
    Document,
}

fn kind(output: &Path) -> Result<SheetKind, Failure> {
    let ending = output.extension().unwrap_or_default().to_ascii_lowercase();
    match ending.to_str() {
        Some("html") => Ok(SheetKind::Page),
        Some("pdf") => Ok(SheetKind::Document),
        _ => Err(Failure::input(format!(
            "{}: a sheet is a page or a document: give a file that ends in .html or .pdf",
            output.display()
        ))),
    }
}

/// The sheet as the file's name asks for.
pub(super) fn content(
    booklet: &Booklet,
    output: &Path,
    paper: Paper,
    shown: Shown,
) -> Result<Vec<u8>, Failure> {
    if let SheetKind::Page = kind(output)? {
        return Ok(html::html(booklet, shown.units)?.into_bytes());
    }
    let paper = match paper {
        Paper::A4 => pdf::Paper::A4,
        Paper::Letter => pdf::Paper::Letter,
    };
    let document = pdf::pdf(booklet, paper, shown.units)?;
    if !document.lacking.is_empty() {
        let letters: Vec<String> = document.lacking.iter().map(char::to_string).collect();
        tell(&format!(
            "warning: {}: the document's type lacks {}; a sign stands in their place. The page (.html) has them.\n",
            output.display(),
            letters.join(" ")
        ));
    }
    Ok(document.bytes)
}

fn names(machines: &[Chosen]) -> String {
    let names = machines.iter().map(|chosen| chosen.profile.name.as_str());
    names.collect::<Vec<_>>().join(", ")
}
