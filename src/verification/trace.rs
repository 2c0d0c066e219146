//! Where a program's tool goes, for a picture of it.

use super::gcode::codes::ProgramStop;
use super::gcode::interpreter::Interpreter;
use super::gcode::program::blocks;
use super::gcode::state::{Event, StoredPositions, ToolMove};

/// One move's end, seen from above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trace {
    /// Line of the program.
    pub line: usize,
    /// Whether it is a rapid move.
    pub rapid: bool,
    /// Where it ends, program frame, mm; `None` along an axis that is not known.
    pub to: [Option<f64>; 3],
}

/// The ends of a program's moves, in order, up to its end, to the line `last`, or to the first block
/// that cannot be understood. Nothing is checked.
pub fn trace(text: &[u8], last: usize) -> Vec<Trace> {
    let mut machine = Interpreter::new(StoredPositions::default());
    let mut traces: Vec<Trace> = Vec::new();
    for block in blocks(text) {
        let Ok(block) = block else { break };
        if block.line > last {
            break;
        }
        let mut ended = false;
        let mut see = |event| match event {
            Event::Move(ToolMove {
                line, rapid, to, ..
            }) => traces.push(Trace { line, rapid, to }),
            Event::Stop {
                stop: ProgramStop::End,
                ..
            } => ended = true,
            Event::Dwell { .. }
            | Event::Spindle { .. }
            | Event::ToolChange { .. }
            | Event::Stop { .. }
            | Event::Hazard(_) => {}
        };
        if machine.execute(&block, &mut see).is_err() || ended {
            break;
        }
    }
    traces
}
