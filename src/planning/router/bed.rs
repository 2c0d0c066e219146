//! The clamped strips in the program's frame: X along the strips, Y across the bundle from its
//! front edge, X 0 at the end stop.

use crate::geometry::tolerance::DIRECTION;
use crate::lattice::Face;
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// Strips on edge side by side, stepped so that one straight slot crosses all of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct StripBed {
    /// How many.
    pub(super) strips: usize,
    /// Of each, across the bundle.
    pub(super) thickness: f64,
    /// Of each.
    pub(super) length: f64,
    /// From the strips' direction to the slots', counter-clockwise seen from above, in (0, pi).
    pub(super) angle: f64,
    /// X of the front strip's datum end.
    pub(super) datum: f64,
}

/// A slot's direction in the program's frame. Front face up, the strip is seen from the front. Back
/// face up it has been rolled over along its length, the datum end staying where it was: what ran
/// away from the datum end's corner toward the back now runs toward the front.
pub(super) fn program_angle(face: Face, angle: f64) -> f64 {
    match face {
        Face::Front => angle,
        Face::Back => PI - angle,
    }
}

impl StripBed {
    /// Cotangent of the slots' angle, exactly 0 where they run straight across.
    pub(super) fn cotangent(&self) -> f64 {
        let cosine = self.angle.cos();
        if cosine.approx_eq(0.0, DIRECTION) {
            return 0.0;
        }
        cosine / self.angle.sin()
    }

    /// What the slots' angle lacks to a right one, or is more; exactly 0 where they run straight
    /// across.
    pub(super) fn off_square(&self) -> f64 {
        self.cotangent().atan().abs()
    }

    /// How much farther along X every strip lies than the one before it.
    pub(super) fn step_back(&self) -> f64 {
        self.thickness * self.cotangent()
    }

    /// Across the bundle.
    pub(super) fn width(&self) -> f64 {
        self.strips as f64 * self.thickness
    }

    /// The bundle's least and greatest X.
    pub(super) fn x(&self) -> [f64; 2] {
        let last = self.datum + self.strips.saturating_sub(1) as f64 * self.step_back();
        [self.datum.min(last), self.datum.max(last) + self.length]
    }

    /// Y of the front strip's centre line, on which notch positions count.
    pub(super) fn centre_y(&self) -> f64 {
        self.thickness / 2.0
    }

    /// X of a line along the slots, at a Y: `offset` to the right of the middle of the notch that
    /// stands `centre` from the datum end, seen along the slot toward the back.
    pub(super) fn slot_x(&self, centre: f64, offset: f64, y: f64) -> f64 {
        self.datum + centre + (y - self.centre_y()) * self.cotangent() + offset / self.angle.sin()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;
    use std::f64::consts::FRAC_PI_2;

    fn bed(angle: f64) -> StripBed {
        StripBed {
            strips: 5,
            thickness: 3.0,
            length: 200.0,
            angle,
            datum: 0.0,
        }
    }

    #[test]
    fn strips_are_stepped_so_that_a_slot_meets_all_of_them_at_one_place() {
        for degrees in [20.0_f64, 45.0, 60.0, 89.0, 91.0, 120.0, 160.0] {
            let bed = bed(degrees.to_radians());
            for strip in 0..5 {
                let middle = bed.centre_y() + 3.0 * f64::from(strip);
                let start = f64::from(strip) * bed.step_back();
                assert!(approx_eq!(
                    f64,
                    bed.slot_x(70.0, 0.0, middle) - start,
                    70.0,
                    epsilon = 1e-9
                ));
            }
        }
        // 3 / tan 60 = sqrt 3; steps toward the datum end beyond a right angle.
        assert!(approx_eq!(
            f64,
            bed(PI / 3.0).step_back(),
            3.0_f64.sqrt(),
            epsilon = 1e-12
        ));
        assert!((bed(2.0 * PI / 3.0).step_back() + 3.0_f64.sqrt()).abs() < 1e-12);
        assert!((bed(2.0 * PI / 3.0).x()[0] + 4.0 * 3.0_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_right_angle_is_exactly_straight_across() {
        assert_eq!(bed(FRAC_PI_2).slot_x(50.0, 0.25, -7.0), 50.25);
        assert_eq!(bed(FRAC_PI_2).step_back(), 0.0);
        assert_eq!(bed(FRAC_PI_2).off_square(), 0.0);
        assert!(approx_eq!(
            f64,
            bed(2.0 * PI / 3.0).off_square(),
            PI / 6.0,
            epsilon = 1e-12
        ));
    }
}
