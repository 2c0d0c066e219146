//! What all bundles of a panel share on a sled.

use crate::instructions::saw::SawSetting;
use crate::lattice::Lattice;
use crate::machines::{Rack, Sled, Stop};

/// What all bundles share.
pub(super) struct Planner<'a> {
    pub(super) lattice: &'a Lattice,
    pub(super) sled: &'a Sled,
    pub(super) stop: Stop,
    /// Where its key serves these notches.
    pub(super) rack: Option<&'a Rack>,
    pub(super) settings: &'a [SawSetting],
}
