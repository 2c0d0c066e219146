//! Two families at any angle.

use super::cells::{self, CellMeasures, GridCell};
use super::family::{CROSS_STRIP, FALLING, Family, RISING, UPRIGHT};
use super::region::{Placed, Region, Repeat};
use super::ruling::{Ruling, centre_lines};
use crate::geometry::Vector;
use crate::lattice::direction::direction;
use std::f64::consts::FRAC_PI_2;

/// Equal rhombs. Millimetres, radians.
#[derive(Debug, Clone, PartialEq)]
pub struct DiamondGrid {
    /// Between neighbouring centre lines of a family, square to them.
    pub pitch: f64,
    /// Between the families.
    pub angle: f64,
    /// How the rhombs lie.
    pub stance: DiamondStance,
    /// What they fill.
    pub region: Region,
    /// From the region's edge to a strip's end, along the strip.
    pub overhang: f64,
}

/// How rhombs lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DiamondStance {
    /// One family stands, the other crosses it at the angle, rising to the right if that is acute.
    #[default]
    Upright,
    /// Both families lean alike, the angle stands at the rhombs' upper and lower corners.
    OnPoint,
}

impl DiamondGrid {
    pub(super) fn families(&self) -> &'static [Family] {
        match self.stance {
            DiamondStance::Upright => &[UPRIGHT, CROSS_STRIP],
            DiamondStance::OnPoint => &[RISING, FALLING],
        }
    }

    /// Directions of the families from x, so that turning the second one counter-clockwise by the
    /// angle gives the first one, or the first one the second on the point.
    fn directions(&self) -> [f64; 2] {
        match self.stance {
            DiamondStance::Upright => [FRAC_PI_2, FRAC_PI_2 - self.angle],
            DiamondStance::OnPoint => [FRAC_PI_2 - self.angle / 2.0, FRAC_PI_2 + self.angle / 2.0],
        }
    }

    /// Distance between neighbouring nodes along a strip: the other family's lines, `pitch` apart,
    /// are crossed at the angle.
    pub fn step(&self) -> f64 {
        self.pitch / self.angle.sin()
    }

    /// Width of a column and height of a row: the spacing of the uprights and of the nodes on
    /// them, or the rhomb's diagonals.
    pub(in crate::lattice) fn cell(&self) -> Vector {
        let (sine, cosine) = (self.angle / 2.0).sin_cos();
        match self.stance {
            DiamondStance::Upright => Vector::new(self.pitch, self.step()),
            DiamondStance::OnPoint => {
                Vector::new(2.0 * self.step() * sine, 2.0 * self.step() * cosine)
            }
        }
    }

    fn placed(&self) -> Placed {
        let [first, second] = self.directions();
        let rise = match self.stance {
            DiamondStance::Upright => direction(second).y * self.step(),
            DiamondStance::OnPoint => 0.0,
        };
        let repeat = Repeat {
            cell: self.cell(),
            rise,
            step: self.step(),
            first: direction(first),
        };
        self.region.place(&repeat, self.overhang)
    }

    pub(super) fn ruling(&self) -> Ruling {
        let Placed { ring, node } = self.placed();
        let families = self
            .directions()
            .map(|angle| centre_lines(angle, self.pitch, node, &ring));
        Ruling {
            families: families.to_vec(),
            region: ring,
            overhang: self.overhang,
        }
    }

    pub(super) fn cells(&self) -> Vec<GridCell> {
        let [first, second] = self
            .directions()
            .map(|angle| direction(angle) * self.step());
        // Counter-clockwise from e1 to e2.
        let (axes, row): (_, fn(i64, i64, usize) -> i64) = match self.stance {
            DiamondStance::Upright => ([second, first], |_, j, _| j),
            DiamondStance::OnPoint => ([first, second], |i, j, _| i + j),
        };
        let rhomb: &[(f64, f64)] = &[(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let measures = CellMeasures::Rhomb {
            pitch: self.pitch,
            angle: self.angle,
        };
        cells::cells(&self.placed(), axes, &[rhomb], row, measures)
    }
}
