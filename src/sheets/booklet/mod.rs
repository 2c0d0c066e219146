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
mod work;

use crate::instructions::page::Booklet;
use crate::instructions::safety::SafetyNotes;

pub use work::Work;

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
