//! Three families at 60 degrees, all three through every node.

use super::cells::{self, CellMeasures, GridCell};
use super::family::{FALLING, Family, LEVEL, RISING, UPRIGHT};
use super::region::{Placed, Region, Repeat};
use super::ruling::{Ruling, centre_lines};
use crate::geometry::Vector;
use crate::lattice::direction::direction;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_6};

/// Equal triangles. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct TriangularGrid {
    /// Between neighbouring nodes.
    pub side: f64,
    /// How the triangles lie.
    pub stance: TriangularStance,
    /// What they fill.
    pub region: Region,
    /// From the region's edge to a strip's end, along the strip.
    pub overhang: f64,
}

/// How triangles lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TriangularStance {
    /// One family lies along x, the others rise and fall at 60 degrees to it.
    #[default]
    Lying,
    /// One family stands, the others rise and fall at 30 degrees to x.
    Upright,
}

impl TriangularGrid {
    /// The level or standing family in front, the falling one at the back.
    pub(super) fn families(&self) -> &'static [Family] {
        match self.stance {
            TriangularStance::Lying => &[LEVEL, RISING, FALLING],
            TriangularStance::Upright => &[UPRIGHT, RISING, FALLING],
        }
    }

    fn directions(&self) -> [f64; 3] {
        match self.stance {
            TriangularStance::Lying => [0.0, FRAC_PI_3, 2.0 * FRAC_PI_3],
            TriangularStance::Upright => [FRAC_PI_2, FRAC_PI_6, -FRAC_PI_6],
        }
    }

    /// Between neighbouring centre lines of a family: the height of a triangle, side sqrt 3 / 2.
    pub fn pitch(&self) -> f64 {
        self.side * 0.75_f64.sqrt()
    }

    /// Width of a column and height of a row: a side one way, a triangle's height the other way.
    pub(in crate::lattice) fn cell(&self) -> Vector {
        match self.stance {
            TriangularStance::Lying => Vector::new(self.side, self.pitch()),
            TriangularStance::Upright => Vector::new(self.pitch(), self.side),
        }
    }

    fn placed(&self) -> Placed {
        let [first, ..] = self.directions();
        let repeat = Repeat {
            cell: self.cell(),
            rise: 0.0,
            step: self.side,
            first: direction(first),
        };
        self.region.place(&repeat, self.overhang)
    }

    pub(super) fn ruling(&self) -> Ruling {
        let Placed { ring, node } = self.placed();
        let families = self
            .directions()
            .map(|angle| centre_lines(angle, self.pitch(), node, &ring));
        Ruling {
            families: families.to_vec(),
            region: ring,
            overhang: self.overhang,
        }
    }

    pub(super) fn cells(&self) -> Vec<GridCell> {
        let (low, row): (f64, fn(i64, i64, usize) -> i64) = match self.stance {
            TriangularStance::Lying => (0.0, |_, j, _| j),
            // Centres of the triangles lie half a side apart in height.
            TriangularStance::Upright => {
                (FRAC_PI_6, |i, j, shape| i + 2 * j + i64::from(shape == 1))
            }
        };
        let axes = [low, low + FRAC_PI_3].map(|angle| direction(angle) * self.side);
        let shapes: [&[(f64, f64)]; 2] = [
            &[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)],
            &[(1.0, 1.0), (0.0, 1.0), (1.0, 0.0)],
        ];
        let measures = CellMeasures::Triangle { side: self.side };
        cells::cells(&self.placed(), axes, &shapes, row, measures)
    }
}
