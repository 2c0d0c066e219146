//! A strip on a saw, by plane geometry of its own: laid with the notched face to the blade, its end
//! on the stop, its side on the fence; then the notch's four corners are looked for in the frame of
//! the blade. Nothing here uses the planner's formulas.
//!
//! Saw's frame: seen from above, X to the operator's right, Y away from the operator; the blade's
//! middle is X = 0.

use lapwright::instructions::saw::{Hand, SawSetting};
use lapwright::lattice::{Face, Notch};

/// What the bench sets and lays.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    pub setting: &'a SawSetting,
    pub thickness: f64,
    pub kerf: f64,
    pub powered: bool,
    /// Stop's face to the near side of the kerf, along the fence.
    pub stop: f64,
    /// Which strip of a block, from 0 at the fence.
    pub strip: usize,
}

/// Where the notch's corners lie across the blade: the two of the wall that is to the left, and
/// the two of the other.
#[derive(Debug, Clone, Copy)]
pub struct Walls {
    pub left: [f64; 2],
    pub right: [f64; 2],
}

impl Bench<'_> {
    /// X of a point of the strip: `u` along it from its datum end, `v` across it from its centre
    /// line, counter-clockwise from u as seen from the panel's front.
    pub fn x(&self, face: Face, u: f64, v: f64) -> f64 {
        // A sled has the notched face down, so the other is seen; a hand saw has it up.
        let seen = if self.powered { face.opposite() } else { face };
        let across = match seen {
            Face::Front => v,
            // Rolled over along its length, datum end still to the left.
            Face::Back => -v,
        };
        // Strips beyond the one at the fence: a sled's fence stands on the operator's side, a
        // hook's on the far side.
        let away = if self.powered { 1.0 } else { -1.0 };
        let (mut along, mut across) = (u, across);
        if let Some(slanted) = &self.setting.fence.slanted {
            let step = self.strip as f64 * slanted.step_mm;
            along += match slanted.step_toward {
                Hand::Right => step,
                Hand::Left => -step,
            };
        }
        across += away * self.thickness * self.strip as f64;
        // From the fence's line to the point, square to the fence, away from the operator.
        let from_fence = across + away * self.thickness / 2.0;
        let turn = match self
            .setting
            .fence
            .slanted
            .as_ref()
            .map(|fence| fence.end_away)
        {
            None => 0.0,
            Some(Hand::Right) => self.setting.fence.from_square,
            Some(Hand::Left) => -self.setting.fence.from_square,
        };
        // The fence's line meets the kerf's near side at X = -kerf / 2; the stop stands `stop`
        // before that along it.
        let fence_x = -self.kerf / 2.0 + (along - self.stop) * turn.cos();
        fence_x - from_fence * turn.sin()
    }

    /// The walls of a notch, whose sides run at its angle from u.
    pub fn walls(&self, notch: &Notch) -> Walls {
        let half = self.thickness / 2.0;
        let corner = |side: f64, v: f64| {
            let u =
                notch.centre + side * notch.width / 2.0 + v * notch.angle.cos() / notch.angle.sin();
            self.x(notch.face, u, v)
        };
        Walls {
            left: [corner(-1.0, -half), corner(-1.0, half)],
            right: [corner(1.0, -half), corner(1.0, half)],
        }
    }
}
