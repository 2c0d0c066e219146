//! `lapwright pare`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, PareArguments};
use super::files::write;
use super::inputs::{self, FoundMachine, MachineFlags};
use super::lengths::above_zero;
use crate::finding::{Document, Finding};
use crate::infill::{Opening, OpeningAsMeasured, measured};
use crate::inputs::Inputs;
use crate::instructions::pare::ParePlan;
use crate::lattice::PieceWay;
use crate::machines::{Guides, Router, Sled, Station};
use crate::making::{NotMade, PieceOrder, Warnings, filled};
use crate::planning::plan_measured;
use crate::reading::{Documents, Job};
use crate::sheets::{mitre_sheet, pare_sheet, piece_list, routed_rows_sheet};
use crate::writing::{csv, json, text};
use std::path::Path;

pub(super) fn run(asked: &PareArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let patterns = inputs::patterns_of(inputs, &job, &asked.job, shown)?;
    let documents = Documents::of_job(&job.source).with_patterns(patterns.sources());
    let filled = filled(&job, &patterns.patterns)
        .map_err(|error| Failure::not_made(error, &documents, shown))?;
    let machines = Machines::found(asked, inputs, &job, shown)?;
    let documents = FoundMachine::among_if(machines.guides.as_ref(), documents);
    let documents = FoundMachine::among_if(machines.sled.as_ref(), documents);
    let documents = FoundMachine::among_if(machines.router.as_ref(), documents);
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    told.add(Document::Job, filled.warnings.clone());
    let infill = job.panel.design().infill.as_ref();
    let of_job = infill.map_or(PieceWay::Guides, |infill| infill.way);
    let way = asked.way.map_or(of_job, PieceWay::from);
    if asked.output.is_some() && (way != PieceWay::RoutedRows || asked.cell_opening.is_some()) {
        return Err(Failure::input(
            "-o: programs are for pieces as drawn that a router cuts: add --way routed-rows, without --cell-opening",
        ));
    }
    let mut programs = Vec::new();
    let (plan, warnings) = match &asked.cell_opening {
        None => {
            let order = PieceOrder {
                panel: &job.panel,
                filled: &filled,
                way,
                sled: machines.sled.as_ref().map(FoundMachine::chosen),
                router: machines.router.as_ref().map(FoundMachine::chosen),
                programs: asked.output.as_deref().unwrap_or(Path::new("pieces.nc")),
                guides: machines.guides.as_ref().map(FoundMachine::chosen),
            };
            let plans = order
                .planned()
                .map_err(|error| Failure::not_made(error, &documents, shown))?;
            told.add(Document::Profile(Station::Sled), plans.at_saw);
            told.add(Document::Profile(Station::Router), plans.at_router);
            let as_warning = |fault: Finding| fault.as_warning("no program for this: ");
            let unrouted = plans.unrouted.into_iter().map(as_warning);
            told.add(Document::Profile(Station::Router), unrouted);
            programs = plans.programs;
            (plans.pare, plans.at_guides)
        }
        Some(text) => {
            let opening = opening(text)?;
            let kind = asked.cell_kind.as_deref();
            let cell = measured(&filled, &patterns.patterns, opening, kind).map_err(|faults| {
                let error = NotMade::cannot(faults, Document::Request);
                Failure::not_made(error, &documents, shown)
            })?;
            told.add(Document::Job, cell.warnings.clone());
            let allowance = infill.map_or(0.0, |infill| infill.allowance);
            let guides = machines.guides.as_ref().map(FoundMachine::chosen);
            plan_measured(&job.panel, &filled, &cell, allowance, guides)
        }
    };
    if machines.guides.is_some() {
        told.add(Document::Profile(Station::Guides), warnings);
    }
    let answer = match shown.format {
        Format::Text => told_by_sheets(&plan, shown),
        Format::Json => json::answer("lapwright/pare/1", &plan, told.all(), &plan.safety())?,
    };
    if let Some(path) = &asked.csv {
        let list = csv::csv(&piece_list(&plan)?);
        let files = [(path.display().to_string(), list.into_bytes())];
        write(inputs, files)?;
    }
    if asked.output.is_some() {
        write(inputs, programs)?;
    }
    warn(&told, &documents, shown);
    print(&answer)?;
    left_out(&plan)
}

/// Kinds of pieces that a router was asked for and does not cut.
fn left_out(plan: &ParePlan) -> Outcome {
    let routed = plan.routed.iter().flat_map(|routed| &routed.left_out);
    let names: Vec<&str> = routed.map(|piece| piece.name.as_str()).collect();
    if names.is_empty() {
        return Ok(());
    }
    Err(Failure {
        code: 1,
        text: format!(
            "not made: programs for the pieces {}\n",
            names.join(" and ")
        ),
    })
}

/// The machines that are named, by flags or the job.
struct Machines {
    guides: Option<FoundMachine<Guides>>,
    sled: Option<FoundMachine<Sled>>,
    router: Option<FoundMachine<Router>>,
}

impl Machines {
    fn found(
        asked: &PareArguments,
        inputs: &Inputs,
        job: &Job,
        shown: Shown,
    ) -> Result<Machines, Failure> {
        let with_path = Some((job, asked.job.as_path()));
        let at_guides = MachineFlags::machine(asked.machine.as_deref());
        let wanted = at_guides.given.is_some() || job.machines.at(Station::Guides).is_some();
        let guides = wanted
            .then(|| inputs::machine_for(inputs, &at_guides, with_path, shown))
            .transpose()?;
        let at_saw = MachineFlags {
            flag: Some("--sled"),
            given: asked.sled.as_deref(),
            usual: None,
        };
        let wanted = at_saw.given.is_some() || job.machines.at(Station::Sled).is_some();
        let sled = wanted
            .then(|| inputs::machine_for(inputs, &at_saw, with_path, shown))
            .transpose()?;
        let at_router = MachineFlags {
            flag: Some("--router"),
            given: asked.router.as_deref(),
            usual: None,
        };
        let wanted = at_router.given.is_some() || job.machines.at(Station::Router).is_some();
        let router = wanted
            .then(|| inputs::machine_for(inputs, &at_router, with_path, shown))
            .transpose()?;
        Ok(Machines {
            guides,
            sled,
            router,
        })
    }
}

/// The saw's sheet, where it cuts some of it, before that of the pieces.
fn told_by_sheets(plan: &ParePlan, shown: Shown) -> String {
    let sawn = plan.mitres.iter().map(mitre_sheet);
    let routed = plan.routed.iter().map(routed_rows_sheet);
    let sheets = sawn.chain(routed).chain([pare_sheet(plan)]);
    let texts: Vec<String> = sheets
        .map(|sheet| text::sheet(&sheet, shown.units))
        .collect();
    texts.join("\n")
}

/// `35.6mm`; width and height, `35.6mm,35.3mm`; with the diagonal, `35.6mm,35.3mm,50.2mm`; that alone,
/// `diagonal=50.2mm`.
fn opening(text: &str) -> Result<OpeningAsMeasured, Failure> {
    let length = |part: &str| above_zero("--cell-opening", text, part);
    if let Some(diagonal) = text.strip_prefix("diagonal=") {
        return Ok(OpeningAsMeasured::Diagonal(length(diagonal)?));
    }
    let lengths: Result<Vec<f64>, Failure> = text.split(',').map(length).collect();
    let (width, height, diagonal) = match lengths?[..] {
        [side] => (side, side, None),
        [width, height] => (width, height, None),
        [width, height, diagonal] => (width, height, Some(diagonal)),
        _ => {
            return Err(Failure::input(format!(
                "--cell-opening `{text}`: give one length, width,height or width,height,diagonal; or diagonal=50.2mm alone"
            )));
        }
    };
    Ok(OpeningAsMeasured::Walls {
        opening: Opening { width, height },
        diagonal,
    })
}
