//! Endless centre lines, and the region that cuts them.

use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::lattice::direction::{across, direction, from_datum};

/// The centre lines of a family, endless.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::lattice) struct CentreLines {
    /// Unit vector from the datum end (the left or, of steep ones, the lower) to the other end.
    pub(in crate::lattice) along: Vector,
    /// Distances from the origin along [`crate::lattice::direction::across`], growing.
    pub(in crate::lattice) offsets: Vec<f64>,
}

/// Lines and the region that they fill.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::lattice) struct Ruling {
    /// Front layer first.
    pub(in crate::lattice) families: Vec<CentreLines>,
    /// Convex, counter-clockwise.
    pub(in crate::lattice) region: Vec<Point>,
    /// From the region's edge to a strip's end, along the strip.
    pub(in crate::lattice) overhang: f64,
}

/// Lines `pitch` apart of which one runs through `node`, as far as they meet the region.
pub(super) fn centre_lines(angle: f64, pitch: f64, node: Point, region: &[Point]) -> CentreLines {
    let along = from_datum(direction(angle));
    let across = across(along);
    let offset = |p: &Point| p.x * across.x + p.y * across.y;
    let base = offset(&node);
    let steps = |p: &Point| (offset(p) - base) / pitch;
    let low = region.iter().map(steps).fold(f64::INFINITY, f64::min);
    let high = region.iter().map(steps).fold(f64::NEG_INFINITY, f64::max);
    let slack = SAME_POSITION_MM / pitch;
    #[allow(clippy::cast_possible_truncation)] // bays were counted before
    let numbers = (low - slack).ceil() as i64..=(high + slack).floor() as i64;
    let offsets = numbers.map(|step| base + step as f64 * pitch).collect();
    CentreLines { along, offsets }
}

/// A rectangle between two corners.
pub(super) fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]
}
