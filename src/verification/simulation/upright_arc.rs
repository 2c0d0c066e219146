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

/// A corner of straight lines along an arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LineCorner {
    /// The fraction of the sweep at which it lies.
    pub(super) at: f64,
    /// From the centre, in radii: 1 on the arc.
    pub(super) out: f64,
}

/// Straight lines that are nowhere above an upright arc, and no more than 0.0005 mm off it: chords of its upper
/// half, tangents of its lower one. None reaches farther down or to a side than the arc: where that turns, and at
/// its ends, they touch it. Over the angle a chords are r (1 - cos(a/2)) off, tangents r (1/cos(a/2) - 1), which for
/// these angles is the same but for a millionth.
pub(super) fn lines_below(arc: &Arc) -> Vec<LineCorner> {
    let on = |at| LineCorner { at, out: 1.0 };
    let mut corners = vec![on(0.0)];
    for quarter in quarters(arc) {
        let share = quarter.to - quarter.from;
        let count = chord_count(arc, share);
        let step = share / count as f64;
        let out = 1.0 / (arc.sweep * step / 2.0).cos();
        for at in 1..=count {
            let end = if at == count {
                quarter.to
            } else {
                quarter.from + at as f64 * step
            };
            if quarter.is_lower {
                let at = end - step / 2.0;
                corners.push(LineCorner { at, out });
            } else if at < count {
                corners.push(on(end));
            }
        }
        corners.push(on(quarter.to));
    }
    corners
}

/// What an arc has of a quarter turn between where it is highest or lowest and where it turns sideways.
struct Quarter {
    /// Fractions of the sweep.
    from: f64,
    to: f64,
    /// Whether it is below the centre.
    is_lower: bool,
}

/// The quarters of an arc in its own order.
fn quarters(arc: &Arc) -> Vec<Quarter> {
    let level = highest_at(arc);
    let height = |at: f64| (arc.start_angle + at * arc.sweep - level).cos();
    let mut quarters = Vec::new();
    let mut from = 0.0;
    for half in half_turns(arc) {
        let sideways = (level + (half.index + 0.5) * PI - arc.start_angle) / arc.sweep;
        for to in [sideways, half.end] {
            if to > from && to <= half.end {
                let is_lower = height(f64::midpoint(from, to)) < 0.0;
                quarters.push(Quarter { from, to, is_lower });
                from = to;
            }
        }
    }
    quarters
}
