//! Ways and times of a program's moves.

use super::Setting;
use crate::instructions::router::RouterSetup;
use crate::instructions::tool_path::{Motion, Move, Position};

impl Setting<'_> {
    /// Ways and time of a set-up's moves, from the first notch's start.
    pub(super) fn measure(&self, setup: &mut RouterSetup) {
        let moves: Vec<&Move> = setup
            .path
            .notches
            .iter()
            .flat_map(|notch| &notch.moves)
            .collect();
        setup.time_s = self.router.spindle.spin_up;
        let mut at: Option<Position> = None;
        for step in moves {
            let way = at.map_or(0.0, |at| at.distance(step.to));
            let (total, speed) = match step.motion {
                Motion::Rapid => (Some(&mut setup.rapid_mm), self.router.travel.rapid),
                Motion::Cut(feed) => (Some(&mut setup.cutting_mm), feed),
                Motion::Air(feed) => (None, feed),
            };
            if let Some(total) = total {
                *total += way;
            }
            setup.time_s += move_time(way, speed / 60.0, self.router.travel.acceleration);
            at = Some(step.to);
        }
    }
}

/// Seconds for a straight way from rest to rest at constant acceleration: a trapezoid of speed
/// where `speed` is reached, else a triangle. mm, mm/s, mm/s^2.
fn move_time(way: f64, speed: f64, acceleration: f64) -> f64 {
    if way >= speed * speed / acceleration {
        way / speed + speed / acceleration
    } else {
        2.0 * (way / acceleration).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_take_a_trapezoid_or_a_triangle() {
        // Elementary kinematics, computed apart from this code: 500 mm/s^2, 50 mm/s.
        for (way, wanted) in [(100.0, 2.1), (10.0, 0.3), (5.0, 0.2), (1.0, 0.0894)] {
            assert!((move_time(way, 50.0, 500.0) - wanted).abs() < 5e-5, "{way}");
        }
    }
}
