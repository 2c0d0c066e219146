//! Two families at right angles.

use super::cells::{CellMeasures, GridCell};
use super::family::{CROSS_STRIP, Family, UPRIGHT};
use super::ruling::{CentreLines, Ruling, rectangle};
use crate::geometry::{Point, Vector};

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
    pub(super) const FAMILIES: &'static [Family] = &[UPRIGHT, CROSS_STRIP];

    /// Length of an upright: both overhangs and all rows.
    pub fn height(&self) -> f64 {
        2.0 * self.overhang + self.pitches_y.iter().sum::<f64>()
    }

    /// Length of a cross strip: both overhangs and all columns.
    pub fn width(&self) -> f64 {
        2.0 * self.overhang + self.pitches_x.iter().sum::<f64>()
    }

    pub(super) fn ruling(&self) -> Ruling {
        let xs = positions(self.overhang, &self.pitches_x);
        let ys = positions(self.overhang, &self.pitches_y);
        let far = |at: &[f64]| at.last().copied().unwrap_or(self.overhang);
        let low = Point::new(self.overhang, self.overhang);
        let region = rectangle(low, Point::new(far(&xs), far(&ys)));
        let families = vec![
            CentreLines {
                along: Vector::new(0.0, 1.0),
                offsets: xs,
            },
            CentreLines {
                along: Vector::new(1.0, 0.0),
                offsets: ys,
            },
        ];
        Ruling {
            families,
            region,
            overhang: self.overhang,
        }
    }

    /// All of them are whole.
    pub(super) fn cells(&self) -> Vec<GridCell> {
        let xs = positions(self.overhang, &self.pitches_x);
        let ys = positions(self.overhang, &self.pitches_y);
        let mut cells = Vec::new();
        for (row, (y, height)) in ys.windows(2).zip(&self.pitches_y).enumerate() {
            for (column, (x, width)) in xs.windows(2).zip(&self.pitches_x).enumerate() {
                if let (&[left, right], &[bottom, top]) = (x, y) {
                    cells.push(GridCell {
                        column: column + 1,
                        row: row + 1,
                        corners: rectangle(Point::new(left, bottom), Point::new(right, top)),
                        whole: true,
                        measures: CellMeasures::Rectangle {
                            width: *width,
                            height: *height,
                        },
                    });
                }
            }
        }
        cells
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
