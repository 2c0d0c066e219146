//! The independent proof: reads a program afresh, works out what it removes, compares that with
//! what was wanted, and looks for what would harm work, cutter or hand.
//!
//! It knows the program's bytes and its own [inputs], and shares no code with planning and
//! writing, so that no mistake of theirs can hide here.

pub mod comparison;
mod crossed;
pub mod faults;
pub mod gcode;
pub mod inputs;
pub mod outline;
pub mod parts;
pub mod pockets;
pub mod rail_task;
pub mod simulation;
pub mod slots;
pub mod task;
pub mod trace;
mod watch;

use comparison::{NotchReport, compare};
use faults::{Fault, Ledger, figure};
use gcode::block::Block;
use gcode::machine::Machine;
use gcode::program::{Lines, Text, unreadable};
use gcode::state::Settings;
use inputs::{ExpectedNotch, Limits, Tolerances, Workpiece};
use simulation::bundle::Bundle;
use slots::FoundSlot;
use std::io::{BufRead, Cursor, Seek};
use watch::Watch;
use watch::contact::Slot;

/// What came of a proof.
#[derive(Debug, Clone, PartialEq)]
pub struct ProgramReport {
    /// One for each notch expected, in that order; empty where none were given, and where the
    /// program could not be read to its end.
    pub notches: Vec<NotchReport>,
    /// What is wrong, in the order in which it was found.
    pub faults: Vec<Fault>,
    /// For codes that were found more often than is told: how many more.
    pub more_faults: Vec<(&'static str, usize)>,
    /// The cuts that the strips show at the end, along x.
    pub slots: Vec<FoundSlot>,
    /// Moves, straight ones and arcs, rapids included.
    pub moves: usize,
    /// First and last line that was read for it.
    pub lines: [usize; 2],
    /// Lines in it that only stop for a hand; not the one that ends a part.
    pub stops: usize,
    /// Length of all moves at a feed, mm.
    pub cutting_mm: f64,
    /// Length of all rapids from and to known places, mm.
    pub rapid_mm: f64,
    /// Time of all moves at a feed and all waits, s, without any slowing in corners.
    pub time_s: f64,
    /// Lowest and highest x, y and z of the cutter's end, program frame, mm; `None` where the
    /// program does not move along the axis.
    pub extent_mm: [Option<[f64; 2]>; 3],
}

impl ProgramReport {
    /// Whether nothing is wrong.
    pub fn ok(&self) -> bool {
        self.faults.is_empty() && self.notches.iter().all(|notch| notch.ok)
    }
}

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
    text: Text<R>,
}

impl<R: BufRead + Seek> Program<R> {
    /// A program, from its beginning.
    pub fn new(source: R) -> Self {
        Program {
            text: Text::new(source),
        }
    }

    /// Proves the next part: reads it, simulates it, looks for faults, and compares the notches with
    /// those expected, if any are given. Never fails: what is wrong is in the report.
    pub fn notches(
        &mut self,
        workpiece: &Workpiece,
        expected: Option<&[ExpectedNotch]>,
        limits: &Limits,
        tolerances: &Tolerances,
        until: Until,
    ) -> ProgramReport {
        let radius = limits.tool_radius_mm();
        let start = self.text.mark();
        let slots = || {
            let slots = expected.unwrap_or_default().iter();
            slots
                .filter_map(|notch| Slot::of(notch, workpiece))
                .collect()
        };
        let mut watch = Watch::new(workpiece, limits, Bundle::new(workpiece, radius));
        watch.ways_in.slots = slots();
        let mut read_all = run(&mut self.text, &mut watch, until);
        if watch.bundle.has_ends_inside() {
            let close = Bundle::with_close_planes(workpiece, radius);
            watch = Watch::new(workpiece, limits, close);
            watch.ways_in.slots = slots();
            read_all = match self.text.back_to(start) {
                Ok(()) => run(&mut self.text, &mut watch, until),
                Err(error) => {
                    watch.faults.add(unreadable(&error, 0));
                    false
                }
            };
        }
        let judge = read_all && expected.is_some();
        let expected = expected.unwrap_or_default();
        check_tool(expected, limits, &mut watch.faults);
        let mut notches = Vec::new();
        if judge {
            let (reports, wrong) = compare(&watch.bundle, workpiece, expected, tolerances);
            notches = reports;
            wrong.into_iter().for_each(|fault| watch.faults.add(fault));
        }
        report(watch, notches)
    }
}

/// Proves a program that is all of one part.
pub fn prove_program(
    text: &[u8],
    workpiece: &Workpiece,
    expected: Option<&[ExpectedNotch]>,
    limits: &Limits,
    tolerances: &Tolerances,
) -> ProgramReport {
    let mut program = Program::new(Cursor::new(text));
    program.notches(workpiece, expected, limits, tolerances, Until::End)
}

/// What a watch has seen.
fn report(watch: Watch, notches: Vec<NotchReport>) -> ProgramReport {
    let slots = slots::find(&watch.bundle, |_, _| true);
    let sums = watch.sums;
    let (faults, more_faults) = watch.faults.close();
    ProgramReport {
        notches,
        faults,
        more_faults,
        slots,
        moves: sums.moves,
        lines: watch.lines,
        stops: watch.stops,
        cutting_mm: sums.cutting_mm,
        rapid_mm: sums.rapid_mm,
        time_s: sums.cutting_s + sums.waiting_s,
        extent_mm: sums.extent,
    }
}

/// The places that the limits tell of, in the program frame.
fn settings(limits: &Limits) -> Settings {
    let mut settings = Settings::default();
    let exact = limits.program_zero_mm.filter(|_| !limits.zero_is_nominal);
    if let Some(zero) = exact {
        settings.machine_zero = zero.map(|place| Some(-place));
    }
    settings
}

/// Carries a part of the program out up to its stop or end, or to the first block that cannot be
/// understood; what follows that is only read. False where something could not be understood.
fn run<R: BufRead>(text: &mut Text<R>, watch: &mut Watch, until: Until) -> bool {
    let Text { lines, percents } = text;
    let mut machine = Machine::new(settings(watch.limits));
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
        watch::text::check(line, number, watch.limits, &mut watch.faults);
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
        watch::text::check_codes(&block, watch.limits, &mut watch.faults);
        if understood && let Err(fault) = machine.execute(&block, &mut |event| watch.see(event)) {
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
        watch::text::check_last(last, &mut watch.faults);
    }
    check_end(watch, until, understood, (percents.closed(), beyond));
    understood
}

fn tell_line_ends<R: BufRead>(lines: &mut Lines<R>, watch: &mut Watch) {
    if let Some(line) = lines.take_bare_cr() {
        watch::text::check_line_end(line, &mut watch.faults);
    }
}

/// What must hold at the end of the text; `beyond`: whether percent signs closed the program, and
/// the first line after that which says anything.
fn check_end(
    watch: &mut Watch,
    until: Until,
    understood: bool,
    (closed, beyond): (bool, Option<usize>),
) {
    if until == Until::Stop {
        let text = "the program ends before all of its set-ups: a stop (M0) is missing";
        watch.faults.add(Fault::at("set-up-missing", 0, text));
    }
    if let Some(line) = beyond {
        let text = "this stands after the closing %: some controls read it, others do not";
        watch.faults.add(Fault::at("text-after-end", line, text));
    }
    if understood && !watch.ended {
        if !closed {
            let text = "the program has no end: M2 or M30 in its last line";
            watch.faults.add(Fault::at("no-end", 0, text));
        }
        watch.end(0);
    }
}

fn check_after_end(block: &Block, faults: &mut Ledger) {
    if !block.only_ends() {
        let text = "this stands after the end of the program and is never carried out";
        faults.add(Fault::at("text-after-end", block.line, text));
    }
}

/// A notch's width square to its slot is width * sin(angle).
fn check_tool(expected: &[ExpectedNotch], limits: &Limits, faults: &mut Ledger) {
    for notch in expected {
        let across = notch.width_mm * notch.angle_rad.sin();
        if limits.tool_diameter_mm > across + simulation::bundle::BRUSH_WIDTH_MM {
            let (index, tool) = (notch.index, figure(limits.tool_diameter_mm));
            let text = format!(
                "the cutter of {tool} is wider than notch {index}, {} square to its walls",
                figure(across)
            );
            faults.add(Fault::at("tool-too-wide", 0, text));
        }
    }
}
