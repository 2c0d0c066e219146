//! Convex polygons: rings that run counter-clockwise and turn left at every corner.

use super::point::{Point, Vector};
use super::tolerance::{DIRECTION, PARALLEL_SINE, SAME_POSITION_MM};
use float_cmp::ApproxEq;

/// The edges of a ring, each from corner to corner.
pub fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = ring.iter().cycle().skip(1);
    ring.iter().copied().zip(next.copied())
}

/// Whether a ring has three corners or more and turns left at each of them.
pub fn is_convex(ring: &[Point]) -> bool {
    let corners = edges(ring).zip(edges(ring).skip(1).chain(edges(ring).take(1)));
    let turns_left = corners
        .map(|((p, q), (_, r))| p.to(q).unit().zip(q.to(r).unit()))
        .all(|turn| turn.is_some_and(|(a, b)| a.cross(b) > PARALLEL_SINE));
    // A star turns left at every corner as well, but goes round twice.
    let all_left = |(p, q): (Point, Point)| {
        let along = p.to(q);
        ring.iter()
            .all(|corner| along.cross(p.to(*corner)) > -PARALLEL_SINE * along.length())
    };
    ring.len() >= 3 && turns_left && edges(ring).all(all_left)
}

/// Unit vector square to an edge of a counter-clockwise ring, pointing into it.
fn inward(from: Point, to: Point) -> Vector {
    let along = from.to(to).unit().unwrap_or_default();
    Vector::new(-along.y, along.x)
}

/// Least distance of a point from the edges' lines, mm; positive inside.
pub fn depth(ring: &[Point], point: Point) -> f64 {
    edges(ring)
        .map(|(from, to)| from.to(point).dot(inward(from, to)))
        .fold(f64::INFINITY, f64::min)
}

/// The part of a line that lies in a polygon, as distances from `on` along the unit vector
/// `along`; a line along an edge counts when it is off by no more than `tolerance`, mm. `None`
/// where the line passes by. The two ends may meet, or cross by rounding, where it touches a
/// corner.
pub fn chord(ring: &[Point], on: Point, along: Vector, tolerance: f64) -> Option<[f64; 2]> {
    let mut ends = [f64::NEG_INFINITY, f64::INFINITY];
    for (from, to) in edges(ring) {
        let inward = inward(from, to);
        let depth = from.to(on).dot(inward);
        let rate = along.dot(inward);
        if rate.approx_eq(0.0, DIRECTION) {
            if depth < -tolerance {
                return None;
            }
        } else if rate > 0.0 {
            ends[0] = ends[0].max(-depth / rate);
        } else {
            ends[1] = ends[1].min(-depth / rate);
        }
    }
    let finite = ends.iter().all(|end| end.is_finite());
    (finite && ends[1] - ends[0] >= -tolerance).then_some(ends)
}

/// A simple ring, counter-clockwise, as convex rings that share edges alone: where it turns right it is
/// split along the line of the edge that leads there, as far as that runs inside.
pub fn parts(ring: &[Point]) -> Vec<Vec<Point>> {
    let mut whole = vec![ring.to_vec()];
    let mut convex = Vec::new();
    while let Some(ring) = whole.pop() {
        match split(&ring) {
            Some(halves) => whole.extend(halves),
            None => convex.push(ring),
        }
    }
    convex
}

/// Both sides of the line on which an edge runs on from a corner that turns right; `None` where none does.
fn split(ring: &[Point]) -> Option<[Vec<Point>; 2]> {
    let count = ring.len();
    let at = |i: usize| ring.get(i % count.max(1)).copied().unwrap_or_default();
    let turn = |i: usize| {
        let before = at(i + count - 1).to(at(i)).unit()?;
        let after = at(i).to(at(i + 1)).unit()?;
        (before.cross(after) < -PARALLEL_SINE).then_some((i, before))
    };
    let (corner, along) = (0..count).find_map(turn)?;
    let from = at(corner);
    // The edges that do not end in the corner, and how far along its line they are crossed.
    let crossed = (corner + 1..corner + count - 1).filter_map(|edge| {
        let (p, q) = (at(edge), at(edge + 1));
        let [here, there] = [p, q].map(|end| along.cross(from.to(end)));
        if here * there > 0.0 || here.approx_eq(there, DIRECTION) {
            return None;
        }
        let hit = p + p.to(q) * (here / (here - there));
        let far = along.dot(from.to(hit));
        (far > SAME_POSITION_MM).then_some((far, edge, hit))
    });
    let (_, edge, hit) = crossed.min_by(|(a, ..), (b, ..)| a.total_cmp(b))?;
    let ring = |corners: std::ops::Range<usize>| {
        let mut ring: Vec<Point> = vec![hit];
        let apart = |p: &Point| p.to(hit).length() > SAME_POSITION_MM;
        ring.extend(corners.map(at).filter(apart));
        ring
    };
    Some([ring(corner..edge + 1), ring(edge + 1..corner + count)])
}

/// What two convex polygons have in common; fewer than three corners where that is nothing.
pub fn common(ring: &[Point], other: &[Point]) -> Vec<Point> {
    let mut left = ring.to_vec();
    for (from, to) in edges(other) {
        let inward = inward(from, to);
        let depth = |point: Point| from.to(point).dot(inward);
        let mut kept = Vec::with_capacity(left.len() + 1);
        for (p, q) in edges(&left) {
            let here = depth(p);
            let there = depth(q);
            if here >= 0.0 {
                kept.push(p);
            }
            if (here > 0.0 && there < 0.0) || (here < 0.0 && there > 0.0) {
                kept.push(p + p.to(q) * (here / (here - there)));
            }
        }
        left = kept;
    }
    left
}

/// Distance between two convex polygons, mm; 0 where they touch or overlap.
///
/// Two convex polygons are apart only where an edge of one has the whole other on its outside;
/// then the shortest way between them starts at a corner of one.
pub fn gap(ring: &[Point], other: &[Point]) -> f64 {
    let outside = |a: &[Point], b: &[Point]| {
        edges(a).any(|(from, to)| b.iter().all(|p| from.to(*p).dot(inward(from, to)) < 0.0))
    };
    if !outside(ring, other) && !outside(other, ring) {
        return 0.0;
    }
    let nearest = |a: &[Point], b: &[Point]| {
        edges(a)
            .flat_map(|(from, to)| b.iter().map(move |p| from_segment(*p, from, to)))
            .fold(f64::INFINITY, f64::min)
    };
    nearest(ring, other).min(nearest(other, ring))
}

/// Distance of a point from a segment.
fn from_segment(point: Point, from: Point, to: Point) -> f64 {
    let along = from.to(to);
    let share = from.to(point).dot(along) / along.dot(along).max(f64::MIN_POSITIVE);
    let nearest = from + along * share.clamp(0.0, 1.0);
    nearest.to(point).length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::signed_area;
    use float_cmp::approx_eq;

    fn ring(corners: &[(f64, f64)]) -> Vec<Point> {
        corners.iter().map(|&(x, y)| Point::new(x, y)).collect()
    }

    fn square(x: f64, y: f64, side: f64) -> Vec<Point> {
        ring(&[(x, y), (x + side, y), (x + side, y + side), (x, y + side)])
    }

    #[test]
    fn convex_is_convex() {
        assert!(is_convex(&square(0.0, 0.0, 2.0)));
        let mut clockwise = square(0.0, 0.0, 2.0);
        clockwise.reverse();
        assert!(!is_convex(&clockwise));
        assert!(!is_convex(&ring(&[
            (0.0, 0.0),
            (4.0, 0.0),
            (1.0, 1.0),
            (0.0, 4.0)
        ])));
        assert!(!is_convex(&ring(&[
            (0.0, 0.0),
            (1.0, 0.0),
            (2.0, 0.0),
            (0.0, 2.0)
        ])));
        // A five-pointed star.
        let star: Vec<_> = (0..5)
            .map(|i| (f64::from(i) * 0.8 * std::f64::consts::PI).sin_cos())
            .map(|(y, x)| Point::new(x, y))
            .collect();
        assert!(!is_convex(&star));
        // Twice round as well, but with one side that has all of it on its left.
        let twice = [
            (0.0, 0.0),
            (10.0, 0.0),
            (0.0, 10.0),
            (3.0, 2.0),
            (7.0, 2.0),
            (3.0, 6.0),
        ];
        assert!(!is_convex(&ring(&twice)));
    }

    #[test]
    fn a_chord_runs_from_edge_to_edge() {
        let square = square(0.0, 0.0, 10.0);
        let slant = Vector::new(0.6, 0.8);
        let chord_of = |x, y, along| chord(&square, Point::new(x, y), along, 1e-6);
        let [from, to] = chord_of(5.0, 5.0, slant).unwrap();
        assert!((from + 6.25).abs() < 1e-12 && approx_eq!(f64, to, 6.25, epsilon = 1e-12));
        // Along an edge, and touching a corner.
        assert_eq!(
            chord_of(3.0, 10.0, Vector::new(1.0, 0.0)),
            Some([-3.0, 7.0])
        );
        let [from, to] = chord_of(0.0, 10.0, slant).unwrap();
        assert!(approx_eq!(f64, to, from, epsilon = 1e-12));
        // From a point beyond it: all of it lies behind.
        assert_eq!(
            chord_of(20.0, 5.0, Vector::new(1.0, 0.0)),
            Some([-20.0, -10.0])
        );
        assert!(chord_of(3.0, 10.1, Vector::new(1.0, 0.0)).is_none());
        assert!(chord_of(0.0, 10.1, slant).is_none());
    }

    #[test]
    fn what_is_common_and_what_is_between() {
        let a = square(0.0, 0.0, 2.0);
        let b = square(1.0, 1.0, 3.0);
        assert!(approx_eq!(
            f64,
            signed_area(&common(&a, &b)),
            1.0,
            epsilon = 1e-15
        ));
        assert_eq!(gap(&a, &b), 0.0);
        assert!(signed_area(&common(&a, &square(3.0, 0.0, 1.0))) < 1e-15);
        assert!(approx_eq!(
            f64,
            gap(&a, &square(5.0, 6.0, 1.0)),
            5.0,
            epsilon = 1e-15
        ));
        let diamond = ring(&[(4.0, 1.0), (5.0, 0.0), (6.0, 1.0), (5.0, 2.0)]);
        assert!(approx_eq!(f64, gap(&a, &diamond), 2.0, epsilon = 1e-15));
        assert!(approx_eq!(f64, gap(&diamond, &a), 2.0, epsilon = 1e-15));
        // A flat tip: the lines of both its sides run through the square, only the square's side
        // parts the two.
        let tip = ring(&[(3.0, 1.0), (9.0, 0.5), (9.0, 1.5)]);
        assert!(approx_eq!(f64, gap(&a, &tip), 1.0, epsilon = 1e-15));
        assert!(approx_eq!(f64, gap(&tip, &a), 1.0, epsilon = 1e-15));
    }

    #[test]
    fn hollow_rings_fall_into_convex_parts() {
        // A bar with a mouth at one end, one with a mouth at both, a square ring cut open.
        let mouth = ring(&[(0.0, 0.0), (9.0, 0.0), (7.5, 1.5), (9.0, 3.0), (0.0, 3.0)]);
        let both = [
            (0.0, 0.0),
            (9.0, 0.0),
            (7.0, 2.0),
            (8.0, 3.0),
            (0.0, 3.0),
            (1.0, 1.0),
        ];
        let hook = [
            (0.0, 0.0),
            (9.0, 0.0),
            (9.0, 9.0),
            (6.0, 9.0),
            (6.0, 3.0),
            (3.0, 3.0),
            (3.0, 9.0),
            (0.0, 9.0),
        ];
        for (ring, area, least) in [
            (mouth, 24.75, 2),
            (ring(&both), 22.0, 3),
            (ring(&hook), 63.0, 3),
        ] {
            let found = parts(&ring);
            assert_eq!(found.len(), least);
            assert!(found.iter().all(|part| is_convex(part)), "{found:?}");
            let sum: f64 = found.iter().map(|part| signed_area(part)).sum();
            assert!(approx_eq!(f64, sum, area, epsilon = 1e-9), "{sum}");
            assert!(approx_eq!(f64, signed_area(&ring), area, epsilon = 1e-9));
        }
        let square = ring(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
        assert_eq!(parts(&square), std::slice::from_ref(&square));
    }
}
