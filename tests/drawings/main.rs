//! Outlines for laser and router: written, read back, measured by outside readers, damaged.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod cut_sheets;
mod dxf_roundtrip;
mod frame_members;
mod lapped_blanks;
mod mutants_of_drawings;
mod proof_of_jigs;
mod reference_jigs;
mod reference_outlines;
mod reference_profiles;
mod reference_routed;
mod twin_drawings;

#[path = "../support/mod.rs"]
mod support;
