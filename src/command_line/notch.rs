//! `lapwright notch`

use super::answers::{Failure, Outcome, Shown, print, warn};
use super::arguments::{Format, NotchArguments};
use super::files::write;
use super::inputs::{self, FoundMachine, MachineFlags};
use crate::finding::{Document, all_in_document};
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::machines::{Router, Station};
use crate::making::{NotMade, Warnings, numbered, proven_programs};
use crate::planning::plan_router;
use crate::reading::Documents;
use crate::sheets::router_sheet;
use crate::writing::{json, text};

pub(super) fn run(asked: &NotchArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let job = inputs::job(inputs, &asked.job, shown)?;
    let flags = MachineFlags::machine(asked.machine.as_deref());
    let with_path = Some((&job, asked.job.as_path()));
    let router: FoundMachine<Router> = inputs::machine_for(inputs, &flags, with_path, shown)?;
    let documents = router.among(Documents::of_job(&job.source));
    let refused = |error| Failure::not_made(error, &documents, shown);
    let of_router = Document::Profile(Station::Router);
    let lattice = job.panel.lattice();
    let name = |at, count| numbered(&asked.output, at, count);
    let planned = plan_router(lattice, &router.profile.name, &router.machine, &name);
    let (plan, warnings) =
        planned.map_err(|faults| refused(NotMade::Cannot(all_in_document(faults, of_router))))?;
    let programs = proven_programs(&plan, lattice, router.chosen()).map_err(refused)?;
    let mut told = Warnings::default();
    told.add(Document::Job, job.warnings.clone());
    told.add(of_router, warnings);
    let answer = match shown.format {
        Format::Text => text::sheet(&router_sheet(&plan), shown.units),
        Format::Json => {
            let safety = SafetyNotes::for_router();
            json::answer("lapwright/notch/1", &plan, told.all(), safety.notes())?
        }
    };
    write(inputs, programs)?;
    warn(&told, &documents, shown);
    print(&answer)
}
