//! Plane geometry: points, vectors, lines, rings. Millimetres; x to the right, y up; rings
//! counter-clockwise unless said otherwise.

pub mod convex;
pub mod offset;
pub mod tolerance;

use float_cmp::ApproxEq;
use std::ops::{Add, Mul, Neg, Sub};
use tolerance::DIRECTION;

/// Two positions closer than this, in mm, are the same position. A ten-thousandth of what any
/// machine of this trade can set, and ten thousand times the rounding of `f64` at 2 m.
pub const SAME_POSITION_MM: f64 = 1e-6;

/// Two directions whose cross product (sine of the angle between them) is below this are parallel.
pub const PARALLEL_SINE: f64 = 1e-9;

/// A position in mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

/// A displacement in mm, or a direction.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Vector {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
}

impl Point {
    /// The point at (x, y).
    pub const fn new(x: f64, y: f64) -> Self {
        Point { x, y }
    }

    /// The way from `self` to `other`.
    pub fn to(self, other: Point) -> Vector {
        other - self
    }

    /// The point displaced by `by`.
    pub fn plus(self, by: Vector) -> Point {
        self + by
    }
}

/// The point displaced.
impl Add<Vector> for Point {
    type Output = Point;

    fn add(self, by: Vector) -> Point {
        Point::new(self.x + by.x, self.y + by.y)
    }
}

/// The point displaced the other way.
impl Sub<Vector> for Point {
    type Output = Point;

    fn sub(self, by: Vector) -> Point {
        Point::new(self.x - by.x, self.y - by.y)
    }
}

/// The way from the right point to the left one: `b - a` leads from `a` to `b`.
impl Sub for Point {
    type Output = Vector;

    fn sub(self, from: Point) -> Vector {
        Vector::new(self.x - from.x, self.y - from.y)
    }
}

impl Vector {
    /// The vector (x, y).
    pub const fn new(x: f64, y: f64) -> Self {
        Vector { x, y }
    }

    /// Its length.
    pub fn length(self) -> f64 {
        self.x.hypot(self.y)
    }

    /// Scaled by `factor`.
    pub fn times(self, factor: f64) -> Vector {
        self * factor
    }

    /// Sum of both.
    pub fn plus(self, other: Vector) -> Vector {
        self + other
    }

    /// Dot product.
    pub fn dot(self, other: Vector) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// Cross product: positive where `other` lies counter-clockwise of `self`.
    pub fn cross(self, other: Vector) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// The same direction with length 1; `None` for the zero vector.
    pub fn unit(self) -> Option<Vector> {
        let length = self.length();
        (length > 0.0).then(|| self.times(1.0 / length))
    }
}

impl Add for Vector {
    type Output = Vector;

    fn add(self, other: Vector) -> Vector {
        Vector::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vector {
    type Output = Vector;

    fn sub(self, other: Vector) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Neg for Vector {
    type Output = Vector;

    fn neg(self) -> Vector {
        Vector::new(-self.x, -self.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Vector;

    fn mul(self, factor: f64) -> Vector {
        Vector::new(self.x * factor, self.y * factor)
    }
}

/// Where the segment `a` to `b` crosses the segment `c` to `d`, as fractions of the way along
/// each; `None` where they are parallel.
///
/// Solves `a + s (b - a) = c + t (d - c)` by Cramer's rule.
pub fn crossing_fractions(a: Point, b: Point, c: Point, d: Point) -> Option<(f64, f64)> {
    let (along, across, between) = (a.to(b), c.to(d), a.to(c));
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

/// Twice-signed area halved: positive for a counter-clockwise ring, mm^2.
pub fn signed_area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(next)
        .map(|(p, q)| p.x * q.y - q.x * p.y)
        .sum::<f64>()
        / 2.0
}

/// Smallest and largest coordinates of some points; `None` of no points.
pub fn bounds(points: impl IntoIterator<Item = Point>) -> Option<(Point, Point)> {
    points.into_iter().fold(None, |bounds, p| {
        let (low, high) = bounds.unwrap_or((p, p));
        Some((
            Point::new(low.x.min(p.x), low.y.min(p.y)),
            Point::new(high.x.max(p.x), high.y.max(p.y)),
        ))
    })
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

    #[test]
    fn area_has_the_sign_of_the_turn() {
        let ring = [
            Point::new(0.0, 0.0),
            Point::new(2.0, 0.0),
            Point::new(2.0, 3.0),
        ];
        assert!(approx_eq!(f64, signed_area(&ring), 3.0, epsilon = 1e-15));
    }
}
