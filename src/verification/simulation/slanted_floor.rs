//! What a cutter leaves on a line across a straight way that climbs or falls, in closed form.
//!
//! Of all places of the cutter that cover a point the one nearest to the way's lower end counts. With
//! a along the way from its upper end and o off it, that is min(L, a + sqrt(r*r - o*o)) along a way of
//! length L, and the floor lies so far down its slope. Along a line across the way the sum is a
//! straight line and a circle: the circle is followed by its tangents, which lie outside of it, so that
//! the floor is nowhere taken higher than it is.

use super::footprint::{capsule, half_chord};
use super::wood_profile::CutFloor;

/// How far below the floor its tangents may be, mm.
const BELOW_MM: f64 = 0.001;

/// But no more tangents than this.
const MOST_TANGENTS: f64 = 1000.0;

/// A straight way, seen from above, from its upper to its lower end.
#[derive(Debug, Clone, Copy)]
struct SlantedWay {
    upper: [f64; 2],
    lower: [f64; 2],
    /// Heights of both.
    z: [f64; 2],
    /// From upper to lower, length 1.
    along: [f64; 2],
    /// Fall over length in plan.
    slope: f64,
    /// Radius of the cutter.
    r: f64,
}

/// The floor that a cutter of radius `r` leaves on the line at `y` along a way between these ends,
/// part by part from left to right, and all that it sweeps there. The ends are not the same, nor are
/// their heights.
pub(super) fn slanted_floor(
    ends: [[f64; 2]; 2],
    heights: [f64; 2],
    y: f64,
    r: f64,
    each: &mut dyn FnMut(CutFloor, [f64; 2]),
) {
    let Some(whole) = capsule(ends, y, r) else {
        return;
    };
    let way = SlantedWay::new(ends, heights, r);
    let [_, bottom] = way.z;
    let add = &mut |floor: CutFloor| each(floor, whole);
    let Some(half) = half_chord(r, y - way.lower[1]) else {
        return way.slope_on(y, whole, add);
    };
    let [low, high] = whole;
    let disc = [way.lower[0] - half, way.lower[0] + half].map(|x| x.clamp(low, high));
    way.slope_on(y, [low, disc[0]], add);
    if disc[0] < disc[1] {
        add(CutFloor::level(disc, bottom));
    }
    way.slope_on(y, [disc[1], high], add);
}

impl SlantedWay {
    fn new(ends: [[f64; 2]; 2], heights: [f64; 2], r: f64) -> Self {
        let [a, b] = ends;
        let falls = heights[0] >= heights[1];
        let [upper, lower] = if falls { [a, b] } else { [b, a] };
        let z = [heights[0].max(heights[1]), heights[0].min(heights[1])];
        let way = [lower[0] - upper[0], lower[1] - upper[1]];
        let length = way[0].hypot(way[1]);
        SlantedWay {
            upper,
            lower,
            z,
            along: way.map(|part| part / length),
            slope: (z[0] - z[1]) / length,
            r,
        }
    }

    /// How far along the way and off it a point is.
    fn place(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [dx, dy] = [x - self.upper[0], y - self.upper[1]];
        let [ux, uy] = self.along;
        [dx * ux + dy * uy, dx * uy - dy * ux]
    }

    /// The floor on the part of a line at `y` that the disc at the lower end does not reach.
    fn slope_on(&self, y: f64, part: [f64; 2], each: &mut dyn FnMut(CutFloor)) {
        let [low, high] = part;
        if low >= high {
            return;
        }
        let [[_, o0], [_, o1]] = part.map(|x| self.place([x, y]));
        // From the middle of the circle; its own half where the tangents begin and end.
        let [from, to] = [o0, o1].map(|o| (o / self.r).clamp(-1.0, 1.0).asin());
        let circle = |angle: f64, radius: f64| [radius * angle.sin(), radius * angle.cos()];
        let place = |o: f64| {
            let share = if o1 == o0 { 0.0 } else { (o - o0) / (o1 - o0) };
            (low + share * (high - low)).clamp(low, high)
        };
        let height = |x: f64, reach: f64| {
            let [along, _] = self.place([x, y]);
            self.z[0] - self.slope * (along + reach)
        };
        let [_, reach] = circle(from, self.r);
        let mut before = [low, height(low, reach)];
        let count = self.tangents((to - from).abs());
        if o1 != o0 {
            let turn = (to - from) / count;
            let outside = self.r / (turn / 2.0).cos();
            let mut tangent = 0.5;
            while tangent < count {
                let [o, reach] = circle(from + tangent * turn, outside);
                let x = place(o);
                let next = [x, height(x, reach)];
                self.line(before, next, each);
                before = next;
                tangent += 1.0;
            }
        }
        let [_, reach] = circle(to, self.r);
        self.line(before, [high, height(high, reach)], each);
    }

    /// How many tangents follow a circle over an angle: over the angle a of each the corner between two
    /// is r / cos(a / 2) from its centre.
    fn tangents(&self, angle: f64) -> f64 {
        let off = BELOW_MM / (self.slope * self.r);
        let each = 2.0 * (1.0 + off).recip().acos();
        (angle / each).ceil().clamp(1.0, MOST_TANGENTS)
    }

    /// A straight part of the floor; no lower than the lower end.
    fn line(&self, a: [f64; 2], b: [f64; 2], each: &mut dyn FnMut(CutFloor)) {
        if a[0] >= b[0] {
            return;
        }
        let [top, bottom] = self.z;
        let floor = CutFloor {
            ends: [a[0], b[0]],
            heights: [a[1], b[1]].map(|z| z.min(top)),
        };
        for floor in floor.above(bottom).into_iter().flatten() {
            each(floor);
        }
    }
}
