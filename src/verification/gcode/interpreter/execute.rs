//! One block, word by word in the order of NISTIR 6556, 3.8 (table 8).

use super::control::{Done, Interpreter, Sink, plus, problem};
use crate::verification::faults::Fault;
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::codes::{MotionCode, NonModal, ProgramStop, SpindleTurn};
use crate::verification::gcode::state::Event;

impl Interpreter {
    /// Carries a block out.
    ///
    /// # Errors
    /// What a control would refuse. The state is then that of a control that stopped here.
    pub fn execute(&mut self, block: &GcodeBlock, sink: Sink) -> Result<(), Fault> {
        self.line = block.line;
        self.carry_out(block, sink)
            .map_err(|p| Fault::at(p.code, block.line, p.text).column(p.column))
    }

    fn carry_out(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
        let plane = block.plane.unwrap_or(self.plane);
        block.check_words(self.motion_of(block), plane)?;
        self.set_feed(block, sink)?;
        self.set_spindle(block, sink)?;
        if block.non_modal == Some(NonModal::Dwell) {
            let amount = block.number('P').filter(|amount| *amount >= 0.0);
            let amount = amount.ok_or_else(|| problem("words", "G4 says P, not negative"))?;
            let line = self.line;
            sink(Event::Dwell { amount, line });
        }
        self.set_modes(block, sink)?;
        self.act_non_modal(block, sink)?;
        self.act_motion(block, sink)?;
        if let Some(stop) = block.stop {
            let line = self.line;
            sink(Event::Stop { stop, line });
            if stop == ProgramStop::End {
                self.spindle.turn = SpindleTurn::Stopped;
            }
        }
        Ok(())
    }

    fn act_non_modal(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
        match block.non_modal {
            Some(NonModal::StoreZero) => self.store_zero(block, sink),
            Some(NonModal::Home) => self.go_home(block, 0, sink),
            Some(NonModal::SecondHome) => self.go_home(block, 1, sink),
            Some(NonModal::Rename) => self.rename(block, sink),
            Some(NonModal::RenameOff) => {
                self.hazard(sink, "renamed-zero", "G92.1 and G92.2 move the zero");
                self.shift = [Some(0.0); 3];
                Ok(())
            }
            Some(NonModal::Dwell | NonModal::MachineFrame) | None => Ok(()),
        }
    }

    fn act_motion(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
        let motion = self.motion_of(block);
        if block.motion.is_some() {
            self.motion = block.motion;
        }
        if motion.is_some_and(|motion| !motion.is_cycle()) {
            self.cycle = None;
        }
        let frame = block.non_modal == Some(NonModal::MachineFrame);
        match motion {
            Some(MotionCode::Rapid | MotionCode::Feed) if frame => {
                self.act_machine_frame(block, sink)
            }
            _ if frame => Err(problem("words", "G53 needs G0 or G1 and axis words")),
            None | Some(MotionCode::Cancel) => Ok(()),
            Some(MotionCode::Rapid | MotionCode::Feed) => {
                if motion == Some(MotionCode::Feed) && !block.has_axes() && self.feed <= 0.0 {
                    let text = "G1 before any feed is known: write F in this line or before it";
                    self.hazard(sink, "no-feed", text);
                }
                if block.has_axes() {
                    let to = self.target(block);
                    self.go_straight(to, motion == Some(MotionCode::Rapid), block, sink)?;
                }
                Ok(())
            }
            Some(MotionCode::Clockwise) => self.act_arc(block, true, sink),
            Some(MotionCode::CounterClockwise) => self.act_arc(block, false, sink),
            Some(cycle @ (MotionCode::Drill | MotionCode::DrillDwell | MotionCode::DrillPeck)) => {
                self.act_cycle(block, cycle, sink)
            }
        }
    }

    fn act_machine_frame(&mut self, block: &GcodeBlock, sink: Sink) -> Done {
        if !self.absolute || !block.has_axes() {
            return Err(problem("words", "G53 needs G90 and axis words"));
        }
        let words = self.axes(block);
        let zero = self.settings.machine_zero;
        let to = std::array::from_fn(|axis| match words[axis] {
            Some(word) => plus(Some(word), zero[axis]),
            None => self.position[axis],
        });
        let rapid = self.motion == Some(MotionCode::Rapid);
        self.go_straight(to, rapid, block, sink)
    }
}
