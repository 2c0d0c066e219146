//! What a cutter sweeps in plan, and where a line across it is swept: closed form, no raster.

use super::interval::distance_outside;
use crate::verification::gcode::arc::Arc;
use std::f64::consts::{FRAC_PI_2, PI};

/// The path of the cutter's centre in plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Footprint {
    /// A straight move, or a disc where both ends are one.
    Segment([[f64; 2]; 2]),
    /// A part of an arc in the XY plane, from one fraction of its sweep to another.
    Arc(Arc),
    /// Anywhere in a rectangle: x and y, low and high. For rapids whose axes run each at its own
    /// speed.
    Anywhere([[f64; 2]; 2]),
}

/// Half the chord of a circle of radius `r`, `off` from its centre; `None` outside it.
pub(super) fn half_chord(r: f64, off: f64) -> Option<f64> {
    let square = r * r - off * off;
    (square >= 0.0).then(|| square.sqrt())
}

impl Footprint {
    /// Lowest and highest y of the path itself.
    pub fn y_range(&self) -> [f64; 2] {
        match self {
            Footprint::Segment([a, b]) => [a[1].min(b[1]), a[1].max(b[1])],
            Footprint::Arc(arc) => arc_range(arc, 1),
            Footprint::Anywhere([_, y]) => *y,
        }
    }

    /// The y at which the swept area is widest along x without being so on both sides of it: at
    /// the path's ends and where an arc turns back.
    pub fn widest(&self) -> [Option<f64>; 3] {
        match self {
            Footprint::Segment([a, b]) => [Some(a[1]), Some(b[1]), None],
            Footprint::Arc(arc) => {
                let turns = arc.covers(0.0) || arc.covers(PI);
                [
                    Some(arc.at(0.0)[1]),
                    Some(arc.at(1.0)[1]),
                    turns.then_some(arc.centre[1]),
                ]
            }
            Footprint::Anywhere([_, y]) => [Some(y[0]), Some(y[1]), None],
        }
    }

    /// The intervals of x that a cutter of radius `r` sweeps on the line at `y`; they may overlap.
    pub fn swept(&self, y: f64, r: f64, each: &mut dyn FnMut([f64; 2])) {
        match self {
            Footprint::Segment(ends) => {
                if let Some(interval) = capsule(*ends, y, r) {
                    each(interval);
                }
            }
            Footprint::Arc(arc) => bent_capsule(arc, y, r, each),
            Footprint::Anywhere([[left, right], [low, high]]) => {
                let off = distance_outside(y, [*low, *high]);
                if let Some(half) = half_chord(r, off) {
                    each([left - half, right + half]);
                }
            }
        }
    }
}

/// Lowest and highest coordinate of an arc along one of its plane's axes (0 or 1): its ends, and
/// the quarter points that it passes.
pub fn arc_range(arc: &Arc, axis: usize) -> [f64; 2] {
    let a = arc.at(0.0)[axis];
    let b = arc.at(1.0)[axis];
    let mut range = [a.min(b), a.max(b)];
    for quarter in 0..4 {
        let angle = f64::from(quarter) * FRAC_PI_2;
        if arc.covers(angle) {
            let unit = if axis == 0 { angle.cos() } else { angle.sin() };
            let value = arc.centre[axis] + arc.radius * unit;
            range = [range[0].min(value), range[1].max(value)];
        }
    }
    range
}

/// A capsule is convex, so it meets a line in one interval: the hull of where the line meets its
/// two discs and the two long sides of the rectangle between them. Along an axis that is as far as the
/// nearest of all discs reaches.
pub(super) fn capsule([a, b]: [[f64; 2]; 2], y: f64, r: f64) -> Option<[f64; 2]> {
    let dx = b[0] - a[0];
    let dy = b[1] - a[1];
    if dx == 0.0 || dy == 0.0 {
        let off = distance_outside(y, [a[1].min(b[1]), a[1].max(b[1])]);
        let half = half_chord(r, off)?;
        return Some([a[0].min(b[0]) - half, a[0].max(b[0]) + half]);
    }
    let mut hull: Option<[f64; 2]> = None;
    let mut add = |low: f64, high: f64| {
        let [l, h] = hull.unwrap_or([low, high]);
        hull = Some([l.min(low), h.max(high)]);
    };
    for end in [a, b] {
        if let Some(half) = half_chord(r, y - end[1]) {
            add(end[0] - half, end[0] + half);
        }
    }
    let length = (dx * dx + dy * dy).sqrt();
    for side in [r / length, -r / length] {
        let from = [a[0] - side * dy, a[1] + side * dx];
        let fraction = (y - from[1]) / dy;
        if (0.0..=1.0).contains(&fraction) {
            let x = from[0] + fraction * dx;
            add(x, x);
        }
    }
    hull
}

/// The points within `r` of an arc: the discs at its ends, and in its sector the ring from
/// radius - r to radius + r. On a line, whether a point is in ring and sector can change only at
/// the line's meetings with both circles and with the sector's two rays.
fn bent_capsule(arc: &Arc, y: f64, r: f64, each: &mut dyn FnMut([f64; 2])) {
    for end in [arc.at(0.0), arc.at(1.0)] {
        if let Some(half) = half_chord(r, y - end[1]) {
            each([end[0] - half, end[0] + half]);
        }
    }
    let off = y - arc.centre[1];
    let Some(outer) = half_chord(arc.radius + r, off) else {
        return;
    };
    let inner = half_chord((arc.radius - r).max(0.0), off);
    let mut marks = vec![-outer, outer];
    marks.extend(inner.iter().flat_map(|inner| [-inner, *inner]));
    for fraction in [0.0, 1.0] {
        let (sine, cosine) = (arc.start_angle + fraction * arc.sweep).sin_cos();
        if sine * off > 0.0 {
            marks.push(off * cosine / sine);
        }
    }
    marks.sort_by(f64::total_cmp);
    for pair in marks.windows(2) {
        let &[low, high] = pair else { continue };
        let middle = (low + high) / 2.0;
        let in_ring = middle.abs() <= outer && inner.is_none_or(|inner| middle.abs() >= inner);
        if in_ring && low < high && arc.covers(off.atan2(middle)) {
            each([arc.centre[0] + low, arc.centre[0] + high]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verification::gcode::arc::Centre;
    use crate::verification::gcode::codes::ArcPlane;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    fn covered(footprint: &Footprint, y: f64, r: f64, x: f64) -> bool {
        let mut hit = false;
        footprint.swept(y, r, &mut |[low, high]| hit |= low <= x && x <= high);
        hit
    }

    #[test]
    fn a_capsule_along_y_is_as_wide_as_the_cutter() {
        let slot = Footprint::Segment([[50.0, -5.0], [50.0, 20.0]]);
        let mut found = Vec::new();
        slot.swept(10.0, 1.5, &mut |interval| found.push(interval));
        assert_eq!(found, [[48.5, 51.5]]);
    }

    #[test]
    fn a_slanted_capsule_is_wider_by_the_sine() {
        let slot = Footprint::Segment([[0.0, -50.0], [100.0, 50.0]]);
        slot.swept(0.0, 1.5, &mut |[low, high]| {
            assert!(approx_eq!(
                f64,
                high - low,
                3.0 * 2_f64.sqrt(),
                epsilon = 1e-12
            ));
            assert!(approx_eq!(f64, low + high, 100.0, epsilon = 1e-12));
        });
    }

    fn near_arc(arc: &Arc, p: [f64; 2]) -> f64 {
        (0..=20000)
            .map(|step| {
                let q = arc.at(f64::from(step) / 20000.0);
                (p[0] - q[0]).hypot(p[1] - q[1])
            })
            .fold(f64::INFINITY, f64::min)
    }

    proptest! {
        /// The closed form says of any point what the distance to the path says.
        #[test]
        fn swept_points_are_those_near_the_path(
            ends in prop::array::uniform4(-10.0..10.0_f64),
            x in -15.0..15.0_f64, y in -15.0..15.0_f64, r in 0.2..4.0_f64,
        ) {
            let [a, b] = [[ends[0], ends[1]], [ends[2], ends[3]]];
            let dx = b[0] - a[0];
            let dy = b[1] - a[1];
            let along = ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy);
            let along = along.clamp(0.0, 1.0);
            let distance = (x - a[0] - along * dx).hypot(y - a[1] - along * dy);
            prop_assume!(!approx_eq!(f64, distance, r, epsilon = 1e-9));
            prop_assert_eq!(covered(&Footprint::Segment([a, b]), y, r, x), distance < r);
        }

        #[test]
        fn swept_points_are_those_near_the_arc(
            start in -3.1..3.1_f64, end in -3.1..3.1_f64, radius in 0.5..8.0_f64,
            clockwise: bool,
            x in -12.0..12.0_f64, y in -12.0..12.0_f64, r in 0.2..4.0_f64,
        ) {
            prop_assume!((start - end).abs() > 0.01);
            let point = |angle: f64| [radius * angle.cos(), radius * angle.sin()];
            let ends = [point(start), point(end)];
            let arc = Arc::new(ArcPlane::Xy, ends, Centre::At([0.0; 2]), clockwise).unwrap();
            let distance = near_arc(&arc, [x, y]);
            prop_assume!((distance - r).abs() > 0.01);
            prop_assert_eq!(covered(&Footprint::Arc(arc), y, r, x), distance < r);
        }
    }
}
