//! The clear opening of a cell, its corners and walls with their names.

use crate::geometry::Point;

/// What a pattern is drawn for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CellShape {
    /// Four walls at right angles.
    Square,
    /// Three equal walls, the base below.
    Triangle,
}

impl CellShape {
    /// Names of the walls, counter-clockwise; wall `i` runs from corner `i` to the next corner.
    pub fn walls(self) -> &'static [&'static str] {
        match self {
            CellShape::Square => &["south", "east", "north", "west"],
            CellShape::Triangle => &["base", "right", "left"],
        }
    }

    /// Names of the corners, counter-clockwise.
    pub fn corners(self) -> &'static [&'static str] {
        match self {
            CellShape::Square => &["south-west", "south-east", "north-east", "north-west"],
            CellShape::Triangle => &["bottom-left", "bottom-right", "top"],
        }
    }
}

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

    /// What it is.
    pub fn shape(&self) -> CellShape {
        self.shape
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

    /// Width along x and height along y, mm.
    pub fn size(&self) -> (f64, f64) {
        let largest =
            |coordinate: fn(&Point) -> f64| self.corners.iter().map(coordinate).fold(0.0, f64::max);
        (largest(|p| p.x), largest(|p| p.y))
    }
}

fn is_size(mm: f64) -> bool {
    mm.is_finite() && mm > 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_triangle_loses_half_a_thickness_at_each_wall() {
        let cell = Cell::triangle_of_grid(60.0, 3.0).unwrap();
        let (side, height) = cell.size();
        // Inradius of an equilateral triangle: a third of its height (standard plane geometry).
        let clear = 60.0 * 3_f64.sqrt() / 6.0 - 1.5;
        assert!((height / 3.0 - clear).abs() < 1e-12);
        assert!((side - 2.0 * 3_f64.sqrt() * clear).abs() < 1e-12);
    }

    #[test]
    fn no_opening_no_cell() {
        assert!(Cell::rectangle(0.0, 5.0).is_none() && Cell::rectangle(5.0, f64::NAN).is_none());
        assert!(Cell::triangle_of_grid(5.0, 3.0).is_none());
    }
}
