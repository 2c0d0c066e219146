//! Grid types: each turns its own measures into the strips' centre lines.

use super::panel::{Family, GridLine};
use crate::geometry::Point;

/// Uprights along y and cross strips along x, at any list of pitches. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct SquareGrid {
    /// Distances between neighbouring uprights, left to right.
    pub pitches_x: Vec<f64>,
    /// Distances between neighbouring cross strips, bottom to top.
    pub pitches_y: Vec<f64>,
    /// From every strip's end to the centre of its first notch.
    pub overhang: f64,
}

impl SquareGrid {
    /// Uprights in front, cross strips behind.
    pub(super) const FAMILIES: &'static [Family] = &[
        Family {
            name: "upright",
            letter: 'U',
            layer: 0,
        },
        Family {
            name: "cross strip",
            letter: 'C',
            layer: 1,
        },
    ];

    /// Length of an upright: both overhangs and all rows.
    pub fn height(&self) -> f64 {
        2.0 * self.overhang + self.pitches_y.iter().sum::<f64>()
    }

    /// Length of a cross strip: both overhangs and all columns.
    pub fn width(&self) -> f64 {
        2.0 * self.overhang + self.pitches_x.iter().sum::<f64>()
    }

    pub(super) fn lines(&self) -> Vec<GridLine> {
        let (width, height) = (self.width(), self.height());
        let upright = |(at, x): (usize, f64)| GridLine {
            family: 0,
            number: at + 1,
            start: Point::new(x, 0.0),
            end: Point::new(x, height),
        };
        let cross = |(at, y): (usize, f64)| GridLine {
            family: 1,
            number: at + 1,
            start: Point::new(0.0, y),
            end: Point::new(width, y),
        };
        let xs = positions(self.overhang, &self.pitches_x)
            .into_iter()
            .enumerate()
            .map(upright);
        let ys = positions(self.overhang, &self.pitches_y)
            .into_iter()
            .enumerate()
            .map(cross);
        xs.chain(ys).collect()
    }
}

/// `first`, and after it one position per pitch, each measured from the one datum.
fn positions(first: f64, pitches: &[f64]) -> Vec<f64> {
    let running = pitches.iter().scan(first, |at, pitch| {
        *at += pitch;
        Some(*at)
    });
    std::iter::once(first).chain(running).collect()
}
