//! Drawings as DXF: every contour a polyline, every kind of work a layer, units said in every
//! way the format has.
//!
//! Structure and group codes after the published DXF Reference (HEADER, TABLES, BLOCKS, ENTITIES,
//! OBJECTS; LWPOLYLINE, POLYLINE, VERTEX). ASCII, LF line ends, nothing that depends on time or
//! place: the same drawing always gives the same bytes.

mod drawing;
mod layers;
mod skeleton;
mod tag_writer;
mod version;

pub use drawing::{dxf, write_dxf};
#[cfg(test)]
pub(super) use layers::BRIDGE_COLOUR;
pub(super) use layers::layer_colour;
pub use version::DxfVersion;
