//! Carries blocks out, in the order of NISTIR 6556, 3.8 (table 8), and tells what happens.

mod curves;
mod once;

use super::arc::Arc;
use super::block::Block;
use super::codes::{Motion, Once, PathMode, Plane, Stop, Turn};
use super::cycle::Cycle;
use super::state::{Event, Move, Place, Settings, Spindle, Stated};
use super::words::Problem;
use crate::units::MM_PER_INCH;
use crate::verification::faults::Fault;

/// A control in the middle of a program.
#[derive(Debug, Clone)]
pub struct Machine {
    settings: Settings,
    position: Place,
    zeros: [Place; 6],
    work_zero: usize,
    /// By how much G92 has moved the frame.
    shift: Place,
    inches: bool,
    absolute: bool,
    arc_absolute: bool,
    plane: Plane,
    inverse_time: bool,
    /// mm/min, or 1/min in inverse time.
    feed: f64,
    spindle: Spindle,
    tool: Option<u32>,
    motion: Option<Motion>,
    retract_to_old: bool,
    path_mode: Option<PathMode>,
    cycle: Option<Cycle>,
    stated: Stated,
    moved: bool,
    line: usize,
}

type Sink<'a> = &'a mut dyn FnMut(Event);
type Done = Result<(), Problem>;

fn problem(code: &'static str, text: &str) -> Problem {
    Problem {
        code,
        column: 0,
        text: text.to_owned(),
    }
}

fn plus(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    Some(a? + b?)
}

impl Machine {
    /// A control that has just been started.
    pub fn new(settings: Settings) -> Self {
        Machine {
            position: settings.start,
            zeros: settings.work_zeros,
            settings,
            work_zero: 0,
            shift: [Some(0.0); 3],
            inches: false,
            absolute: true,
            arc_absolute: false,
            plane: Plane::Xy,
            inverse_time: false,
            feed: 0.0,
            spindle: Spindle {
                turn: Turn::Stopped,
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
    pub fn position(&self) -> Place {
        self.position
    }

    /// Carries a block out.
    ///
    /// # Errors
    /// What a control would refuse. The state is then that of a control that stopped here.
    pub fn execute(&mut self, block: &Block, sink: Sink) -> Result<(), Fault> {
        self.line = block.line;
        self.carry_out(block, sink)
            .map_err(|p| Fault::at(p.code, block.line, p.text).column(p.column))
    }

    fn carry_out(&mut self, block: &Block, sink: Sink) -> Done {
        let plane = block.plane.unwrap_or(self.plane);
        block.check_words(self.motion_of(block), plane)?;
        self.set_feed(block, sink)?;
        self.set_spindle(block, sink)?;
        if block.once == Some(Once::Dwell) {
            let amount = block.number('P').filter(|amount| *amount >= 0.0);
            let amount = amount.ok_or_else(|| problem("words", "G4 says P, not negative"))?;
            let line = self.line;
            sink(Event::Dwell { amount, line });
        }
        self.set_modes(block, sink)?;
        self.act_once(block, sink)?;
        self.act_motion(block, sink)?;
        if let Some(stop) = block.stop {
            let line = self.line;
            sink(Event::Stop { stop, line });
            if stop == Stop::End {
                self.spindle.turn = Turn::Stopped;
            }
        }
        Ok(())
    }

    /// The motion that the block carries out: its own, or the one in force if it has axis words
    /// that nothing else takes.
    fn motion_of(&self, block: &Block) -> Option<Motion> {
        let modal = self
            .motion
            .filter(|_| block.has_axes() && !block.once_takes_axes());
        block.motion.or(modal)
    }

    fn scale(&self) -> f64 {
        if self.inches { MM_PER_INCH } else { 1.0 }
    }

    fn hazard(&self, sink: Sink, code: &'static str, text: &str) {
        sink(Event::Hazard(Fault::at(code, self.line, text)));
    }

    /// G93, G94 and F. F counts in the units in force before this block's G20 or G21.
    fn set_feed(&mut self, block: &Block, sink: Sink) -> Done {
        if let Some(inverse) = block.inverse_time {
            self.inverse_time = inverse;
            self.stated.feed_mode = true;
            self.feed = 0.0;
        }
        let Some(feed) = block.number('F') else {
            return Ok(());
        };
        if feed < 0.0 {
            return Err(problem("number", "F is not negative"));
        }
        if block
            .inches
            .is_some_and(|inches| inches != self.inches || !self.stated.units)
        {
            let text = "F and a change of units in one line: F is read first, in the old units";
            self.hazard(sink, "feed-before-units", text);
        }
        self.feed = if self.inverse_time {
            feed
        } else {
            feed * self.scale()
        };
        Ok(())
    }

    /// S, T, M6, M3 to M5.
    fn set_spindle(&mut self, block: &Block, sink: Sink) -> Done {
        let before = self.spindle;
        if let Some(rpm) = block.number('S') {
            if rpm < 0.0 {
                return Err(problem("number", "S is not negative"));
            }
            self.spindle.rpm = rpm;
        }
        if let Some(tool) = block.whole('T')? {
            self.tool = Some(tool);
        }
        let line = self.line;
        if block.tool_change {
            self.spindle.turn = Turn::Stopped;
            let tool = self.tool;
            sink(Event::ToolChange { tool, line });
        }
        if let Some(turn) = block.spindle {
            self.spindle.turn = turn;
        }
        let spindle = self.spindle;
        if spindle != before || block.spindle.is_some() {
            sink(Event::Spindle { spindle, line });
        }
        Ok(())
    }

    fn set_modes(&mut self, block: &Block, sink: Sink) -> Done {
        if let Some(plane) = block.plane {
            self.plane = plane;
            self.stated.plane = true;
        }
        if let Some(inches) = block.inches {
            if self.moved && inches != self.inches {
                self.hazard(sink, "units-changed", "the units change in mid-program");
            }
            self.inches = inches;
            self.stated.units = true;
        }
        if block.length_offset == Some(true) {
            block.whole('H')?;
            let text = "G43 takes a stored tool length that this proof cannot know; it is taken \
                        to put the tip where the program says";
            self.hazard(sink, "tool-length", text);
        }
        if let Some(which) = block.work_zero {
            self.work_zero = which;
            self.stated.work_zero = true;
            if which != 0 {
                let text = "a work zero other than G54";
                self.hazard(sink, "other-zero", text);
            }
        }
        if let Some(exact) = block.exact_path {
            let tolerance = block.number('P').map(|amount| amount * self.scale());
            if tolerance.is_some_and(|amount| amount < 0.0) {
                return Err(problem("number", "P of G64 is not negative"));
            }
            self.path_mode = Some(match exact {
                true => PathMode::Exact,
                false => PathMode::Blended(tolerance),
            });
        }
        if let Some(absolute) = block.absolute {
            self.absolute = absolute;
            self.stated.distance = true;
        }
        self.arc_absolute = block.arc_absolute.unwrap_or(self.arc_absolute);
        self.retract_to_old = block.retract_to_old.unwrap_or(self.retract_to_old);
        Ok(())
    }

    /// A block's axis words in mm, as written.
    fn axes(&self, block: &Block) -> Place {
        ['X', 'Y', 'Z'].map(|axis| block.number(axis).map(|value| value * self.scale()))
    }

    /// The zero of the frame in force.
    fn zero(&self) -> Place {
        let stored = self.zeros.get(self.work_zero).copied().unwrap_or_default();
        std::array::from_fn(|axis| plus(stored[axis], self.shift[axis]))
    }

    /// Where a block's axis words lead.
    fn target(&self, block: &Block) -> Place {
        let (words, zero) = (self.axes(block), self.zero());
        std::array::from_fn(|axis| match (words[axis], self.absolute) {
            (None, _) => self.position[axis],
            (word, true) => plus(word, zero[axis]),
            (word, false) => plus(word, self.position[axis]),
        })
    }

    fn act_once(&mut self, block: &Block, sink: Sink) -> Done {
        match block.once {
            Some(Once::StoreZero) => self.store_zero(block, sink),
            Some(Once::Home) => self.go_home(block, 0, sink),
            Some(Once::SecondHome) => self.go_home(block, 1, sink),
            Some(Once::Rename) => self.rename(block, sink),
            Some(Once::RenameOff) => {
                self.hazard(sink, "renamed-zero", "G92.1 and G92.2 move the zero");
                self.shift = [Some(0.0); 3];
                Ok(())
            }
            Some(Once::Dwell | Once::MachineFrame) | None => Ok(()),
        }
    }

    fn act_motion(&mut self, block: &Block, sink: Sink) -> Done {
        let motion = self.motion_of(block);
        if block.motion.is_some() {
            self.motion = block.motion;
        }
        if motion.is_some_and(|motion| !motion.is_cycle()) {
            self.cycle = None;
        }
        let frame = block.once == Some(Once::MachineFrame);
        match motion {
            Some(Motion::Rapid | Motion::Feed) if frame => self.act_machine_frame(block, sink),
            _ if frame => Err(problem("words", "G53 needs G0 or G1 and axis words")),
            None | Some(Motion::Cancel) => Ok(()),
            Some(Motion::Rapid | Motion::Feed) => {
                if motion == Some(Motion::Feed) && !block.has_axes() && self.feed <= 0.0 {
                    let text = "G1 before any feed is known: write F in this line or before it";
                    self.hazard(sink, "no-feed", text);
                }
                if block.has_axes() {
                    let to = self.target(block);
                    self.go_straight(to, motion == Some(Motion::Rapid), block, sink)?;
                }
                Ok(())
            }
            Some(Motion::Clockwise) => self.act_arc(block, true, sink),
            Some(Motion::CounterClockwise) => self.act_arc(block, false, sink),
            Some(cycle) => self.act_cycle(block, cycle, sink),
        }
    }

    fn act_machine_frame(&mut self, block: &Block, sink: Sink) -> Done {
        if !self.absolute || !block.has_axes() {
            return Err(problem("words", "G53 needs G90 and axis words"));
        }
        let (words, zero) = (self.axes(block), self.settings.machine_zero);
        let to = std::array::from_fn(|axis| match words[axis] {
            Some(word) => plus(Some(word), zero[axis]),
            None => self.position[axis],
        });
        let rapid = self.motion == Some(Motion::Rapid);
        self.go_straight(to, rapid, block, sink)
    }

    fn go_straight(&mut self, to: Place, rapid: bool, block: &Block, sink: Sink) -> Done {
        if !rapid {
            self.check_inverse_time(block)?;
        }
        self.go(to, rapid, sink);
        Ok(())
    }

    fn check_inverse_time(&self, block: &Block) -> Done {
        if self.inverse_time && block.number('F').is_none() {
            return Err(problem("no-feed", "in G93 every G1, G2 and G3 says its F"));
        }
        Ok(())
    }

    fn go(&mut self, to: Place, rapid: bool, sink: Sink) {
        let squares = (0..3).map(|axis| Some((to[axis]? - self.position[axis]?).powi(2)));
        let length = squares.sum::<Option<f64>>().map(f64::sqrt);
        self.emit(to, rapid, None, length, sink);
    }

    /// Tells of a move of the given length and makes it.
    fn emit(&mut self, to: Place, rapid: bool, arc: Option<Arc>, length: Option<f64>, sink: Sink) {
        let feed = match (rapid || self.feed <= 0.0, self.inverse_time) {
            (true, _) => None,
            (false, false) => Some(self.feed),
            (false, true) => length.map(|length| length * self.feed),
        };
        sink(Event::Move(Move {
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
