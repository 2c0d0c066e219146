//! Corners that a control may round while the cutter touches a strip.

use super::watch::{AT_TOP_MM, MoveBefore, Watch};
use crate::phrase;
use crate::verification::faults::figure;
use crate::verification::gcode::codes::PathControl;
use crate::verification::gcode::state::{Point3, ToolMove};
use crate::verification::simulation::interval::distance_outside;
use crate::verification::simulation::sweep::KnownMove;

/// Turns smaller than this, rad, are no corners.
const NO_CORNER: f64 = 0.02;

impl Watch<'_> {
    /// A control that may leave a corner by up to `e` leaves the programmed path up to
    /// e / (sqrt 2 - 1) before a right angle (the bisector of a circle that touches both legs);
    /// there the cutter must be clear of the strips.
    #[allow(clippy::float_cmp)] // exact: a move begins where the one before ended
    pub(super) fn check_corner(&mut self, step: &ToolMove, way: &KnownMove) {
        let Some([start, end]) = way.directions() else {
            return;
        };
        let leg = MoveBefore {
            direction: end,
            length: way.length(),
            lowest: way.range(2)[0],
            feed: step.feed,
            end: way.to,
            mode: step.path_mode,
        };
        let before = self.before.replace(leg);
        let Some(before) = before.filter(|before| before.end == way.from) else {
            return;
        };
        let feed = [before.feed, leg.feed]
            .into_iter()
            .flatten()
            .reduce(f64::min);
        let bound = self.bound(before.mode, feed);
        let allowed = self.limits.blending_tolerance_mm;
        let Some((bound, allowed)) = bound.zip(allowed).filter(|(b, a)| b > a) else {
            return;
        };
        let along: f64 = (0..3)
            .map(|axis| before.direction[axis] * start[axis])
            .sum();
        let turn = along.clamp(-1.0, 1.0).acos();
        let reach = (bound / (2_f64.sqrt() - 1.0)).min(before.length.min(leg.length) / 2.0);
        // Farther from the corner than this it keeps to its way.
        let lowest = before.lowest.min(leg.lowest).max(way.from[2] - reach);
        let in_wood = lowest < -AT_TOP_MM && self.is_near(way.from, reach);
        if turn > NO_CORNER && in_wood {
            let text = phrase!(
                "the control may round this corner by {} where the cutter touches a strip; {} is \
                 allowed: turn in the air, or say G61",
                figure(bound),
                figure(allowed)
            );
            self.fault("blended-corner", step.line, text);
        }
    }

    /// By how much the control may leave a corner. One that keeps the slower of two feeds v
    /// through a right angle, held to the acceleration a, leaves it by up to v^2 / 2a.
    fn bound(&self, mode: Option<PathControl>, feed: Option<f64>) -> Option<f64> {
        match mode {
            Some(PathControl::Exact) if !self.limits.exact_path_ignored => None,
            Some(PathControl::Blended(Some(bound))) => Some(bound),
            Some(PathControl::Exact | PathControl::Blended(None)) | None => {
                let own = self.limits.acceleration.zip(feed);
                own.map(|(acceleration, feed)| (feed / 60.0).powi(2) / (2.0 * acceleration))
                    .or(self.limits.unbounded_blend_mm)
            }
        }
    }

    /// Whether the cutter, up to `reach` from this place, touches a strip as seen from above.
    fn is_near(&self, place: Point3, reach: f64) -> bool {
        let near = |hull: &[[f64; 2]; 2]| {
            let off = [0, 1].map(|axis: usize| distance_outside(place[axis], hull[axis]));
            off[0].hypot(off[1]) < self.limits.tool_radius_mm() + reach
        };
        self.wood_in.iter().any(near)
    }
}
