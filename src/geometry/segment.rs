//! Where segments cross.

use super::point::Point;
use super::tolerance::DIRECTION;
use float_cmp::ApproxEq;

/// Where the segment `a` to `b` crosses the segment `c` to `d`, as fractions of the way along
/// each; `None` where they are parallel.
///
/// Solves `a + s (b - a) = c + t (d - c)` by Cramer's rule.
pub fn crossing_fractions(a: Point, b: Point, c: Point, d: Point) -> Option<(f64, f64)> {
    let along = a.to(b);
    let across = c.to(d);
    let between = a.to(c);
    let sine = along.unit()?.cross(across.unit()?);
    if sine.approx_eq(0.0, DIRECTION) {
        return None;
    }
    let determinant = along.cross(across);
    Some((
        between.cross(across) / determinant,
        between.cross(along) / determinant,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn segments_cross_where_they_should() {
        let p = Point::new;
        let (s, t) =
            crossing_fractions(p(0.0, 0.0), p(10.0, 0.0), p(4.0, -1.0), p(4.0, 3.0)).unwrap();
        assert!(
            approx_eq!(f64, s, 0.4, epsilon = 1e-15) && approx_eq!(f64, t, 0.25, epsilon = 1e-15)
        );
        assert!(crossing_fractions(p(0.0, 0.0), p(1.0, 0.0), p(0.0, 1.0), p(1.0, 1.0)).is_none());
    }
}
