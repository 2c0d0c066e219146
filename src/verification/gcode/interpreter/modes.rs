//! What holds from block to block: feed, spindle, modes.

use super::control::{Done, Interpreter, Sink, problem};
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::codes::{PathControl, SpindleTurn};
use crate::verification::gcode::state::Event;

impl Interpreter {
    /// G93, G94 and F. F counts in the units in force before this block's G20 or G21.
    pub(super) fn set_feed(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
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
    pub(super) fn set_spindle(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
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
            self.spindle.turn = SpindleTurn::Stopped;
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

    pub(super) fn set_modes(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
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
                true => PathControl::Exact,
                false => PathControl::Blended(tolerance),
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
}
