//! Follows a program event by event: cuts the simulated bundle, and notes what would harm work,
//! cutter, machine or hand.

pub(super) mod contact;
mod corners;
mod process;
mod space;
pub(super) mod text;

use super::faults::{Fault, Ledger};
use super::gcode::codes::{Stop, Turn};
use super::gcode::state::{Event, Move, Place, Stated, known};
use super::inputs::{Limits, Workpiece};
use super::simulation::bundle::Bundle;
use super::simulation::sweep::Way;
use crate::phrase::Phrase;

/// Heights within this of the stock's top, mm, are at the top.
pub(super) const AT_TOP_MM: f64 = 1e-6;

/// What a program has done so far.
pub(super) struct Watch<'a> {
    pub(super) limits: &'a Limits,
    pub(super) ways_in: contact::WaysIn<'a>,
    hull: [[f64; 2]; 2],
    pub(super) bundle: Bundle,
    pub(super) faults: Ledger,
    /// Where the cutter is, as the program tells it.
    place: Place,
    turning: Option<(Turn, f64)>,
    /// Seconds waited since the spindle was last started.
    waited_s: f64,
    told: Stated,
    has_cut: bool,
    before: Option<corners::Leg>,
    pub(super) sums: Sums,
    pub(super) ended: bool,
    /// First and last line that was read.
    pub(super) lines: [usize; 2],
    /// Stops on the way.
    pub(super) stops: usize,
}

/// Lengths, times and extents of a program.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Sums {
    pub(super) moves: usize,
    pub(super) cutting_mm: f64,
    pub(super) rapid_mm: f64,
    pub(super) cutting_s: f64,
    pub(super) waiting_s: f64,
    /// Lowest and highest x, y and z of all that is known.
    pub(super) extent: [Option<[f64; 2]>; 3],
}

impl<'a> Watch<'a> {
    pub(super) fn new(workpiece: &Workpiece, limits: &'a Limits, bundle: Bundle) -> Self {
        Watch {
            limits,
            ways_in: contact::WaysIn::default(),
            hull: workpiece.hull(),
            bundle,
            faults: Ledger::default(),
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

    fn fault(&mut self, code: &'static str, line: usize, text: impl Into<Phrase>) {
        self.faults.add(Fault::at(code, line, text));
    }

    /// Takes note of one event.
    pub(super) fn see(&mut self, event: Event) {
        match event {
            Event::Move(step) => self.see_move(&step),
            Event::Dwell { amount, line } => self.see_dwell(amount, line),
            Event::Spindle { spindle, line } => self.see_spindle(spindle, line),
            Event::ToolChange { tool, line } => self.see_tool_change(tool, line),
            Event::Stop { stop, line } => self.see_stop(stop, line),
            Event::Hazard(fault) => self.faults.add(fault),
        }
    }

    fn see_move(&mut self, step: &Move) {
        self.sums.moves += 1;
        self.check_stated(step);
        self.check_travel(step);
        let way = known(step.from).zip(known(step.to)).map(|(from, to)| Way {
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
                self.cut(step, &way);
            }
            None => {
                self.before = None;
                self.check_unknown(step);
            }
        }
        self.place = step.to;
    }

    fn sum_up(&mut self, step: &Move, way: &Way) {
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

    fn see_stop(&mut self, stop: Stop, line: usize) {
        match stop {
            Stop::Always | Stop::Optional => {
                if self.turning.is_some() {
                    let text = "the program stops for a hand while the spindle turns: M5 first";
                    self.fault("stop-while-turning", line, text);
                }
            }
            Stop::End => self.end(line),
        }
    }

    /// What must hold where the program ends.
    pub(super) fn end(&mut self, line: usize) {
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
    pub(super) fn pause(&mut self, line: usize) {
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
