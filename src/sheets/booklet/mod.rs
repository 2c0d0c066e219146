//! The set-up sheet that hangs beside the machines, from the plans and the machines' plain sheets.
//!
//! No figure is worked out here: tables, settings and steps are those of the plain sheets, and what
//! pictures and checks say besides is taken from the plans.

mod assembly;
mod blade_view;
mod guide_view;
mod machines;
mod pencil;
mod router;
mod router_view;
mod sled;
mod sled_view;
mod templates;

use crate::infill::Infilling;
use crate::instructions::label_runs;
use crate::instructions::laser::LaserPlan;
use crate::instructions::page::Booklet;
use crate::instructions::pare::ParePlan;
use crate::instructions::rails::RailPlan;
use crate::instructions::router::RouterPlan;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sled::SledPlan;
use crate::lattice::{Bundle, Lattice};
use crate::machines::{Router, Sled};

/// A job and what its machines have to do.
#[derive(Debug, Clone, Copy)]
pub struct Work<'a> {
    /// What is built.
    pub lattice: &'a Lattice,
    /// The sled, if the job names one.
    pub sled: Option<(&'a SledPlan, &'a Sled)>,
    /// The router.
    pub router: Option<(&'a RouterPlan, &'a Router)>,
    /// What a laser cuts: strips, guide blocks, pieces.
    pub laser: &'a [LaserPlan],
    /// The pieces, and what their guides have to be set to.
    pub pare: Option<&'a ParePlan>,
    /// The frame's rails, where the job has a frame.
    pub rails: Option<&'a RailPlan>,
    /// The cells with their pieces.
    pub filled: Option<&'a Infilling>,
}

impl Work<'_> {
    fn labels(&self, bundle: &Bundle) -> String {
        label_runs(&self.lattice.labels(bundle))
    }
}

/// The sheet for a job.
pub fn booklet(work: &Work<'_>) -> Booklet {
    let mut parts = Vec::new();
    parts.extend(
        work.sled
            .map(|(plan, sled)| sled::part_of(work, plan, sled)),
    );
    parts.extend(machines::laser(work.laser));
    parts.extend(
        work.router
            .map(|(plan, router)| router::part_of(work, plan, router)),
    );
    parts.extend(work.pare.map(machines::guides));
    parts.extend(work.rails.map(machines::rails));
    parts.push(assembly::part(work));
    Booklet {
        title: work.lattice.title.clone(),
        parts,
        templates: templates::templates(work),
        templates_safety: SafetyNotes::for_assembly(),
    }
}
