//! Strips and their notches.

use super::direction::{PanelEnd, datum_end};
use super::laps::Face;
use crate::geometry::{Point, SAME_POSITION_MM};

/// Which strip: its family and its number within it, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StripId {
    /// Index of the family.
    pub family: usize,
    /// From 1, in the order of positions.
    pub number: usize,
}

/// One straight slot in a strip. Millimetres along the strip from its datum end; radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Notch {
    /// What lies in it.
    pub mate: NotchMate,
    /// Position of its centre on the strip's centre line.
    pub centre: f64,
    /// Along the strip.
    pub width: f64,
    /// From the face it enters.
    pub depth: f64,
    /// The face it enters.
    pub face: Face,
    /// From the strip's direction to the mate's, counter-clockwise seen from the front, in (0, pi).
    pub angle: f64,
}

impl Notch {
    /// Position of the edge nearer the datum end.
    pub fn near_edge(&self) -> f64 {
        self.centre - self.width / 2.0
    }

    /// Position of the edge farther from the datum end.
    pub fn far_edge(&self) -> f64 {
        self.centre + self.width / 2.0
    }
}

/// What lies in a notch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NotchMate {
    /// Another strip.
    Strip(StripId),
    /// A piece that runs over the strip from cell to cell.
    Piece,
}

impl NotchMate {
    /// The strip, if it is one.
    pub fn strip(self) -> Option<StripId> {
        match self {
            NotchMate::Strip(id) => Some(id),
            NotchMate::Piece => None,
        }
    }
}

/// A strip with its notches in order from the datum end.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Which one.
    pub id: StripId,
    /// Datum end of its centre line, panel frame.
    pub start: Point,
    /// Other end of its centre line, panel frame.
    pub end: Point,
    /// End to end, mm.
    pub length: f64,
    /// Its place from the front (0); strips of one place never meet.
    pub place: usize,
    /// In order from the datum end.
    pub notches: Vec<Notch>,
}

impl Strip {
    /// Whether its centre line lies on the line through two points.
    pub fn lies_along(&self, from: Point, to: Point) -> bool {
        let along = from.to(to).unit().unwrap_or_default();
        let off = |p: Point| along.cross(from.to(p)).abs();
        off(self.start) < SAME_POSITION_MM && off(self.end) < SAME_POSITION_MM
    }

    /// The end that it is measured from, as it lies in the panel.
    pub fn datum_end(&self) -> PanelEnd {
        datum_end(self.start.to(self.end))
    }

    /// The other one.
    pub fn far_end(&self) -> PanelEnd {
        self.datum_end().opposite()
    }
}

/// Width along the strip of a notch that a mate of a given thickness crosses at `angle`:
/// the mate's width square to itself, thickness and clearance, is seen along the strip
/// through the sine of the angle between them. Millimetres, radians.
pub(super) fn notch_width(mate_thickness: f64, clearance: f64, angle: f64) -> f64 {
    (mate_thickness + clearance) / angle.sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;
    use std::f64::consts::PI;

    #[test]
    fn a_slanting_mate_needs_a_wider_notch() {
        // t / sin 60 = 1.1547 t; 45 deg: 1.4142 t.
        assert!(approx_eq!(
            f64,
            notch_width(1.0, 0.0, PI / 3.0),
            1.154_700_538,
            epsilon = 1e-9
        ));
        assert!(approx_eq!(
            f64,
            notch_width(2.8, 0.2, PI / 4.0),
            3.0 * 2_f64.sqrt(),
            epsilon = 1e-12
        ));
    }
}
