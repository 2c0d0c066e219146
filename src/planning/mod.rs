//! What each machine is to do: pure functions from geometry and a machine's figures.

pub mod nesting;
pub mod outlines;
