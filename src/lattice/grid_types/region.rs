//! The part of the plane that a grid fills, and where the grid lies in it.

use super::GridCell;
use crate::geometry::convex::{common, depth};
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds, signed_area};

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

    /// Places the region one overhang inside the panel frame's origin. `cell`: what a column and
    /// a row take; `rise`: how much higher the next node to the right lies; `step`: from node to
    /// node, and the direction of a hexagon's first corner.
    pub(super) fn place(
        &self,
        cell: (f64, f64),
        rise: f64,
        (step, first): (f64, Vector),
        overhang: f64,
    ) -> Placed {
        let low = Point::new(overhang, overhang);
        let rectangle = |width: f64, height: f64, node: Point| Placed {
            ring: super::rectangle(low, Point::new(low.x + width, low.y + height)),
            node,
        };
        match self {
            Region::Cells { columns, rows } => {
                rectangle(*columns as f64 * cell.0, *rows as f64 * cell.1, low)
            }
            Region::Rectangle { width, height } => {
                let margin =
                    |size: f64, cell: f64| (size - Self::whole_cells(size, cell) * cell) / 2.0;
                // Half of the columns' rise lies below the middle, half above.
                let columns = Self::whole_cells(*width, cell.0);
                let up = margin(*height, cell.1) - columns * rise / 2.0;
                let margins = Vector::new(margin(*width, cell.0), up);
                rectangle(*width, *height, low.plus(margins))
            }
            Region::Hexagon { rings } => {
                let radius = *rings as f64 * step;
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
        ring: ring.iter().map(|p| p.plus(by)).collect(),
        node: node.plus(by),
    }
}

/// A share of a cell below this is rounding.
const NO_SHARE: f64 = 1e-7;

/// The cells of a grid of nodes `node + i e1 + j e2` that overlap a region. `shapes`: a cell's
/// corners as (i, j) from its node; `row` numbers the rows from (i, j) and the shape.
pub(super) fn cells(
    placed: &Placed,
    (e1, e2): (Vector, Vector),
    shapes: &[&[(f64, f64)]],
    row: impl Fn(i64, i64, usize) -> i64,
) -> Vec<GridCell> {
    let area = e1.cross(e2);
    let steps = |p: &Point| {
        let to = placed.node.to(*p);
        Point::new(to.cross(e2) / area, e1.cross(to) / area)
    };
    let Some((low, high)) = bounds(placed.ring.iter().map(steps)) else {
        return Vec::new();
    };
    #[allow(clippy::cast_possible_truncation)] // bays were counted before
    let range = |low: f64, high: f64| (low.floor() as i64 - 1)..=(high.ceil() as i64 + 1);
    let mut found: Vec<(i64, Vec<Point>, bool)> = Vec::new();
    for j in range(low.y, high.y) {
        for i in range(low.x, high.x) {
            for (shape, corners) in shapes.iter().enumerate() {
                let at = |(di, dj): &(f64, f64)| {
                    placed
                        .node
                        .plus(e1.times(i as f64 + di))
                        .plus(e2.times(j as f64 + dj))
                };
                let corners: Vec<Point> = corners.iter().map(at).collect();
                let inside = |p: &Point| depth(&placed.ring, *p) >= -SAME_POSITION_MM;
                let whole = corners.iter().all(inside);
                let share = || signed_area(&common(&corners, &placed.ring)) / area;
                if whole || share() > NO_SHARE {
                    found.push((row(i, j, shape), corners, whole));
                }
            }
        }
    }
    number(found)
}

/// Rows from the bottom, columns from the left.
fn number(mut found: Vec<(i64, Vec<Point>, bool)>) -> Vec<GridCell> {
    let left = |corners: &[Point]| corners.iter().map(|p| p.x).sum::<f64>();
    found.sort_by(|(row, a, _), (other, b, _)| row.cmp(other).then(left(a).total_cmp(&left(b))));
    let mut cells: Vec<GridCell> = Vec::with_capacity(found.len());
    let (mut row, mut column, mut key) = (0, 0, None);
    for (of_row, corners, whole) in found {
        if key != Some(of_row) {
            (row, column, key) = (row + 1, 0, Some(of_row));
        }
        column += 1;
        cells.push(GridCell {
            column,
            row,
            corners,
            whole,
        });
    }
    cells
}
