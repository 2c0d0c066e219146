//! Machine profiles.

mod controller;
mod guides;
mod laser;
mod long_sticks;
mod profile;
mod router;
mod sled;

pub use profile::{MachineProfile, read_machine};
