//! Points and vectors.

use std::ops::{Add, Mul, Neg, Sub};

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
        (length > 0.0).then(|| self * (1.0 / length))
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
