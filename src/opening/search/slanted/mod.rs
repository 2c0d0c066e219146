//! Rhombs and triangles for an inside: candidates and their order.

mod candidate;
mod looking;
mod ranking;
mod shortest;
#[cfg(test)]
mod tests;
mod wish;

pub use candidate::{Filled, SlantedCandidate, SlantedRuling};
pub use looking::{FREE_ANGLES, slanted_candidates};
pub use ranking::{SlantedRank, slanted_worth_showing};
pub use wish::{Slanted, SlantedBayWish};
