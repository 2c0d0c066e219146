//! Tolerances for comparing figures, each with its name.
//!
//! `a.approx_eq(b, POSITION)` (float-cmp) says that two figures differ by no more than the margin.
//! Every figure that gets here is finite: text that is no number is refused where it is read, and a
//! figure that cannot be printed is refused before a file is written. That matters, since two that
//! are no numbers would count as equal.

use super::point::Point;
use float_cmp::{ApproxEq, F64Margin};

/// Two positions closer than this, in mm, are the same position. A ten-thousandth of what any
/// machine of this trade can set, and ten thousand times the rounding of `f64` at 2 m.
pub const SAME_POSITION_MM: f64 = 1e-6;

/// Two directions whose cross product (sine of the angle between them) is below this are parallel.
pub const PARALLEL_SINE: f64 = 1e-9;

/// Positions and lengths, mm: see [`SAME_POSITION_MM`].
pub const POSITION: F64Margin = F64Margin {
    epsilon: SAME_POSITION_MM,
    ulps: 0,
};

/// Directions by the sine of the angle between them, and small angles by themselves, rad: see
/// [`PARALLEL_SINE`].
pub const DIRECTION: F64Margin = F64Margin {
    epsilon: PARALLEL_SINE,
    ulps: 0,
};

/// Points are the same where their distance is within the margin.
impl ApproxEq for Point {
    type Margin = F64Margin;

    fn approx_eq<M: Into<F64Margin>>(self, other: Point, margin: M) -> bool {
        self.to(other).length().approx_eq(0.0, margin)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_compared_by_their_distance() {
        let p = Point::new(1.0, 2.0);
        let by = 0.9 * SAME_POSITION_MM;
        assert!(p.approx_eq(Point::new(1.0, 2.0 + by), POSITION));
        // Each coordinate is within the margin, the distance is not.
        assert!(p.approx_ne(Point::new(1.0 + by, 2.0 + by), POSITION));
    }

    #[test]
    fn the_margin_is_on_both_sides() {
        for sign in [1.0, -1.0] {
            assert!(10.0_f64.approx_eq(10.0 + sign * 0.9e-6, POSITION));
            assert!(10.0_f64.approx_ne(10.0 + sign * 1.1e-6, POSITION));
        }
    }
}
