//! `lapwright rails`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, RailsArguments};
use super::files::{spare, write};
use super::inputs::{self, FoundMachine, MachineFlags};
use crate::finding::{Document, Finding};
use crate::inputs::Inputs;
use crate::machines::{Router, Sled, Station};
use crate::making::{
    RailWork, Warnings, numbered, planned_rails, proven_rail_programs, saw_mitres, size_of,
};
use crate::reading::Documents;
use crate::sheets::rail_sheet;
use crate::writing::{json, text};

pub(super) fn run(asked: &RailsArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let Some(frame) = &job.frame else {
        return Err(Failure::input(format!(
            "{}: there is no [frame] in this job; it says how thick the rails are and how deep the mortises",
            asked.job.display()
        )));
    };
    let needed = asked.output.is_some() || asked.machine.is_some();
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let with_path = Some((&job, asked.job.as_path()));
    let router: Option<FoundMachine<Router>> = (needed
        || job.machines.at(Station::Router).is_some())
    .then(|| inputs::machine_for(inputs, &flags, with_path, shown))
    .transpose()?;
    let sawn = frame.widths.is_some() && job.machines.at(Station::Sled).is_some();
    let sled: Option<FoundMachine<Sled>> = sawn
        .then(|| inputs::machine_for(inputs, &MachineFlags::default(), with_path, shown))
        .transpose()?;
    let documents = Documents::of_job(&job.source);
    let documents = FoundMachine::among_if(router.as_ref(), documents);
    let documents = FoundMachine::among_if(sled.as_ref(), documents);
    let refused = |error| Failure::not_made(error, &documents, shown);
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    let lattice = job.panel.lattice();
    let machine = router.as_ref().map(|router| &router.machine);
    let (mut plan, warnings) = planned_rails(lattice, frame, machine).map_err(refused)?;
    plan.size = Some(size_of(&job));
    told.add(Document::Job, warnings);
    if let Some(sled) = &sled {
        let of_sled = Document::Profile(Station::Sled);
        let mitres = saw_mitres(&mut plan, sled.chosen());
        told.add(of_sled, mitres.warnings);
        let as_warning = |fault: Finding| fault.as_warning("no settings for this: ");
        told.add(of_sled, mitres.unsawn.into_iter().map(as_warning));
    }
    if let (Some(output), Some(router)) = (&asked.output, &router) {
        spare(inputs, output)?;
        let name = |at, count| numbered(output, at, count);
        let work = RailWork {
            lattice,
            frame,
            router: router.chosen(),
        };
        let programs = proven_rail_programs(&work, &mut plan, &name).map_err(refused)?;
        let of_router = Document::Profile(Station::Router);
        told.add(of_router, programs.warnings);
        let as_warning = |fault: Finding| fault.as_warning("no program for this: ");
        told.add(of_router, programs.unreached.into_iter().map(as_warning));
        if programs.files.is_empty() {
            return Err(Failure::input(format!(
                "{}: no strip meets a rail far enough from its corners for a mortise: there is nothing to cut",
                asked.job.display()
            )));
        }
        write(inputs, programs.files)?;
    }
    let answer = match shown.format {
        Format::Text => text::sheet(&rail_sheet(&plan), shown.units),
        Format::Json => {
            let safety = plan.safety();
            json::answer("lapwright/rails/1", &plan, told.all(), safety.notes())?
        }
    };
    warn(&told, &documents, shown);
    print(&answer)?;
    let mut not_made = Vec::new();
    if !plan.without_program.is_empty() {
        not_made.push(format!(
            "not made: programs for the {}; the others are written\n",
            plan.without_program.join(" and the ")
        ));
    }
    let unsawn = plan.mitres.map(|mitres| mitres.without_settings);
    if let Some(members) = unsawn.filter(|members| !members.is_empty()) {
        not_made.push(format!(
            "not made: settings for the mitres of the {}; all else is told\n",
            members.join(" and the ")
        ));
    }
    if not_made.is_empty() {
        return Ok(());
    }
    Err(Failure {
        code: 1,
        text: not_made.concat(),
    })
}
