//! Machine profiles.

mod controller;
mod guides;
mod laser;
mod long_sticks;
mod profile;
mod router;
mod sled;
mod spread;

pub use profile::{MachineProfile, read_machine};
