//! Plane geometry: points, vectors, lines, rings. Millimetres; x to the right, y up; rings
//! counter-clockwise unless said otherwise.

pub mod convex;
pub mod offset;
mod point;
mod ring;
mod segment;
pub mod tolerance;

pub use point::{Point, Vector};
pub use ring::{bounds, signed_area};
pub use segment::crossing_fractions;
pub use tolerance::{PARALLEL_SINE, SAME_POSITION_MM};
