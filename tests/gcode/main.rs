//! The proof of programs: reader, faults, mutants and attacks, beside a reference interpreter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp
)]

mod attacks;
mod bench;
mod faults;
mod mutants;
mod mutants_of_emitted;
mod proof;
mod reader;
mod reference;

#[path = "../support/mod.rs"]
mod support;
