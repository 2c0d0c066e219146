//! Programs that notch a bundle of strips.

use super::carry_out::{Program, Until};
use super::report::ProgramReport;
use crate::phrase;
use crate::verification::faults::{Fault, FaultLedger, figure};
use crate::verification::hazards::{NotchSlot, Watch};
use crate::verification::limits::Limits;
use crate::verification::notches::compare;
use crate::verification::simulation::bundle::{BRUSH_WIDTH_MM, SimulatedBundle};
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedNotch, Workpiece};
use std::io::{BufRead, Cursor, Seek};

/// Proves a program that is all of one part, a bundle notched from one face.
///
/// In: the program's bytes; the strips as they are clamped, with what was cut before; the notches
/// wanted, or `None` where they are not known; what machine, cutter and control can do; how far a
/// notch may be off. Out: every fault that was found, each notch's errors, all cuts that were found,
/// and lengths, time and extents. It never fails: bytes that are no program are faults too.
///
/// What it does not check: what [`Limits`] leaves open (`None`), notches where `expected` is `None`,
/// what remarks say, and whether wood, cutter and machine are as they were told.
pub fn prove_program(
    text: &[u8],
    workpiece: &Workpiece,
    expected: Option<&[ExpectedNotch]>,
    limits: &Limits,
    tolerances: &Tolerances,
) -> ProgramReport {
    let mut program = Program::new(Cursor::new(text));
    program.prove_notches(workpiece, expected, limits, tolerances, Until::End)
}

impl<R: BufRead + Seek> Program<R> {
    /// Proves the next part as [`prove_program`] does a whole program: reads it, simulates it, looks
    /// for faults, and compares the notches with those expected, if any are given.
    pub fn prove_notches(
        &mut self,
        workpiece: &Workpiece,
        expected: Option<&[ExpectedNotch]>,
        limits: &Limits,
        tolerances: &Tolerances,
        until: Until,
    ) -> ProgramReport {
        let radius = limits.tool_radius_mm();
        let start = self.mark();
        let bundle = SimulatedBundle::new(workpiece, radius);
        let mut watch = Watch::new(workpiece, limits, bundle);
        watch.ways_in.slots = straight_slots(expected, workpiece);
        let mut read_all = self.carry_out(&mut watch, until);
        if watch.bundle.has_ends_inside() {
            // Where paths end in the wood a cut may be narrower between two planes than on them. Most
            // programs run right across, and are spared the many planes that this takes.
            let bundle = SimulatedBundle::with_close_planes(workpiece, radius);
            watch = Watch::new(workpiece, limits, bundle);
            watch.ways_in.slots = straight_slots(expected, workpiece);
            read_all = self.carry_out_again(start, &mut watch, until);
        }
        let judge = read_all && expected.is_some();
        let expected = expected.unwrap_or_default();
        check_tool(expected, limits, &mut watch.faults);
        let mut notches = Vec::new();
        if judge {
            let compared = compare(&watch.bundle, workpiece, expected, tolerances);
            notches = compared.reports;
            for fault in compared.faults {
                watch.faults.add(fault);
            }
        }
        ProgramReport::of(watch, notches)
    }
}

/// The notches along whose lines a cutter may go down.
fn straight_slots(expected: Option<&[ExpectedNotch]>, workpiece: &Workpiece) -> Vec<NotchSlot> {
    let notches = expected.unwrap_or_default().iter();
    notches
        .filter_map(|notch| NotchSlot::of(notch, workpiece))
        .collect()
}

/// A notch's width square to its slot is width * sin(angle).
fn check_tool(expected: &[ExpectedNotch], limits: &Limits, faults: &mut FaultLedger) {
    for notch in expected {
        let across = notch.width_mm * notch.angle_rad.sin();
        if limits.tool_diameter_mm > across + BRUSH_WIDTH_MM {
            let text = phrase!(
                "the cutter of {} is wider than notch {}, {} square to its walls",
                figure(limits.tool_diameter_mm),
                notch.index,
                figure(across)
            );
            faults.add(Fault::at("tool-too-wide", 0, text));
        }
    }
}
