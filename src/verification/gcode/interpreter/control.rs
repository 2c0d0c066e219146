//! A control's state, and how it moves.

use crate::units::MM_PER_INCH;
use crate::verification::faults::Fault;
use crate::verification::gcode::arc::Arc;
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::codes::{ArcPlane, MotionCode, PathControl, SpindleTurn};
use crate::verification::gcode::drilling_cycle::DrillingCycle;
use crate::verification::gcode::lexer::BlockProblem;
use crate::verification::gcode::state::{
    Event, Position, SpindleState, Stated, StoredPositions, ToolMove,
};

/// A control in the middle of a program.
#[derive(Debug, Clone)]
pub struct Interpreter {
    pub(super) settings: StoredPositions,
    pub(super) position: Position,
    pub(super) zeros: [Position; 6],
    pub(super) work_zero: usize,
    /// By how much G92 has moved the frame.
    pub(super) shift: Position,
    pub(super) inches: bool,
    pub(super) absolute: bool,
    pub(super) arc_absolute: bool,
    pub(super) plane: ArcPlane,
    pub(super) inverse_time: bool,
    /// mm/min, or 1/min in inverse time.
    pub(super) feed: f64,
    pub(super) spindle: SpindleState,
    pub(super) tool: Option<u32>,
    pub(super) motion: Option<MotionCode>,
    pub(super) retract_to_old: bool,
    pub(super) path_mode: Option<PathControl>,
    pub(super) cycle: Option<DrillingCycle>,
    pub(super) stated: Stated,
    pub(super) moved: bool,
    pub(super) line: usize,
}

pub(super) type Sink<'a> = &'a mut dyn FnMut(Event);
pub(super) type Done = Result<(), BlockProblem>;

pub(super) fn problem(code: &'static str, text: &str) -> BlockProblem {
    BlockProblem {
        code,
        column: 0,
        text: text.to_owned(),
    }
}

/// Their sum, where both are known.
pub(super) fn plus(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    Some(a? + b?)
}

impl Interpreter {
    /// A control that has just been started.
    pub fn new(settings: StoredPositions) -> Self {
        Interpreter {
            position: settings.start,
            zeros: settings.work_zeros,
            settings,
            work_zero: 0,
            shift: [Some(0.0); 3],
            inches: false,
            absolute: true,
            arc_absolute: false,
            plane: ArcPlane::Xy,
            inverse_time: false,
            feed: 0.0,
            spindle: SpindleState {
                turn: SpindleTurn::Stopped,
                rpm: 0.0,
            },
            tool: None,
            motion: None,
            retract_to_old: false,
            path_mode: None,
            cycle: None,
            stated: Stated::default(),
            moved: false,
            line: 0,
        }
    }

    /// Where the cutter's tip is.
    pub fn position(&self) -> Position {
        self.position
    }

    /// The motion that the block carries out: its own, or the one in force if it has axis words
    /// that nothing else takes.
    pub(super) fn motion_of(&self, block: &GcodeBlock) -> Option<MotionCode> {
        let modal = self
            .motion
            .filter(|_| block.has_axes() && !block.non_modal_takes_axes());
        block.motion.or(modal)
    }

    pub(super) fn scale(&self) -> f64 {
        if self.inches { MM_PER_INCH } else { 1.0 }
    }

    pub(super) fn hazard(&self, sink: Sink, code: &'static str, text: &str) {
        sink(Event::Hazard(Fault::at(code, self.line, text)));
    }

    /// A block's axis words in mm, as written.
    pub(super) fn axes(&self, block: &GcodeBlock) -> Position {
        ['X', 'Y', 'Z'].map(|axis| block.number(axis).map(|value| value * self.scale()))
    }

    /// The zero of the frame in force.
    pub(super) fn zero(&self) -> Position {
        let stored = self.zeros.get(self.work_zero).copied().unwrap_or_default();
        std::array::from_fn(|axis| plus(stored[axis], self.shift[axis]))
    }

    /// Where a block's axis words lead.
    pub(super) fn target(&self, block: &GcodeBlock) -> Position {
        let words = self.axes(block);
        let zero = self.zero();
        std::array::from_fn(|axis| match (words[axis], self.absolute) {
            (None, _) => self.position[axis],
            (word, true) => plus(word, zero[axis]),
            (word, false) => plus(word, self.position[axis]),
        })
    }

    pub(super) fn go_straight(
        &mut self,
        to: Position,
        rapid: bool,
        block: &GcodeBlock,
        sink: Sink,
    ) -> Done {
        if !rapid {
            self.check_inverse_time(block)?;
        }
        self.go(to, rapid, sink);
        Ok(())
    }

    pub(super) fn check_inverse_time(&self, block: &GcodeBlock) -> Done {
        if self.inverse_time && block.number('F').is_none() {
            return Err(problem("no-feed", "in G93 every G1, G2 and G3 says its F"));
        }
        Ok(())
    }

    pub(super) fn go(&mut self, to: Position, rapid: bool, sink: Sink) {
        let squares = (0..3).map(|axis| Some((to[axis]? - self.position[axis]?).powi(2)));
        // Only asked for in inverse time.
        let length = if self.inverse_time {
            squares.sum::<Option<f64>>().map(f64::sqrt)
        } else {
            None
        };
        self.emit(to, rapid, None, length, sink);
    }

    /// Tells of a move of the given length and makes it.
    pub(super) fn emit(
        &mut self,
        to: Position,
        rapid: bool,
        arc: Option<Arc>,
        length: Option<f64>,
        sink: Sink,
    ) {
        let feed = match (rapid || self.feed <= 0.0, self.inverse_time) {
            (true, _) => None,
            (false, false) => Some(self.feed),
            (false, true) => length.map(|length| length * self.feed),
        };
        sink(Event::Move(ToolMove {
            line: self.line,
            rapid,
            from: self.position,
            to,
            arc,
            feed,
            spindle: self.spindle,
            stated: self.stated,
            path_mode: self.path_mode,
        }));
        self.position = to;
        self.moved = true;
    }
}
