//! From an inside and what a person would like to the panels that are worth making: every candidate of a
//! few plain kinds, ranked by one rule for square cells and by one for rhombs and triangles.

mod bay_wish;
mod candidate;
mod frame;
mod free;
mod looking;
mod ranking;
mod slanted;
mod slots;

pub use bay_wish::{BayWish, NEAR, WIDEST_BORDER};
pub use candidate::{Candidate, Ruling};
pub use looking::candidates;
pub use ranking::{Rank, worth_showing};
pub use slanted::{
    FREE_ANGLES, Filled, Slanted, SlantedBayWish, SlantedCandidate, SlantedRank, SlantedRuling,
    slanted_candidates, slanted_worth_showing,
};
