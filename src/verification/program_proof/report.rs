//! What is said of a program.

use crate::verification::faults::Fault;
use crate::verification::hazards::Watch;
use crate::verification::notches::{FoundSlot, NotchReport, find_slots};
use crate::verification::simulation::wood_step::WoodStep;

/// What came of a proof.
#[derive(Debug, Clone, PartialEq)]
pub struct ProgramReport {
    /// One for each notch expected, in that order; empty where none were given, and where the
    /// program could not be read to its end.
    pub notches: Vec<NotchReport>,
    /// What is wrong, in the order in which it was found.
    pub faults: Vec<Fault>,
    /// For codes that were found more often than is told: how many more.
    pub more_faults: Vec<(&'static str, usize)>,
    /// The cuts that the strips show at the end, along x.
    pub slots: Vec<FoundSlot>,
    /// Moves, straight ones and arcs, rapids included.
    pub moves: usize,
    /// First and last line that was read for it.
    pub lines: [usize; 2],
    /// Lines in it that only stop for a hand; not the one that ends a part.
    pub stops: usize,
    /// Length of all moves at a feed, mm.
    pub cutting_mm: f64,
    /// Length of all rapids from and to known places, mm.
    pub rapid_mm: f64,
    /// Time of all moves at a feed and all waits, s, without any slowing in corners.
    pub time_s: f64,
    /// Lowest and highest x, y and z of the cutter's end, program frame, mm; `None` where the
    /// program does not move along the axis.
    pub extent_mm: [Option<[f64; 2]>; 3],
}

impl ProgramReport {
    /// Whether nothing is wrong.
    pub fn ok(&self) -> bool {
        self.faults.is_empty() && self.notches.iter().all(|notch| notch.ok)
    }

    /// What a watch has seen.
    pub(super) fn of(watch: Watch, notches: Vec<NotchReport>) -> ProgramReport {
        let slots = find_slots(&watch.bundle, |_| |_: &WoodStep| true);
        let sums = watch.sums;
        let (faults, more_faults) = watch.faults.close();
        ProgramReport {
            notches,
            faults,
            more_faults,
            slots,
            moves: sums.moves,
            lines: watch.lines,
            stops: watch.stops,
            cutting_mm: sums.cutting_mm,
            rapid_mm: sums.rapid_mm,
            time_s: sums.cutting_s + sums.waiting_s,
            extent_mm: sums.extent,
        }
    }
}
