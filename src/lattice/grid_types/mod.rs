//! Grid types: each turns its own measures into families of parallel lines and the region that
//! they fill.
//!
//! The region's bounding box has its lower left corner one overhang to the right of and above the
//! panel frame's origin, so that the strips of an upright grid start at it.

mod diamond;
mod region;
mod square;
mod triangular;

pub use diamond::{DiamondGrid, DiamondStance};
pub use region::Region;
pub use square::SquareGrid;
pub use triangular::{TriangularGrid, TriangularStance};

use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM, Vector};

/// The grid types that can be built.
#[derive(Debug, Clone, PartialEq)]
pub enum Grid {
    /// Two families at right angles, equal or uneven pitches.
    Square(SquareGrid),
    /// Two families at any angle.
    Diamond(DiamondGrid),
    /// Three families, all three through every node.
    Triangular(TriangularGrid),
}

/// Parallel strips of a grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Family {
    /// What a person calls one of its strips.
    pub name: &'static str,
    /// Letter that starts its strips' labels.
    pub letter: char,
}

const UPRIGHT: Family = Family {
    name: "upright",
    letter: 'U',
};
const CROSS_STRIP: Family = Family {
    name: "cross strip",
    letter: 'C',
};
const LEVEL: Family = Family {
    name: "level strip",
    letter: 'L',
};
const RISING: Family = Family {
    name: "rising strip",
    letter: 'R',
};
const FALLING: Family = Family {
    name: "falling strip",
    letter: 'F',
};

/// The centre lines of a family, endless.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bars {
    /// Unit vector from the datum end (the left or, of steep ones, the lower) to the other end.
    pub(super) along: Vector,
    /// Distances from the origin along [`across`], growing.
    pub(super) offsets: Vec<f64>,
}

/// Lines and the region that they fill.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ruling {
    /// Front layer first.
    pub(super) bars: Vec<Bars>,
    /// Convex, counter-clockwise.
    pub(super) region: Vec<Point>,
    /// From the region's edge to a strip's end, along the strip.
    pub(super) overhang: f64,
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
}

impl Grid {
    /// The families, front layer first.
    pub fn families(&self) -> &'static [Family] {
        match self {
            Grid::Square(_) => SquareGrid::FAMILIES,
            Grid::Diamond(grid) => grid.families(),
            Grid::Triangular(grid) => grid.families(),
        }
    }

    /// From the region's edge to a strip's end, mm.
    pub fn overhang(&self) -> f64 {
        match self {
            Grid::Square(grid) => grid.overhang,
            Grid::Diamond(grid) => grid.overhang,
            Grid::Triangular(grid) => grid.overhang,
        }
    }

    pub(super) fn ruling(&self) -> Ruling {
        match self {
            Grid::Square(grid) => grid.ruling(),
            Grid::Diamond(grid) => grid.ruling(),
            Grid::Triangular(grid) => grid.ruling(),
        }
    }

    /// The outline that the panel is trimmed to, convex, counter-clockwise, panel frame.
    pub fn region(&self) -> Vec<Point> {
        self.ruling().region
    }

    /// The cells that lie in the region or overlap it, row by row from the bottom, each from the
    /// left. Of a square grid all are whole.
    pub fn cells(&self) -> Vec<GridCell> {
        match self {
            Grid::Square(grid) => {
                let ruling = grid.ruling();
                let at = |family: usize| {
                    ruling
                        .bars
                        .get(family)
                        .map_or(&[][..], |bars| &bars.offsets)
                };
                let mut cells = Vec::new();
                for (row, y) in at(1).windows(2).enumerate() {
                    for (column, x) in at(0).windows(2).enumerate() {
                        if let (&[low_x, high_x], &[low_y, high_y]) = (x, y) {
                            let corners =
                                rectangle(Point::new(low_x, low_y), Point::new(high_x, high_y));
                            let (column, row) = (column + 1, row + 1);
                            cells.push(GridCell {
                                column,
                                row,
                                corners,
                                whole: true,
                            });
                        }
                    }
                }
                cells
            }
            Grid::Diamond(grid) => grid.cells(),
            Grid::Triangular(grid) => grid.cells(),
        }
    }
}

/// The direction in which a family's strips are numbered: to the right for steep ones, else up.
pub(super) fn across(along: Vector) -> Vector {
    if is_steep(along) {
        Vector::new(along.y, -along.x)
    } else {
        Vector::new(-along.y, along.x)
    }
}

/// Strips at 45 degrees count as steep.
pub(super) fn is_steep(along: Vector) -> bool {
    let slack = PARALLEL_SINE * along.length();
    along.y.abs() >= along.x.abs() - slack
}

/// A unit vector at an angle from x, counter-clockwise, radians; exact at quarter turns.
fn direction(angle: f64) -> Vector {
    let exact = |part: f64| if part.abs() < 1e-15 { 0.0 } else { part };
    let (sine, cosine) = angle.sin_cos();
    Vector::new(exact(cosine), exact(sine))
}

/// Whether a line runs toward its datum end: the lower end of a steep one, else the left end.
pub(super) fn is_backward(along: Vector) -> bool {
    if is_steep(along) {
        along.y < 0.0
    } else {
        along.x < 0.0
    }
}

/// The same line from its datum end.
fn from_datum(along: Vector) -> Vector {
    if is_backward(along) {
        along.times(-1.0)
    } else {
        along
    }
}

/// Lines `pitch` apart of which one runs through `node`, as far as they meet the region.
fn bars(angle: f64, pitch: f64, node: Point, region: &[Point]) -> Bars {
    let along = from_datum(direction(angle));
    let across = across(along);
    let offset = |p: &Point| p.x * across.x + p.y * across.y;
    let base = offset(&node);
    let steps = |p: &Point| (offset(p) - base) / pitch;
    let low = region.iter().map(steps).fold(f64::INFINITY, f64::min);
    let high = region.iter().map(steps).fold(f64::NEG_INFINITY, f64::max);
    let slack = SAME_POSITION_MM / pitch;
    #[allow(clippy::cast_possible_truncation)] // bays were counted before
    let (first, last) = ((low - slack).ceil() as i64, (high + slack).floor() as i64);
    let offsets = (first..=last)
        .map(|step| base + step as f64 * pitch)
        .collect();
    Bars { along, offsets }
}

/// A rectangle between two corners.
fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]
}
