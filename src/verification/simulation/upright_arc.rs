//! Arcs that stand upright: where they turn from rising to falling, and how many chords follow them.

use crate::verification::gcode::arc::Arc;
use std::f64::consts::{FRAC_PI_2, PI};

/// How far the chords of an arc that stands upright may be from it, mm.
const SAGITTA_MM: f64 = 0.0005;

/// The angle at which an upright arc is highest: its height is the centre's and the radius times the
/// cosine of the angle from here.
pub(super) fn highest_at(arc: &Arc) -> f64 {
    let [first, ..] = arc.plane.axes();
    if first == 2 { 0.0 } else { FRAC_PI_2 }
}

/// Half a turn between an upright arc's highest and lowest points, or what an arc has of it.
pub(super) struct HalfTurn {
    /// How many half turns from where the height is greatest; even ones lead down.
    pub(super) index: f64,
    /// The fraction of the sweep where it ends.
    pub(super) end: f64,
}

/// The half turns of an arc in its own order.
pub(super) fn half_turns(arc: &Arc) -> Vec<HalfTurn> {
    let level = highest_at(arc);
    let turns = |fraction: f64| (arc.start_angle + fraction * arc.sweep - level) / PI;
    let mut halves = Vec::new();
    let mut from = 0.0;
    let mut next = if arc.sweep > 0.0 {
        turns(0.0).floor() + 1.0
    } else {
        turns(0.0).ceil() - 1.0
    };
    loop {
        let end = ((level + next * PI - arc.start_angle) / arc.sweep).min(1.0);
        if end > from {
            let index = turns((from + end) / 2.0).floor();
            halves.push(HalfTurn { index, end });
        }
        if end >= 1.0 {
            return halves;
        }
        from = end;
        next += arc.sweep.signum();
    }
}

/// How many chords keep within 0.0005 mm of a share of an arc: over the angle a, a chord is at most
/// r (1 - cos(a/2)) off.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
pub(super) fn chord_count(arc: &Arc, share: f64) -> usize {
    let angle = 2.0 * (1.0 - (SAGITTA_MM / arc.radius).min(1.0)).acos();
    ((share * arc.sweep).abs() / angle)
        .ceil()
        .clamp(1.0, 10_000.0) as usize
}
