//! Programs for rows of pieces: every facet cut through all of the depth but the skin, every lap there,
//! no piece touched, and the skin whole.

use super::carry_out::{Program, Until};
use super::piece_measure::measured;
use super::report::ProgramReport;
use crate::verification::hazards::Watch;
use crate::verification::limits::Limits;
use crate::verification::simulation::bundle::SimulatedBundle;
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedRows, Workpiece};
use std::io::{BufRead, Cursor, Seek};

/// Planes across a stick stand so many radii apart.
const APART: f64 = 1.0 / 12.0;

/// At most so many in a stick.
const MOST_PLANES: f64 = 200.0;

impl<R: BufRead + Seek> Program<R> {
    /// Proves the next part, which cuts rows of pieces: all watches of [`Program::prove_notches`]; no
    /// way of the tool below the top comes nearer to a piece than its radius, but between the walls and
    /// above the floor of a lap, nor deeper than the mitres; and beside every facet and in every lap
    /// the wood is gone, as deep as it should be. The reports stand for the pieces in their order.
    pub fn prove_mitres(
        &mut self,
        workpiece: &Workpiece,
        expected: &ExpectedRows,
        limits: &Limits,
        tolerances: &Tolerances,
        until: Until,
    ) -> ProgramReport {
        let radius = limits.tool_radius_mm();
        let planes = planes(expected, radius);
        let bundle = SimulatedBundle::of_sticks(workpiece, radius, &expected.sticks_y_mm, &planes);
        let mut watch = Watch::new(workpiece, limits, bundle);
        let [along, _] = workpiece.hull();
        let sticks = expected.sticks_y_mm.iter();
        watch.wood_in = sticks.map(|across| [along, *across]).collect();
        watch.rows = Some(expected);
        let mut reports = Vec::new();
        if self.carry_out(&mut watch, until) {
            let (found, faults) = measured(&watch.bundle, expected, tolerances);
            reports = found;
            for fault in faults {
                watch.faults.add(fault);
            }
        }
        ProgramReport::of(watch, reports)
    }
}

/// Proves a program that is all of one part and cuts rows of pieces.
///
/// In: the program's bytes; the sticks as they lie; the pieces wanted in them; what machine, cutter and
/// control can do; how far facets and laps may be off. Out: as
/// [`prove_program`](super::prove_program), one [`NotchReport`](crate::verification::NotchReport) for
/// each piece. It never fails: bytes that are no program are faults too.
///
/// What it does not check: what [`Limits`] leaves open (`None`), what remarks say, and whether wood,
/// cutter and machine are as they were told.
pub fn prove_mitres(
    text: &[u8],
    workpiece: &Workpiece,
    expected: &ExpectedRows,
    limits: &Limits,
    tolerances: &Tolerances,
) -> ProgramReport {
    let mut program = Program::new(Cursor::new(text));
    program.prove_mitres(workpiece, expected, limits, tolerances, Until::End)
}

/// Where planes stand in a stick, from its front edge: at both its sides, at every corner of a piece,
/// and close together between them.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
fn planes(expected: &ExpectedRows, radius: f64) -> Vec<f64> {
    let Some([front, back]) = expected.sticks_y_mm.first() else {
        return Vec::new();
    };
    let wide = back - front;
    let count = (wide / (radius * APART)).ceil().clamp(1.0, MOST_PLANES) as usize;
    let mut places: Vec<f64> = (0..=count)
        .map(|step| wide * step as f64 / count as f64)
        .collect();
    let first = expected.pieces.iter().filter(|piece| piece.stick == 0);
    let corners = first
        .flat_map(|piece| &piece.outline)
        .map(|corner| corner.y - front);
    places.extend(corners.filter(|y| (0.0..=wide).contains(y)));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    places
}
