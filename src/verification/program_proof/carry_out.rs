//! Carries a program out under watch, from stop to stop or to its end.

use crate::verification::faults::{Fault, FaultLedger};
use crate::verification::gcode::block::GcodeBlock;
use crate::verification::gcode::interpreter::Interpreter;
use crate::verification::gcode::program::{ProgramLines, ProgramText, TextMark, unreadable};
use crate::verification::gcode::state::StoredPositions;
use crate::verification::hazards::{Watch, dialect};
use crate::verification::limits::Limits;
use std::io::{BufRead, Seek};

/// How far a part of a program goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// To the next line that only stops for a hand (M0).
    Stop,
    /// To the end; stops on the way change nothing.
    End,
}

/// A program that is proved part by part, each as if it were started there: nothing that an earlier
/// part has stated counts. Its text is read as it is needed.
#[derive(Debug)]
pub struct Program<R> {
    text: ProgramText<R>,
}

impl<R: BufRead + Seek> Program<R> {
    /// A program, from its beginning.
    pub fn new(source: R) -> Self {
        Program {
            text: ProgramText::new(source),
        }
    }

    /// Where it is.
    pub(super) fn mark(&self) -> TextMark {
        self.text.mark()
    }

    /// Carries the next part out; whether all of it was understood.
    pub(super) fn carry_out(&mut self, watch: &mut Watch, until: Until) -> bool {
        run(&mut self.text, watch, until)
    }

    /// Carries the part that begins at a mark out once more.
    pub(super) fn carry_out_again(
        &mut self,
        start: TextMark,
        watch: &mut Watch,
        until: Until,
    ) -> bool {
        match self.text.back_to(start) {
            Ok(()) => run(&mut self.text, watch, until),
            Err(error) => {
                watch.faults.add(unreadable(&error, 0));
                false
            }
        }
    }
}

/// The places that the limits tell of, in the program frame.
fn stored_positions(limits: &Limits) -> StoredPositions {
    let mut stored = StoredPositions::default();
    let exact = limits.program_zero_mm.filter(|_| !limits.zero_is_nominal);
    if let Some(zero) = exact {
        stored.machine_zero = zero.map(|place| Some(-place));
    }
    stored
}

/// Carries a part of the program out up to its stop or end, or to the first block that cannot be
/// understood; what follows that is only read. False where something could not be understood.
fn run<R: BufRead>(text: &mut ProgramText<R>, watch: &mut Watch, until: Until) -> bool {
    let ProgramText { lines, percents } = text;
    let mut interpreter = Interpreter::new(stored_positions(watch.limits));
    let mut understood = true;
    let mut last = lines.number();
    watch.lines = [last + 1, last];
    let mut beyond = None;
    loop {
        let (number, line) = match lines.step() {
            Ok(Some(found)) => found,
            Ok(None) => break,
            Err(error) => {
                watch.faults.add(unreadable(&error, last));
                return false;
            }
        };
        last = number;
        watch.lines[1] = number;
        dialect::check(line, number, watch.limits, &mut watch.faults);
        if percents.closed() {
            if !matches!(line.trim_ascii(), b"" | b"%") {
                beyond.get_or_insert(number);
            }
            continue;
        }
        let block = match percents.read(line, number) {
            Ok(Some(block)) => block,
            Ok(None) => continue,
            // After the end nothing is read by a control, so that what cannot be read there is text
            // like any other.
            Err(fault) if watch.ended && fault.code == "percent" => continue,
            Err(fault) => {
                understood &= watch.ended;
                watch.faults.add(fault);
                continue;
            }
        };
        if watch.ended {
            check_after_end(&block, &mut watch.faults);
            continue;
        }
        dialect::check_codes(&block, watch.limits, &mut watch.faults);
        if understood && let Err(fault) = interpreter.execute(&block, &mut |event| watch.see(event))
        {
            watch.faults.add(fault);
            understood = false;
        }
        if block.only_stops() {
            if until == Until::Stop {
                tell_line_ends(lines, watch);
                watch.pause(number);
                return understood;
            }
            watch.stops += 1;
        }
    }
    tell_line_ends(lines, watch);
    if !lines.ended() {
        dialect::check_last(last, &mut watch.faults);
    }
    let end = TextEnd {
        understood,
        closed: percents.closed(),
        beyond,
    };
    check_end(watch, until, &end);
    understood
}

fn tell_line_ends<R: BufRead>(lines: &mut ProgramLines<R>, watch: &mut Watch) {
    if let Some(line) = lines.take_bare_cr() {
        dialect::check_line_end(line, &mut watch.faults);
    }
}

/// How the text ended.
struct TextEnd {
    /// Whether every block was.
    understood: bool,
    /// Whether percent signs closed the program.
    closed: bool,
    /// The first line after that which says anything.
    beyond: Option<usize>,
}

/// What must hold at the end of the text.
fn check_end(watch: &mut Watch, until: Until, end: &TextEnd) {
    if until == Until::Stop {
        let text = "the program ends before all of its set-ups: a stop (M0) is missing";
        watch.faults.add(Fault::at("set-up-missing", 0, text));
    }
    if let Some(line) = end.beyond {
        let text = "this stands after the closing %: some controls read it, others do not";
        watch.faults.add(Fault::at("text-after-end", line, text));
    }
    if end.understood && !watch.ended {
        if !end.closed {
            let text = "the program has no end: M2 or M30 in its last line";
            watch.faults.add(Fault::at("no-end", 0, text));
        }
        watch.end(0);
    }
}

fn check_after_end(block: &GcodeBlock, faults: &mut FaultLedger) {
    if !block.only_ends() {
        let text = "this stands after the end of the program and is never carried out";
        faults.add(Fault::at("text-after-end", block.line, text));
    }
}
