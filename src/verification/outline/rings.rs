//! Rings of points and their edges: distances, inside and outside, moving.

use crate::geometry::{Point, Vector, bounds, crossing_fractions};

/// A straight line from one point to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edge {
    pub(super) from: Point,
    pub(super) to: Point,
}

impl Edge {
    pub(super) fn length(&self) -> f64 {
        self.from.to(self.to).length()
    }

    /// Lower left and upper right corner of its box.
    pub(super) fn corners(&self) -> [Point; 2] {
        let Edge { from, to } = self;
        [
            Point::new(from.x.min(to.x), from.y.min(to.y)),
            Point::new(from.x.max(to.x), from.y.max(to.y)),
        ]
    }

    /// The point at a share of the way.
    pub(super) fn at(&self, share: f64) -> Point {
        self.from + self.from.to(self.to) * share
    }

    /// Distance of a point from it, mm.
    pub(super) fn distance(&self, point: Point) -> f64 {
        let along = self.from.to(self.to);
        let squared = along.dot(along);
        let part = if squared > 0.0 {
            self.from.to(point).dot(along) / squared
        } else {
            0.0
        };
        self.at(part.clamp(0.0, 1.0)).to(point).length()
    }

    /// Distance of another one from it, mm: none where they cross, else from an end of either.
    pub(super) fn gap(&self, other: &Edge) -> f64 {
        if let Some((s, t)) = crossing_fractions(self.from, self.to, other.from, other.to)
            && (0.0..=1.0).contains(&s)
            && (0.0..=1.0).contains(&t)
        {
            return 0.0;
        }
        let ends = [
            other.distance(self.from),
            other.distance(self.to),
            self.distance(other.from),
            self.distance(other.to),
        ];
        ends.into_iter().fold(f64::INFINITY, f64::min)
    }
}

/// The edges of a ring, the one back to its beginning last.
pub(super) fn edges(ring: &[Point]) -> impl Iterator<Item = Edge> + Clone {
    let ends = ring.iter().copied().cycle().skip(1);
    let pairs = ring.iter().copied().zip(ends);
    pairs.map(|(from, to)| Edge { from, to })
}

/// Whether a point lies inside a ring: a ray to the right crosses it an odd number of times. An
/// edge counts with its lower end and without its upper one, so that a ray through a corner counts
/// once where it passes and twice or not at all where it only touches.
pub(super) fn is_inside(point: Point, ring: &[Point]) -> bool {
    let crossed = edges(ring).filter(|Edge { from, to }| {
        let spans = (from.y > point.y) != (to.y > point.y);
        spans && point.x < from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x)
    });
    crossed.count() % 2 == 1
}

/// Points from coordinates.
pub(super) fn points(coordinates: &[(f64, f64)]) -> Vec<Point> {
    let coordinates = coordinates.iter();
    coordinates.map(|&(x, y)| Point::new(x, y)).collect()
}

/// A rectangle with its lower left corner in the frame's zero.
pub(super) fn rectangle(length: f64, breadth: f64) -> Vec<Point> {
    points(&[(0.0, 0.0), (length, 0.0), (length, breadth), (0.0, breadth)])
}

/// Middle of the box around some points.
pub(super) fn middle(points: &[Point]) -> Option<Point> {
    let (low, high) = bounds(points.iter().copied())?;
    Some(low + low.to(high) * 0.5)
}

pub(super) fn moved(points: &[Point], by: Vector) -> Vec<Point> {
    points.iter().map(|point| *point + by).collect()
}

/// From the lower left corner of one ring's box to that of another's.
pub(super) fn to_corner(ring: &[Point], other: &[Point]) -> Vector {
    let (low, _) = bounds(ring.iter().copied()).unwrap_or_default();
    let (other_low, _) = bounds(other.iter().copied()).unwrap_or_default();
    low.to(other_low)
}

/// A ring moved so that its box and another's have the same lower left corner.
pub(super) fn placed(ring: &[Point], where_lies: &[Point]) -> Vec<Point> {
    moved(ring, to_corner(ring, where_lies))
}

/// Greatest distance between corresponding vertices, for the start and direction that make it
/// least; infinite where the numbers of vertices differ.
pub(super) fn vertex_distance(wanted: &[Point], found: &[Point], closed: bool) -> f64 {
    vertex_distance_within(wanted, found, closed, f64::INFINITY)
}

/// The same where it is less than `most`, else infinite: what is far off is seen at the first vertices.
pub(super) fn vertex_distance_within(
    wanted: &[Point],
    found: &[Point],
    closed: bool,
    most: f64,
) -> f64 {
    if wanted.len() != found.len() {
        return f64::INFINITY;
    }
    let starts = if closed { found.len() } else { 1 };
    let backward: Vec<Point> = found.iter().rev().copied().collect();
    let ways = [found, &backward];
    let all = ways
        .into_iter()
        .flat_map(|way| (0..starts).map(move |start| (way, start)));
    // How far off the first vertex is, squared.
    let begins = |way: &[Point], start: usize| {
        let off = wanted.first().zip(way.get(start));
        off.map_or(0.0, |(p, q)| p.to(*q).dot(p.to(*q)))
    };
    // The likely start first: beside what it comes to, nearly all others are too far off at once.
    let nearest = all
        .clone()
        .map(|(way, start)| (begins(way, start), way, start))
        .min_by(|(off, ..), (other, ..)| off.total_cmp(other))
        .map(|(_, way, start)| (way, start));
    let mut least = most;
    for (way, start) in nearest.into_iter().chain(all) {
        // More than the rounding of a square beyond it.
        if begins(way, start) > least * least * 1.000_001 {
            continue;
        }
        let turned = way.iter().cycle().skip(start);
        let mut worst = 0.0_f64;
        for (p, q) in wanted.iter().zip(turned) {
            worst = worst.max(p.to(*q).length());
            if worst >= least {
                break;
            }
        }
        least = least.min(worst);
    }
    if least < most { least } else { f64::INFINITY }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn distances_by_hand() {
        let edge = |from: (f64, f64), to: (f64, f64)| Edge {
            from: Point::new(from.0, from.1),
            to: Point::new(to.0, to.1),
        };
        let flat = edge((0.0, 0.0), (4.0, 0.0));
        assert_eq!(flat.gap(&edge((1.0, 1.0), (3.0, 2.0))), 1.0);
        assert_eq!(flat.gap(&edge((1.0, -1.0), (1.0, 2.0))), 0.0);
        assert_eq!(flat.gap(&edge((7.0, 4.0), (9.0, 4.0))), 5.0);
        assert_eq!(flat.gap(&edge((2.0, 0.5), (9.0, 0.5))), 0.5);
    }

    /// Every start in either direction, as it is meant.
    fn distance_by_all_starts(wanted: &[Point], found: &[Point]) -> f64 {
        let back: Vec<Point> = found.iter().rev().copied().collect();
        let turns = (0..found.len()).flat_map(|start| [(found, start), (&back, start)]);
        let off = turns.map(|(way, start)| {
            let turned = way.iter().cycle().skip(start);
            let each = wanted.iter().zip(turned).map(|(p, q)| p.to(*q).length());
            each.fold(0.0, f64::max)
        });
        off.fold(f64::INFINITY, f64::min)
    }

    proptest! {
        #[test]
        fn the_likely_start_first_finds_the_same(
            corners in prop::collection::vec((0..4_i32, 0..4_i32), 1..9),
            start in 0..9_usize,
            turned in any::<bool>(),
            off in prop::collection::vec((-0.6..0.6_f64, -0.6..0.6_f64), 9),
        ) {
            let wanted: Vec<Point> = corners
                .iter()
                .map(|(x, y)| Point::new(f64::from(*x), f64::from(*y)))
                .collect();
            let mut found: Vec<Point> = wanted
                .iter()
                .zip(&off)
                .map(|(p, (x, y))| Point::new(p.x + x, p.y + y))
                .collect();
            found.rotate_left(start % wanted.len());
            if turned {
                found.reverse();
            }
            let wanted_off = distance_by_all_starts(&wanted, &found);
            prop_assert_eq!(vertex_distance(&wanted, &found, true), wanted_off);
            let within = |most: f64| vertex_distance_within(&wanted, &found, true, most);
            prop_assert_eq!(within(wanted_off + 1e-9), wanted_off);
            prop_assert_eq!(within(wanted_off), f64::INFINITY);
        }
    }

    #[test]
    fn inside_is_inside() {
        let ring = points(&[(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 1.0), (0.0, 4.0)]);
        assert!(is_inside(Point::new(1.0, 1.0), &ring));
        assert!(!is_inside(Point::new(2.0, 2.0), &ring));
        assert!(!is_inside(Point::new(5.0, 1.0), &ring));
    }
}
