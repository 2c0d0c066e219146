//! Lapwright works out what a kumiko lattice needs at each machine: sled settings, outlines,
//! notching programs.
//!
//! Data flows one way: text to a validated design, to geometry, to a machine's plan, to written
//! files, to a proof that reads those files afresh.
#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::panic,
        clippy::float_cmp
    )
)]

pub mod command_line;
pub mod dialects;
pub mod finding;
pub mod geometry;
pub mod infill;
pub mod inputs;
pub mod instructions;
pub mod lattice;
pub mod machines;
pub mod making;
pub mod phrase;
pub mod planning;
pub mod proving;
pub mod reading;
pub mod sheets;
pub mod units;
pub mod verification;
pub mod writing;
