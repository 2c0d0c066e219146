//! What may stand in machines' profiles, kind by kind.

mod common;
mod guides;
mod router;
mod sheets;
mod sled;
mod spread;

pub(super) use guides::GUIDES;
pub(super) use router::ROUTER;
pub(super) use sheets::{LASER, SHEET_ROUTER};
pub(super) use sled::SLED;
