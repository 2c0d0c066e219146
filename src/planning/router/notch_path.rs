//! The tool's way through one notch: a slot clean through the bundle, entered and left in air, at
//! any angle to the strips. The way turns round on two lines along X, one before and one behind the
//! bundle.

use super::bed::StripBed;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::instructions::tool_path::{Motion, Move, NotchPath, Notches, Position};
use float_cmp::ApproxEq;

/// What the path of a notch depends on. Millimetres in the program's frame, mm/min.
#[derive(Debug, Clone, Copy)]
pub(super) struct NotchCut {
    /// Where the strips lie, and at which angle the slot crosses them.
    pub(super) bed: StripBed,
    /// Of the notch, from the strip's datum end.
    pub(super) centre: f64,
    /// Square to its walls.
    pub(super) width: f64,
    pub(super) depth: f64,
    pub(super) tool_diameter: f64,
    /// The tool's centre turns round at these positions across the bundle, both in air.
    pub(super) low_y: f64,
    pub(super) high_y: f64,
    pub(super) safe_height: f64,
    /// Number of depth steps.
    pub(super) depth_steps: usize,
    /// Left on each wall by the roughing passes.
    pub(super) wall_allowance: f64,
    /// Left on the floor for a pass of its own; 0 for none.
    pub(super) floor_allowance: f64,
    /// Roughing passes run to the back only.
    pub(super) returns_in_air: bool,
    /// The walls at full depth are cut twice, or the slot where there are none.
    pub(super) spring_pass: bool,
    /// Begins behind the bundle instead of before it.
    pub(super) from_behind: bool,
    pub(super) feed: f64,
    /// For the wall passes.
    pub(super) wall_feed: f64,
    pub(super) plunge_feed: f64,
}

/// The notches of a program by their index, from 1, in the order in which they are cut.
#[derive(Debug)]
pub(super) struct NotchCuts(pub(super) Vec<(usize, NotchCut)>);

impl Notches for NotchCuts {
    fn notch(&self, at: usize) -> Option<NotchPath> {
        let (index, slot) = self.0.get(at)?;
        Some(NotchPath {
            index: *index,
            moves: notch_moves(slot),
        })
    }
}

/// Neighbouring roughing passes are at most this share of the tool's diameter apart, so that they
/// overlap. Common practice, no source.
const ROUGHING_STEP: f64 = 0.8;

/// Positions of the tool's centre, from the notch's centre: roughing passes, and half the distance
/// between the wall passes if the tool is narrower than the notch.
///
/// A tool as wide as the notch makes it in one pass. Else the outer roughing passes leave the
/// allowance on both walls, or run down the middle where the walls have no more than it.
pub(super) fn lateral(width: f64, diameter: f64, allowance: f64) -> (Vec<f64>, Option<f64>) {
    let wall = (width - diameter) / 2.0;
    if wall <= SAME_POSITION_MM {
        return (vec![0.0], None);
    }
    let outer = wall - allowance;
    if outer <= SAME_POSITION_MM {
        return (vec![0.0], Some(wall));
    }
    let gaps = (2.0 * outer / (ROUGHING_STEP * diameter) - 1e-9)
        .ceil()
        .max(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
    let count = gaps as usize + 1;
    let column = |n: usize| -outer + 2.0 * outer * n as f64 / gaps;
    ((0..count).map(column).collect(), Some(wall))
}

/// How wide the slices are that the wall passes take; `None` where there are no wall passes.
pub(super) fn wall_slice(width: f64, diameter: f64, allowance: f64) -> Option<f64> {
    let (_, wall) = lateral(width, diameter, allowance);
    wall.map(|wall| wall.min(allowance))
}

/// Depths of the passes, from above: so many even steps down to what is left on the floor, then the
/// floor.
pub(super) fn levels(depth: f64, steps: usize, floor_allowance: f64) -> Vec<f64> {
    let roughed = depth - floor_allowance;
    if roughed <= SAME_POSITION_MM {
        return vec![depth];
    }
    let level = |step: usize| roughed * step as f64 / steps as f64;
    let mut levels: Vec<f64> = (1..=steps).map(level).collect();
    if floor_allowance > SAME_POSITION_MM {
        levels.push(depth);
    }
    levels
}

/// All moves of a notch. At every depth: the roughing passes there and back, then the wall passes
/// in the climb direction. With a clockwise spindle (seen from above) an edge on the tool's right
/// moves backwards, with the work's relative motion, so stock lies on the right of a climb cut:
/// the right wall, of larger X, is cut toward larger Y, the other one back.
pub(super) fn notch_moves(slot: &NotchCut) -> Vec<Move> {
    let (roughing, wall) = lateral(slot.width, slot.tool_diameter, slot.wall_allowance);
    let first = roughing.first().copied().unwrap_or(0.0);
    let y = if slot.from_behind {
        slot.high_y
    } else {
        slot.low_y
    };
    let start = Position {
        x: slot.bed.slot_x(slot.centre, first, y),
        y,
        z: slot.safe_height,
    };
    let mut path = NotchWay {
        moves: Vec::new(),
        at: start,
        offset: first,
        slot: *slot,
    };
    path.go(Motion::Rapid, start);
    let levels = levels(slot.depth, slot.depth_steps, slot.floor_allowance);
    for (at, level) in levels.iter().enumerate() {
        let z = -level;
        path.come_back(first);
        // Above the last depth's slot ends, still beside the bundle: sideways first, then down.
        path.sideways(first);
        path.go(Motion::Air(slot.plunge_feed), Position { z, ..path.at });
        for &offset in &roughing {
            path.rough(offset, z);
        }
        let last = at + 1 == levels.len();
        for _ in 0..if last && slot.spring_pass { 2 } else { 1 } {
            for offset in path.wall_order(wall) {
                path.sideways(offset);
                path.across(slot.wall_feed);
            }
        }
        if last && slot.spring_pass && wall.is_none() {
            path.rough(first, z);
        }
    }
    path.go(
        Motion::Rapid,
        Position {
            z: slot.safe_height,
            ..path.at
        },
    );
    path.moves
}

struct NotchWay {
    moves: Vec<Move>,
    at: Position,
    /// Of the tool's centre, to the right of the slot's middle, seen along the slot toward the back.
    offset: f64,
    slot: NotchCut,
}

impl NotchWay {
    fn go(&mut self, motion: Motion, to: Position) {
        self.moves.push(Move { motion, to });
        self.at = to;
    }

    /// Of the pass that the tool is on.
    fn x(&self, y: f64) -> f64 {
        self.slot.bed.slot_x(self.slot.centre, self.offset, y)
    }

    fn is_low(&self) -> bool {
        self.at.y < (self.slot.low_y + self.slot.high_y) / 2.0
    }

    /// To another pass, in air beside the bundle.
    fn sideways(&mut self, offset: f64) {
        self.offset = offset;
        let x = self.x(self.at.y);
        if x.approx_ne(self.at.x, POSITION) {
            self.go(Motion::Air(self.slot.feed), Position { x, ..self.at });
        }
    }

    /// Where all roughing passes run to the back: over the bundle to its front.
    fn come_back(&mut self, offset: f64) {
        if !self.slot.returns_in_air || self.is_low() {
            return;
        }
        let z = self.slot.safe_height;
        self.go(Motion::Rapid, Position { z, ..self.at });
        self.offset = offset;
        let y = self.slot.low_y;
        let x = self.x(y);
        self.go(Motion::Rapid, Position { x, y, z });
    }

    /// A roughing pass at a depth that the tool is at already, unless it has to come back first.
    fn rough(&mut self, offset: f64, z: f64) {
        self.come_back(offset);
        self.sideways(offset);
        if self.at.z > z {
            let down = Motion::Air(self.slot.plunge_feed);
            self.go(down, Position { z, ..self.at });
        }
        self.across(self.slot.feed);
    }

    /// Through the bundle to its other side.
    fn across(&mut self, feed: f64) {
        let y = if self.is_low() {
            self.slot.high_y
        } else {
            self.slot.low_y
        };
        let x = self.x(y);
        self.go(Motion::Cut(feed), Position { x, y, ..self.at });
    }

    /// The wall on the right is cut on the way up, the other one on the way down.
    fn wall_order(&self, wall: Option<f64>) -> Vec<f64> {
        match wall {
            None => Vec::new(),
            Some(wall) if self.is_low() => vec![wall, -wall],
            Some(wall) => vec![-wall, wall],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn at_angle(width: f64, tool_diameter: f64, degrees: f64) -> NotchCut {
        NotchCut {
            bed: StripBed {
                strips: 5,
                thickness: 3.0,
                length: 200.0,
                angle: degrees.to_radians(),
                datum: 0.0,
            },
            centre: 50.0,
            width,
            depth: 6.0,
            tool_diameter,
            low_y: -3.0,
            high_y: 18.0,
            safe_height: 8.0,
            depth_steps: 4,
            wall_allowance: 0.2,
            floor_allowance: 0.0,
            returns_in_air: false,
            spring_pass: false,
            from_behind: false,
            feed: 800.0,
            wall_feed: 800.0,
            plunge_feed: 300.0,
        }
    }

    fn slot(width: f64, tool_diameter: f64) -> NotchCut {
        at_angle(width, tool_diameter, 90.0)
    }

    /// Cutting moves with where they start.
    fn cuts(moves: &[Move]) -> impl Iterator<Item = (Position, Position)> {
        moves
            .windows(2)
            .filter(|pair| matches!(pair[1].motion, Motion::Cut(_)))
            .map(|pair| (pair[0].to, pair[1].to))
    }

    #[test]
    fn walls_at_an_angle_have_their_stock_on_the_right() {
        for degrees in [25.0_f64, 60.0, 90.0, 120.0, 155.0] {
            let moves = notch_moves(&at_angle(3.0, 2.0, degrees));
            let (sine, cosine) = degrees.to_radians().sin_cos();
            let mut walls = 0;
            for (from, to) in cuts(&moves) {
                let length = (to.x - from.x).hypot(to.y - from.y);
                // Always along the slot.
                let along = ((to.x - from.x) * cosine + (to.y - from.y) * sine) / length;
                assert!(approx_eq!(f64, along.abs(), 1.0, epsilon = 1e-9));
                // The slot's middle line passes (50, 1.5): how far to the right of it, seen in the
                // direction of the move.
                let right = (from.x - 50.0) * sine - (from.y - 1.5) * cosine;
                if right.abs() > 0.4 {
                    assert!(
                        approx_eq!(f64, right * along, 0.5, epsilon = 1e-9),
                        "{degrees} {from:?} {to:?}"
                    );
                    walls += 1;
                }
            }
            assert_eq!(walls, 8);
        }
    }

    #[test]
    fn wood_is_met_only_along_the_slot_and_ways_turn_in_air() {
        for degrees in [25.0, 60.0, 120.0, 155.0] {
            for pair in notch_moves(&at_angle(5.0, 2.0, degrees)).windows(2) {
                let (from, to) = (pair[0].to, pair[1].to);
                if matches!(pair[1].motion, Motion::Cut(_)) {
                    assert_eq!(from.z, to.z);
                    assert!(
                        (from.y + 3.0).abs() < 1e-12
                            || approx_eq!(f64, from.y, 18.0, epsilon = 1e-12)
                    );
                } else {
                    assert_eq!(from.y, to.y);
                }
            }
        }
    }

    #[test]
    fn a_tool_as_wide_as_the_notch_takes_one_pass_a_depth() {
        let moves = notch_moves(&slot(2.0, 2.0));
        let cuts = moves
            .iter()
            .filter(|step| matches!(step.motion, Motion::Cut(_)));
        assert!(cuts.clone().all(|step| step.to.x == 50.0));
        assert_eq!(cuts.count(), 4);
    }

    #[test]
    fn walls_are_cut_in_the_climb_direction() {
        let moves = notch_moves(&slot(3.0, 2.0));
        let mut at = moves[0].to;
        let mut walls = 0;
        for step in &moves[1..] {
            let right = approx_eq!(f64, step.to.x, 50.5, epsilon = 1e-9);
            let left = approx_eq!(f64, step.to.x, 49.5, epsilon = 1e-9);
            if matches!(step.motion, Motion::Cut(_)) && (right || left) {
                assert_eq!(step.to.y > at.y, right, "{step:?}");
                walls += 1;
            }
            at = step.to;
        }
        assert_eq!(walls, 8);
    }

    #[test]
    fn wood_is_met_only_across_the_bundle() {
        let moves = notch_moves(&slot(5.0, 2.0));
        let mut at = moves[0].to;
        for step in &moves[1..] {
            let changed = [step.to.x != at.x, step.to.y != at.y, step.to.z != at.z];
            assert_eq!(
                changed.iter().filter(|changed| **changed).count(),
                1,
                "{step:?}"
            );
            assert_eq!(matches!(step.motion, Motion::Cut(_)), changed[1]);
            at = step.to;
        }
        assert_eq!(at.z, 8.0);
        assert_eq!(moves.iter().map(|step| step.to.z).fold(0.0, f64::min), -6.0);
    }

    #[test]
    fn the_floor_has_a_pass_of_its_own_and_the_last_passes_are_made_twice() {
        let wanted = NotchCut {
            floor_allowance: 0.4,
            spring_pass: true,
            ..slot(2.0, 2.0)
        };
        let moves = notch_moves(&wanted);
        let depths: Vec<f64> = cuts(&moves).map(|(_, to)| -to.z).collect();
        for (found, wanted) in depths.iter().zip([1.4, 2.8, 4.2, 5.6, 6.0, 6.0]) {
            assert!(
                approx_eq!(f64, *found, wanted, epsilon = 1e-12),
                "{depths:?}"
            );
        }
        assert_eq!(depths.len(), 6);
    }

    #[test]
    fn roughing_that_returns_in_air_always_runs_to_the_back() {
        for width in [2.0, 3.0, 7.0] {
            let wanted = NotchCut {
                returns_in_air: true,
                ..slot(width, 2.0)
            };
            let moves = notch_moves(&wanted);
            let wall = (width - 2.0) / 2.0;
            let mut roughed = 0;
            for (from, to) in cuts(&moves) {
                let offset = from.x - 50.0;
                if !approx_eq!(f64, offset.abs(), wall, epsilon = 1e-9) || wall == 0.0 {
                    assert!(to.y > from.y, "{from:?} {to:?}");
                    roughed += 1;
                } else {
                    assert_eq!(to.y > from.y, offset > 0.0);
                }
            }
            assert!(roughed >= 4);
            for pair in moves.windows(2) {
                let flat = approx_eq!(f64, pair[0].to.z, pair[1].to.z, epsilon = 1e-12);
                if pair[1].motion == Motion::Rapid && flat {
                    assert_eq!(pair[1].to.z, 8.0);
                }
            }
        }
    }

    #[test]
    fn a_notch_begun_behind_is_the_same_notch() {
        let there = notch_moves(&slot(3.0, 2.0));
        let behind = notch_moves(&NotchCut {
            from_behind: true,
            ..slot(3.0, 2.0)
        });
        let walls = |moves: &[Move]| {
            let mut walls: Vec<_> = cuts(moves)
                .map(|(from, to)| (from.x, to.y > from.y, to.z))
                .filter(|(x, ..)| (x - 50.0).abs() > 0.4)
                .map(|(x, up, z)| format!("{x:.3} {up} {z:.3}"))
                .collect();
            walls.sort();
            walls
        };
        assert_eq!(walls(&there), walls(&behind));
    }

    #[test]
    fn passes_overlap_and_end_at_the_walls() {
        let (roughing, wall) = lateral(7.0, 2.0, 0.2);
        assert_eq!(wall, Some(2.5));
        assert!(
            (roughing[0] + 2.3).abs() < 1e-12
                && approx_eq!(f64, roughing[roughing.len() - 1], 2.3, epsilon = 1e-12)
        );
        for pair in roughing.windows(2) {
            assert!(pair[1] - pair[0] <= 1.6 + 1e-12);
        }
        assert_eq!(
            lateral(2.3, 2.0, 0.2),
            (vec![0.0], Some(0.1499999999999999))
        );
    }
}
