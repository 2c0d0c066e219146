//! From an inside and what a person would like to the panels of square cells that are worth making:
//! every candidate of a few plain kinds, ranked by one rule.

mod bay_wish;
mod candidate;
mod free;
mod looking;
mod ranking;
mod slots;

pub use bay_wish::{BayWish, NEAR, WIDEST_BORDER};
pub use candidate::{Candidate, Ruling};
pub use looking::candidates;
pub use ranking::{Rank, worth_showing};
