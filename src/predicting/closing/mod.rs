//! Whether rigid straight strips go together.
//!
//! Strips of one family (holders) have notches for those of the other (mates). Holder j may be shifted
//! along itself by s_j; mate i lies at X_i and may slant by a_i along its own length. With e_ij how far the
//! notch of holder j for mate i comes out of its drawn place, y_j where that holder lies along the mates,
//! and h_ij half of the joint's room, the panel goes together in that direction when shifts, places and
//! slants exist with
//!
//! `|X_i + a_i y_j - e_ij - s_j| <= h_ij` at every joint.
//!
//! That is a linear program. What it can spare, the margin, is the least of `h_ij - |residual|` over all
//! joints where that is as great as it can be. To add c to all X and all s, or c y_j to all s and c to all
//! a, changes nothing: the second is how the bare grid racks.

mod bounds;
mod decided;
mod joints;
mod program;

pub use bounds::{Verdict, quick_verdict};
pub use decided::closes;
pub use joints::Joints;
pub use program::margin;
