//! The sled at the saw: figures by hand, sheets as they are read at the bench, a small saw that plays them.
#![allow(
    unreachable_pub,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic
)]

mod frame_mitres;
mod made_up;
mod rack_route;
mod sheets;
mod sled_slanted;
mod step_order;
mod virtual_mitres;
mod virtual_saw;

#[path = "../support/mod.rs"]
mod support;
