//! How many sticks come off a width, and what becomes of the rest.

use crate::instructions::milling::RipShares;

/// Rounding that makes a fit of a whole number of sticks none, in steps.
const ALMOST_WHOLE: f64 = 1e-9;

/// A width that equal sticks are ripped off, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rip {
    /// Of what they come off.
    pub(super) width: f64,
    /// Of a stick as it ends up.
    pub(super) size: f64,
    /// What planing takes off it, both sides together.
    pub(super) planing: f64,
    /// Of the saw.
    pub(super) kerf: f64,
}

impl Rip {
    /// Of a stick as it is ripped.
    pub(super) fn rough(self) -> f64 {
        self.size + self.planing
    }

    /// From stick to stick.
    pub(super) fn step(self) -> f64 {
        self.rough() + self.kerf
    }

    /// How many sticks: n of them have n - 1 kerfs between, so n (t + a) + (n - 1) k <= B, and n is the whole part of
    /// (B + k) / (t + a + k).
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // few, and none below zero
    pub(super) fn count(self) -> usize {
        let steps = (self.width + self.kerf) / self.step();
        (steps + ALMOST_WHOLE).floor().max(0.0) as usize
    }

    /// What is left behind the last stick, mm: its own cut takes a kerf of it, or what there is.
    pub(super) fn rest(self) -> f64 {
        let sticks = self.count() as f64;
        (self.width - sticks * self.step()).max(0.0)
    }

    /// What becomes of the width.
    pub(super) fn shares(self) -> RipShares {
        let sticks = self.count() as f64;
        let kept = sticks * self.size / self.width;
        let planed = sticks * self.planing / self.width;
        let rest = self.rest() / self.width;
        RipShares {
            kept,
            planed,
            rest,
            kerfs: (1.0 - kept - planed - rest).max(0.0),
        }
    }

    /// How many sticks come off while what is left, before the cut, is narrower than `least`, mm.
    pub(super) fn off_narrow(self, least: f64) -> usize {
        let left = |taken: usize| self.width - taken as f64 * self.step();
        (0..self.count())
            .filter(|taken| left(*taken) < least - ALMOST_WHOLE)
            .count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn rip(width: f64, size: f64, planing: f64, kerf: f64) -> Rip {
        Rip {
            width,
            size,
            planing,
            kerf,
        }
    }

    /// Sticks laid side by side, one after the other, until the next does not fit.
    fn laid(rip: Rip) -> usize {
        let mut at = 0.0;
        let mut count = 0;
        while at + rip.size + rip.planing <= rip.width + 1e-9 {
            at += rip.size + rip.planing + rip.kerf;
            count += 1;
        }
        count
    }

    /// Four boards by hand: B 150, t 3.5, a 1: k 2.4 gives 22, so 73 of 150 are lost; k 3.2 gives 19, 83.5 of 150;
    /// B 140, t 4, a 0.6, k 2.2: 20, 60 of 140; B 89, t 3.2, a 0.8, k 3.2: 12, 50.6 of 89. 22 steps of 6.9 are more
    /// than 150; 19 of 7.7, 20 of 6.8 and 12 of 7.2 leave 3.7, 4 and 2.6.
    #[test]
    fn four_boards_by_hand() {
        for (rip, count, lost, rest) in [
            (rip(150.0, 3.5, 1.0, 2.4), 22, 73.0 / 150.0, 0.0),
            (rip(150.0, 3.5, 1.0, 3.2), 19, 83.5 / 150.0, 3.7),
            (rip(140.0, 4.0, 0.6, 2.2), 20, 60.0 / 140.0, 4.0),
            (rip(89.0, 3.2, 0.8, 3.2), 12, 50.6 / 89.0, 2.6),
        ] {
            assert_eq!(rip.count(), count, "{rip:?}");
            let left = [rip.rest(), rip.shares().rest * rip.width];
            for left in left {
                assert!(
                    approx_eq!(f64, left, rest, epsilon = 1e-9),
                    "{rip:?}: {left}"
                );
            }
            let shares = rip.shares();
            assert!(
                approx_eq!(f64, shares.lost(), lost, epsilon = 1e-12),
                "{rip:?}"
            );
            assert!((0.42..0.58).contains(&shares.lost()));
            assert!(approx_eq!(
                f64,
                shares.kept + shares.lost(),
                1.0,
                epsilon = 1e-12
            ));
        }
    }

    /// Against sticks laid side by side, on widths that leave anything or nothing.
    #[test]
    fn as_many_as_can_be_laid() {
        for tenths in 10..2_000_u32 {
            let width = f64::from(tenths) / 10.0;
            for (size, planing, kerf) in [(2.6, 0.8, 2.4), (3.5, 1.0, 3.2), (9.0, 5.0, 1.6)] {
                let rip = rip(width, size, planing, kerf);
                assert_eq!(rip.count(), laid(rip), "{rip:?}");
                let shares = rip.shares();
                for part in [shares.kept, shares.kerfs, shares.planed, shares.rest] {
                    assert!((-1e-12..=1.0).contains(&part), "{rip:?}: {shares:?}");
                }
            }
        }
        // Just three and two kerfs: no rest, and no kerf behind the last.
        let just = rip(3.0 * 3.4 + 2.0 * 2.4, 2.6, 0.8, 2.4);
        assert_eq!((just.count(), just.rest()), (3, 0.0));
    }

    /// Of 50 mm, steps of 5.8: 50, 44.2, 38.4 and what follows; below 40 come all but two.
    #[test]
    fn narrow_rests_are_counted() {
        let rip = rip(50.0, 2.6, 0.8, 2.4);
        assert_eq!(rip.count(), 9);
        assert_eq!(rip.off_narrow(40.0), 7);
        assert_eq!(rip.off_narrow(0.5), 0);
    }
}
