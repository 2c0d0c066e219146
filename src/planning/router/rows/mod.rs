//! Pieces in rows on long sticks that lie apart on the machine: all mitres and laps in one clamping.

mod cuts;
mod faults;
mod order;
mod planner;
mod ways;

pub use planner::{PlannedRows, plan_rows};
pub use ways::{routed_ends, routed_ways};
