//! A panel at a glance: what there is of it, and what it weighs.

mod cuts;
mod members;
mod parts;
mod trimmed;
pub(in crate::planning) mod weighed;
mod weight;

pub use parts::{OverviewOrder, overview};
