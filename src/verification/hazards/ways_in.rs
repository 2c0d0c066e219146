//! Where the cutter may go down into the wood.

use crate::verification::simulation::sweep::KnownMove;
use crate::verification::workpiece::{ExpectedMortise, ExpectedNotch, Workpiece};

/// A ramp that comes so near to a wall of a mortise or notch, mm, is within it: places are printed
/// with three decimals.
const AT_WALL_MM: f64 = 0.002;

/// Where the cutter may go down into the wood, along a ramp.
#[derive(Default)]
pub(in crate::verification) struct WaysIn<'a> {
    pub(in crate::verification) mortises: &'a [ExpectedMortise],
    pub(in crate::verification) slots: Vec<NotchSlot>,
}

impl WaysIn<'_> {
    /// Whether a move of a cutter of this radius keeps within one of them.
    pub(super) fn admit(&self, way: &KnownMove, radius: f64) -> bool {
        let in_mortise = |mortise: &ExpectedMortise| {
            let walls = [mortise.x_mm, mortise.y_mm];
            walls.iter().enumerate().all(|(axis, [low, high])| {
                let [least, most] = way.range(axis);
                least - radius >= low - AT_WALL_MM && most + radius <= high + AT_WALL_MM
            })
        };
        self.mortises.iter().any(in_mortise)
            || self.slots.iter().any(|slot| slot.holds(way, radius))
    }

    /// What would do instead of a plunge.
    pub(super) fn advice(&self) -> &'static str {
        if !self.mortises.is_empty() {
            "go down along a ramp inside the mortise"
        } else if self.slots.is_empty() {
            "enter from beside the bundle"
        } else {
            "enter from beside the bundle, or along a ramp that falls by at most 1 in 10 in the line of \
             the notch"
        }
    }
}

/// A notch through all strips of a bundle, seen from above: its middle line and half its width.
pub(in crate::verification) struct NotchSlot {
    middle: [f64; 2],
    direction: [f64; 2],
    half: f64,
}

impl NotchSlot {
    /// `None` where the strips are not stepped for its angle, so that it is no straight slot.
    pub(in crate::verification) fn of(
        notch: &ExpectedNotch,
        workpiece: &Workpiece,
    ) -> Option<NotchSlot> {
        let (sine, cosine) = notch.angle_rad.sin_cos();
        let step = workpiece.thickness_mm * cosine / sine;
        let in_line = workpiece.count == 1 || (step - workpiece.step_back_mm).abs() < AT_WALL_MM;
        in_line.then(|| NotchSlot {
            middle: [
                workpiece.strip_start(0) + notch.centre_mm,
                workpiece.thickness_mm / 2.0,
            ],
            direction: [cosine, sine],
            half: notch.width_mm * sine / 2.0,
        })
    }

    /// Whether a straight way of a cutter of this radius keeps between its walls.
    fn holds(&self, way: &KnownMove, radius: f64) -> bool {
        let off = |place: &[f64; 3]| {
            let x = place[0] - self.middle[0];
            let y = place[1] - self.middle[1];
            (x * self.direction[1] - y * self.direction[0]).abs()
        };
        let room = self.half - radius + AT_WALL_MM;
        way.arc.is_none() && off(&way.from) <= room && off(&way.to) <= room
    }
}
