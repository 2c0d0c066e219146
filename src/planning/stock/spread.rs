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
