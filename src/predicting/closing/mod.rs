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
mod program;

pub use bounds::{Verdict, quick_verdict};
pub use program::margin;

/// One direction of a panel. Millimetres.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Joints {
    /// Of the holders, along the mates.
    pub along: Vec<f64>,
    /// How many mates.
    pub mates: usize,
    /// How far each notch is off its drawn place, holder by holder.
    pub off: Vec<f64>,
    /// Half the room of each joint, below zero where the mate is thicker than its notch can be squeezed to.
    pub half_room: Vec<f64>,
}

impl Joints {
    /// Holder, mate, offset and half the room of every joint.
    fn each(&self) -> impl Iterator<Item = (usize, usize, f64, f64)> {
        let mates = self.mates.max(1);
        let joints = self.off.iter().zip(&self.half_room).enumerate();
        joints.map(move |(at, (off, half))| (at / mates, at % mates, *off, *half))
    }

    fn off(&self, holder: usize, mate: usize) -> f64 {
        self.off
            .get(holder * self.mates + mate)
            .copied()
            .unwrap_or(0.0)
    }

    fn half_room(&self, holder: usize, mate: usize) -> f64 {
        self.half_room
            .get(holder * self.mates + mate)
            .copied()
            .unwrap_or(0.0)
    }
}

/// Whether a panel goes together in a direction, exactly: what the bounds leave open the program decides.
pub fn closes(joints: &Joints) -> bool {
    match quick_verdict(joints) {
        Verdict::Closes => true,
        Verdict::DoesNot => false,
        Verdict::Open => margin(joints) >= 0.0,
    }
}
