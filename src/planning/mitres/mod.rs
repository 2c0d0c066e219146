//! Mitres of pieces by machine: in rows on long sticks, or on a stick's end.

mod kinds;
pub(in crate::planning) mod lying;
mod order;
mod reach;
pub(in crate::planning) mod row;
mod rows;
mod settings;
mod sled;
mod stick_ends;
mod ways;

pub use sled::plan_mitres;
pub use ways::{machined_ends, pared_ways, sawn_ways};
