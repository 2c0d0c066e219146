//! What is taken for a slip of the pen.

/// More bays than this in one direction are taken for a slip of the pen.
pub const MOST_BAYS: usize = 500;

/// Longer strips than this are taken for a slip of the pen, mm.
pub const MOST_STRIP_LENGTH_MM: f64 = 10_000.0;
