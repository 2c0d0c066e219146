//! Machine profiles.

mod controller;
mod guides;
mod laser;
mod long_sticks;
mod profile;
mod records;
mod router;
mod sled;
mod spread;

pub use profile::{MachineProfile, WrittenLength, read_machine};
