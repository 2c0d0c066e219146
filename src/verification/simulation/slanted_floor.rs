//! What a cutter leaves on a line across a straight way that climbs or falls, in closed form.
//!
//! Of all places of the cutter that cover a point the one nearest to the way's lower end counts. With
//! a along the way from its upper end and o off it, that is min(L, a + sqrt(r*r - o*o)) along a way of
//! length L, and the floor lies so far down its slope. Along a line across the way the sum is a
//! straight line and a circle: the circle is followed by its tangents, which lie outside of it, so that
//! the floor is nowhere taken higher than it is.

use super::footprint::{capsule, half_chord};
use super::wood_step::CutFloor;
use smallvec::SmallVec;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// How far below the floor its tangents may be, mm, ...
const BELOW_MM: f64 = 0.001;

/// ... or how far beside it, where it is steep.
const BESIDE_MM: f64 = 0.001;

/// But no finer than this share of the radius: some thousand tangents.
const FINEST: f64 = 1e-6;

/// Off the way and along it, from the middle of the cutter, in radii.
type OffAlong = [f64; 2];

/// A straight way, seen from above, from its upper to its lower end.
#[derive(Debug, Clone)]
pub(super) struct SlantedWay {
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
    /// Where tangents touch the front half of the circle, as angles from the way.
    touch: SmallVec<[f64; 32]>,
    /// Where each meets the next.
    corners: SmallVec<[OffAlong; 32]>,
}

/// Where the tangents at two angles of a circle of radius 1 meet.
fn corner(from: f64, to: f64) -> OffAlong {
    let (sine, cosine) = f64::midpoint(from, to).sin_cos();
    let half = ((to - from) / 2.0).cos();
    [sine / half, cosine / half]
}

/// Angles from one side of the way to the other, at which tangents are nowhere farther ahead of the
/// circle than `off`, in radii, or farther off it than `beside`. Over twice the angle h, in whose middle
/// the circle is c ahead, they are ahead by c - sqrt(c*c - tan(h)^2), about tan(h)^2 / 2c, and off by
/// 1 / cos(h) - 1, about h^2 / 2. The series' other parts are small.
fn tangents(off: f64, beside: f64) -> SmallVec<[f64; 32]> {
    let off = off.max(FINEST);
    let steep = (2.0 * beside).sqrt();
    let mut angles: SmallVec<[f64; 32]> = SmallVec::new();
    let mut angle = 0.0;
    while angle < FRAC_PI_2 {
        angles.push(angle - FRAC_PI_2);
        let ahead = f64::sin(angle);
        let half = steep.max((2.0 * off * ahead).sqrt()) * 0.9;
        angle += 2.0 * half.min(FRAC_PI_4);
    }
    let other: SmallVec<[f64; 32]> = angles.iter().rev().map(|angle| -angle).collect();
    angles.push(0.0);
    angles.extend(other);
    angles
}

impl SlantedWay {
    /// A way between these ends at these heights. Neither are the same.
    pub(super) fn new(ends: [[f64; 2]; 2], heights: [f64; 2], r: f64) -> Self {
        let [a, b] = ends;
        let falls = heights[0] >= heights[1];
        let [upper, lower] = if falls { [a, b] } else { [b, a] };
        let z = [heights[0].max(heights[1]), heights[0].min(heights[1])];
        let way = [lower[0] - upper[0], lower[1] - upper[1]];
        let length = way[0].hypot(way[1]);
        let slope = (z[0] - z[1]) / length;
        // Along the way the line is straight, and needs none.
        let touch = if way[1] == 0.0 {
            SmallVec::new()
        } else {
            tangents(BELOW_MM / (slope * r), BESIDE_MM / r)
        };
        let corners = touch.windows(2).map(|pair| corner(pair[0], pair[1]));
        SlantedWay {
            upper,
            lower,
            z,
            along: way.map(|part| part / length),
            slope,
            r,
            corners: corners.collect(),
            touch,
        }
    }

    /// The floor on the line at `y`, part by part from left to right, and all that is swept there.
    pub(super) fn on(&self, y: f64, each: &mut dyn FnMut(CutFloor, [f64; 2])) {
        let Some(whole) = capsule([self.upper, self.lower], y, self.r) else {
            return;
        };
        let [_, bottom] = self.z;
        let add = &mut |floor: CutFloor| each(floor, whole);
        let Some(half) = half_chord(self.r, y - self.lower[1]) else {
            return self.slope_on(y, whole, add);
        };
        let [low, high] = whole;
        let disc = [self.lower[0] - half, self.lower[0] + half].map(|x| x.clamp(low, high));
        self.slope_on(y, [low, disc[0]], add);
        if disc[0] < disc[1] {
            add(CutFloor::level(disc, bottom));
        }
        self.slope_on(y, [disc[1], high], add);
    }

    /// How far off the way and along it a point is, in radii.
    fn place(&self, [x, y]: [f64; 2]) -> OffAlong {
        let [dx, dy] = [x - self.upper[0], y - self.upper[1]];
        let [ux, uy] = self.along;
        [(dx * uy - dy * ux) / self.r, (dx * ux + dy * uy) / self.r]
    }

    /// The floor on the part of a line at `y` that the disc at the lower end does not reach.
    fn slope_on(&self, y: f64, part: [f64; 2], each: &mut dyn FnMut(CutFloor)) {
        let [low, high] = part;
        if low >= high {
            return;
        }
        let [[o0, _], [o1, _]] = part.map(|x| self.place([x, y]));
        let height = |x: f64, ahead: f64| {
            let [_, along] = self.place([x, y]);
            self.z[0] - self.slope * self.r * (along + ahead)
        };
        let ahead = |o: f64| (1.0 - o * o).max(0.0).sqrt();
        let mut before = [low, height(low, ahead(o0))];
        self.corners_between([o0, o1], &mut |[o, ahead]| {
            let x = low + (o - o0) / (o1 - o0) * (high - low);
            let next = [x.clamp(low, high), height(x.clamp(low, high), ahead)];
            self.line(before, next, each);
            before = next;
        });
        self.line(before, [high, height(high, ahead(o1))], each);
    }

    /// The corners between tangents from one distance off the way to another.
    fn corners_between(&self, off: [f64; 2], each: &mut dyn FnMut(OffAlong)) {
        let [from, to] = off.map(|o| o.clamp(-1.0, 1.0).asin());
        let [least, most] = [from.min(to), from.max(to)];
        if least >= most {
            return;
        }
        let first = self.touch.partition_point(|angle| *angle <= least);
        let behind = self.touch.partition_point(|angle| *angle < most);
        let inside = self.touch.get(first..behind).unwrap_or_default();
        let (Some(near), Some(far)) = (inside.first(), inside.last()) else {
            return each(corner(least, most));
        };
        let corners = self.corners.get(first..behind - 1).unwrap_or_default();
        let [near, far] = [corner(least, *near), corner(*far, most)];
        if from < to {
            each(near);
            corners.iter().for_each(|corner| each(*corner));
            each(far);
        } else {
            each(far);
            corners.iter().rev().for_each(|corner| each(*corner));
            each(near);
        }
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The lowest height at which a disc on its way covers a point: from where the way enters and
    /// leaves the circle round the point, the roots of |A + t (B - A) - P| = r.
    fn lowest(ends: [[f64; 2]; 2], heights: [f64; 2], [x, y]: [f64; 2], r: f64) -> Option<f64> {
        let [a, b] = ends;
        let way = [b[0] - a[0], b[1] - a[1]];
        let off = [a[0] - x, a[1] - y];
        let square = way[0] * way[0] + way[1] * way[1];
        let half = way[0] * off[0] + way[1] * off[1];
        let root = half * half - square * (off[0] * off[0] + off[1] * off[1] - r * r);
        if root < 0.0 {
            return None;
        }
        let [first, last] = [-root.sqrt(), root.sqrt()].map(|root| (root - half) / square);
        let [first, last] = [first.max(0.0), last.min(1.0)];
        let height = |t: f64| heights[0] + t * (heights[1] - heights[0]);
        (first <= last).then(|| height(first).min(height(last)))
    }

    fn floor_of(
        ends: [[f64; 2]; 2],
        heights: [f64; 2],
        y: f64,
        r: f64,
    ) -> Vec<(CutFloor, [f64; 2])> {
        let mut parts = Vec::new();
        SlantedWay::new(ends, heights, r).on(y, &mut |part, whole| {
            parts.push((part, whole));
        });
        parts
    }

    /// Along the strips it is straight: 10 mm down by 1 from x 0, on a plane 0.6 beside the way of a
    /// cutter of radius 1, so that half a chord is 0.8.
    #[test]
    fn a_ramp_along_the_plane_is_two_straight_parts() {
        let parts = floor_of([[0.0, 0.0], [10.0, 0.0]], [-1.0, -2.0], 0.6, 1.0);
        let [(slope, whole), (level, _)] = parts[..] else {
            panic!("{parts:?}")
        };
        let near = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]) < 1e-9;
        assert!(near(whole, [-0.8, 10.8]));
        assert!(near(slope.ends, [-0.8, 9.2]) && near(slope.heights, [-1.0, -2.0]));
        assert!(near(level.ends, [9.2, 10.8]) && near(level.heights, [-2.0, -2.0]));
    }

    proptest! {
        /// Nowhere higher than what the cutter passes, nowhere lower by more than the tangents may be,
        /// without gaps, as wide as the cutter sweeps.
        #[test]
        fn the_floor_is_the_lowest_of_all_places(
            ends in prop::array::uniform4(-5.0..5.0_f64),
            heights in prop::array::uniform2(-4.0..0.0_f64),
            along in prop::sample::select(vec![None, Some(0), Some(1)]),
            y in -6.0..6.0_f64, r in 0.2..3.0_f64,
        ) {
            let mut ends = [[ends[0], ends[1]], [ends[2], ends[3]]];
            if let Some(axis) = along {
                ends[1][axis] = ends[0][axis];
            }
            prop_assume!((ends[0][0] - ends[1][0]).hypot(ends[0][1] - ends[1][1]) > 1e-3);
            let parts = floor_of(ends, heights, y, r);
            let bottom = heights[0].min(heights[1]);
            for (x, wood) in (-900..900).map(|x| f64::from(x) * 0.01).map(|x| {
                (x, lowest(ends, heights, [x, y], r))
            }) {
                let inside = |r| lowest(ends, heights, [x, y], r).is_some();
                prop_assume!(inside(r - 1e-9) == inside(r + 1e-9));
                let here: Vec<f64> = parts
                    .iter()
                    .filter(|(part, _)| part.ends[0] <= x && x <= part.ends[1])
                    .map(|(part, _)| {
                        let share = (x - part.ends[0]) / (part.ends[1] - part.ends[0]);
                        part.heights[0] + share * (part.heights[1] - part.heights[0])
                    })
                    .collect();
                prop_assert_eq!(here.is_empty(), wood.is_none(), "{}", x);
                if let Some(wood) = wood {
                    let floor = here.into_iter().fold(f64::INFINITY, f64::min);
                    prop_assert!(floor >= bottom);
                    // Where the floor is steep a hair along x is more than a hair in height.
                    let around = |hair: f64| {
                        let beside = [-hair, hair].map(|by| lowest(ends, heights, [x + by, y], r));
                        let beside = beside.into_iter().flatten();
                        beside.fold([wood; 2], |all, z| [all[0].min(z), all[1].max(z)])
                    };
                    let [_, most] = around(1e-7);
                    prop_assert!(floor <= most + 1e-9, "{x}: {floor} above {wood}");
                    // Square to the line, so that along it is more where the way is slanted.
                    let wider = lowest(ends, heights, [x, y], r + BESIDE_MM).unwrap();
                    let least = around(1e-7)[0].min(wider) - BELOW_MM;
                    prop_assert!(floor >= least - 1e-9, "{x}: {floor} below {wood}");
                }
            }
            for pair in parts.windows(2) {
                prop_assert!((pair[0].0.ends[1] - pair[1].0.ends[0]).abs() < 1e-9);
            }
        }
    }
}
