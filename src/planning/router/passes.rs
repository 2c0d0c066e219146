//! The passes of a notch: how deep, how many, how fast.

use super::clamped_bundle::ClampedBundle;
use super::cutting;
use super::notch_path::lateral;
use super::planner::NotchingPlanner;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::router::Passes;
use crate::machines::Router;
use crate::phrase;
use crate::units::Mm;

impl NotchingPlanner<'_> {
    /// Of the first notch, where it is not that of the roughing.
    pub(super) fn first_wall_feed(&self, held: &ClampedBundle<'_>) -> Option<f64> {
        let first = held.notches().next()?;
        let feed = self.wall_feed(held.square_width(first));
        (feed > self.data.feed).then_some(feed)
    }

    /// The cutter may bend too far in the deepest passes of all.
    pub(super) fn bending(&self, held: &[ClampedBundle<'_>]) -> Option<Finding> {
        let depth = held
            .iter()
            .map(|held| self.depth_per_pass(held).0)
            .fold(0.0, f64::max);
        cutting::deflection_warning(self.router, self.deflection(depth), depth)
    }

    /// Keys whose errors add up to more than the laps' clearance takes.
    pub(super) fn adding_up(&self, held: &[ClampedBundle<'_>]) -> Option<Finding> {
        let error = self.router.fixture.key?.error;
        let hops = held
            .iter()
            .filter_map(|held| Some(held.on_key?.hops))
            .max()?;
        let worst = hops as f64 * error;
        let clearance = self.lattice.section.clearance.max(0.0);
        if worst <= clearance + SAME_POSITION_MM {
            return None;
        }
        let text = phrase!(
            "over {} key{} notches may be off by {} against those of the first set-up; the laps have {} of clearance",
            hops,
            if hops == 1 { "" } else { "s" },
            Mm(worst),
            Mm(clearance)
        );
        let finding = Finding::warning("key-error-adds-up", "fixture.key_error", text);
        Some(finding.hint("a key that fits closer, a longer machine, or the sled"))
    }

    /// Depth of a pass, and how many there are before the floor's own.
    pub(super) fn depth_per_pass(&self, held: &ClampedBundle<'_>) -> (f64, usize) {
        let cutting = self.router.cutting;
        let roughed = (held.depth() - cutting.floor_allowance).max(0.0);
        let steps = depth_steps(roughed, cutting.depth_per_pass);
        (roughed / steps as f64, steps)
    }

    pub(super) fn deflection(&self, depth: f64) -> f64 {
        cutting::deflection(self.router, self.data.feed, self.data.rpm, depth)
    }

    /// How the first notch is cut; all notches of a set-up are alike.
    pub(super) fn passes(&self, held: &ClampedBundle<'_>, depth_steps: usize) -> Passes {
        let Router { tool, cutting, .. } = self.router;
        let width = held
            .notches()
            .next()
            .map_or(0.0, |notch| held.square_width(notch));
        let (roughing, wall) = lateral(width, tool.diameter, cutting.wall_allowance);
        Passes {
            depths: depth_steps + usize::from(cutting.floor_allowance > 0.0),
            roughing: roughing.len(),
            walls: wall.map_or(0, |_| 2),
            wall_allowance_mm: wall.map_or(0.0, |wall| wall.min(cutting.wall_allowance)),
            floor_allowance_mm: cutting.floor_allowance,
            returns_in_air: cutting.returns_in_air,
            spring_pass: cutting.spring_pass,
        }
    }
}

/// Even depth steps, none deeper than `most`.
pub(super) fn depth_steps(depth: f64, most: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
    let steps = (depth / most - 1e-9).ceil().max(1.0) as usize;
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depth_is_divided_evenly() {
        assert_eq!(depth_steps(6.0, 1.5), 4);
        assert_eq!(depth_steps(6.0, 2.5), 3);
        assert_eq!(depth_steps(0.5, 2.5), 1);
    }
}
