//! A slot that crosses strips at an angle, seen as they lie on the sled. Millimetres, radians.
//!
//! A strip lies with the face that is notched down on the sled's base, its datum end to the left
//! at the stop, one long side on the fence, which stands on the operator's side of the strips; the
//! blade runs away from the operator. In the fence's frame x runs along the fence to the right and
//! y from the fence across the strips, away from the operator, with 0 on the centre line of the
//! strip at the fence. The cut runs at the slant's angle from x, counter-clockwise seen from above.
//!
//! Seen from above a strip on its back face shows its front: the cut's angle is the notch's. A
//! strip on its front face was rolled over along its length, the datum end still to the left: that
//! turns y around, so the cut's angle is pi less the notch's.
//!
//! A hand saw cuts from above, the notched face up, and a bench hook's fence stands on the far side
//! of the strips: that is the same picture seen from below, so all figures along the fence hold,
//! and left and right hold, but the end that is turned away is the other one.

use crate::geometry::PARALLEL_SINE;
use crate::geometry::tolerance::DIRECTION;
use crate::lattice::{Face, Notch};
use float_cmp::ApproxEq;
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};

/// The angle from the strips' direction to the cut, in (0, pi).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::planning) struct Slant(pub(in crate::planning) f64);

impl Slant {
    pub(in crate::planning) fn new(face: Face, angle: f64) -> Slant {
        Slant(match face {
            Face::Back => angle,
            Face::Front => PI - angle,
        })
    }

    pub(in crate::planning) fn of(notch: &Notch) -> Slant {
        Slant::new(notch.face, notch.angle)
    }

    pub(in crate::planning) fn is_square(self) -> bool {
        self.turn() < PARALLEL_SINE
    }

    pub(in crate::planning) fn is(self, other: Slant) -> bool {
        self.0.approx_eq(other.0, DIRECTION)
    }

    /// Exactly 1 for a square cut.
    fn sine(self) -> f64 {
        if self.is_square() { 1.0 } else { self.0.sin() }
    }

    /// How far the cut moves along the fence for each millimetre across the strips; exactly 0 for
    /// a square cut.
    pub(in crate::planning) fn lean(self) -> f64 {
        if self.is_square() {
            0.0
        } else {
            1.0 / self.0.tan()
        }
    }

    /// What is `square` wide square to the cut opens `square / sin` along the fence: the kerf, the
    /// shift from pass to pass, the overlap, a key, a pitch.
    pub(in crate::planning) fn along(self, square: f64) -> f64 {
        square / self.sine()
    }

    /// The width square to the cut of what lies `along` the fence.
    pub(in crate::planning) fn square(self, along: f64) -> f64 {
        along * self.sine()
    }

    /// Where a slot's centre lies at the fence, from the datum end: the fence touches the strip
    /// half a thickness to the near side of its centre line, and there the slanting slot lies
    /// `t / 2 / tan` nearer the datum end (farther from it for obtuse cuts).
    pub(in crate::planning) fn at_fence(self, centre: f64, thickness: f64) -> f64 {
        centre - thickness / 2.0 * self.lean()
    }

    /// How far each strip of a block has to be moved along the fence against its neighbour nearer
    /// the fence, so that one straight cut meets all at the same place: their centre lines lie
    /// `thickness` apart, and over that the cut moves by `t / tan`. Above zero: to the right.
    pub(in crate::planning) fn step_back(self, thickness: f64) -> f64 {
        thickness * self.lean()
    }

    /// Length of the cut through strips that are `width` wide together, and until a kerf that is
    /// `kerf` wide is out of them on both sides: its near corner enters, and its far corner leaves,
    /// half of `kerf / tan` later than its middle.
    pub(in crate::planning) fn cut_length(self, width: f64, kerf: f64) -> f64 {
        self.along(width) + kerf * self.lean().abs()
    }

    /// How far the fence is turned from square.
    pub(in crate::planning) fn turn(self) -> f64 {
        (FRAC_PI_2 - self.0).abs()
    }

    /// The acute angle between fence and blade.
    pub(in crate::planning) fn to_blade(self) -> f64 {
        self.0.min(PI - self.0)
    }

    /// Whether the far end of the strips is the one that is turned away from the operator, at a
    /// sled: the blade runs straight away from the operator, so the strips' direction lies pi / 2
    /// less the angle above the operator's own left to right.
    pub(in crate::planning) fn far_end_away(self) -> bool {
        self.0 < FRAC_PI_2
    }
}

/// Legs of a wedge of `angle` to be marked on a board: the longer is `length`, and their ratio is
/// the tangent. Along the side that lies on the fence; square to it.
pub(in crate::planning) fn wedge_legs(angle: f64, length: f64) -> (f64, f64) {
    if angle <= FRAC_PI_4 {
        (length, length * angle.tan())
    } else {
        (length / angle.tan(), length)
    }
}

/// The share of either wall of a slot that stays where a slot cut before enters the same face at
/// the same place of the strip with another slant: `first` crosses `second`, both `width` wide
/// square to themselves, in a strip of some thickness. What lies deeper than the first slot is not
/// counted, as a key stands near the face.
///
/// Along the second slot's wall, which runs at `b` from the strip half a width beside the node,
/// let s be the way from the foot of that offset. Across the strip the wall's points lie at
/// `s sin b + w/2 cos b`, so it reaches from `(-t/2 - w/2 cos b) / sin b` to
/// `(t/2 - w/2 cos b) / sin b`. From the first slot's middle, which runs at `a`, they lie at
/// `s sin d + w/2 cos d` with d = b - a; the first slot took away what lies within `w/2` of it,
/// from `(-w/2 - w/2 cos d) / sin d` to `(w/2 - w/2 cos d) / sin d` (the other way round where
/// sin d is negative). The other wall is the same turned half round the node. For 60 and 120
/// degrees with w = t: -0.289 t to 0.866 t, of which -0.866 t to 0.289 t is gone: half stays.
pub(in crate::planning) fn bearing_share(
    first: Slant,
    second: Slant,
    width: f64,
    thickness: f64,
) -> f64 {
    let between = second.0 - first.0;
    if between.sin().approx_eq(0.0, DIRECTION) {
        return 0.0;
    }
    let half = width / 2.0;
    let wall = reach_along(second.0, thickness / 2.0, half);
    let gone = reach_along(between, half, half);
    let [low, high] = wall;
    let from = gone[0].min(gone[1]);
    let to = gone[0].max(gone[1]);
    let lost = (high.min(to) - low.max(from)).max(0.0);
    1.0 - lost / (high - low)
}

/// Where a line that runs at an angle to another, `beside` it at its foot, comes to lie `far` from
/// that other one, before and behind: the way along it.
fn reach_along(angle: f64, far: f64, beside: f64) -> [f64; 2] {
    [-1.0, 1.0].map(|side| (side * far - beside * angle.cos()) / angle.sin())
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn degrees(angle: f64) -> Slant {
        Slant(angle.to_radians())
    }

    #[test]
    fn a_square_cut_is_exact() {
        let square = Slant(FRAC_PI_2);
        assert_eq!(square.at_fence(15.0, 3.0).to_bits(), 15.0_f64.to_bits());
        assert_eq!(square.along(2.8).to_bits(), 2.8_f64.to_bits());
        assert_eq!(square.square(2.8).to_bits(), 2.8_f64.to_bits());
        assert_eq!(square.cut_length(9.0, 2.8).to_bits(), 9.0_f64.to_bits());
        assert!(square.step_back(3.0) == 0.0 && square.is_square());
    }

    #[test]
    fn figures_at_sixty_by_hand() {
        // t = 3: 3 / 2 / tan 60 = 0.866025, 3 / tan 60 = 1.732051, 3 / sin 60 = 3.464102;
        // with a kerf of 3.2, which leaves 3.2 / tan 60 = 1.847521 later.
        let (acute, obtuse) = (degrees(60.0), degrees(120.0));
        let near = |a: f64, b: f64| assert!(approx_eq!(f64, a, b, epsilon = 1e-6), "{a} {b}");
        near(acute.at_fence(75.0, 3.0), 74.133_975);
        near(obtuse.at_fence(75.0, 3.0), 75.866_025);
        near(acute.step_back(3.0), 1.732_051);
        near(obtuse.step_back(3.0), -1.732_051);
        near(acute.cut_length(3.0, 3.2), 3.464_102 + 1.847_521);
        near(obtuse.square(3.464_102), 3.0);
        near(acute.turn().to_degrees(), 30.0);
        near(obtuse.turn().to_degrees(), 30.0);
        near(obtuse.to_blade().to_degrees(), 60.0);
        assert!(acute.far_end_away() && !obtuse.far_end_away());
    }

    #[test]
    fn a_strip_rolled_over_slants_the_other_way() {
        let angle = 1.0;
        assert_eq!(Slant::new(Face::Back, angle).0, 1.0);
        assert_eq!(Slant::new(Face::Front, angle).0, PI - 1.0);
    }

    #[test]
    fn wedges_by_hand() {
        // 200 tan 30 = 115.4701; 70 deg: 200 / tan 70 = 72.7940 along.
        let near = |found: (f64, f64), wanted: (f64, f64)| {
            assert!(
                approx_eq!(f64, found.0, wanted.0, epsilon = 5e-5)
                    && approx_eq!(f64, found.1, wanted.1, epsilon = 5e-5)
            );
        };
        near(wedge_legs(30_f64.to_radians(), 200.0), (200.0, 115.470_054));
        near(wedge_legs(70_f64.to_radians(), 200.0), (72.794_047, 200.0));
    }

    /// The same share by walking along both walls, with the node as the origin.
    fn walked(first: Slant, second: Slant, width: f64, thickness: f64, side: f64) -> f64 {
        let (along, normal) = (
            (second.0.cos(), second.0.sin()),
            (-second.0.sin(), second.0.cos()),
        );
        let across_first = (-first.0.sin(), first.0.cos());
        let (mut inside, mut stays) = (0_u32, 0_u32);
        let reach = 4.0 * (width + thickness) / second.0.sin();
        for step in 0..200_000 {
            let s = reach * (f64::from(step) / 100_000.0 - 1.0);
            let x = s * along.0 + side * width / 2.0 * normal.0;
            let y = s * along.1 + side * width / 2.0 * normal.1;
            if y.abs() <= thickness / 2.0 {
                inside += 1;
                let off = x * across_first.0 + y * across_first.1;
                stays += u32::from(off.abs() > width / 2.0);
            }
        }
        f64::from(stays) / f64::from(inside)
    }

    #[test]
    fn half_of_each_wall_bears_at_sixty_and_a_hundred_and_twenty() {
        for (a, b) in [(60.0, 120.0), (120.0, 60.0)] {
            let share = bearing_share(degrees(a), degrees(b), 3.0, 3.0);
            assert!(approx_eq!(f64, share, 0.5, epsilon = 1e-12), "{share}");
        }
        for (a, b, width) in [(60.0, 120.0, 3.2), (40.0, 110.0, 2.5), (75.0, 30.0, 4.0)] {
            let share = bearing_share(degrees(a), degrees(b), width, 3.0);
            for side in [-1.0, 1.0] {
                let walked = walked(degrees(a), degrees(b), width, 3.0, side);
                assert!(
                    approx_eq!(f64, share, walked, epsilon = 1e-3),
                    "{a} {b}: {share} {walked}"
                );
            }
        }
        assert_eq!(bearing_share(degrees(60.0), degrees(60.0), 3.0, 3.0), 0.0);
    }
}
