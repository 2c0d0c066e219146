//! What all bundles of a panel share on a sled.

use super::scatter::Scatter;
use crate::instructions::saw::SawSetting;
use crate::lattice::Lattice;
use crate::machines::{Rack, Sled, SledWork, Stop};

/// What all bundles share.
pub(super) struct SledPlanner<'a> {
    pub(super) lattice: &'a Lattice,
    pub(super) sled: &'a Sled,
    pub(super) stop: Stop,
    /// Where its key serves these notches.
    pub(super) rack: Option<&'a Rack>,
    pub(super) settings: &'a [SawSetting],
    pub(super) work: SledWork,
}

impl SledPlanner<'_> {
    /// Of one of the sled's figures plus or minus.
    pub(super) fn scatter(&self, half: f64) -> Scatter {
        Scatter::of(half, self.sled.spread.plus_minus)
    }

    /// Whether any notch is cut with the fence turned.
    pub(super) fn has_slants(&self) -> bool {
        let mut fences = self.settings.iter().map(|setting| &setting.fence);
        fences.any(|fence| fence.slanted.is_some())
    }
}
