//! Arcs and drilling cycles.

use super::control::{Done, Interpreter, Sink, plus, problem};
use crate::verification::gcode::arc::{Arc, Centre, hangs_on_rounding};
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::codes::{ArcPlane, MotionCode};
use crate::verification::gcode::drilling_cycle::{DrillingCycle, HoleStep, repeats};
use crate::verification::gcode::lexer::BlockProblem;
use crate::verification::gcode::state::{Event, Position};

impl Interpreter {
    pub(super) fn act_arc(&mut self, block: &GcodeBlock, clockwise: bool, sink: Sink) -> Done {
        self.check_inverse_time(block)?;
        let [first, second, third] = self.plane.axes();
        let to = self.target(block);
        let pick = |place: Position, axis: usize| {
            let text = "this arc begins or ends at a place that the program has not stated";
            place
                .get(axis)
                .copied()
                .flatten()
                .ok_or_else(|| problem("position-unknown", text))
        };
        let from = [pick(self.position, first)?, pick(self.position, second)?];
        let end = [pick(to, first)?, pick(to, second)?];
        let centre = self.arc_centre(block, from)?;
        if let Centre::Radius(r) = centre {
            let chord = (end[0] - from[0]).hypot(end[1] - from[1]);
            if hangs_on_rounding(chord, r) {
                let text = "an arc of nearly half a turn given by R: its centre hangs on the last \
                            digit; give I and J";
                self.hazard(sink, "arc-rounding", text);
            }
        }
        let arc = Arc::new(self.plane, [from, end], centre, clockwise)?;
        let rise = pick(to, third)? - pick(self.position, third)?;
        self.emit(to, false, Some(arc), Some(arc.length().hypot(rise)), sink);
        Ok(())
    }

    fn arc_centre(&self, block: &GcodeBlock, from: [f64; 2]) -> Result<Centre, BlockProblem> {
        let [first, second, _] = self.plane.axes();
        let offset = |axis: usize| {
            let letter = ['I', 'J', 'K'].get(axis).copied()?;
            block.number(letter).map(|value| value * self.scale())
        };
        let zero = self.zero();
        match (offset(first), offset(second), block.number('R')) {
            (None, None, Some(r)) => Ok(Centre::Radius(r * self.scale())),
            (None, None, None) => Err(problem("arc", "an arc says its centre or its R")),
            (_, _, Some(_)) => Err(problem("arc", "an arc says its centre or its R, not both")),
            (Some(i), Some(j), None) if self.arc_absolute => {
                let centre = plus(Some(i), zero[first]).zip(plus(Some(j), zero[second]));
                let text = "the zero of this arc's centre is not known";
                let (i, j) = centre.ok_or_else(|| problem("position-unknown", text))?;
                Ok(Centre::At([i, j]))
            }
            (i, j, None) if !self.arc_absolute => Ok(Centre::At([
                from[0] + i.unwrap_or(0.0),
                from[1] + j.unwrap_or(0.0),
            ])),
            _ => Err(problem(
                "arc",
                "with G90.1 an arc says both figures of its centre",
            )),
        }
    }

    pub(super) fn act_cycle(&mut self, block: &GcodeBlock, motion: MotionCode, sink: Sink) -> Done {
        if self.plane != ArcPlane::Xy || self.inverse_time {
            return Err(problem("cycle", "drilling cycles need G17 and G94"));
        }
        let text = "a drilling cycle at a height that the program has not stated";
        let up = self.zero()[2];
        let old = self.position[2].zip(up);
        let (old, up) = old.ok_or_else(|| problem("position-unknown", text))?;
        let cycle = DrillingCycle::read(block, motion, self.cycle, self.scale(), old)?;
        self.cycle = Some(cycle);
        let heights = cycle.heights(self.absolute, old, up);
        let clear = cycle.clear(self.retract_to_old, heights.r);
        let hole = cycle.hole(motion, heights, clear)?;
        if old < heights.r {
            self.go_to_height(heights.r, true, sink);
        }
        for round in 0..repeats(block, hole.len())? {
            if round == 0 || !self.absolute {
                let [x, y, _] = self.target(block);
                self.go([x, y, self.position[2]], true, sink);
            }
            for step in &hole {
                match *step {
                    HoleStep::Rapid(z) => self.go_to_height(z, true, sink),
                    HoleStep::Feed(z) => self.go_to_height(z, false, sink),
                    HoleStep::Dwell(amount) => {
                        let line = self.line;
                        sink(Event::Dwell { amount, line });
                    }
                }
            }
        }
        Ok(())
    }

    fn go_to_height(&mut self, z: f64, rapid: bool, sink: Sink) {
        let [x, y, _] = self.position;
        self.go([x, y, Some(z)], rapid, sink);
    }
}
