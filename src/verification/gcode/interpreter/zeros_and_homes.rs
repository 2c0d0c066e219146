//! Codes that act once and take axis words: G10, G28, G30, G92.

use super::control::{Done, Interpreter, Sink, plus, problem};
use crate::verification::gcode::block::GcodeBlock;

impl Interpreter {
    /// G10 L2 (the zero's machine coordinates) and L20 (the zero such that the cutter stands at
    /// the given coordinates).
    pub(super) fn store_zero(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
        let text = "G10 overwrites the zero that was set at the machine, for good";
        self.hazard(sink, "stored-zero", text);
        let here = match block.whole('L')? {
            Some(2) => false,
            Some(20) => true,
            _ => return Err(problem("unknown-code", "only L2 and L20 of G10 are known")),
        };
        let which = match block.whole('P')? {
            Some(0) => self.work_zero,
            Some(number @ 1..=6) => number as usize - 1,
            _ => return Err(problem("unknown-code", "G10 says P, 0 to 6")),
        };
        let words = self.axes(block);
        let Some(zero) = self.zeros.get_mut(which) else {
            return Ok(());
        };
        for axis in 0..3 {
            let Some(word) = words[axis] else { continue };
            zero[axis] = if here {
                let shift = self.shift[axis].map(|shift| -shift - word);
                plus(self.position[axis], shift)
            } else {
                plus(self.settings.machine_zero[axis], Some(word))
            };
        }
        Ok(())
    }

    /// G28 and G30: to the point given, then home along the axes named (all, if none is).
    pub(super) fn go_home(&mut self, block: &GcodeBlock, which: usize, sink: Sink) -> Done {
        let text = "G28 and G30 go through the point given and then to a stored place that may \
                    never have been set; retract with G0 Z instead";
        self.hazard(sink, "home", text);
        let through = self.target(block);
        self.go(through, true, sink);
        let home = self.settings.homes.get(which).copied().unwrap_or_default();
        let words = self.axes(block);
        let all = !block.has_axes();
        let end = std::array::from_fn(|axis| {
            if all || words[axis].is_some() {
                home[axis]
            } else {
                through[axis]
            }
        });
        self.go(end, true, sink);
        Ok(())
    }

    /// G92: the frame moves so that the cutter stands at the given coordinates.
    pub(super) fn rename(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
        let text = "G92 moves the zero, adds up, and outlives the program; set the work zero \
                    instead";
        self.hazard(sink, "renamed-zero", text);
        let words = self.axes(block);
        let zero = self.zero();
        for axis in 0..3 {
            let Some(word) = words[axis] else { continue };
            let moved = plus(self.position[axis], zero[axis].map(|zero| -zero - word));
            self.shift[axis] = plus(self.shift[axis], moved);
        }
        Ok(())
    }
}
