//! The clear opening of a cell.

use super::cell_shape::CellShape;
use super::lie::Lie;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, bounds};
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// The clear opening between strips: a convex polygon in the cell frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    shape: CellShape,
    corners: Vec<Point>,
}

impl Cell {
    /// A clear opening of `width` along x and `height` along y, mm; `None` unless both are above
    /// zero.
    pub fn rectangle(width: f64, height: f64) -> Option<Cell> {
        (is_size(width) && is_size(height)).then(|| Cell {
            shape: CellShape::Square,
            corners: vec![
                Point::new(0.0, 0.0),
                Point::new(width, 0.0),
                Point::new(width, height),
                Point::new(0.0, height),
            ],
        })
    }

    /// A clear opening with three equal walls of `side` mm; `None` unless that is above zero.
    pub fn triangle(side: f64) -> Option<Cell> {
        is_size(side).then(|| Cell {
            shape: CellShape::Triangle,
            corners: vec![
                Point::new(0.0, 0.0),
                Point::new(side, 0.0),
                Point::new(side / 2.0, side * 3_f64.sqrt() / 2.0),
            ],
        })
    }

    /// The clear opening of a triangle between centre lines of `side` mm, strips `thickness` thick:
    /// each wall lies half a thickness inside its centre line, so the inradius `side sqrt 3 / 6`
    /// loses `thickness / 2`, and the side, `2 sqrt 3` inradii, loses `sqrt 3` thicknesses.
    pub fn triangle_of_grid(side: f64, thickness: f64) -> Option<Cell> {
        Cell::triangle(side - 3_f64.sqrt() * thickness)
    }

    /// A clear opening with four equal walls of `side` mm and the angle `angle`, rad, at its first
    /// corner; a square where that is a right angle; `None` unless it has an inside.
    pub fn rhomb(side: f64, angle: f64) -> Option<Cell> {
        let (sine, cosine) = angle.sin_cos();
        if cosine.approx_eq(0.0, DIRECTION) {
            return Cell::rectangle(side, side);
        }
        let x = side * cosine;
        let y = side * sine;
        (is_size(side) && is_size(y)).then(|| Cell {
            shape: CellShape::Rhomb,
            corners: vec![
                Point::new(0.0, 0.0),
                Point::new(side, 0.0),
                Point::new(side + x, y),
                Point::new(x, y),
            ],
        })
    }

    /// The clear opening of a rhomb between centre lines `pitch` mm apart that cross at `angle`:
    /// its walls are a thickness nearer to each other, and as long as that over the sine.
    pub fn rhomb_of_grid(pitch: f64, angle: f64, thickness: f64) -> Option<Cell> {
        Cell::rhomb((pitch - thickness) / angle.sin(), angle)
    }

    /// The same cell as a pattern sees it that lies in it so.
    pub fn seen(&self, lie: Lie) -> Option<Cell> {
        let (first, second) = self.opening();
        match self.shape {
            CellShape::Triangle => Some(self.clone()),
            CellShape::Square => {
                let wall = lie.first + usize::from(lie.mirrored);
                let (wide, high) = if wall.is_multiple_of(2) {
                    (first, second)
                } else {
                    (second, first)
                };
                Cell::rectangle(wide, high)
            }
            CellShape::Rhomb if lie.first.is_multiple_of(2) => Some(self.clone()),
            CellShape::Rhomb => Cell::rhomb(first, PI - self.angle()),
        }
    }

    /// The same cell with the first wall `side` mm long, its angles kept.
    pub fn resized(&self, side: f64) -> Option<Cell> {
        match self.shape {
            CellShape::Triangle => Cell::triangle(side),
            CellShape::Square => Cell::rectangle(side, side),
            CellShape::Rhomb => Cell::rhomb(side, self.angle()),
        }
    }

    /// The same cell with opposite walls `by` mm farther apart; of a triangle, as if the strips were so much
    /// thinner.
    pub fn widened(&self, by: f64) -> Option<Cell> {
        if by == 0.0 {
            return Some(self.clone());
        }
        let (width, height) = self.opening();
        match self.shape {
            CellShape::Triangle => Cell::triangle(width + 3_f64.sqrt() * by),
            CellShape::Square => Cell::rectangle(width + by, height + by),
            CellShape::Rhomb => Cell::rhomb(width + by / self.angle().sin(), self.angle()),
        }
    }

    /// What it is.
    pub fn shape(&self) -> CellShape {
        self.shape
    }

    /// Whether it has equal walls at right angles.
    pub fn is_square(&self) -> bool {
        let (width, height) = self.opening();
        self.shape == CellShape::Square && width.approx_eq(height, POSITION)
    }

    /// Whether another cell is as large and has the same shape.
    pub fn is_like(&self, other: &Cell) -> bool {
        let near = |(p, q): (&Point, &Point)| p.approx_eq(*q, POSITION);
        self.shape == other.shape && self.corners.iter().zip(&other.corners).all(near)
    }

    /// Angle at the first corner, rad.
    pub fn angle(&self) -> f64 {
        match self.corners[..] {
            [corner, along, .., back] => {
                let u = corner.to(along);
                let v = corner.to(back);
                u.cross(v).atan2(u.dot(v))
            }
            _ => 0.0,
        }
    }

    /// Corners, counter-clockwise, in the order of [`CellShape::corners`].
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// Walls from corner to corner, in the order of [`CellShape::walls`].
    pub fn walls(&self) -> impl Iterator<Item = (Point, Point)> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().copied().zip(next.copied())
    }

    /// The point at fractions of the opening's width and height from its first corner; of a rhomb,
    /// along its first and its last wall.
    pub(super) fn at(&self, x: f64, y: f64) -> Point {
        match self.corners[..] {
            [corner, along, _, back] => corner + corner.to(along) * x + corner.to(back) * y,
            _ => {
                let (width, height) = self.size();
                Point::new(x * width, y * height)
            }
        }
    }

    /// Width along x and height along y of the box around it, mm.
    pub fn size(&self) -> (f64, f64) {
        bounds(self.corners.iter().copied())
            .map_or((0.0, 0.0), |(low, high)| (high.x - low.x, high.y - low.y))
    }

    /// What is measured of it, mm: width and height; base and height of a triangle; side of a
    /// rhomb, and square from wall to wall.
    pub fn opening(&self) -> (f64, f64) {
        let (width, height) = self.size();
        match self.shape {
            CellShape::Square | CellShape::Triangle => (width, height),
            CellShape::Rhomb => (self.corners.get(1).map_or(width, |end| end.x), height),
        }
    }
}

fn is_size(mm: f64) -> bool {
    mm.is_finite() && mm > 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn a_triangle_loses_half_a_thickness_at_each_wall() {
        let cell = Cell::triangle_of_grid(60.0, 3.0).unwrap();
        let (side, height) = cell.size();
        // Inradius of an equilateral triangle: a third of its height (standard plane geometry).
        let clear = 60.0 * 3_f64.sqrt() / 6.0 - 1.5;
        assert!(approx_eq!(f64, height / 3.0, clear, epsilon = 1e-12));
        assert!(approx_eq!(
            f64,
            side,
            2.0 * 3_f64.sqrt() * clear,
            epsilon = 1e-12
        ));
    }

    #[test]
    fn no_opening_no_cell() {
        assert!(Cell::rectangle(0.0, 5.0).is_none() && Cell::rectangle(5.0, f64::NAN).is_none());
        assert!(Cell::triangle_of_grid(5.0, 3.0).is_none());
    }

    #[test]
    fn a_rhomb_loses_a_thickness_between_its_walls() {
        let cell = Cell::rhomb_of_grid(40.0, PI / 3.0, 3.0).unwrap();
        let (side, between) = cell.opening();
        assert!(
            approx_eq!(f64, between, 37.0, epsilon = 1e-12)
                && approx_eq!(f64, side, 37.0 / 0.75_f64.sqrt(), epsilon = 1e-12)
        );
        assert!(approx_eq!(f64, cell.angle(), PI / 3.0, epsilon = 1e-12));
        let mirrored = Lie {
            first: 1,
            mirrored: true,
        };
        assert!(approx_eq!(
            f64,
            cell.seen(mirrored).unwrap().angle(),
            2.0 * PI / 3.0,
            epsilon = 1e-12
        ));
        let square = Cell::rhomb_of_grid(40.0, PI / 2.0, 3.0);
        assert_eq!(square, Cell::rectangle(37.0, 37.0));
    }
}
