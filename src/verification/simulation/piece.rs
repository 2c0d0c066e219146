//! A part of a move, and the floor that it leaves.

use super::footprint::Footprint;
use super::slanted_floor::SlantedWay;
use super::wood_step::CutFloor;

/// A part of a move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MovePiece {
    /// In plan.
    pub footprint: Footprint,
    /// Heights of the cutter's end where it begins and where it ends, mm; it changes evenly, and along a
    /// [`Footprint::Segment`] of some length only.
    pub heights: [f64; 2],
}

impl MovePiece {
    /// One of one height.
    pub fn level(footprint: Footprint, z: f64) -> Self {
        MovePiece {
            footprint,
            heights: [z; 2],
        }
    }

    /// The same so much higher.
    #[must_use]
    pub fn raised(self, by: f64) -> Self {
        MovePiece {
            heights: self.heights.map(|z| z + by),
            ..self
        }
    }

    /// Height of the cutter's end where it is lowest, mm.
    pub fn lowest(&self) -> f64 {
        self.heights[0].min(self.heights[1])
    }

    /// Whether it climbs or falls.
    #[allow(clippy::float_cmp)] // exact: a level way has the same height at both ends
    pub fn is_slanted(&self) -> bool {
        self.heights[0] != self.heights[1]
    }

    /// Whether it is level and runs square to the strips, or stays in one place.
    #[allow(clippy::float_cmp)] // exact: a way across the strips keeps its x
    pub(super) fn is_straight_across(&self) -> bool {
        match self.footprint {
            Footprint::Segment([a, b]) => a[0] == b[0] && !self.is_slanted(),
            Footprint::Arc(_) | Footprint::Anywhere(_) => false,
        }
    }

    /// The y of its lower end, where it climbs or falls across the strips.
    #[allow(clippy::float_cmp)] // exact: a way along the strips keeps its y
    pub(super) fn lower_y(&self) -> Option<f64> {
        let Footprint::Segment([a, b]) = self.footprint else {
            return None;
        };
        let [from, to] = self.heights;
        (from != to && a[1] != b[1]).then_some(if from < to { a[1] } else { b[1] })
    }

    /// What of it is below `top`: all of it, where it is level.
    pub fn below(&self, top: f64) -> Option<MovePiece> {
        if self.lowest() >= top {
            return None;
        }
        let Footprint::Segment(ends) = self.footprint else {
            return Some(*self);
        };
        let [from, to] = self.heights;
        if from.max(to) <= top {
            return Some(*self);
        }
        let share = (top - from) / (to - from);
        let cross = [0, 1].map(|axis: usize| {
            let [a, b] = ends.map(|end| end[axis]);
            a + share * (b - a)
        });
        let (ends, heights) = if from > to {
            ([cross, ends[1]], [top, to])
        } else {
            ([ends[0], cross], [from, top])
        };
        Some(MovePiece {
            footprint: Footprint::Segment(ends),
            heights,
        })
    }

    /// The floors that a cutter of radius `r` leaves of it.
    pub(super) fn floors(&self, r: f64) -> PieceFloors<'_> {
        match self.footprint {
            Footprint::Segment(ends) if self.is_slanted() => {
                PieceFloors::Slanted(Box::new(SlantedWay::new(ends, self.heights, r)))
            }
            _ => PieceFloors::Level(&self.footprint, self.lowest(), r),
        }
    }
}

/// The floors that a piece leaves on lines along the strips.
pub(super) enum PieceFloors<'a> {
    /// Of one height, with the cutter's radius.
    Level(&'a Footprint, f64, f64),
    Slanted(Box<SlantedWay>),
}

impl PieceFloors<'_> {
    /// That on the line at `y`, part by part, each with the whole interval of x that it belongs to.
    pub(super) fn on(&self, y: f64, each: &mut dyn FnMut(CutFloor, [f64; 2])) {
        match self {
            PieceFloors::Level(footprint, z, r) => footprint.swept(y, *r, &mut |interval| {
                each(CutFloor::level(interval, *z), interval);
            }),
            PieceFloors::Slanted(way) => way.on(y, each),
        }
    }
}
