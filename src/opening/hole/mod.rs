//! The largest upright rectangle in a hole that is out of square.

mod rectangle;
#[cfg(test)]
mod tests;

pub use rectangle::{HoleMeasures, Scribe, UprightRectangle};
