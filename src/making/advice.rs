//! Whether a key of the job would spare much work: the job is planned with it.

use super::workshop::Workshop;
use crate::instructions::advice::Advice;
use crate::lattice::{Bundling, Lattice, Panel};
use crate::machines::{Chosen, Router};
use crate::planning::plan_router;
use crate::reading::Job;

/// What `bundling = "runs"` would spare; nothing where it spares nothing or is there.
pub fn advice(job: &Job, workshop: &Workshop) -> Option<Advice> {
    let lattice = job.panel.lattice();
    let riding = lattice.riding();
    let mut design = job.panel.design().clone();
    if lattice.strips_are_cut || design.strip.joinery.bundling == Bundling::Runs {
        return None;
    }
    if riding.together >= riding.apart {
        return None;
    }
    // Strips that pieces cross have notches that a design alone does not tell of.
    let plain = Panel::new(design.clone()).ok()?;
    if plain.lattice().bundles != lattice.bundles {
        return None;
    }
    design.strip.joinery.bundling = Bundling::Runs;
    let together = Panel::new(design).ok()?;
    let setups = |lattice: &Lattice| {
        let Chosen { name, machine } = workshop.machine::<Router>()?;
        let planned = plan_router(lattice, name, machine, &|_, _| String::new());
        Some(planned.ok()?.0.setups.len())
    };
    let both = setups(lattice).zip(setups(together.lattice()));
    Some(Advice {
        bundles: [lattice.bundles.len(), together.lattice().bundles.len()],
        setups: both.map(|(apart, together)| [apart, together]),
        wood_mm: riding.wood,
    })
}
