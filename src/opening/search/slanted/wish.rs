//! What a person would like of a slanted grid.

use crate::lattice::{DiamondStance, TriangularStance};
use crate::opening::search::bay_wish::BayWish;
use crate::opening::slanted::{SlantedRoom, given_rhomb, given_triangle};
use crate::opening::wish::{NodePlace, SlantedRest};

/// A kind of slanted grid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Slanted {
    /// Rhombs.
    Diamond {
        /// How they lie.
        stance: DiamondStance,
        /// Between the families, rad; nothing where it may follow from what fills the inside.
        angle: Option<f64>,
    },
    /// Triangles.
    Triangular {
        /// How they lie.
        stance: TriangularStance,
    },
}

impl Slanted {
    /// Where its whole cells can end.
    pub fn room(self, node: NodePlace, rest: SlantedRest) -> SlantedRoom {
        match self {
            Slanted::Diamond { stance, .. } => SlantedRoom::of_diamonds(stance, node, rest),
            Slanted::Triangular { stance } => SlantedRoom::of_triangles(stance, node, rest),
        }
    }

    /// What a column and a row take at a pitch of 1, `angle` that of rhombs, rad.
    pub(super) fn unit(self, angle: f64) -> [f64; 2] {
        match self {
            Slanted::Diamond { stance, .. } => given_rhomb(stance, angle),
            // The pitch is a triangle's height.
            Slanted::Triangular { stance } => {
                given_triangle(stance).map(|unit| unit / 0.75_f64.sqrt())
            }
        }
    }

    /// How the families lie, as angles to the level, rad.
    pub(super) fn inclinations(self, angle: f64) -> Vec<f64> {
        use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_6};
        match self {
            Slanted::Diamond {
                stance: DiamondStance::OnPoint,
                ..
            } => vec![FRAC_PI_2 - angle / 2.0, FRAC_PI_2 + angle / 2.0],
            Slanted::Diamond {
                stance: DiamondStance::Upright,
                ..
            } => vec![FRAC_PI_2, FRAC_PI_2 - angle],
            Slanted::Triangular {
                stance: TriangularStance::Lying,
            } => vec![0.0, FRAC_PI_3, 2.0 * FRAC_PI_3],
            Slanted::Triangular {
                stance: TriangularStance::Upright,
            } => vec![FRAC_PI_2, FRAC_PI_6, -FRAC_PI_6],
        }
    }
}

/// What is asked for of the cells of a slanted grid. Millimetres.
#[derive(Debug, Clone, PartialEq)]
pub struct SlantedBayWish {
    /// What the cells are.
    pub grid: Slanted,
    /// Pitch, counts and slots; of the margins the least one where [`SlantedBayWish::least_margin`] has it.
    pub bays: BayWish,
    /// Least margin where one is asked for, inner face to the edge of what the cells fill.
    pub least_margin: Option<f64>,
    /// Of a strip, seen from the front.
    pub thickness: f64,
}
