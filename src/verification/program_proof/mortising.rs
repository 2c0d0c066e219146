//! Programs for mortises: pockets in a rail, each with walls all round and a floor.

use super::carry_out::{Program, Until};
use super::report::ProgramReport;
use crate::phrase;
use crate::phrase::Phrase;
use crate::verification::faults::{Fault, figure};
use crate::verification::hazards::Watch;
use crate::verification::limits::Limits;
use crate::verification::notches::NotchReport;
use crate::verification::simulation::bundle::{BRUSH_HEIGHT_MM, BRUSH_WIDTH_MM, SimulatedBundle};
use crate::verification::simulation::plane::WoodPlane;
use crate::verification::simulation::wood_step::WoodStep;
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedMortise, Workpiece};
use std::io::{BufRead, Cursor, Seek};

/// Planes beyond the mortises stand so many radii apart: no cut hides between them.
const APART_OUTSIDE: f64 = 0.25;

/// And within a mortise, as where paths end in a bundle.
const APART_INSIDE: f64 = 1.0 / 12.0;

impl<R: BufRead + Seek> Program<R> {
    /// Proves the next part, which cuts mortises: all watches of [`Program::prove_notches`], but that the
    /// cutter may go down along a ramp inside a mortise; and on every plane along the rail the cut must
    /// be the mortises less the circles in their corners, to their depth, and nothing else. The reports
    /// stand for the mortises in their order.
    pub fn prove_mortises(
        &mut self,
        workpiece: &Workpiece,
        expected: &[ExpectedMortise],
        limits: &Limits,
        tolerances: &Tolerances,
        until: Until,
    ) -> ProgramReport {
        let radius = limits.tool_radius_mm();
        let planes = planes(workpiece, expected, radius, tolerances);
        let bundle = SimulatedBundle::at_planes(workpiece, radius, &planes);
        let mut watch = Watch::new(workpiece, limits, bundle);
        watch.ways_in.mortises = expected;
        let mut reports = Vec::new();
        if self.carry_out(&mut watch, until) {
            let mut faults = surplus(&watch.bundle, expected, tolerances);
            for mortise in expected {
                let measured = MortiseMeasure::of(&watch.bundle, mortise, radius, tolerances);
                let (report, found) = measured.close(mortise, tolerances);
                reports.push(report);
                faults.extend(found);
            }
            for fault in faults {
                watch.faults.add(fault);
            }
        }
        for mortise in expected {
            let [x, y] = [mortise.x_mm, mortise.y_mm].map(|[low, high]| high - low);
            if limits.tool_diameter_mm > x.min(y) + BRUSH_WIDTH_MM {
                let text = phrase!(
                    "the cutter of {} is wider than mortise {}, {}",
                    figure(limits.tool_diameter_mm),
                    mortise.index,
                    figure(x.min(y))
                );
                watch.faults.add(Fault::at("tool-too-wide", 0, text));
            }
        }
        ProgramReport::of(watch, reports)
    }
}

/// Proves a program that is all of one part and cuts mortises into a rail.
///
/// In: the program's bytes; the rail as it is clamped; the mortises wanted; what machine, cutter and
/// control can do; how far walls and floors may be off. Out: as [`prove_program`](super::prove_program),
/// one [`NotchReport`] for each mortise. It never fails: bytes that are no program are faults too.
///
/// What it does not check: what [`Limits`] leaves open (`None`), what remarks say, and whether wood,
/// cutter and machine are as they were told.
pub fn prove_mortises(
    text: &[u8],
    workpiece: &Workpiece,
    expected: &[ExpectedMortise],
    limits: &Limits,
    tolerances: &Tolerances,
) -> ProgramReport {
    let mut program = Program::new(Cursor::new(text));
    program.prove_mortises(workpiece, expected, limits, tolerances, Until::End)
}

/// Where planes stand: at both walls across y, just inside and just outside of what is allowed,
/// close together between them, and over the rest of the rail so that no cut is missed.
fn planes(
    workpiece: &Workpiece,
    expected: &[ExpectedMortise],
    radius: f64,
    tolerances: &Tolerances,
) -> Vec<f64> {
    let [_, [front, back]] = workpiece.hull();
    let off = tolerances.position_mm;
    let mut ys = steps([front, back], radius * APART_OUTSIDE);
    let mut spans: Vec<[f64; 2]> = expected.iter().map(|mortise| mortise.y_mm).collect();
    spans.dedup();
    for [low, high] in spans {
        ys.extend(steps([low + off, high - off], radius * APART_INSIDE));
        // What lies on a limit is allowed: beyond it by a hair.
        ys.extend([low - off - 1e-6, high + off + 1e-6]);
    }
    ys.retain(|y| (front..=back).contains(y));
    ys.sort_by(f64::total_cmp);
    ys.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    ys
}

/// Both ends, and places between them at most `apart`.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
fn steps([low, high]: [f64; 2], apart: f64) -> Vec<f64> {
    let count = ((high - low) / apart).ceil().clamp(1.0, 2000.0) as usize;
    let place = |step: usize| low + (high - low) * step as f64 / count as f64;
    (0..=count).map(place).collect()
}

/// Where a mortise may be cut on a plane, at most.
fn allowed(mortise: &ExpectedMortise, plane: &WoodPlane, by: f64) -> Option<[f64; 2]> {
    let [low, high] = mortise.y_mm;
    let [left, right] = mortise.x_mm;
    (low - by <= plane.y && plane.y <= high + by).then_some([left - by, right + by])
}

/// Where it must be cut on a plane: all that a disc of the cutter's radius can reach inside walls
/// that stand in by the tolerance.
fn needed(mortise: &ExpectedMortise, plane: &WoodPlane, radius: f64, by: f64) -> Option<[f64; 2]> {
    let [low, high] = mortise.y_mm;
    let [left, right] = mortise.x_mm;
    let inset = radius + by;
    let off = (low + inset - plane.y)
        .max(plane.y - (high - inset))
        .max(0.0);
    let half = (radius * radius - off * off).max(0.0).sqrt();
    let ends = [left + inset - half, right - inset + half];
    (off < radius && ends[0] < ends[1]).then_some(ends)
}

fn overlap(step: &WoodStep, [low, high]: [f64; 2]) -> bool {
    step.ends[1].min(high) - step.ends[0].max(low) > BRUSH_WIDTH_MM
}

/// Cuts that lie outside every mortise.
fn surplus(
    bundle: &SimulatedBundle,
    expected: &[ExpectedMortise],
    tolerances: &Tolerances,
) -> Vec<Fault> {
    let by = tolerances.position_mm;
    let mut found = Vec::new();
    for plane in bundle.planes() {
        let mut spans: Vec<[f64; 2]> = expected
            .iter()
            .filter_map(|mortise| allowed(mortise, plane, by))
            .collect();
        spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let steps = plane.around().steps();
        for cut in steps.iter().filter(|step| step.height < -BRUSH_HEIGHT_MM) {
            // What is left of the cut after the mortises up to here.
            let mut from = cut.ends[0];
            let mut beyond = 0.0_f64;
            for [low, high] in &spans {
                beyond = beyond.max(low.min(cut.ends[1]) - from);
                from = from.max(*high);
            }
            beyond = beyond.max(cut.ends[1] - from);
            if beyond > BRUSH_HEIGHT_MM {
                let text = phrase!(
                    "this cuts {} outside the mortises, at X {} and Y {}",
                    figure(beyond),
                    figure((cut.ends[0] + cut.ends[1]) / 2.0),
                    figure(plane.y)
                );
                found.push(Fault::at("mortise-surplus", cut.line, text));
            }
        }
    }
    found
}

/// What all planes show of one mortise.
struct MortiseMeasure {
    /// Lowest and highest x of its cut, and the same y, mm.
    extent: Option<[[f64; 2]; 2]>,
    /// Depth of the floor at its deepest place, and at its shallowest of all that must be cut.
    deepest: f64,
    shallowest: f64,
    /// Where wood stands that must be cut: y, and how much of it along x.
    standing: Option<[f64; 2]>,
    line: usize,
}

impl MortiseMeasure {
    fn of(
        bundle: &SimulatedBundle,
        mortise: &ExpectedMortise,
        radius: f64,
        tolerances: &Tolerances,
    ) -> MortiseMeasure {
        let by = tolerances.position_mm;
        let mut measured = MortiseMeasure {
            extent: None,
            deepest: 0.0,
            shallowest: f64::INFINITY,
            standing: None,
            line: 0,
        };
        for plane in bundle.planes() {
            let Some(most) = allowed(mortise, plane, by) else {
                continue;
            };
            let least = needed(mortise, plane, radius, by);
            let steps = plane.around().steps();
            let cut = |step: &&WoodStep| step.height < -BRUSH_HEIGHT_MM && overlap(step, most);
            for step in steps.iter().filter(cut) {
                measured.take_in(plane, step);
            }
            for step in plane.wood.steps().iter() {
                if least.is_some_and(|least| overlap(step, least)) {
                    measured.require(plane, step);
                }
            }
        }
        measured
    }

    fn take_in(&mut self, plane: &WoodPlane, step: &WoodStep) {
        let [low, high] = step.ends;
        let [x, y] = self.extent.unwrap_or([[low, high], [plane.y; 2]]);
        self.extent = Some([
            [x[0].min(low), x[1].max(high)],
            [y[0].min(plane.y), y[1].max(plane.y)],
        ]);
        self.deepest = self.deepest.max(-step.height);
        if self.line == 0 {
            self.line = step.line;
        }
    }

    fn require(&mut self, plane: &WoodPlane, step: &WoodStep) {
        if step.height >= -BRUSH_HEIGHT_MM {
            let wide = step.ends[1] - step.ends[0];
            self.standing.get_or_insert([plane.y, wide]);
        } else {
            self.shallowest = self.shallowest.min(-step.height);
        }
    }

    fn close(
        self,
        mortise: &ExpectedMortise,
        tolerances: &Tolerances,
    ) -> (NotchReport, Vec<Fault>) {
        let [left, right] = mortise.x_mm;
        let number = mortise.index;
        let mut faults = Vec::new();
        let mut add = |code, text: Phrase| faults.push(Fault::at(code, self.line, text));
        let mut report = NotchReport {
            index: number,
            centre_error_mm: None,
            width_mm: 0.0,
            width_error_mm: left - right,
            depth_error_mm: -mortise.depth_mm,
            angle_error_rad: None,
            line: self.line,
            ok: false,
        };
        let Some([x, _]) = self.extent else {
            add("mortise-missing", phrase!("mortise {} is not cut", number));
            return (report, faults);
        };
        report.centre_error_mm = Some((x[0] + x[1] - left - right) / 2.0);
        report.width_mm = x[1] - x[0];
        report.width_error_mm = report.width_mm - (right - left);
        let errors = [self.deepest, self.shallowest.min(self.deepest)];
        let errors = errors.map(|depth| depth - mortise.depth_mm);
        let [deep, shallow] = errors;
        report.depth_error_mm = if deep.abs() > shallow.abs() {
            deep
        } else {
            shallow
        };
        if let Some([y, wide]) = self.standing {
            let text = phrase!(
                "mortise {}: {} of wood stand inside its walls at Y {}",
                number,
                figure(wide),
                figure(y)
            );
            add("mortise-walls", text);
        }
        let allowed = tolerances.depth_mm;
        if report.depth_error_mm.abs() > allowed {
            let text = phrase!(
                "mortise {}: its depth is {} off, {} is allowed",
                number,
                figure(report.depth_error_mm),
                figure(allowed)
            );
            add("mortise-depth", text);
        }
        report.ok = faults.is_empty();
        (report, faults)
    }
}
