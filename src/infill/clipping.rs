//! Polygons whose edges know what made them, and cutting them by half planes.

use crate::geometry::convex::parts;
use crate::geometry::{PARALLEL_SINE, Point, Vector, signed_area};

/// A distance below this part of a polygon's size is the rounding of `f64`, not a distance.
const ROUNDING: f64 = 1e-13;

/// Edges shorter than this are no edges: three lines through one point leave such ones, mm.
const SHORTEST_EDGE_MM: f64 = 1e-9;

/// Polygons that share more than this overlap, mm^2.
pub(super) const OVERLAP_MM2: f64 = 1e-9;

/// All points to one side of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct HalfPlane {
    /// On the line.
    pub(super) on: Point,
    /// Unit vector square to the line, pointing into the half plane.
    pub(super) inward: Vector,
}

impl HalfPlane {
    /// What lies to the left of the line from `on` along the unit vector `along`.
    pub(super) fn left_of(on: Point, along: Vector) -> Self {
        HalfPlane {
            on,
            inward: Vector::new(-along.y, along.x),
        }
    }

    /// The other side of the same line.
    pub(super) fn flipped(self) -> Self {
        HalfPlane {
            inward: -self.inward,
            ..self
        }
    }

    /// Distance of a point from the line, positive inside.
    pub(super) fn depth(&self, point: Point) -> f64 {
        self.on.to(point).dot(self.inward)
    }
}

/// A convex polygon, counter-clockwise: vertices, each with the tag of the edge that starts there.
pub(super) type Tagged<T> = Vec<(Point, T)>;

/// What of a convex polygon lies in a half plane; the edge along its line, if any, gets `tag`.
/// Empty where nothing is left.
pub(super) fn cut<T: Copy>(polygon: &Tagged<T>, by: HalfPlane, tag: T) -> Tagged<T> {
    let size = polygon
        .iter()
        .map(|(p, _)| by.on.to(*p).length())
        .fold(0.0, f64::max);
    let depth = |point| {
        let depth = by.depth(point);
        if depth.abs() <= ROUNDING * size {
            0.0
        } else {
            depth
        }
    };
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    let next = polygon.iter().cycle().skip(1);
    for (&(p, edge), &(q, _)) in polygon.iter().zip(next) {
        let here = depth(p);
        let there = depth(q);
        let crossing = || p + p.to(q) * (here / (here - there));
        if here > 0.0 || (here == 0.0 && there >= 0.0) {
            kept.push((p, edge));
        } else if here == 0.0 {
            kept.push((p, tag));
        }
        if here > 0.0 && there < 0.0 {
            kept.push((crossing(), tag));
        } else if here < 0.0 && there > 0.0 {
            kept.push((crossing(), edge));
        }
    }
    tidy(kept)
}

/// The same polygon without edges that are none and without corners that do not turn; empty where
/// fewer than three corners stay.
fn tidy<T: Copy>(mut polygon: Tagged<T>) -> Tagged<T> {
    let mut at = 0;
    while polygon.len() >= 3 && at < polygon.len() {
        let count = polygon.len();
        let corner = |i: usize| polygon.get(i % count).map(|(p, _)| *p);
        let (Some(before), Some(here), Some(after)) =
            (corner(at + count - 1), corner(at), corner(at + 1))
        else {
            break;
        };
        let u = before.to(here);
        let v = here.to(after);
        let is_short = v.length() < SHORTEST_EDGE_MM;
        let is_straight = u
            .unit()
            .zip(v.unit())
            .is_none_or(|(u, v)| u.cross(v).abs() < PARALLEL_SINE && u.dot(v) > 0.0);
        if is_short || is_straight {
            // A short edge's start goes with its edge; a straight corner's edge goes on from the
            // corner before it.
            polygon.remove(at);
            at = 0;
        } else {
            at += 1;
        }
    }
    if polygon.len() < 3 {
        polygon.clear();
    }
    polygon
}

/// Corners of a tagged polygon.
pub(super) fn corners<T>(polygon: &Tagged<T>) -> Vec<Point> {
    polygon.iter().map(|(p, _)| *p).collect()
}

/// What two convex polygons, counter-clockwise, have in common; empty where that is no area.
fn common(one: &[Point], other: &[Point]) -> Vec<Point> {
    let mut left: Tagged<()> = one.iter().map(|p| (*p, ())).collect();
    let next = other.iter().cycle().skip(1);
    for (p, q) in other.iter().zip(next) {
        if let Some(along) = p.to(*q).unit() {
            left = cut(&left, HalfPlane::left_of(*p, along), ());
        }
    }
    corners(&left)
}

/// The same of polygons that need not be convex, in convex parts.
pub(super) fn common_parts(one: &[Point], other: &[Point]) -> Vec<Vec<Point>> {
    let others = parts(other);
    let mut found = Vec::new();
    for part in parts(one) {
        let both = others.iter().map(|other| common(&part, other));
        found.extend(both.filter(|common| common.len() > 2));
    }
    found
}

/// Area that two polygons, counter-clockwise, have in common, mm^2.
pub(super) fn common_area(one: &[Point], other: &[Point]) -> f64 {
    let parts = common_parts(one, other);
    parts.iter().map(|part| signed_area(part).max(0.0)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn square() -> Tagged<u8> {
        let p = Point::new;
        vec![
            (p(0.0, 0.0), 0),
            (p(4.0, 0.0), 1),
            (p(4.0, 4.0), 2),
            (p(0.0, 4.0), 3),
        ]
    }

    fn plane(x: f64, y: f64, degrees: f64) -> HalfPlane {
        let (sine, cosine) = degrees.to_radians().sin_cos();
        HalfPlane::left_of(Point::new(x, y), Vector::new(cosine, sine))
    }

    #[test]
    fn a_corner_is_cut_off_with_its_own_edge() {
        let found = cut(&square(), plane(4.0, 3.0, 135.0), 9);
        let tags: Vec<u8> = found.iter().map(|(_, tag)| *tag).collect();
        assert_eq!(tags, [0, 1, 9, 2, 3]);
        assert!(approx_eq!(
            f64,
            signed_area(&corners(&found)),
            15.5,
            epsilon = 1e-12
        ));
    }

    #[test]
    fn a_line_along_an_edge_or_through_a_corner_changes_nothing() {
        assert_eq!(cut(&square(), plane(-7.0, 0.0, 0.0), 9), square());
        assert_eq!(cut(&square(), plane(4.0, 4.0, 135.0), 9), square());
    }

    #[test]
    fn a_line_through_two_corners_replaces_two_edges() {
        let found = cut(&square(), plane(4.0, 0.0, 135.0), 9);
        let tags: Vec<u8> = found.iter().map(|(_, tag)| *tag).collect();
        assert_eq!(tags, [0, 9, 3]);
    }

    #[test]
    fn nothing_is_left_beyond_the_polygon() {
        assert!(cut(&square(), plane(0.0, 4.0, 0.0), 9).is_empty());
        assert!(cut(&square(), plane(0.0, 5.0, 0.0), 9).is_empty());
    }

    #[test]
    fn common_areas() {
        let one = corners(&square());
        let moved =
            |x: f64| -> Vec<Point> { one.iter().map(|p| *p + Vector::new(x, 1.0)).collect() };
        assert!(approx_eq!(
            f64,
            common_area(&one, &moved(1.0)),
            9.0,
            epsilon = 1e-12
        ));
        assert!(common_area(&one, &moved(4.0)) == 0.0);
        assert!(common_area(&one, &moved(9.0)) == 0.0);
    }
}
