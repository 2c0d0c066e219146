//! Sticks cut into parts: against every way there is, published instances, and a shop that cuts what the plan
//! says.
#![allow(
    unreachable_pub,
    dead_code,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::float_cmp,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss
)]

mod brute_force;
mod faults;
mod programs;
mod properties;
mod published;
mod shop;

#[path = "../support/mod.rs"]
mod support;
