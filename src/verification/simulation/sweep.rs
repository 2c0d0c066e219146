//! A move as pieces of one height each: what a flat cutter takes away.
//!
//! Level and vertical moves are one piece and exact. A slanted move is cut into short pieces, each
//! taken at its lower end's height.

use super::footprint::Footprint;
use crate::verification::gcode::arc::Arc;
use crate::verification::gcode::codes::ArcPlane;
use crate::verification::gcode::state::Point3;

/// A slanted move is cut into pieces of at most this height, mm, ...
const PIECE_HEIGHT_MM: f64 = 0.002;

/// ... but into no more pieces than this.
const MOST_PIECES: usize = 1000;

/// How far the chords of an arc that stands upright may be from it, mm.
const SAGITTA_MM: f64 = 0.0005;

/// A part of a move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MovePiece {
    /// In plan.
    pub footprint: Footprint,
    /// Height of the cutter's end, mm.
    pub z: f64,
}

impl MovePiece {
    /// The same at another height.
    pub fn at_height(self, z: f64) -> Self {
        MovePiece { z, ..self }
    }
}

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
            None => x.hypot(y).hypot(z),
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
            Some(arc) if arc.plane != ArcPlane::Xy => {
                let mut steepest = 0.0_f64;
                for pair in chords(arc, self.from, self.to).windows(2) {
                    if let &[from, to] = pair {
                        let arc = None;
                        steepest = steepest.max(KnownMove { from, to, arc }.even_fall());
                    }
                }
                steepest
            }
            // A helix climbs evenly, as a straight move does.
            Some(_) | None => self.even_fall(),
        }
    }

    /// The share of its length that goes down where it does so evenly.
    fn even_fall(&self) -> f64 {
        ((self.from[2] - self.to[2]) / self.length()).max(0.0)
    }

    /// The parts of the move whose lower end is below `top`, each at one height.
    pub fn pieces_below(&self, top: f64, each: &mut dyn FnMut(MovePiece)) {
        match self.arc {
            None => straight_pieces(self.from, self.to, top, each),
            Some(arc) if arc.plane == ArcPlane::Xy => {
                helix_pieces(&arc, [self.from[2], self.to[2]], top, each);
            }
            Some(arc) => {
                for pair in chords(&arc, self.from, self.to).windows(2) {
                    if let &[from, to] = pair {
                        straight_pieces(from, to, top, each);
                    }
                }
            }
        }
    }
}

/// The fractions of the way between which an even climb from z0 to z1 is below `top`, cut into
/// pieces: begin, end, lower height.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
fn climb_pieces([z0, z1]: [f64; 2], top: f64, each: &mut dyn FnMut(f64, f64, f64)) {
    if z0.min(z1) >= top {
        return;
    }
    let rise = z1 - z0;
    if rise == 0.0 {
        return each(0.0, 1.0, z0);
    }
    let crossing = ((top - z0) / rise).clamp(0.0, 1.0);
    let (begin, end) = if rise < 0.0 {
        (if z0 <= top { 0.0 } else { crossing }, 1.0)
    } else {
        (0.0, if z1 <= top { 1.0 } else { crossing })
    };
    let height = (end - begin) * rise.abs();
    let count = (height / PIECE_HEIGHT_MM)
        .ceil()
        .clamp(1.0, MOST_PIECES as f64) as usize;
    for piece in 0..count {
        let at = |step: usize| begin + (end - begin) * step as f64 / count as f64;
        let a = at(piece);
        let b = at(piece + 1);
        each(a, b, (z0 + a * rise).min(z0 + b * rise));
    }
}

#[allow(clippy::float_cmp)] // exact: a move along an axis leaves the others as they are
fn straight_pieces(from: Point3, to: Point3, top: f64, each: &mut dyn FnMut(MovePiece)) {
    let plan =
        |fraction: f64| [0, 1].map(|axis: usize| from[axis] + fraction * (to[axis] - from[axis]));
    if from[0] == to[0] && from[1] == to[1] {
        let z = from[2].min(to[2]);
        if z < top {
            let footprint = Footprint::Segment([plan(0.0); 2]);
            each(MovePiece { footprint, z });
        }
        return;
    }
    climb_pieces([from[2], to[2]], top, &mut |a, b, z| {
        let ends = if a == 0.0 && b == 1.0 {
            [[from[0], from[1]], [to[0], to[1]]]
        } else {
            [plan(a), plan(b)]
        };
        let footprint = Footprint::Segment(ends);
        each(MovePiece { footprint, z });
    });
}

fn helix_pieces(arc: &Arc, heights: [f64; 2], top: f64, each: &mut dyn FnMut(MovePiece)) {
    climb_pieces(heights, top, &mut |a, b, z| {
        let part = Arc {
            start_angle: arc.start_angle + a * arc.sweep,
            sweep: (b - a) * arc.sweep,
            ..*arc
        };
        let footprint = Footprint::Arc(part);
        each(MovePiece { footprint, z });
    });
}

/// Points along an arc in any plane, close enough that the chords are within 0.0005 mm of
/// it: a chord over the angle a is at most r (1 - cos(a/2)) off.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
pub fn chords(arc: &Arc, from: Point3, to: Point3) -> Vec<Point3> {
    let [first, second, third] = arc.plane.axes();
    let angle = 2.0 * (1.0 - (SAGITTA_MM / arc.radius).min(1.0)).acos();
    let count = (arc.sweep.abs() / angle).ceil().clamp(1.0, 10_000.0) as usize;
    let mut points: Vec<Point3> = (0..=count)
        .map(|step| {
            let fraction = step as f64 / count as f64;
            let mut point = from;
            let [a, b] = arc.at(fraction);
            (point[first], point[second]) = (a, b);
            point[third] = from[third] + fraction * (to[third] - from[third]);
            point
        })
        .collect();
    if let Some(last) = points.last_mut() {
        *last = to;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verification::gcode::arc::Centre;
    use float_cmp::approx_eq;

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
        assert_eq!(plunge[0].z, -6.0);
        assert!(pieces(straight([0.0, 0.0, 5.0], [9.0, 0.0, 0.0])).is_empty());
    }

    #[test]
    fn a_ramp_is_cut_only_below_the_top_and_never_too_shallow() {
        let ramp = pieces(straight([0.0, 0.0, 1.0], [10.0, 0.0, -0.1]));
        assert!((50..=51).contains(&ramp.len()));
        let Footprint::Segment([first, _]) = ramp[0].footprint else {
            panic!()
        };
        assert!(approx_eq!(f64, first[0], 10.0 / 1.1, epsilon = 1e-9));
        for piece in ramp {
            let Footprint::Segment(ends) = piece.footprint else {
                panic!()
            };
            for end in ends {
                let true_z = 1.0 - 0.11 * end[0];
                assert!(piece.z <= true_z + 1e-12 && piece.z > true_z - 0.0021);
            }
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
        assert!(approx_eq!(
            f64,
            way.length(),
            5.0 * std::f64::consts::PI,
            epsilon = 1e-9
        ));
        let [start, end] = way.directions().unwrap();
        assert!(
            approx_eq!(f64, start[2].abs(), 1.0, epsilon = 1e-9)
                && (start[2] + end[2]).abs() < 1e-9
        );
    }
}
