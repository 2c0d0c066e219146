//! Ways and times of a program's moves.

use crate::dialects::PathMode;
use crate::instructions::tool_path::{Motion, Notches, Position};
use crate::machines::Router;

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

/// One straight move. Millimetres, mm/s.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Leg {
    length: f64,
    /// Length 1.
    direction: [f64; 3],
    speed: f64,
}

impl Leg {
    fn of(from: Position, to: Position, speed: f64) -> Option<Leg> {
        let length = from.distance(to);
        let way = [to.x - from.x, to.y - from.y, to.z - from.z];
        (length > 0.0).then(|| Leg {
            length,
            direction: way.map(|part| part / length),
            speed,
        })
    }
}

/// Ways and time of the moves of notches, from the first one's start.
pub(super) fn ways(router: &Router, cuts: &dyn Notches) -> Ways {
    let mut clock = Clock {
        acceleration: router.travel.acceleration,
        rounds: router.controller.path_mode == Some(PathMode::Continuous),
        ..Clock::default()
    };
    let mut ways = Ways::default();
    let mut at: Option<Position> = None;
    for step in cuts.all().flat_map(|notch| notch.moves) {
        let way = at.map_or(0.0, |at| at.distance(step.to));
        let speed = match step.motion {
            Motion::Rapid => {
                ways.rapid_mm += way;
                router.travel.rapid
            }
            Motion::Cut(feed) => {
                ways.cutting_mm += way;
                feed
            }
            Motion::Air(feed) => feed,
            Motion::Rest(seconds) => {
                ways.time_s += seconds;
                clock.come_to_rest();
                continue;
            }
        };
        clock.follow(at.and_then(|at| Leg::of(at, step.to, speed / 60.0)));
        at = Some(step.to);
    }
    clock.come_to_rest();
    ways.time_s += clock.seconds;
    ways
}

/// Times moves as they come, and keeps only those whose speeds still depend on what follows.
#[derive(Debug, Default)]
struct Clock {
    /// mm/s^2.
    acceleration: f64,
    /// Whether the control runs through corners.
    rounds: bool,
    /// Not timed yet.
    legs: Vec<Leg>,
    /// At the start of the first of them, mm/s.
    enters: f64,
    /// Of all that is timed.
    seconds: f64,
    /// How many were left when some were timed last.
    kept: usize,
}

/// Moves that wait to be timed together.
const WAITING: usize = 4096;

impl Clock {
    fn follow(&mut self, leg: Option<Leg>) {
        self.legs.extend(leg);
        if self.legs.len() >= WAITING.max(2 * self.kept) {
            self.settle();
        }
    }

    /// Times the moves after which the fastest of all could still be brought to rest before the
    /// last one ends: what comes later cannot slow them.
    fn settle(&mut self) {
        let fastest = self.legs.iter().map(|leg| leg.speed).fold(0.0, f64::max);
        let to_rest = fastest * fastest / (2.0 * self.acceleration);
        let mut room = 0.0;
        self.kept = 0;
        for leg in self.legs.iter().rev() {
            if room >= to_rest {
                break;
            }
            room += leg.length;
            self.kept += 1;
        }
        let corners = self.corners();
        self.time(self.legs.len() - self.kept, &corners);
    }

    /// Times all that is left, down to a stop.
    fn come_to_rest(&mut self) {
        let corners = self.corners();
        self.time(self.legs.len(), &corners);
    }

    /// Greatest speeds at the starts and at the end of all moves that wait: in every corner what
    /// the corner allows and what can be reached from the corners before and after it, with a stop
    /// at the end.
    fn corners(&self) -> Vec<f64> {
        let legs = &self.legs;
        let mut corners = vec![self.enters];
        let pairs = legs.iter().zip(legs.iter().skip(1));
        corners.extend(pairs.map(|(a, b)| corner_speed(a, b, self.acceleration, self.rounds)));
        corners.push(0.0);
        let mut from = self.enters;
        for (corner, leg) in corners.iter_mut().skip(1).zip(legs) {
            *corner = corner.min(self.reachable(from, leg));
            from = *corner;
        }
        let mut from = 0.0_f64;
        for (corner, leg) in corners.iter_mut().rev().skip(1).zip(legs.iter().rev()) {
            *corner = corner.min(self.reachable(from, leg));
            from = *corner;
        }
        corners
    }

    /// The speed that a move ends with at most if it is entered with `from`: v^2 = u^2 + 2 a s. The
    /// same holds backwards, for the speed that it may be entered with.
    fn reachable(&self, from: f64, leg: &Leg) -> f64 {
        (from * from + 2.0 * self.acceleration * leg.length).sqrt()
    }

    /// Times the first `count` moves and lets go of them.
    fn time(&mut self, count: usize, corners: &[f64]) {
        let ends = corners.iter().zip(corners.iter().skip(1));
        for ((enters, leaves), leg) in ends.zip(self.legs.drain(..count)) {
            let ends = [*enters, *leaves];
            self.seconds += move_time(leg.length, leg.speed, self.acceleration, ends);
        }
        self.enters = corners.get(count).copied().unwrap_or(0.0);
    }
}

/// Greatest speed through the corner between two moves. One that keeps exactly to its path stops
/// there, unless there is no corner; so, to be on the safe side, does one of which it is not known.
/// A control that rounds corners runs through on a circle that touches both moves, at most halfway
/// along the shorter: its radius is that way over tan(turn / 2), and v^2 / radius is at most the
/// acceleration.
fn corner_speed(before: &Leg, after: &Leg, acceleration: f64, rounds: bool) -> f64 {
    let slower = before.speed.min(after.speed);
    let pairs = before.direction.iter().zip(&after.direction);
    let cosine = pairs.map(|(a, b)| a * b).sum::<f64>().clamp(-1.0, 1.0);
    if cosine >= STRAIGHT {
        return slower;
    }
    if !rounds {
        return 0.0;
    }
    // tan(turn / 2) by the half-angle formula.
    let tangent = ((1.0 - cosine) / (1.0 + cosine).max(f64::MIN_POSITIVE)).sqrt();
    let touch = before.length.min(after.length) / 2.0;
    slower.min((acceleration * touch / tangent).sqrt())
}

/// Cosine of a turn that is none.
const STRAIGHT: f64 = 1.0 - 1e-9;

/// Seconds for a straight way that is entered and left at given speeds, at constant acceleration: a
/// trapezoid of speed where `speed` is reached, else two slopes that meet below it. mm, mm/s,
/// mm/s^2; elementary kinematics.
fn move_time(way: f64, speed: f64, acceleration: f64, [enters, leaves]: [f64; 2]) -> f64 {
    let rise = (speed * speed - enters * enters) / (2.0 * acceleration);
    let fall = (speed * speed - leaves * leaves) / (2.0 * acceleration);
    if rise + fall <= way {
        let slopes = (2.0 * speed - enters - leaves) / acceleration;
        return slopes + (way - rise - fall) / speed;
    }
    let squares = enters * enters + leaves * leaves;
    let peak = (acceleration * way + squares / 2.0).sqrt();
    (2.0 * peak - enters - leaves) / acceleration
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn moves_take_a_trapezoid_or_a_triangle() {
        // Elementary kinematics, computed apart from this code: 500 mm/s^2, 50 mm/s.
        for (way, wanted) in [(100.0, 2.1), (10.0, 0.3), (5.0, 0.2), (1.0, 0.0894)] {
            let found = move_time(way, 50.0, 500.0, [0.0, 0.0]);
            assert!(approx_eq!(f64, found, wanted, epsilon = 5e-5), "{way}");
        }
        // Entered at 10 and left at 5 mm/s: 10 mm in 0.2725 s, 1 mm in 0.06487 s.
        for (way, wanted) in [(10.0, 0.2725), (1.0, 0.064_87)] {
            let found = move_time(way, 50.0, 500.0, [10.0, 5.0]);
            assert!(approx_eq!(f64, found, wanted, epsilon = 5e-6), "{way}");
        }
        // 300 mm at 1500 mm/min with 200 mm/s^2: 12.125 s.
        assert!(approx_eq!(
            f64,
            move_time(300.0, 25.0, 200.0, [0.0, 0.0]),
            12.125,
            epsilon = 1e-9
        ));
    }

    fn legs(points: &[[f64; 3]], speed: f64) -> Vec<Leg> {
        let at = |[x, y, z]: [f64; 3]| Position { x, y, z };
        points
            .windows(2)
            .filter_map(|pair| Leg::of(at(pair[0]), at(pair[1]), speed))
            .collect()
    }

    fn clock(acceleration: f64, rounds: bool) -> Clock {
        Clock {
            acceleration,
            rounds,
            ..Clock::default()
        }
    }

    /// From rest to rest, all moves timed together.
    fn time(legs: &[Leg], acceleration: f64, rounds: bool) -> f64 {
        let mut clock = clock(acceleration, rounds);
        clock.legs = legs.to_vec();
        clock.come_to_rest();
        clock.seconds
    }

    #[test]
    fn moves_timed_as_they_come_take_as_long_as_all_together() {
        // A way of many corners, long and short moves, slow and fast ones.
        let place = |at: usize| {
            let at = at as f64;
            [(at * 0.7).sin() * 20.0, (at * 1.3).cos() * 20.0, at * 0.1]
        };
        let points: Vec<[f64; 3]> = (0..300).map(place).collect();
        let mut legs = legs(&points, 50.0);
        for (at, leg) in legs.iter_mut().enumerate() {
            leg.speed = 10.0 + (at % 7) as f64 * 12.0;
        }
        for rounds in [false, true] {
            let whole = time(&legs, 500.0, rounds);
            for every in [2, 3, 17] {
                let mut clock = clock(500.0, rounds);
                let mut most = 0;
                for (at, leg) in legs.iter().enumerate() {
                    clock.follow(Some(*leg));
                    if at % every == 0 {
                        clock.settle();
                        most = most.max(clock.legs.len());
                    }
                }
                clock.come_to_rest();
                assert!((clock.seconds - whole).abs() < 1e-9 * whole);
                assert!(most < 20, "{most}");
            }
        }
    }

    #[test]
    fn a_way_in_pieces_takes_as_long_as_in_one() {
        let whole = legs(&[[0.0; 3], [100.0, 0.0, 0.0]], 50.0);
        let pieces: Vec<[f64; 3]> = (0..=10)
            .map(|at| [10.0 * f64::from(at), 0.0, 0.0])
            .collect();
        for rounds in [false, true] {
            let found = time(&legs(&pieces, 50.0), 500.0, rounds);
            assert!(approx_eq!(
                f64,
                found,
                time(&whole, 500.0, rounds),
                epsilon = 1e-9
            ));
        }
    }

    #[test]
    fn corners_are_stopped_at_or_run_through() {
        let square = [[0.0; 3], [100.0, 0.0, 0.0], [100.0, 100.0, 0.0]];
        let stopped = time(&legs(&square, 50.0), 500.0, false);
        assert!(approx_eq!(f64, stopped, 2.0 * 2.1, epsilon = 1e-9));
        // 50 mm/s take 5 mm of radius; 50 mm of each leg are there: no slowing.
        let run = time(&legs(&square, 50.0), 500.0, true);
        assert!(approx_eq!(f64, run, 200.0 / 50.0 + 0.1, epsilon = 1e-9));
        // A turn right back is a stop in any case.
        let back = [[0.0; 3], [100.0, 0.0, 0.0], [0.0; 3]];
        let found = time(&legs(&back, 50.0), 500.0, true);
        assert!(approx_eq!(f64, found, 2.0 * 2.1, epsilon = 1e-9));
    }
}
