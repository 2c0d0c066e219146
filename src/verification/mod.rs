//! The independent proof: reads a program afresh, works out what it removes, compares that with
//! what was wanted, and looks for what would harm work, cutter or hand.
//!
//! It knows the program's bytes and its own [inputs](inputs), and shares no code with planning
//! and writing, so that no mistake of theirs can hide here.

pub mod fault;
pub mod gcode;
