//! Machine profiles.

mod controller;
mod guides;
mod laser;
mod profile;
mod router;
mod sled;

pub use profile::{MachineProfile, read_machine};
