//! A notch that no other crosses.

use super::seen::{NotchOnPlane, Seen, SharedFloor};
use crate::verification::simulation::wood_step::WoodStep;

/// The outermost ends of some steps.
fn hull<'a>(steps: impl Iterator<Item = &'a WoodStep>) -> Option<[f64; 2]> {
    steps
        .map(|step| step.ends)
        .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])
}

/// Those of some steps, from left to right and apart, that overlap an interval.
fn overlapping(steps: &[WoodStep], ends: [f64; 2]) -> impl Iterator<Item = &WoodStep> {
    let first = steps.partition_point(|step| step.ends[1] <= ends[0]);
    let behind = steps.get(first..).unwrap_or_default().iter();
    behind.take_while(move |step| step.ends[0] < ends[1])
}

impl NotchOnPlane<'_> {
    /// What the wood shows of the notch where no other is; `steps` and `cuts` are all of the plane. `None`
    /// where nothing has been cut in its place.
    pub(super) fn look_alone(&self, steps: &[WoodStep], cuts: &[WoodStep]) -> Option<Seen> {
        let here = || overlapping(cuts, self.wanted);
        let top = hull(here())?;
        let line = here().next()?.line;
        let deepest = here().map(|cut| -cut.height).fold(0.0, f64::max);
        let deep_enough = self.tolerances.depth_mm - self.notch.depth_mm;
        let in_cut = overlapping(steps, top);
        let floor = hull(in_cut.filter(|step| step.height <= deep_enough));
        let floor = SharedFloor::of(self.wanted, top, floor, self.tolerances);
        let judged = overlapping(steps, floor.judged);
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
