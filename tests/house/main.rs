//! What holds of the project itself: its shape, its names and licences, and the tools that its tests
//! compare with.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod architecture;
mod loops;
mod names_and_licences;
mod paths;
mod reference_tools;
mod sources;

#[path = "../support/mod.rs"]
mod support;
