//! What kind of work a plan is.

use crate::instructions::sled::{NotchedFaces, SledPlan};

/// Whether saw and fence are set once, square, and no bundle is turned over while it is notched.
pub(super) fn is_plain(plan: &SledPlan) -> bool {
    plan.settings.len() == 1
        && !is_slanted(plan)
        && plan
            .bundles
            .iter()
            .all(|bundle| bundle.face != NotchedFaces::Both)
}

pub(super) fn is_slanted(plan: &SledPlan) -> bool {
    let mut fences = plan.settings.iter().map(|setting| &setting.fence);
    fences.any(|fence| fence.slanted.is_some())
}
