//! Taking the kerf off again: the contour that stays when the beam has run along a path.

use crate::geometry::tolerance::DIRECTION;
use crate::geometry::{Point, Vector, signed_area};
use float_cmp::ApproxEq;

/// The line of all `p` with `normal . p = reach`, and where the ring's edge on it began.
#[derive(Clone, Copy)]
struct MovedSide {
    normal: Vector,
    reach: f64,
    began: Point,
}

impl MovedSide {
    fn along(&self) -> Vector {
        Vector::new(-self.normal.y, self.normal.x)
    }
}

/// A ring, given in either direction, whose sides are moved inward by `by` mm (outward where
/// negative); counter-clockwise. `None` where nothing is left.
///
/// Each side becomes the half plane behind it, moved; its corners are where neighbouring lines
/// meet. A side that turns around has been passed by its neighbours (the square end of a tip,
/// with the tip itself behind it): it no longer bounds the part and is dropped.
pub(super) fn shrunk(ring: &[Point], by: f64) -> Option<Vec<Point>> {
    let mut ring = ring.to_vec();
    if signed_area(&ring) < 0.0 {
        ring.reverse();
    }
    let ends = ring.iter().cycle().skip(1);
    let sides = ring.iter().zip(ends).map(|(&from, &to)| {
        let along = from.to(to).unit()?;
        let normal = Vector::new(along.y, -along.x);
        let reach = normal.x * from.x + normal.y * from.y - by;
        Some(MovedSide {
            normal,
            reach,
            began: from,
        })
    });
    let mut sides = sides.collect::<Option<Vec<MovedSide>>>()?;
    loop {
        let corners = corners(&sides, by)?;
        let ends = corners.iter().cycle().skip(1);
        let turned = sides.iter().zip(corners.iter().zip(ends));
        let mut turned = turned.map(|(side, (from, to))| from.to(*to).dot(side.along()) <= 0.0);
        match turned.position(|turned| turned) {
            None => return Some(corners),
            Some(side) => {
                sides.remove(side);
            }
        }
    }
}

/// Where each side begins: on the line before it.
fn corners(sides: &[MovedSide], by: f64) -> Option<Vec<Point>> {
    if sides.len() < 3 {
        return None;
    }
    let before = sides.iter().cycle().skip(sides.len() - 1);
    sides
        .iter()
        .zip(before)
        .map(|(side, before)| meet(before, side, by))
        .collect()
}

/// Cramer's rule for `m . p = r` and `n . p = s`.
fn meet(before: &MovedSide, side: &MovedSide, by: f64) -> Option<Point> {
    let m = before.normal;
    let n = side.normal;
    let sine = m.cross(n);
    if sine.approx_ne(0.0, DIRECTION) {
        return Some(Point::new(
            (before.reach * n.y - side.reach * m.y) / sine,
            (m.x * side.reach - n.x * before.reach) / sine,
        ));
    }
    // A vertex in the middle of a straight side.
    (m.dot(n) > 0.0).then(|| side.began + n * -by)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(points: &[(f64, f64)]) -> Vec<Point> {
        points.iter().map(|&(x, y)| Point::new(x, y)).collect()
    }

    fn assert_same(found: &[Point], wanted: &[(f64, f64)]) {
        assert_eq!(found.len(), wanted.len(), "{found:?}");
        for (p, &(x, y)) in found.iter().zip(wanted) {
            assert!(p.to(Point::new(x, y)).length() < 1e-12, "{found:?}");
        }
    }

    #[test]
    fn an_ell_by_hand_in_both_directions() {
        let mut path = ring(&[
            (-0.1, -0.1),
            (4.1, -0.1),
            (4.1, 2.1),
            (2.1, 2.1),
            (2.1, 4.1),
            (-0.1, 4.1),
        ]);
        let wanted = [
            (0.0, 0.0),
            (4.0, 0.0),
            (4.0, 2.0),
            (2.0, 2.0),
            (2.0, 4.0),
            (0.0, 4.0),
        ];
        assert_same(&shrunk(&path, 0.1).unwrap(), &wanted);
        path.reverse();
        let mut found = shrunk(&path, 0.1).unwrap();
        let start = found
            .iter()
            .position(|p| p.x.abs() + p.y.abs() < 1e-9)
            .unwrap();
        found.rotate_left(start);
        assert_same(&found, &wanted);
    }

    #[test]
    fn a_square_end_beyond_the_tip_goes_away() {
        // Sides at 45 degrees through (0, 0), moved out by 1, cut off at x = 1.2: the moved sides
        // run through (sqrt 2, 0).
        let y = 2f64.sqrt() - 1.2;
        let path = ring(&[(-9.0, -y - 10.2), (1.2, -y), (1.2, y), (-9.0, y + 10.2)]);
        let found = shrunk(&path, 1.0).unwrap();
        assert_eq!(found.len(), 3);
        assert!(
            found[1].x.abs() < 1e-12 && found[1].y.abs() < 1e-12,
            "{found:?}"
        );
    }

    #[test]
    fn nothing_left_is_nothing() {
        let square = ring(&[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
        assert!(shrunk(&square, 0.6).is_none());
        assert!(shrunk(&square, 0.4).is_some());
        assert!(shrunk(&ring(&[(0.0, 0.0), (0.0, 0.0), (1.0, 1.0)]), 0.1).is_none());
    }
}
