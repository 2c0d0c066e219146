//! From the design to strips and to pieces in the cells: closed forms, what holds for every job,
//! outside geometry.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bad_patterns;
mod bad_rules;
mod choices;
mod infill;
mod lattices;
mod mirrored_laps;
mod openings;
mod overviews;
mod pattern_maps;
mod proof_of_pieces;
mod properties;
mod reference_lattices;
mod reference_pieces;
mod solids;

#[path = "../support/mod.rs"]
mod support;
