//! A panel at a glance: what there is of it, and what it weighs.

mod cuts;
mod members;
mod parts;
mod trimmed;
mod weight;
mod woods;

pub use parts::{OverviewOrder, overview};
