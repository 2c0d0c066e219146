//! What a watch knows of a program so far.

use super::ways_in::WaysIn;
use crate::phrase::Phrase;
use crate::verification::faults::{Fault, FaultLedger};
use crate::verification::gcode::codes::{PathControl, SpindleTurn};
use crate::verification::gcode::state::{Point3, Position, Stated};
use crate::verification::limits::Limits;
use crate::verification::simulation::bundle::SimulatedBundle;
use crate::verification::workpiece::{ExpectedRows, Workpiece};

/// Heights within this of the stock's top, mm, are at the top.
pub(super) const AT_TOP_MM: f64 = 1e-6;

/// The move before.
#[derive(Debug, Clone, Copy)]
pub(super) struct MoveBefore {
    /// At its end, length 1.
    pub(super) direction: Point3,
    pub(super) length: f64,
    pub(super) lowest: f64,
    /// mm/min; `None` for a rapid.
    pub(super) feed: Option<f64>,
    pub(super) end: Point3,
    pub(super) mode: Option<PathControl>,
}

/// What a program has done so far.
pub(in crate::verification) struct Watch<'a> {
    pub(in crate::verification) limits: &'a Limits,
    pub(in crate::verification) ways_in: WaysIn<'a>,
    /// Rectangles with wood in them, seen from above.
    pub(in crate::verification) wood_in: Vec<[[f64; 2]; 2]>,
    /// Pieces that the tool must not come into.
    pub(in crate::verification) rows: Option<&'a ExpectedRows>,
    pub(in crate::verification) bundle: SimulatedBundle,
    pub(in crate::verification) faults: FaultLedger,
    /// Where the cutter is, as the program tells it.
    pub(super) place: Position,
    pub(super) turning: Option<(SpindleTurn, f64)>,
    /// Seconds waited since the spindle was last started.
    pub(super) waited_s: f64,
    pub(super) told: Stated,
    pub(super) has_cut: bool,
    pub(super) before: Option<MoveBefore>,
    pub(in crate::verification) sums: Sums,
    pub(in crate::verification) ended: bool,
    /// First and last line that was read.
    pub(in crate::verification) lines: [usize; 2],
    /// Stops on the way.
    pub(in crate::verification) stops: usize,
}

/// Lengths, times and extents of a program.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(in crate::verification) struct Sums {
    pub(in crate::verification) moves: usize,
    pub(in crate::verification) cutting_mm: f64,
    pub(in crate::verification) rapid_mm: f64,
    pub(in crate::verification) cutting_s: f64,
    pub(in crate::verification) waiting_s: f64,
    /// Lowest and highest x, y and z of all that is known.
    pub(in crate::verification) extent: [Option<[f64; 2]>; 3],
}

impl<'a> Watch<'a> {
    pub(in crate::verification) fn new(
        workpiece: &Workpiece,
        limits: &'a Limits,
        bundle: SimulatedBundle,
    ) -> Self {
        Watch {
            limits,
            ways_in: WaysIn::default(),
            wood_in: vec![workpiece.hull()],
            rows: None,
            bundle,
            faults: FaultLedger::default(),
            place: [None; 3],
            turning: None,
            waited_s: 0.0,
            told: Stated::default(),
            has_cut: false,
            before: None,
            sums: Sums::default(),
            ended: false,
            lines: [1, 0],
            stops: 0,
        }
    }

    pub(super) fn fault(&mut self, code: &'static str, line: usize, text: impl Into<Phrase>) {
        self.faults.add(Fault::at(code, line, text));
    }
}
