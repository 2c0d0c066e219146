//! Corners that a round cutter can clear, so that a square part sits in them.

use crate::geometry::offset::is_simple;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM, Vector};
use crate::machines::{Cutter, Relief};
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// How much larger than the cutter a relief is: with the cutter's own radius its middle could not
/// enter what chords leave of the circle. Common practice, no source, mm.
pub(super) const ROOM_MM: f64 = 0.05;

/// How far a chord lies inside its circle at most, mm.
const SAGITTA_MM: f64 = 0.005;

/// Least wood between two reliefs. Common practice, no source, mm.
const LEAST_WOOD_MM: f64 = 1.0;

/// Why corners cannot be relieved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum ReliefError {
    /// A side between two corners, mm long, is shorter than the cutter is wide.
    TooNarrow(f64),
    /// The reliefs at the ends of a side, mm long, take more than it has: how much.
    Merge(f64, f64),
    /// A relief reaches another part of the outline, or nearly so.
    BreaksThrough,
}

/// A ring with the part on its left: a corner that turns right is concave.
struct RingCorner {
    at: Point,
    /// Direction and length of the side that leads to it, and of the one that leads away.
    sides: [(Vector, f64); 2],
}

impl RingCorner {
    fn is_concave(&self) -> bool {
        let [(u, _), (v, _)] = self.sides;
        u.cross(v) < -PARALLEL_SINE
    }

    /// The circle's middle, and how far it reaches along either side from the corner.
    ///
    /// Bone: the middle lies on the bisector at a radius from the corner, so that the circle runs
    /// through it and meets each side at twice the radius times the cosine of half the corner's
    /// angle. Tee: the middle lies on the longer side at a radius from the corner.
    fn circle(&self, form: Relief, radius: f64) -> Option<(Point, [f64; 2])> {
        let [(u, before), (v, after)] = self.sides;
        match form {
            Relief::Bone => {
                let bisector = (v - u).unit()?;
                let reach = 2.0 * radius * bisector.dot(v);
                Some((self.at + bisector * radius, [reach; 2]))
            }
            Relief::Tee if before > after => Some((self.at - u * radius, [2.0 * radius, 0.0])),
            Relief::Tee => Some((self.at + v * radius, [0.0, 2.0 * radius])),
        }
    }
}

/// A ring, the part inside it (a hole: `part_inside` false, the part around it), with a relief in
/// each concave corner of the part.
///
/// # Errors
/// [`ReliefError`] for the first corner that has no room.
pub(crate) fn relieved(
    ring: &[Point],
    part_inside: bool,
    cutter: &Cutter,
) -> Result<Vec<Point>, ReliefError> {
    let mut ring = ring.to_vec();
    if !part_inside {
        ring.reverse();
    }
    let radius = cutter.diameter / 2.0 + ROOM_MM;
    let corners = corners(&ring);
    let circles: Vec<Option<(Point, [f64; 2])>> = corners
        .iter()
        .map(|corner| {
            corner
                .circle(cutter.relief, radius)
                .filter(|_| corner.is_concave())
        })
        .collect();
    if circles.iter().all(Option::is_none) {
        if !part_inside {
            ring.reverse();
        }
        return Ok(ring);
    }
    room(&corners, &circles, cutter)?;
    let mut points = Vec::new();
    for (corner, circle) in corners.iter().zip(&circles) {
        match circle {
            None => points.push(corner.at),
            Some((middle, [before, after])) => {
                let [(u, _), (v, _)] = corner.sides;
                let first = corner.at - u * *before;
                let last = corner.at + v * *after;
                arc(&mut points, *middle, first, corner.at, radius);
                points.push(corner.at);
                let mut rest = Vec::new();
                arc(&mut rest, *middle, corner.at, last, radius);
                points.extend(rest.into_iter().skip(1));
                if *after > 0.0 {
                    points.push(last);
                }
            }
        }
    }
    let middles: Vec<Point> = circles
        .iter()
        .flatten()
        .map(|(middle, _)| *middle)
        .collect();
    if !is_simple(&points) || too_near(&middles, radius, &ring, part_inside) {
        return Err(ReliefError::BreaksThrough);
    }
    if !part_inside {
        points.reverse();
    }
    Ok(points)
}

/// Whether less than [`LEAST_WOOD_MM`] of wood stays between two circles.
fn too_near(middles: &[Point], radius: f64, ring: &[Point], part_inside: bool) -> bool {
    let far = 2.0 * radius + LEAST_WOOD_MM;
    let pairs = middles
        .iter()
        .enumerate()
        .flat_map(|(at, a)| middles.iter().skip(at + 1).map(move |b| (*a, *b)));
    let near = pairs.filter(|(a, b)| a.to(*b).length() < far - SAME_POSITION_MM);
    // Across a notch there is no wood between them.
    near.map(|(a, b)| a + a.to(b) * 0.5)
        .any(|half_way| contains(ring, half_way) == part_inside)
}

/// Whether a point lies inside a ring: a ray to the right crosses it an odd number of times.
fn contains(ring: &[Point], p: Point) -> bool {
    let ends = ring.iter().cycle().skip(1);
    let crossed = ring.iter().zip(ends).filter(|(a, b)| {
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}

fn corners(ring: &[Point]) -> Vec<RingCorner> {
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let after = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(before.zip(after))
        .map(|(at, (before, after))| RingCorner {
            at: *at,
            sides: [side(before, at), side(at, after)],
        })
        .collect()
}

/// Direction and length.
fn side(from: &Point, to: &Point) -> (Vector, f64) {
    let way = from.to(*to);
    (way.unit().unwrap_or_default(), way.length())
}

/// Whether every side has room for the reliefs at its ends, and the cutter between them.
fn room(
    corners: &[RingCorner],
    circles: &[Option<(Point, [f64; 2])>],
    cutter: &Cutter,
) -> Result<(), ReliefError> {
    let next = circles.iter().cycle().skip(1);
    for ((corner, circle), next) in corners.iter().zip(circles).zip(next) {
        let [_, (_, length)] = corner.sides;
        if let (Some(_), Some(_)) = (circle, next)
            && length < cutter.diameter - SAME_POSITION_MM
        {
            return Err(ReliefError::TooNarrow(length));
        }
        let taken = circle.map_or(0.0, |(_, [_, after])| after)
            + next.map_or(0.0, |(_, [before, _])| before);
        if taken > length - SAME_POSITION_MM {
            return Err(ReliefError::Merge(length, taken));
        }
    }
    Ok(())
}

/// Points from `first` (given) up to before `last`, clockwise about `middle`; nothing where both
/// are the same point.
fn arc(points: &mut Vec<Point>, middle: Point, first: Point, last: Point, radius: f64) {
    let angle = |p: Point| {
        let way = middle.to(p);
        way.y.atan2(way.x)
    };
    if first.approx_eq(last, POSITION) {
        return;
    }
    let from = angle(first);
    let to = angle(last);
    let sweep = (from - to).rem_euclid(2.0 * PI);
    // A chord over the angle 2 a lies radius (1 - cos a) inside the circle.
    let half_step = (1.0 - SAGITTA_MM / radius).max(0.0).acos();
    let count = (sweep / (2.0 * half_step)).ceil().max(1.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a few
    let steps = count as u32;
    points.push(first);
    for step in 1..steps {
        let at = from - sweep * f64::from(step) / count;
        points.push(middle + Vector::new(at.cos(), at.sin()) * radius);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::signed_area;

    fn cutter(diameter: f64, relief: Relief) -> Cutter {
        Cutter {
            diameter,
            relief,
            bridges: None,
        }
    }

    /// A bar of 40 by 12 with a notch `wide` wide and 6 deep in its lower side.
    fn bar(wide: f64) -> Vec<Point> {
        let (a, b) = (20.0 - wide / 2.0, 20.0 + wide / 2.0);
        [
            (0.0, 0.0),
            (a, 0.0),
            (a, 6.0),
            (b, 6.0),
            (b, 0.0),
            (40.0, 0.0),
            (40.0, 12.0),
            (0.0, 12.0),
        ]
        .map(|(x, y)| Point::new(x, y))
        .to_vec()
    }

    #[test]
    fn a_bone_takes_half_a_circle_less_its_corner() {
        // Through a square corner the circle meets each side at sqrt 2 R; beyond the two sides lies
        // half a disc less the triangle in it: R^2 (pi / 2 - 1) a corner.
        let radius: f64 = 0.75 + ROOM_MM;
        let found = relieved(&bar(3.0), true, &cutter(1.5, Relief::Bone)).unwrap();
        let taken = signed_area(&bar(3.0)) - signed_area(&found);
        let wanted = 2.0 * radius * radius * (PI / 2.0 - 1.0);
        assert!(
            taken < wanted && taken > wanted - 2.0 * 2.0 * PI * radius * SAGITTA_MM,
            "{taken} {wanted}"
        );
        let deepest = found
            .iter()
            .filter(|p| (p.x - 20.0).abs() < 2.5)
            .map(|p| p.y)
            .fold(0.0, f64::max);
        assert!((deepest - 6.0 - radius * (1.0 - 0.5_f64.sqrt())).abs() < SAGITTA_MM);
        for corner in [Point::new(18.5, 6.0), Point::new(21.5, 6.0)] {
            assert!(found.contains(&corner));
        }
    }

    #[test]
    fn a_tee_takes_half_a_disc_from_the_longer_side_and_none_from_the_floor() {
        let radius = 0.75 + ROOM_MM;
        let found = relieved(&bar(3.0), true, &cutter(1.5, Relief::Tee)).unwrap();
        let taken = signed_area(&bar(3.0)) - signed_area(&found);
        let wanted = PI * radius * radius;
        assert!(
            taken < wanted && taken > wanted - 2.0 * PI * radius * SAGITTA_MM,
            "{taken} {wanted}"
        );
        let inside = found.iter().filter(|p| p.x > 1.0 && p.x < 39.0);
        assert!(inside.clone().all(|p| p.y < 6.0 + 1e-9));
        assert!(
            inside
                .clone()
                .any(|p| (p.x - 18.5 + radius).abs() < 2.0 * SAGITTA_MM)
        );
    }

    #[test]
    fn reliefs_that_merge_and_cutters_that_are_too_wide_are_refused() {
        let bone = cutter(1.5, Relief::Bone);
        // 2 sqrt 2 (0.75 + 0.05) = 2.2627.
        assert!(relieved(&bar(2.27), true, &bone).is_ok());
        assert!(matches!(
            relieved(&bar(2.25), true, &bone),
            Err(ReliefError::Merge(..))
        ));
        let tee = cutter(1.5, Relief::Tee);
        assert!(relieved(&bar(1.5), true, &tee).is_ok());
        assert!(matches!(
            relieved(&bar(1.49), true, &tee),
            Err(ReliefError::TooNarrow(_))
        ));
        // 6 mm of wall hold a tee of 2 R up to R = 3.
        assert!(relieved(&bar(7.0), true, &cutter(5.8, Relief::Tee)).is_err());
    }

    #[test]
    fn wood_stays_between_reliefs() {
        // Two notches of 3, tees of R = 0.8 in the wood between them: 2 R + 1 = 2.6 at least.
        let comb = |web: f64| {
            let from = 10.0 + 3.0 + web;
            let corners = [
                (0.0, 0.0),
                (10.0, 0.0),
                (10.0, 6.0),
                (13.0, 6.0),
                (13.0, 0.0),
            ];
            let other = [
                (from, 0.0),
                (from, 6.0),
                (from + 3.0, 6.0),
                (from + 3.0, 0.0),
            ];
            let rest = [(40.0, 0.0), (40.0, 12.0), (0.0, 12.0)];
            let all = corners.iter().chain(&other).chain(&rest);
            all.map(|&(x, y)| Point::new(x, y)).collect::<Vec<_>>()
        };
        let tee = cutter(1.5, Relief::Tee);
        assert!(relieved(&comb(2.61), true, &tee).is_ok());
        assert_eq!(
            relieved(&comb(2.59), true, &tee),
            Err(ReliefError::BreaksThrough)
        );
        assert_eq!(
            relieved(&comb(1.5), true, &tee),
            Err(ReliefError::BreaksThrough)
        );
    }

    #[test]
    fn holes_are_relieved_all_around_and_convex_parts_not_at_all() {
        let hole =
            [(0.0, 0.0), (3.0, 0.0), (3.0, 60.0), (0.0, 60.0)].map(|(x, y)| Point::new(x, y));
        let found = relieved(&hole, false, &cutter(1.5, Relief::Tee)).unwrap();
        let radius: f64 = 0.75 + ROOM_MM;
        let more = signed_area(&found) - 180.0;
        assert!(
            (more - 2.0 * PI * radius * radius).abs() < 4.0 * PI * radius * SAGITTA_MM,
            "{more}"
        );
        assert_eq!(
            relieved(&hole, true, &cutter(1.5, Relief::Bone)).unwrap(),
            hole
        );
    }
}
