//! A move as pieces: what a flat cutter takes away.
//!
//! Straight moves are one piece and exact. An arc that stands upright along the strips is taken as straight
//! lines, none of them above it; any other that changes its height is cut into short pieces of one height each,
//! taken at their lower ends.

use super::footprint::Footprint;
use super::height_steps::steps_below;
use super::piece::MovePiece;
use super::upright_arc::{chord_count, half_turns, highest_at, lines_below};
use crate::verification::gcode::arc::Arc;
use crate::verification::gcode::codes::ArcPlane;
use crate::verification::gcode::state::Point3;
use std::f64::consts::{FRAC_PI_2, PI};

/// A line of an arc that is shorter than this in plan counts as upright, mm.
const UPRIGHT_MM: f64 = 1e-9;

/// A move whose ends are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownMove {
    /// Start.
    pub from: Point3,
    /// End.
    pub to: Point3,
    /// How it turns.
    pub arc: Option<Arc>,
}

impl KnownMove {
    /// Length along the path, mm.
    pub fn length(&self) -> f64 {
        let [x, y, z] = std::array::from_fn(|axis| self.to[axis] - self.from[axis]);
        match &self.arc {
            // Most moves are along one axis.
            None => match [x, y, z] {
                [only, 0.0, 0.0] | [0.0, only, 0.0] | [0.0, 0.0, only] => only.abs(),
                _ => x.hypot(y).hypot(z),
            },
            Some(arc) => {
                let [_, _, third] = arc.plane.axes();
                arc.length().hypot([x, y, z][third])
            }
        }
    }

    /// Lowest and highest coordinate along an axis.
    pub fn range(&self, axis: usize) -> [f64; 2] {
        if let Some(arc) = &self.arc {
            let [first, second, _] = arc.plane.axes();
            if axis == first {
                return super::footprint::arc_range(arc, 0);
            }
            if axis == second {
                return super::footprint::arc_range(arc, 1);
            }
        }
        let a = self.from[axis];
        let b = self.to[axis];
        [a.min(b), a.max(b)]
    }

    /// Directions at its start and at its end, length 1; `None` where it does not move.
    pub fn directions(&self) -> Option<[Point3; 2]> {
        let length = self.length();
        if length <= 0.0 {
            return None;
        }
        let way: Point3 = std::array::from_fn(|axis| (self.to[axis] - self.from[axis]) / length);
        let Some(arc) = &self.arc else {
            return Some([way, way]);
        };
        let [first, second, third] = arc.plane.axes();
        let share = arc.sweep * arc.radius / length;
        Some([0.0, 1.0].map(|fraction| {
            let (sine, cosine) = (arc.start_angle + fraction * arc.sweep).sin_cos();
            let mut direction = way;
            direction[first] = -sine * share;
            direction[second] = cosine * share;
            direction[third] = way[third];
            direction
        }))
    }

    /// The greatest share of its length that goes down, anywhere on the way; 0 where it never
    /// does.
    pub fn steepest_fall(&self) -> f64 {
        match &self.arc {
            // The height is the radius times the cosine of the angle from where it is highest, so it
            // falls as the sine does: most a quarter turn on, or at an end.
            Some(arc) if arc.plane != ArcPlane::Xy => {
                let level = highest_at(arc);
                let turning = arc.sweep.signum();
                let ends = [0.0, arc.sweep].map(|turn| (arc.start_angle + turn - level).sin());
                let steepest = if arc.covers(level + turning * FRAC_PI_2) {
                    1.0
                } else {
                    (turning * ends[0]).max(turning * ends[1])
                };
                (steepest * arc.length() / self.length()).max(0.0)
            }
            // A helix climbs evenly, as a straight move does.
            Some(_) | None => self.even_fall(),
        }
    }

    /// The share of its length that goes down where it does so evenly.
    fn even_fall(&self) -> f64 {
        ((self.from[2] - self.to[2]) / self.length()).max(0.0)
    }

    /// The parts of the move below `top`.
    pub fn pieces_below(&self, top: f64, each: &mut dyn FnMut(MovePiece)) {
        match self.arc {
            None => {
                if let Some(piece) = self.straight_piece(top) {
                    each(piece);
                }
            }
            Some(arc) if arc.plane == ArcPlane::Xy => self.helix_pieces(&arc, top, each),
            Some(arc) if self.runs_along_strips(&arc) => self.straight_lines(&arc, top, each),
            Some(arc) => self.upright_pieces(&arc, top, each),
        }
    }

    #[allow(clippy::float_cmp)] // exact: a move along an axis leaves the others as they are
    fn straight_piece(&self, top: f64) -> Option<MovePiece> {
        let KnownMove { from, to, .. } = *self;
        let [a, b] = [from, to].map(|end| [end[0], end[1]]);
        let footprint = Footprint::Segment([a, b]);
        let lowest = from[2].min(to[2]);
        if lowest >= top {
            return None;
        }
        if a == b {
            return Some(MovePiece::level(footprint, lowest));
        }
        let heights = [from[2], to[2]];
        MovePiece { footprint, heights }.below(top)
    }

    fn helix_pieces(&self, arc: &Arc, top: f64, each: &mut dyn FnMut(MovePiece)) {
        self.even_climb(top, &mut |a, b, z| {
            let part = Arc {
                start_angle: arc.start_angle + a * arc.sweep,
                sweep: (b - a) * arc.sweep,
                ..*arc
            };
            each(MovePiece::level(Footprint::Arc(part), z));
        });
    }

    /// Pieces of a way whose height changes evenly: the fractions where each begins and ends, and its
    /// lower height.
    #[allow(clippy::float_cmp)] // exact: a level way has the same height at both ends
    fn even_climb(&self, top: f64, each: &mut dyn FnMut(f64, f64, f64)) {
        let ends = [self.from[2], self.to[2]];
        let [z0, z1] = ends;
        let fraction = |z: f64| {
            if z1 == z0 {
                0.0
            } else {
                ((z - z0) / (z1 - z0)).clamp(0.0, 1.0)
            }
        };
        steps_below(top, ends, &mut |a, b| {
            let end = if a == b { 1.0 } else { fraction(b) };
            each(fraction(a), end, a.min(b));
        });
    }

    /// Whether an upright arc runs along the strips: each of its straight lines then leaves one straight floor on a
    /// line along them.
    #[allow(clippy::float_cmp)] // exact: an arc in its plane leaves its third axis as it is
    fn runs_along_strips(&self, arc: &Arc) -> bool {
        arc.plane == ArcPlane::Zx && self.from[1] == self.to[1]
    }

    /// An arc that stands upright and runs along the strips, as straight lines.
    fn straight_lines(&self, arc: &Arc, top: f64, each: &mut dyn FnMut(MovePiece)) {
        let corners = lines_below(arc).into_iter().map(|corner| {
            if corner.at <= 0.0 || corner.at >= 1.0 {
                return self.on_arc(arc, corner.at);
            }
            let (sine, cosine) = (arc.start_angle + corner.at * arc.sweep).sin_cos();
            let [z, x] = arc.centre;
            let r = corner.out * arc.radius;
            [x + r * sine, self.from[1], z + r * cosine]
        });
        let corners: Vec<Point3> = corners.collect();
        for pair in corners.windows(2) {
            let &[from, to] = pair else { continue };
            let mut line = KnownMove {
                from,
                to,
                arc: None,
            };
            // Over next to no length it is as good as upright.
            if (to[0] - from[0]).abs() < UPRIGHT_MM {
                let lower = from[2].min(to[2]);
                (line.from[2], line.to[2]) = (lower, lower);
            }
            if let Some(piece) = line.straight_piece(top) {
                each(piece);
            }
        }
    }

    /// An arc that stands upright: seen from above it runs to and fro on a line, which its third axis
    /// bends. Between its highest and lowest points its height tells the angle, so that pieces of
    /// one height need no chords.
    #[allow(clippy::float_cmp)] // exact: a level way has the same height at both ends
    fn upright_pieces(&self, arc: &Arc, top: f64, each: &mut dyn FnMut(MovePiece)) {
        let level = highest_at(arc);
        let [first, ..] = arc.plane.axes();
        let centre = arc.centre[usize::from(first != 2)];
        let mut from = 0.0;
        for half in half_turns(arc) {
            let upward = if half.index.rem_euclid(2.0) == 0.0 {
                1.0
            } else {
                -1.0
            };
            let fraction_at = |z: f64| {
                let cosine = (upward * (z - centre) / arc.radius).clamp(-1.0, 1.0);
                let angle = level + half.index * PI + cosine.acos();
                ((angle - arc.start_angle) / arc.sweep).clamp(from, half.end)
            };
            let ends = [from, half.end].map(|fraction| self.on_arc(arc, fraction)[2]);
            steps_below(top, ends, &mut |a, b| {
                let [begin, end] = if a == b {
                    [from, half.end]
                } else {
                    [a, b].map(fraction_at)
                };
                self.bent_segments(arc, [begin, end], a.min(b), each);
            });
            from = half.end;
        }
    }

    /// What of an upright arc is taken at one height: one straight line seen from above, or several where
    /// its third axis bends it.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
    #[allow(clippy::float_cmp)] // exact: an arc in its plane leaves its third axis as it is
    fn bent_segments(
        &self,
        arc: &Arc,
        [begin, end]: [f64; 2],
        z: f64,
        each: &mut dyn FnMut(MovePiece),
    ) {
        let [.., third] = arc.plane.axes();
        let bent = self.from[third] != self.to[third];
        let count = if bent {
            chord_count(arc, end - begin)
        } else {
            1
        };
        let at = |step: usize| {
            let [x, y, _] = self.on_arc(arc, begin + (end - begin) * step as f64 / count as f64);
            [x, y]
        };
        for step in 0..count {
            let footprint = Footprint::Segment([at(step), at(step + 1)]);
            each(MovePiece::level(footprint, z));
        }
    }

    /// The point at a fraction of an arc's sweep; its ends as the program says them.
    fn on_arc(&self, arc: &Arc, fraction: f64) -> Point3 {
        if fraction <= 0.0 {
            return self.from;
        }
        if fraction >= 1.0 {
            return self.to;
        }
        let [first, second, third] = arc.plane.axes();
        let mut point = self.from;
        [point[first], point[second]] = arc.at(fraction);
        point[third] += fraction * (self.to[third] - self.from[third]);
        point
    }
}

/// Points along an arc in any plane, close enough that the chords are within 0.0005 mm of it.
pub fn chords(arc: &Arc, from: Point3, to: Point3) -> Vec<Point3> {
    let way = KnownMove {
        from,
        to,
        arc: Some(*arc),
    };
    let count = chord_count(arc, 1.0);
    (0..=count)
        .map(|step| way.on_arc(arc, step as f64 / count as f64))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verification::gcode::arc::Centre;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    fn pieces(way: KnownMove) -> Vec<MovePiece> {
        let mut found = Vec::new();
        way.pieces_below(0.0, &mut |piece| found.push(piece));
        found
    }

    fn straight(from: Point3, to: Point3) -> KnownMove {
        let arc = None;
        KnownMove { from, to, arc }
    }

    #[test]
    fn level_and_vertical_moves_are_one_piece() {
        assert_eq!(
            pieces(straight([0.0, 0.0, -1.0], [5.0, 2.0, -1.0])).len(),
            1
        );
        let plunge = pieces(straight([0.0, 0.0, 5.0], [0.0, 0.0, -6.0]));
        assert_eq!(plunge.len(), 1);
        assert_eq!(plunge[0].lowest(), -6.0);
        assert!(pieces(straight([0.0, 0.0, 5.0], [9.0, 0.0, 0.0])).is_empty());
    }

    #[test]
    fn a_ramp_is_one_piece_and_cut_only_below_the_top() {
        for (from, to) in [
            ([0.0, 0.0, 1.0], [10.0, 5.0, -0.25]),
            ([10.0, 5.0, -0.25], [0.0, 0.0, 1.0]),
        ] {
            let ramp = pieces(straight(from, to));
            let [piece] = ramp[..] else { panic!() };
            let Footprint::Segment(ends) = piece.footprint else {
                panic!()
            };
            let upper = usize::from(from[2] < 0.0);
            assert_eq!(piece.heights[upper], 0.0);
            assert_eq!(piece.heights[1 - upper], -0.25);
            assert_eq!(ends[1 - upper], [10.0, 5.0]);
            assert!((ends[upper][0] - 8.0).abs() < 1e-12 && (ends[upper][1] - 4.0).abs() < 1e-12);
        }
        let level = straight([0.0, 0.0, -1.0], [5.0, 2.0, -1.0]);
        assert!(!pieces(level)[0].is_slanted());
    }

    proptest! {
        /// Lines along an arc that runs along the strips: end to end, nowhere above it, and no more than a
        /// thousandth below or beside it.
        #[test]
        fn lines_along_an_arc_are_nowhere_above_it(
            start in -3.2..3.2_f64, sweep in 0.1..6.2_f64, clockwise: bool, radius in 0.2..60.0_f64,
        ) {
            let turn = if clockwise { -sweep } else { sweep };
            let at = |angle: f64| [radius * angle.cos(), radius * angle.sin()];
            let ends = [at(start), at(start + turn)];
            let arc = Arc::new(ArcPlane::Zx, ends, Centre::At([0.0; 2]), clockwise).unwrap();
            let from = [ends[0][1], 4.0, ends[0][0]];
            let to = [ends[1][1], 4.0, ends[1][0]];
            let way = KnownMove { from, to, arc: Some(arc) };
            let mut found = Vec::new();
            way.pieces_below(2.0 * radius, &mut |piece| found.push(piece));
            let lowest = found.iter().map(MovePiece::lowest).fold(f64::INFINITY, f64::min);
            prop_assert!((lowest - way.range(2)[0]).abs() < 1e-6);
            let mut place = from[0];
            for piece in &found {
                let Footprint::Segment([a, b]) = piece.footprint else { panic!() };
                prop_assert!((a[0] - place).abs() < 1e-6 && a[1] == 4.0 && b[1] == 4.0);
                place = b[0];
                let middle = [f64::midpoint(a[0], b[0]), f64::midpoint(piece.heights[0], piece.heights[1])];
                let off = middle[0].hypot(middle[1]) - radius;
                prop_assert!(off.abs() < 0.001, "{off}");
                // Lower than the arc: outside of it below its middle, inside above.
                let above = if middle[1] < 0.0 { -off } else { off };
                prop_assert!(above < 1e-6, "{above} {middle:?}");
                prop_assert!(a[0].abs().max(b[0].abs()) <= radius + 1e-6);
            }
            prop_assert!((to[0] - place).abs() < 1e-6);
            prop_assert!((found.len() as f64) < 20.0 + 400.0 * radius.sqrt());
        }
    }

    #[test]
    fn an_upright_arc_is_as_many_pieces_whatever_its_radius() {
        let plane = ArcPlane::Yz;
        for clockwise in [false, true] {
            for radius in [1.0, 2.0, 40.0] {
                let across = |a: f64| [3.0, a, 0.0];
                let [from, to] = [across(0.0), across(2.0 * radius)];
                let [first, second, _] = plane.axes();
                let ends = [from, to].map(|end| [end[first], end[second]]);
                let mut centre = across(radius);
                centre[2] = 0.0;
                let centre = Centre::At([centre[first], centre[second]]);
                let arc = Some(Arc::new(plane, ends, centre, clockwise).unwrap());
                let way = KnownMove { from, to, arc };
                let found = pieces(way);
                let below = way.range(2)[0] < -0.5;
                assert_eq!(found.len() > 900, below, "{radius} {}", found.len());
                assert!(found.len() <= 2002);
                let tall = radius / (found.len() as f64 / 2.0) + 1e-6;
                for piece in found {
                    let Footprint::Segment(ends) = piece.footprint else {
                        panic!()
                    };
                    let truth = ends
                        .map(|end| -(radius.powi(2) - (end[1] - radius).powi(2)).max(0.0).sqrt());
                    let lower = truth[0].min(truth[1]);
                    assert!(
                        (piece.lowest() - lower).abs() < 1e-6,
                        "{} {lower}",
                        piece.lowest()
                    );
                    assert!((truth[0] - truth[1]).abs() < tall, "{truth:?}");
                }
            }
        }
    }

    proptest! {
        /// Pieces of any upright arc lie end to end along it, below the top, none above the way.
        #[test]
        fn upright_pieces_follow_the_way(
            start in -3.1..3.1_f64, sweep in 0.1..6.2_f64, clockwise: bool, radius in 0.3..3.0_f64,
            third in -2.0..2.0_f64,
        ) {
            let turn = if clockwise { -sweep } else { sweep };
            let at = |angle: f64| [radius * angle.cos(), radius * angle.sin()];
            let ends = [at(start), at(start + turn)];
            let arc = Arc::new(ArcPlane::Zx, ends, Centre::At([0.0; 2]), clockwise).unwrap();
            let from = [ends[0][1], 0.0, ends[0][0]];
            let to = [ends[1][1], third, ends[1][0]];
            let way = KnownMove { from, to, arc: Some(arc) };
            let mut found = Vec::new();
            way.pieces_below(9.0, &mut |piece| found.push(piece));
            let mut place = [from[0], from[1]];
            for piece in &found {
                let Footprint::Segment([a, b]) = piece.footprint else { panic!() };
                prop_assert!((a[0] - place[0]).hypot(a[1] - place[1]) < 1e-6, "{a:?} {place:?}");
                place = b;
            }
            prop_assert!((to[0] - place[0]).hypot(to[1] - place[1]) < 1e-6);
            let lowest = found.iter().map(MovePiece::lowest).fold(f64::INFINITY, f64::min);
            prop_assert!((lowest - way.range(2)[0]).abs() < 1e-6);
            let highest = found.iter().map(MovePiece::lowest).fold(f64::NEG_INFINITY, f64::max);
            prop_assert!(highest <= way.range(2)[1] + 1e-9 && highest > way.range(2)[1] - 0.006);
            let mut chorded = 0.0_f64;
            for pair in chords(&arc, from, to).windows(2) {
                chorded = chorded.max(KnownMove { from: pair[0], to: pair[1], arc: None }.even_fall());
            }
            // A chord falls as the arc does somewhere on it.
            let turn = sweep / chord_count(&arc, 1.0) as f64;
            prop_assert!((chorded - way.steepest_fall()).abs() < turn);
        }
    }

    #[test]
    fn upright_arcs_are_followed_by_chords() {
        let arc = Arc::new(
            ArcPlane::Zx,
            [[0.0, 0.0], [0.0, 10.0]],
            Centre::At([0.0, 5.0]),
            false,
        )
        .unwrap();
        let points = chords(&arc, [0.0, 3.0, 0.0], [10.0, 3.0, 0.0]);
        for point in &points {
            assert!(
                approx_eq!(f64, (point[0] - 5.0).hypot(point[2]), 5.0, epsilon = 1e-9)
                    && point[1] == 3.0
            );
        }
        assert!(points.len() > 100);
        let way = KnownMove {
            from: [0.0, 3.0, 0.0],
            to: [10.0, 3.0, 0.0],
            arc: Some(arc),
        };
        assert!(approx_eq!(f64, way.length(), 5.0 * PI, epsilon = 1e-9));
        let [start, end] = way.directions().unwrap();
        assert!(
            approx_eq!(f64, start[2].abs(), 1.0, epsilon = 1e-9)
                && (start[2] + end[2]).abs() < 1e-9
        );
    }
}
