//! A program alone, with nothing known but the stock and the tool.

use super::answer::{FoundPart, answer_of};
use super::program::{ProgramProof, ProvenPart};
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::program::blocks;
use crate::verification::{Limits, Tolerances, Workpiece, prove_program};

/// Proves a program on a piece of stock with a tool of this diameter, mm.
pub fn prove_alone(file: &str, bytes: &[u8], workpiece: Workpiece, tool: f64) -> ProgramProof {
    let limits = Limits::tool_only(tool);
    let report = prove_program(bytes, &workpiece, None, &limits, &Tolerances::default());
    let mut against = String::from("the stock and tool given; no limits of a machine are known");
    let stops = blocks(bytes).filter(|block| block.as_ref().is_ok_and(GcodeBlock::only_stops));
    match stops.count() {
        0 => {}
        count => against.push_str(&format!(
            "; it stops {count} times for a hand, and all that follows is taken as cut into the same stock"
        )),
    }
    let found = FoundPart {
        setup: 1,
        part: None,
        again: false,
        report: &report,
    };
    let answer = answer_of(file, against, &[found]);
    ProgramProof {
        part: Some(ProvenPart {
            answer: answer.clone(),
            wood: workpiece.strips(),
            workpiece,
            lines: report.lines,
            of_parts: None,
        }),
        answer,
    }
}
