//! The cells between the centre lines.

use super::region::Placed;
use crate::geometry::convex::{common, depth};
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds, signed_area};

/// What a cell measures between the strips' centre lines. It is taken from the grid's own measures,
/// not from where the cell lies, so that equal cells are equal bit by bit. Millimetres, radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CellMeasures {
    /// Right angles, columns and rows of any widths.
    Rectangle {
        /// Along x.
        width: f64,
        /// Along y.
        height: f64,
    },
    /// Equal rhombs.
    Rhomb {
        /// Between opposite sides, square to them.
        pitch: f64,
        /// Between the families.
        angle: f64,
    },
    /// Equal triangles with equal sides.
    Triangle {
        /// From node to node.
        side: f64,
    },
}

/// What a cell between the strips' centre lines is.
#[derive(Debug, Clone, PartialEq)]
pub struct GridCell {
    /// From 1, from the left of its row.
    pub column: usize,
    /// From 1, from the bottom.
    pub row: usize,
    /// On the centre lines, counter-clockwise. First corner: the lower left one of a standing
    /// cell, the lowest of a cell on its point, the left end of the base of a triangle seen with
    /// its base below.
    pub corners: Vec<Point>,
    /// Whether all of it lies in the region.
    pub whole: bool,
    /// How large it is, whole.
    pub measures: CellMeasures,
}

/// A share of a cell below this is rounding.
const NO_SHARE: f64 = 1e-7;

/// The cells of a grid of nodes `node + i e1 + j e2` that overlap a region. `axes`: e1 and e2,
/// counter-clockwise. `shapes`: a cell's
/// corners as (i, j) from its node; `row` numbers the rows from (i, j) and the shape.
pub(super) fn cells(
    placed: &Placed,
    axes: [Vector; 2],
    shapes: &[&[(f64, f64)]],
    row: impl Fn(i64, i64, usize) -> i64,
    measures: CellMeasures,
) -> Vec<GridCell> {
    let [e1, e2] = axes;
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
                    placed.node + e1 * (i as f64 + di) + e2 * (j as f64 + dj)
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
    number(found, measures)
}

/// Rows from the bottom, columns from the left.
fn number(mut found: Vec<(i64, Vec<Point>, bool)>, measures: CellMeasures) -> Vec<GridCell> {
    let left = |corners: &[Point]| corners.iter().map(|p| p.x).sum::<f64>();
    found.sort_by(|(row, a, _), (other, b, _)| row.cmp(other).then(left(a).total_cmp(&left(b))));
    let mut cells: Vec<GridCell> = Vec::with_capacity(found.len());
    let mut row = 0;
    let mut column = 0;
    let mut key = None;
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
            measures,
        });
    }
    cells
}
