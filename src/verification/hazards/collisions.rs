//! Where the tool goes: travel, table, clamps, places that nobody knows.

use super::watch::{AT_TOP_MM, Watch};
use crate::phrase;
use crate::units::decimal;
use crate::verification::faults::figure;
use crate::verification::gcode::state::{Point3, ToolMove};
use crate::verification::simulation::interval::distance_outside;
use crate::verification::simulation::sweep::{KnownMove, chords};

/// A place this far beyond a limit, mm, is at the limit: places are printed with three decimals.
const BEYOND_MM: f64 = 0.0006;

const AXES: [char; 3] = ['X', 'Y', 'Z'];

impl Watch<'_> {
    /// Travel and table, axis by axis, as far as the places are known; extents as well.
    pub(super) fn check_travel(&mut self, step: &ToolMove) {
        for axis in 0..3 {
            let Some([low, high]) = reach(step, axis) else {
                continue;
            };
            let extent = self.sums.extent[axis].get_or_insert([low, high]);
            *extent = [extent[0].min(low), extent[1].max(high)];
            let limits = self.limits;
            if let Some((travel, zero)) = limits.travel_mm.zip(limits.program_zero_mm) {
                let [least, most] = travel[axis].map(|place| place - zero[axis]);
                let beyond = if limits.zero_is_nominal && axis == 2 {
                    // Where the stock's top stands is found when zero is set: up and down
                    // together must fit.
                    extent[1] - extent[0] - (most - least)
                } else {
                    (least - low).max(high - most)
                };
                if beyond > BEYOND_MM {
                    let text = phrase!(
                        "{} goes {} beyond the travel",
                        AXES[axis].to_string(),
                        figure(beyond)
                    );
                    self.fault("outside-travel", step.line, text);
                }
            }
            let table = limits.table_z_mm.filter(|_| axis == 2);
            if let Some(depth) = table.map(|table| table - low).filter(|d| *d > BEYOND_MM) {
                let text = phrase!("the cutter goes {} into the table", figure(depth));
                self.fault("into-table", step.line, text);
            }
        }
    }

    /// A move with an end that is not known in full. The first move of a program starts from
    /// nobody knows where: a rise to a height above everything is safe, and so is what follows
    /// at that height.
    pub(super) fn check_unknown(&mut self, step: &ToolMove) {
        let clearance = self.limits.clearance_mm.unwrap_or(0.0);
        let tops = self
            .limits
            .keep_outs
            .iter()
            .map(|keep_out| keep_out.high[2]);
        let top = tops.fold(clearance, f64::max);
        let above = |z: Option<f64>| z.is_some_and(|z| z >= top - AT_TOP_MM);
        let moved = |axis: usize| step.from[axis].is_none() || step.from[axis] != step.to[axis];
        let named: Vec<usize> = (0..3)
            .filter(|axis| moved(*axis) && (step.to[*axis].is_some() || step.from[*axis].is_some()))
            .collect();
        let rises = named.iter().all(|axis| *axis == 2) && above(step.to[2]);
        let stays_high = above(step.from[2]) && above(step.to[2]);
        let waits = named.is_empty();
        let to_nowhere = (0..3).any(|axis| step.from[axis].is_some() && step.to[axis].is_none());
        if to_nowhere {
            let height = decimal((top * 1000.0).ceil() / 1000.0, 3).unwrap_or_default();
            let text = phrase!(
                "where this ends depends on a place or zero stored in the machine (as of G53, G28 and \
                 G55): write the places from the program's own zero (G54), a rise as G0 Z{} or more",
                height
            );
            self.fault("position-unknown", step.line, text);
        } else if !(rises || stays_high || waits) {
            let text = "where this begins or ends cannot be told from the program: rise to a safe \
                        height with Z alone first, then state X and Y";
            self.fault("position-unknown", step.line, text);
        }
    }

    /// The tool in clamps and stops: everything from the cutter's end upward, as wide as the
    /// wider of cutter and shank.
    pub(super) fn check_keep_outs(&mut self, step: &ToolMove, way: &KnownMove) {
        let limits = self.limits;
        let shank = limits.shank_diameter_mm.unwrap_or(0.0);
        let radius = limits.tool_diameter_mm.max(shank) / 2.0;
        for keep_out in &limits.keep_outs {
            let rectangle = [0, 1].map(|axis: usize| [keep_out.low[axis], keep_out.high[axis]]);
            if meets(step, way, rectangle, keep_out.high[2], radius) {
                let text = phrase!("the tool runs into {}", &keep_out.name);
                self.fault("keep-out", step.line, text);
            }
            // The holder meets what reaches up to it.
            let Some([length, width]) = limits.holder_mm else {
                continue;
            };
            let top = keep_out.high[2] - length;
            if meets(step, way, rectangle, top, width / 2.0) {
                let text = phrase!("the tool's holder runs into {}", &keep_out.name);
                self.fault("keep-out", step.line, text);
            }
        }
    }
}

/// Lowest and highest coordinate of a move along an axis, as far as known.
fn reach(step: &ToolMove, axis: usize) -> Option<[f64; 2]> {
    let from = step.from[axis];
    let to = step.to[axis];
    if let Some(arc) = step.arc {
        // An arc's plane is known at both ends; along the third axis 0 stands for unknown.
        let place = |place: [Option<f64>; 3]| place.map(|value| value.unwrap_or(0.0));
        let arc = Some(arc);
        let from = place(step.from);
        let to = place(step.to);
        return Some(KnownMove { from, to, arc }.range(axis));
    }
    let to = to?;
    let from = from.unwrap_or(to);
    Some([from.min(to), from.max(to)])
}

/// In plan: x and y, low and high.
type Rectangle = [[f64; 2]; 2];

/// Whether a tool of this radius touches a rectangle while its end is below `top`.
fn meets(step: &ToolMove, way: &KnownMove, rectangle: Rectangle, top: f64, radius: f64) -> bool {
    let [x, y, z] = [0, 1, 2].map(|axis| way.range(axis));
    if z[0] >= top - AT_TOP_MM || !near([x, y], rectangle, radius) {
        return false;
    }
    if step.rapid {
        // Anywhere in the box between its ends: see `bent_rapid`.
        return true;
    }
    let points = match &way.arc {
        Some(arc) => chords(arc, way.from, way.to),
        None => vec![way.from, way.to],
    };
    points.windows(2).any(|pair| match pair {
        &[a, b] => {
            below(a, b, top).is_some_and(|[a, b]| segment_gap(a, b, rectangle) < radius - BEYOND_MM)
        }
        _ => false,
    })
}

/// Whether two rectangles are closer than `radius`.
fn near(a: Rectangle, b: Rectangle, radius: f64) -> bool {
    let [x, y] = [0, 1].map(|axis: usize| {
        (a[axis][0] - b[axis][1])
            .max(b[axis][0] - a[axis][1])
            .max(0.0)
    });
    x.hypot(y) < radius - BEYOND_MM
}

/// The part of a straight way that is below `top`.
pub(super) fn below(a: Point3, b: Point3, top: f64) -> Option<[Point3; 2]> {
    if a[2].min(b[2]) >= top {
        return None;
    }
    Some([lowered(a, b, top), lowered(b, a, top)])
}

/// An end of a straight way, or where the way to it from the lower end passes `top`.
fn lowered(end: Point3, lower: Point3, top: f64) -> Point3 {
    if end[2] <= top {
        return end;
    }
    let share = (top - lower[2]) / (end[2] - lower[2]);
    std::array::from_fn(|axis| lower[axis] + share * (end[axis] - lower[axis]))
}

/// Distance in plan between a segment and a rectangle: 0 where they meet, else the least of the
/// distances of the segment's ends from the rectangle and of the rectangle's corners from the
/// segment.
fn segment_gap(a: Point3, b: Point3, [x, y]: Rectangle) -> f64 {
    if crosses(a, b, [x, y]) {
        return 0.0;
    }
    let ends = [a, b].map(|p| distance_outside(p[0], x).hypot(distance_outside(p[1], y)));
    let corners = [[x[0], y[0]], [x[1], y[0]], [x[0], y[1]], [x[1], y[1]]];
    let corners = corners.map(|corner| point_gap(corner, a, b));
    ends.into_iter()
        .chain(corners)
        .fold(f64::INFINITY, f64::min)
}

pub(super) fn point_gap(p: [f64; 2], a: Point3, b: Point3) -> f64 {
    let dx = b[0] - a[0];
    let dy = b[1] - a[1];
    let square = dx * dx + dy * dy;
    let along = if square > 0.0 {
        (((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (p[0] - a[0] - along * dx).hypot(p[1] - a[1] - along * dy)
}

/// Whether a segment meets a rectangle: the part of it between the left and right sides, and that
/// between the lower and upper, have something in common (slab test).
fn crosses(a: Point3, b: Point3, rectangle: Rectangle) -> bool {
    let mut part = [0.0_f64, 1.0_f64];
    for (axis, [low, high]) in rectangle.into_iter().enumerate() {
        let start = a[axis];
        let way = b[axis] - a[axis];
        if way == 0.0 {
            if start < low || start > high {
                return false;
            }
            continue;
        }
        let first = (low - start) / way;
        let second = (high - start) / way;
        part = [
            part[0].max(first.min(second)),
            part[1].min(first.max(second)),
        ];
    }
    part[0] <= part[1]
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn gaps_between_ways_and_boxes() {
        let square = [[0.0, 10.0], [0.0, 10.0]];
        let gap =
            |a: [f64; 2], b: [f64; 2]| segment_gap([a[0], a[1], 0.0], [b[0], b[1], 0.0], square);
        assert_eq!(gap([-5.0, 5.0], [15.0, 5.0]), 0.0);
        assert_eq!(gap([4.0, 4.0], [5.0, 5.0]), 0.0);
        assert_eq!(gap([-3.0, 0.0], [-3.0, 20.0]), 3.0);
        assert!(approx_eq!(
            f64,
            gap([-4.0, 0.0], [0.0, -4.0]),
            8_f64.sqrt(),
            epsilon = 1e-12
        ));
        assert_eq!(gap([13.0, 14.0], [13.0, 14.0]), 5.0);
    }

    #[test]
    fn only_what_is_below_the_top_counts() {
        let cut = below([0.0, 0.0, 10.0], [10.0, 0.0, 0.0], 5.0).unwrap();
        assert_eq!(cut[0][0], 5.0);
        assert_eq!(cut[1][0], 10.0);
        assert!(below([0.0, 0.0, 10.0], [10.0, 0.0, 5.0], 5.0).is_none());
    }
}
