//! One slanted grid that could be made.

use super::wish::Slanted;
use crate::opening::wish::{NodePlace, SlantedRest};

/// How the cells of a slanted candidate come about. Slots are numbered from 0, as the rack has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlantedRuling {
    /// The pitch is the distance that a slot gives.
    Slot {
        /// Which.
        slot: usize,
        /// What the angle, where it is free, is chosen to fill.
        fills: Option<Filled>,
    },
    /// The pitch that was asked for.
    Pitch,
    /// Whole columns fill the width.
    Fills(Filled),
    /// Whole columns and rows fill both; the angle follows.
    FillsBoth,
}

/// A side that whole cells fill.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Filled {
    /// Columns fill the width.
    Width,
    /// Rows fill the height.
    Height,
}

impl SlantedRuling {
    /// What a slot gives comes first: every step of the sled goes over the key in it.
    pub fn tier(self) -> usize {
        match self {
            SlantedRuling::Slot { .. } => 0,
            SlantedRuling::Pitch | SlantedRuling::Fills(_) | SlantedRuling::FillsBoth => 1,
        }
    }
}

/// Rhombs or triangles that go into an inside. Millimetres, radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SlantedCandidate {
    /// What the cells are.
    pub grid: Slanted,
    /// How they come about.
    pub ruling: SlantedRuling,
    /// Between neighbouring centre lines of a family, square to them.
    pub pitch: f64,
    /// Between the families; 60 degrees of triangles.
    pub angle: f64,
    /// What a column and a row take.
    pub cell: [f64; 2],
    /// Whole columns that go side by side into what the margins leave.
    pub columns: usize,
    /// Whole rows above each other.
    pub rows: usize,
    /// Where a node lies.
    pub node: NodePlace,
    /// What becomes of what whole cells leave over.
    pub rest: SlantedRest,
    /// Inner face to the edge of what the cells fill: left and right, below and above.
    pub margin: [f64; 2],
    /// What whole cells leave over of what the least margins leave, at the left and right each, below
    /// and above each.
    pub left_over: [f64; 2],
    /// Of the strips that lie in the inside, the length of the shortest there.
    pub shortest: f64,
}

impl SlantedCandidate {
    /// Side of a triangle, from node to node: the pitch is its height.
    pub fn side(&self) -> f64 {
        self.pitch / 0.75_f64.sqrt()
    }

    /// How far the pitch is from the one that is wanted; zero where none is.
    pub fn off_pitch(&self, wanted: Option<f64>) -> f64 {
        wanted.map_or(0.0, |wanted| (self.pitch - wanted).abs())
    }
}
