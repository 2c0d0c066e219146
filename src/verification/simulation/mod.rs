//! What is left of a bundle of strips after a flat cutter has gone its way: exact on planes along
//! the strips, in closed form, without a raster.
//!
//! Every strip is looked at on both its faces and on planes between them, close enough together
//! that no cutter fits between two. On each plane the wood is a [`wood_profile::WoodProfile`].

pub mod bundle;
pub mod footprint;
mod height_steps;
pub mod interval;
pub mod piece;
pub mod plane;
mod slanted_floor;
pub mod sweep;
mod upright_arc;
pub mod wood_profile;
pub mod wood_step;
