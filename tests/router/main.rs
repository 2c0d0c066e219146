//! Notches, set-ups and mortises on a router: what is written proves clean, and does what the job asks.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod angled_bundles;
mod mortises;
mod one_program;
mod proof_of_jobs;
mod proof_of_slanted_jobs;
mod reference_programs;
mod reference_set_ups;
mod room;
mod routed_rows;
mod router_strategies;
mod shared_programs;

#[path = "../support/mod.rs"]
mod support;
