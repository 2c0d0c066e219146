//! Ways and times of a program's moves.

use super::Setting;
use crate::instructions::tool_path::{Motion, NotchPath, Position};

/// What the moves of a program come to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Ways {
    /// At cutting feed, through wood or in line with it.
    pub(super) cutting_mm: f64,
    /// In rapid moves.
    pub(super) rapid_mm: f64,
    /// Of all moves.
    pub(super) time_s: f64,
}

impl Setting<'_> {
    /// Ways and time of notches' moves, from the first notch's start.
    pub(super) fn ways(&self, notches: &[NotchPath]) -> Ways {
        let mut ways = Ways::default();
        let mut at: Option<Position> = None;
        for step in notches.iter().flat_map(|notch| &notch.moves) {
            let way = at.map_or(0.0, |at| at.distance(step.to));
            let speed = match step.motion {
                Motion::Rapid => {
                    ways.rapid_mm += way;
                    self.router.travel.rapid
                }
                Motion::Cut(feed) => {
                    ways.cutting_mm += way;
                    feed
                }
                Motion::Air(feed) => feed,
            };
            ways.time_s += move_time(way, speed / 60.0, self.router.travel.acceleration);
            at = Some(step.to);
        }
        ways
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
