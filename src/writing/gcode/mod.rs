//! Tool paths as programs in the portable core of RS274/NGC.
//!
//! Layout and order after NISTIR 6556 (the NIST RS274NGC interpreter, version 3): units in a block
//! of their own before anything that depends on them, every mode stated that the program relies
//! on, spindle and dwell in blocks of their own, one motion word a block.

mod comment;
mod numbers;
mod program;

pub use program::{program, write_program};
