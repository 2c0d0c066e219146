//! A notch that no other crosses.

use super::seen::{NotchOnPlane, Seen, SharedFloor};
use crate::verification::simulation::wood_profile::WoodProfile;
use crate::verification::simulation::wood_step::WoodStep;

/// The outermost ends of some steps.
fn hull<'a>(steps: impl Iterator<Item = &'a WoodStep>) -> Option<[f64; 2]> {
    steps
        .map(|step| step.ends)
        .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

impl NotchOnPlane<'_> {
    /// What the wood shows of the notch where no other is; `cuts` are all of the plane. `None`
    /// where nothing has been cut in its place.
    pub(super) fn look_alone(&self, wood: &WoodProfile, cuts: &[WoodStep]) -> Option<Seen> {
        let here: Vec<&WoodStep> = cuts
            .iter()
            .filter(|cut| cut.overlaps(self.wanted))
            .collect();
        let top = hull(here.iter().copied())?;
        let line = here.first()?.line;
        let deepest = here.iter().map(|cut| -cut.height).fold(0.0, f64::max);
        let deep_enough = self.tolerances.depth_mm - self.notch.depth_mm;
        let steps = wood.steps();
        let in_cut = steps.iter().filter(|step| step.overlaps(top));
        let floor = hull(in_cut.filter(|step| step.height <= deep_enough));
        let floor = SharedFloor::of(self.wanted, top, floor, self.tolerances);
        let judged = steps.iter().filter(|step| step.overlaps(floor.judged));
        let shallowest = judged
            .map(|step| -step.height)
            .fold(f64::INFINITY, f64::min);
        Some(Seen {
            top,
            floor: floor.ends,
            depths: [deepest, shallowest.min(deepest)],
            line,
        })
    }
}
