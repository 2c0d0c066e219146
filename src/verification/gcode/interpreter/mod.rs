//! Carries blocks out, in the order of NISTIR 6556, 3.8 (table 8), and tells what happens.

mod arcs_and_cycles;
mod control;
mod execute;
mod modes;
mod zeros_and_homes;

pub use control::Interpreter;
