//! Machine profiles.

mod controller;
mod guides;
mod laser;
mod long_sticks;
mod profile;
mod records;
mod router;
mod sled;

pub use profile::{MachineProfile, WrittenLength, read_machine};
