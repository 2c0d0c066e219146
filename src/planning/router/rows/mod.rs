//! Pieces in rows on long sticks that lie apart on the machine: all mitres and laps in one clamping.

mod cuts;
mod faults;
mod order;
mod planner;

pub use planner::{PlannedRows, plan_rows};
