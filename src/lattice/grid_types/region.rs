//! The part of the plane that a grid fills, and where the grid lies in it.

use super::ruling;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};

/// What a slanted grid fills. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub enum Region {
    /// A rectangle of so many cells side by side and above each other.
    Cells {
        /// Side by side.
        columns: usize,
        /// Above each other.
        rows: usize,
    },
    /// A rectangle; the grid lies in its middle: turned by half a turn it is the same, or, where
    /// triangles do not allow that, mirrored left and right.
    Rectangle {
        /// Along x.
        width: f64,
        /// Along y.
        height: f64,
    },
    /// A regular hexagon with corners at the right and the left of a lying grid, above and below
    /// an upright one.
    Hexagon {
        /// Cells from the middle to a corner.
        rings: usize,
    },
    /// Any convex polygon.
    Polygon {
        /// Counter-clockwise.
        corners: Vec<Point>,
        /// A node of the grid, in the corners' own frame.
        node: Point,
    },
}

/// How a slanted grid repeats, as far as a region has to know. Millimetres.
pub(super) struct Repeat {
    /// Width of a column and height of a row.
    pub(super) cell: Vector,
    /// How much higher the next node to the right lies.
    pub(super) rise: f64,
    /// From node to node along a strip.
    pub(super) step: f64,
    /// Direction of a hexagon's first corner, a unit vector.
    pub(super) first: Vector,
}

/// A region placed in the panel frame.
pub(super) struct Placed {
    /// Convex, counter-clockwise.
    pub(super) ring: Vec<Point>,
    /// A node of the grid.
    pub(super) node: Point,
}

impl Region {
    /// Columns and rows that a rectangle holds whole, given the width and height that a column
    /// and a row take.
    pub(in crate::lattice) fn whole_cells(size: f64, cell: f64) -> f64 {
        (size / cell + SAME_POSITION_MM / cell).floor().max(0.0)
    }

    /// Places the region one overhang inside the panel frame's origin.
    pub(super) fn place(&self, repeat: &Repeat, overhang: f64) -> Placed {
        let cell = repeat.cell;
        let low = Point::new(overhang, overhang);
        let rectangle = |width: f64, height: f64, node: Point| Placed {
            ring: ruling::rectangle(low, Point::new(low.x + width, low.y + height)),
            node,
        };
        match self {
            Region::Cells { columns, rows } => {
                rectangle(*columns as f64 * cell.x, *rows as f64 * cell.y, low)
            }
            Region::Rectangle { width, height } => {
                let margin =
                    |size: f64, cell: f64| (size - Self::whole_cells(size, cell) * cell) / 2.0;
                // Half of the columns' rise lies below the middle, half above.
                let columns = Self::whole_cells(*width, cell.x);
                let up = margin(*height, cell.y) - columns * repeat.rise / 2.0;
                let margins = Vector::new(margin(*width, cell.x), up);
                rectangle(*width, *height, low + margins)
            }
            Region::Hexagon { rings } => {
                let radius = *rings as f64 * repeat.step;
                let first = repeat.first;
                let half = 0.75_f64.sqrt();
                let turns = [
                    (1.0, 0.0),
                    (0.5, half),
                    (-0.5, half),
                    (-1.0, 0.0),
                    (-0.5, -half),
                    (0.5, -half),
                ];
                let ring = turns.map(|(x, y)| {
                    let turned = Vector::new(first.x * x - first.y * y, first.y * x + first.x * y);
                    Point::new(radius * turned.x, radius * turned.y)
                });
                moved(&ring, Point::default(), low)
            }
            Region::Polygon { corners, node } => moved(corners, *node, low),
        }
    }
}

/// A ring and a node moved together until the ring's box starts at `low`.
fn moved(ring: &[Point], node: Point, low: Point) -> Placed {
    let by = bounds(ring.iter().copied()).map_or(Vector::default(), |(corner, _)| corner.to(low));
    Placed {
        ring: ring.iter().map(|p| *p + by).collect(),
        node: node + by,
    }
}
