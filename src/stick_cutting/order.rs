//! The order in which a person cuts a stick.
//!
//! The longest first: what goes wrong, or a knot that shows only now, then costs no long part, because a
//! shorter one can still be cut from what is left. But of the two that a cut parts, one has to be long enough
//! to be held. Where the stick would get too short for that before its last parts are off, its longest part
//! stays to the end, and the others are cut from the stick that holds it: after each but the last cut the rest is
//! longer than it, and at the last it is held itself. If it is too short for that and the rest is too, no
//! order does, since some part has to be the last.

use super::task::{CutTask, Saw};

/// A cut is measured in hundredths of a millimetre; what is held may lack as much of its least length.
const NEARLY_MM: f64 = 0.01;

/// The parts of one stick in their order, and what is left in the hand.
pub(super) fn in_order(task: &CutTask, stock: usize, mut parts: Vec<usize>) -> (Vec<usize>, f64) {
    let length = |part: &usize| task.parts[*part].length;
    parts.sort_by(|one, other| length(other).total_cmp(&length(one)).then(one.cmp(other)));
    let stick = task.stocks[stock].length - task.saw.trim;
    let lengths: Vec<f64> = parts.iter().map(length).collect();
    if !can_be_held(&lengths, stick, &task.saw) && !parts.is_empty() {
        parts.rotate_left(1);
    }
    let used: f64 = lengths.iter().map(|length| length + task.saw.kerf).sum();
    (parts, (stick - used).max(0.0))
}

/// Whether the longer of the two that each cut parts is long enough.
fn can_be_held(lengths: &[f64], stick: f64, saw: &Saw) -> bool {
    let mut rest = stick;
    lengths.iter().all(|length| {
        rest -= length + saw.kerf;
        length.max(rest) >= saw.hold - NEARLY_MM
    })
}
