//! How much strips' thickness may differ before laps bind.

use crate::instructions::milling::ThicknessFigures;
use crate::lattice::StripSection;
use crate::machines::{Chosen, Sled};
use crate::planning::sled::ThicknessOrder;

/// Two standard deviations cover 95 of 100 (JCGM 100:2008, 6.3.3: k = 2).
const COVERAGE_FACTOR: f64 = 2.0;

/// Thickness of strips for a sled's notches; `crush` is what wood gives at a lap, mm.
///
/// A lap goes together while its clearance and the crush make up for what notch and strip scatter:
/// c + g >= k sqrt(u_n^2 + u_t^2), so u_t may be sqrt(((c + g) / k)^2 - u_n^2).
pub(super) fn thickness(
    section: &StripSection,
    crush: f64,
    sled: Option<Chosen<'_, Sled>>,
) -> Option<ThicknessFigures> {
    let Chosen { name, machine } = sled?;
    let reading = machine.spread.plus_minus;
    let order = ThicknessOrder {
        sled: Chosen { name, machine },
        clearance: section.clearance,
        in_hand: Some(section.thickness),
    };
    let plan = order.plan().ok()?;
    let in_hand = plan.in_hand?;
    let joint = in_hand
        .with_shim
        .map_or(in_hand.one_pass, |shimmed| shimmed.joint);
    let both = (joint.loosest_mm - joint.clearance_mm) / COVERAGE_FACTOR;
    let strip = reading.deviation(machine.spread.strip_thickness.half);
    let notch_squared = (both * both - strip * strip).max(0.0);
    let room = (joint.clearance_mm + crush) / COVERAGE_FACTOR;
    let left = room * room - notch_squared;
    let good = (room > 0.0 && left > 0.0).then(|| reading.half_of(left.sqrt()));
    Some(ThicknessFigures {
        thickness_mm: section.thickness,
        one_pass_mm: in_hand
            .with_shim
            .is_none()
            .then_some(plan.one_pass.thickness_mm),
        machine: Some(name.to_owned()),
        good_within_mm: good,
        clearance_mm: joint.clearance_mm,
        crush_mm: crush,
        plus_minus: reading.name(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::Joinery;
    use crate::machines::{Machine, SpreadFigure};
    use crate::reading::{read_machine, shipped_machine};

    fn sled(kerf: f64, kerf_spread: f64) -> Sled {
        let shipped = shipped_machine("key-sled").unwrap();
        let Machine::Sled(mut sled) = read_machine(shipped.name, shipped.text).unwrap().machine
        else {
            panic!("a sled");
        };
        sled.blade.kerf = kerf;
        sled.spread.kerf = SpreadFigure::given(kerf_spread);
        sled
    }

    fn strips(thickness: f64, clearance: f64) -> StripSection {
        StripSection {
            thickness,
            depth: 9.0,
            drawn: None,
            clearance,
            least_web: 2.0,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        }
    }

    fn told(strips: &StripSection, sled: &Sled, crush: f64) -> ThicknessFigures {
        let chosen = Chosen {
            name: "s",
            machine: sled,
        };
        thickness(strips, crush, Some(chosen)).unwrap()
    }

    /// By hand: clearance 0.05, crush 0.03: (0.08 / 2)^2 = 0.0016; the notch's limits of 0.02 have the variance 0.02^2 / 3
    /// = 0.000133; what is left is 0.0014667, times 3 has the root 0.06633.
    #[test]
    fn what_the_notch_leaves_is_the_strips() {
        let one = told(&strips(2.6, 0.05), &sled(2.65, 0.02), 0.03);
        let good = one.good_within_mm.unwrap();
        assert!((good - 0.066_332).abs() < 1e-5, "{good}");
        assert!((one.one_pass_mm.unwrap() - 2.6).abs() < 1e-12);
        assert_eq!(one.plus_minus, "limits");
    }

    /// A notch that differs by more than the room leaves none; nor does a press fit beyond what wood gives.
    #[test]
    fn nothing_may_be_left() {
        assert_eq!(
            told(&strips(2.6, 0.05), &sled(2.65, 0.08), 0.03).good_within_mm,
            None
        );
        assert_eq!(
            told(&strips(2.6, -0.05), &sled(2.55, 0.0), 0.03).good_within_mm,
            None
        );
        assert!(thickness(&strips(2.6, 0.0), 0.03, None).is_none());
    }
}
