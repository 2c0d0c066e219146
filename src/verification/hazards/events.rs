//! Event by event, in the control's own order: who looks at what.

use super::watch::{AT_TOP_MM, Watch};
use crate::verification::gcode::codes::ProgramStop;
use crate::verification::gcode::state::{Event, ToolMove, known};
use crate::verification::simulation::sweep::KnownMove;

impl Watch<'_> {
    /// Takes note of one event.
    pub(in crate::verification) fn see(&mut self, event: Event) {
        match event {
            Event::Move(step) => self.see_move(&step),
            Event::Dwell { amount, line } => self.see_dwell(amount, line),
            Event::Spindle { spindle, line } => self.see_spindle(spindle, line),
            Event::ToolChange { tool, line } => self.see_tool_change(tool, line),
            Event::Stop { stop, line } => self.see_stop(stop, line),
            Event::Hazard(fault) => self.faults.add(fault),
        }
    }

    fn see_move(&mut self, step: &ToolMove) {
        self.sums.moves += 1;
        self.check_stated(step);
        self.check_travel(step);
        let way = known(step.from)
            .zip(known(step.to))
            .map(|(from, to)| KnownMove {
                from,
                to,
                arc: step.arc,
            });
        self.check_feed(step, way.as_ref());
        match way {
            Some(way) => {
                self.sum_up(step, &way);
                self.check_keep_outs(step, &way);
                self.check_corner(step, &way);
                self.check_rows(step, &way);
                self.cut(step, &way);
            }
            None => {
                self.before = None;
                self.check_unknown(step);
            }
        }
        self.place = step.to;
    }

    fn sum_up(&mut self, step: &ToolMove, way: &KnownMove) {
        let length = way.length();
        if step.rapid {
            self.sums.rapid_mm += length;
        } else {
            self.sums.cutting_mm += length;
            if let Some(feed) = step.feed {
                self.sums.cutting_s += length / feed * 60.0;
            }
        }
    }

    fn see_stop(&mut self, stop: ProgramStop, line: usize) {
        match stop {
            ProgramStop::Always | ProgramStop::Optional => {
                if self.turning.is_some() {
                    let text = "the program stops for a hand while the spindle turns: M5 first";
                    self.fault("stop-while-turning", line, text);
                }
            }
            ProgramStop::End => self.end(line),
        }
    }

    /// What must hold where the program ends.
    pub(in crate::verification) fn end(&mut self, line: usize) {
        self.ended = true;
        if self.turning.is_some() {
            let text = "the program ends without M5: not every control stops the spindle by itself";
            self.fault("no-spindle-stop", line, text);
        }
        self.check_retracted(
            line,
            "the program ends with the cutter down: retract before the end",
        );
    }

    /// What must hold where it stops for a hand that takes the bundle out; that the spindle stands
    /// still is asked of every stop.
    pub(in crate::verification) fn pause(&mut self, line: usize) {
        let text = "the program stops for a new set-up with the cutter down: retract before M0";
        self.check_retracted(line, text);
    }

    fn check_retracted(&mut self, line: usize, text: &str) {
        let low = self.limits.clearance_mm.unwrap_or(AT_TOP_MM) - AT_TOP_MM;
        if self.sums.moves > 0 && self.place[2].is_none_or(|z| z < low) {
            self.fault("not-retracted", line, text);
        }
    }
}
