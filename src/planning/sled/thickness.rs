//! Which strips suit a blade, and what to do with those that do not.

use super::passes::{hand_passes, passes};
use crate::finding::Finding;
use crate::instructions::thickness::{InHand, Joint, Shimmed, SpreadUsed, ThicknessPlan};
use crate::machines::{Chosen, Sled};
use crate::phrase;
use crate::units::Mm;

/// A blade, and the joint that is wanted.
#[derive(Debug, Clone, Copy)]
pub struct ThicknessOrder<'a> {
    /// Whose blade.
    pub sled: Chosen<'a, Sled>,
    /// Notch less strip, mm; below zero for a press fit.
    pub clearance: f64,
    /// Thickness of strips that are there already, mm.
    pub in_hand: Option<f64>,
}

/// Two standard deviations cover 95 of 100 (JCGM 100:2008, 6.3.3: k = 2).
const COVERAGE_FACTOR: f64 = 2.0;

impl ThicknessOrder<'_> {
    /// Thicknesses and joints.
    ///
    /// # Errors
    /// A clearance as wide as the groove.
    pub fn plan(&self) -> Result<ThicknessPlan, Vec<Finding>> {
        let Chosen {
            name,
            machine: sled,
        } = self.sled;
        let kerf = sled.blade.kerf;
        let thickness = kerf - self.clearance;
        if thickness <= 0.0 {
            let text = phrase!("one pass leaves {}, no more than the clearance", Mm(kerf));
            let hint = "clearances are hundredths or tenths of a millimetre";
            return Err(vec![
                Finding::error("clearance-too-wide", "--clearance", text).hint(hint),
            ]);
        }
        let two_passes = sled
            .blade
            .powered
            .as_ref()
            .map(|powered| 2.0 * kerf - powered.overlap);
        Ok(ThicknessPlan {
            machine: name.to_owned(),
            kerf_mm: kerf,
            clearance_mm: self.clearance,
            one_pass: self.one_pass(thickness),
            thickest_two_passes_mm: two_passes.map(|width| width - self.clearance),
            in_hand: self.in_hand.map(|in_hand| self.in_hand(in_hand)),
            spreads: self.spreads(),
        })
    }

    fn in_hand(&self, thickness: f64) -> InHand {
        let blade = &self.sled.machine.blade;
        let width = thickness + self.clearance;
        let (passes, shim_mm) = match &blade.powered {
            Some(powered) => passes(width, blade.kerf, powered.overlap, 0.0),
            None => hand_passes(width, blade.kerf, 0.0),
        };
        InHand {
            one_pass: self.one_pass(thickness),
            with_shim: (passes > 1).then(|| Shimmed {
                shim_mm,
                passes,
                joint: self.shimmed(thickness),
            }),
        }
    }

    /// The groove's width and the strip's thickness scatter by themselves: u2 = u2(kerf) + u2(thickness).
    fn one_pass(&self, thickness: f64) -> Joint {
        let [kerf, strip, ..] = self.deviations();
        joint(
            thickness,
            self.sled.machine.blade.kerf - thickness,
            kerf.hypot(strip),
        )
    }

    /// Each wall is left by another pass, so half of either groove's scatter counts: 2 (u(kerf) / 2)2. The
    /// way between the passes is that of two seats on the stop and of the shim.
    fn shimmed(&self, thickness: f64) -> Joint {
        let [kerf, strip, seat, shim] = self.deviations();
        let walls = kerf * kerf / 2.0;
        let way = 2.0 * seat * seat + shim * shim;
        joint(
            thickness,
            self.clearance,
            (walls + way + strip * strip).sqrt(),
        )
    }

    /// Standard deviations: of the groove, of the strip, of a seat on the stop, of a shim, mm.
    fn deviations(&self) -> [f64; 4] {
        let sled = self.sled.machine;
        let spread = &sled.spread;
        let halves = [
            spread.kerf.half,
            spread.strip_thickness.half,
            spread.seat.half,
            self.shim(),
        ];
        halves.map(|half| spread.plus_minus.deviation(half))
    }

    /// How closely a shim is known: as closely as the sled's spacers.
    fn shim(&self) -> f64 {
        let spacers = self.sled.machine.spacers.as_ref();
        spacers.map_or(0.0, |spacers| spacers.tolerance)
    }

    fn spreads(&self) -> Vec<SpreadUsed> {
        let spread = &self.sled.machine.spread;
        let mut used: Vec<SpreadUsed> = [
            ("kerf", spread.kerf),
            ("strip thickness", spread.strip_thickness),
            ("seat on the stop", spread.seat),
        ]
        .map(|(what, figure)| SpreadUsed {
            what,
            half_mm: figure.half,
            is_assumed: figure.is_assumed,
        })
        .into();
        used.extend(
            self.sled
                .machine
                .spacers
                .as_ref()
                .map(|spacers| SpreadUsed {
                    what: "shim, as the spacers",
                    half_mm: spacers.tolerance,
                    is_assumed: false,
                }),
        );
        used
    }
}

fn joint(thickness_mm: f64, clearance_mm: f64, deviation: f64) -> Joint {
    Joint {
        thickness_mm,
        clearance_mm,
        tightest_mm: clearance_mm - COVERAGE_FACTOR * deviation,
        loosest_mm: clearance_mm + COVERAGE_FACTOR * deviation,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::{Machine, Spacers, SpreadFigure};
    use crate::reading::{read_machine, shipped_machine};
    use float_cmp::approx_eq;

    fn sled() -> Sled {
        let shipped = shipped_machine("key-sled").unwrap();
        let Machine::Sled(mut sled) = read_machine(shipped.name, shipped.text).unwrap().machine
        else {
            panic!("a sled");
        };
        sled.blade.kerf = 2.6;
        sled.spread.kerf = SpreadFigure::given(0.02);
        sled.spread.strip_thickness = SpreadFigure::given(0.03);
        sled.spread.seat = SpreadFigure::given(0.01);
        sled.spacers = Some(Spacers { tolerance: 0.03 });
        sled
    }

    fn plan(sled: &Sled, clearance: f64, in_hand: Option<f64>) -> ThicknessPlan {
        let sled = Chosen {
            name: "s",
            machine: sled,
        };
        ThicknessOrder {
            sled,
            clearance,
            in_hand,
        }
        .plan()
        .unwrap()
    }

    /// By hand: 2.6 - 0.05; 2 sqrt (0.02^2 / 3 + 0.03^2 / 3) = 0.04163; 2 (0.02^2 / 6 + 2 0.01^2 / 3 + 0.03^2 / 3
    /// + 0.03^2 / 3)^(1/2) = 0.05416.
    #[test]
    fn joints_by_hand() {
        let plan = plan(&sled(), 0.05, Some(3.12));
        let near = |a: f64, b: f64| approx_eq!(f64, a, b, epsilon = 5e-6);
        assert!(near(plan.one_pass.thickness_mm, 2.55));
        assert!(near(plan.one_pass.tightest_mm, 0.05 - 0.041_633));
        assert!(near(
            plan.thickest_two_passes_mm.unwrap(),
            2.0 * 2.6 - 0.3 - 0.05
        ));
        let in_hand = plan.in_hand.unwrap();
        assert!(near(in_hand.one_pass.clearance_mm, -0.52));
        let shimmed = in_hand.with_shim.unwrap();
        assert!(near(shimmed.shim_mm, 3.12 + 0.05 - 2.6) && shimmed.passes == 2);
        assert!(
            near(shimmed.joint.loosest_mm - 0.05, 0.054_160),
            "{shimmed:?}"
        );
    }

    /// A blade that is wider than wanted needs no second pass.
    #[test]
    fn thin_strips_take_no_shim() {
        let in_hand = plan(&sled(), 0.05, Some(2.4)).in_hand.unwrap();
        assert!(in_hand.with_shim.is_none());
        assert!(approx_eq!(
            f64,
            in_hand.one_pass.clearance_mm,
            0.2,
            epsilon = 1e-12
        ));
    }

    /// Joints of one hundred thousand drawn grooves and strips keep within what is told, a little more often
    /// than 95 of 100: what two uniform spreads come to has no long tails.
    #[test]
    fn drawn_joints_keep_within() {
        let sled = sled();
        let told = plan(&sled, 0.05, Some(3.12))
            .in_hand
            .unwrap()
            .with_shim
            .unwrap();
        let mut state = 7_u64;
        let mut uniform = |half: f64| {
            // Knuth's multiplier for 64 bits (MMIX).
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            half * (2.0 * ((state >> 11) as f64 / (1_u64 << 53) as f64) - 1.0)
        };
        let draws = 100_000;
        let within = (0..draws).filter(|_| {
            let left = -(2.6 + uniform(0.02)) / 2.0 + uniform(0.01);
            let right = told.shim_mm + uniform(0.03) + (2.6 + uniform(0.02)) / 2.0 + uniform(0.01);
            let clearance = right - left - (3.12 + uniform(0.03));
            (told.joint.tightest_mm..=told.joint.loosest_mm).contains(&clearance)
        });
        let share = within.count() as f64 / f64::from(draws);
        assert!((0.95..0.975).contains(&share), "{share}");
    }
}
