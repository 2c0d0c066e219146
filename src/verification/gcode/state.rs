//! What a control remembers from block to block, and what it does: the events.

use super::arc::Arc;
use super::codes::{PathControl, ProgramStop, SpindleTurn};
use crate::verification::faults::Fault;

/// A position of the cutter's tip, mm, program frame: x, y, z. `None` where the program alone
/// does not tell it, as before the first move.
pub type Position = [Option<f64>; 3];

/// A position that is known in full, mm, program frame: x, y, z.
pub type Point3 = [f64; 3];

/// The position, if it is known in full.
pub fn known(place: Position) -> Option<Point3> {
    let [x, y, z] = place;
    Some([x?, y?, z?])
}

/// What the program cannot tell: where the machine is, and where its zeros are. Everything in
/// the program frame, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredPositions {
    /// Where the cutter stands when the program starts.
    pub start: Position,
    /// The zeros of G54 to G59; the first is the program frame's own.
    pub work_zeros: [Position; 6],
    /// The machine's own zero, for G53 and G10 L2.
    pub machine_zero: Position,
    /// The places stored for G28 and for G30.
    pub homes: [Position; 2],
}

impl Default for StoredPositions {
    /// Nothing is known but that G54 is the program frame.
    fn default() -> Self {
        let unknown = [None; 3];
        StoredPositions {
            start: unknown,
            work_zeros: [[Some(0.0); 3], unknown, unknown, unknown, unknown, unknown],
            machine_zero: unknown,
            homes: [unknown; 2],
        }
    }
}

/// The spindle as commanded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpindleState {
    /// Direction.
    pub turn: SpindleTurn,
    /// Turns per minute.
    pub rpm: f64,
}

impl SpindleState {
    /// Whether anything turns: M3 without a speed turns nothing (NISTIR 6556, 3.6.2).
    pub fn turns(self) -> bool {
        self.turn != SpindleTurn::Stopped && self.rpm > 0.0
    }
}

/// Which modes the program has said for itself so far, rather than taken over from whatever ran
/// before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Stated {
    /// G20 or G21.
    pub units: bool,
    /// G90 or G91.
    pub distance: bool,
    /// G17, G18 or G19.
    pub plane: bool,
    /// G93 or G94.
    pub feed_mode: bool,
    /// G54 to G59.
    pub work_zero: bool,
}

/// One straight move or arc.
#[derive(Debug, Clone, PartialEq)]
pub struct ToolMove {
    /// Line of the program.
    pub line: usize,
    /// At the machine's top speed, or at a feed.
    pub rapid: bool,
    /// Where it begins.
    pub from: Position,
    /// Where it ends.
    pub to: Position,
    /// How it turns; `None` for a straight move.
    pub arc: Option<Arc>,
    /// mm/min along the path; `None` for rapids, and where no feed is in force.
    pub feed: Option<f64>,
    /// The spindle meanwhile.
    pub spindle: SpindleState,
    /// The modes stated before.
    pub stated: Stated,
    /// Path control; `None` where the program has not said it.
    pub path_mode: Option<PathControl>,
}

/// What the control does, in its order.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// A move.
    Move(ToolMove),
    /// A wait; the number as written, whose unit is the control's.
    Dwell {
        /// P.
        amount: f64,
        /// Line.
        line: usize,
    },
    /// The spindle is told something.
    Spindle {
        /// What is in force from now on.
        spindle: SpindleState,
        /// Line.
        line: usize,
    },
    /// The tool is changed; the spindle stands.
    ToolChange {
        /// T, if there was one.
        tool: Option<u32>,
        /// Line.
        line: usize,
    },
    /// M0, M1, M2, M30.
    Stop {
        /// Which.
        stop: ProgramStop,
        /// Line.
        line: usize,
    },
    /// Something that is carried out but should not have been written.
    Hazard(Fault),
}
