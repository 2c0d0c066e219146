//! The key of a rack: its width, and where it sits for the steps of a lattice.

use super::blade::notch_size;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::sled::{BladeSetting, KeyPosition, KeySize};
use crate::lattice::Lattice;
use crate::machines::Sled;

/// Room between key and kerf that the slot's wall needs. Common practice, no source, mm.
pub(super) const LEAST_KEY_GAP_MM: f64 = 2.0;

/// A key fills the notch that one pass cuts. Where a notch takes several passes the key is as wide
/// as the kerf: pushed against either side of it, the notch shifts by half of what the kerf lacks,
/// which is just what the outer passes need.
pub(super) fn key_width(lattice: &Lattice, sled: &Sled, blade: &BladeSetting) -> f64 {
    if blade.passes_per_notch > 1 {
        sled.blade.kerf
    } else {
        notch_size(lattice).1.max(sled.blade.kerf)
    }
}

pub(super) fn key_size(lattice: &Lattice, sled: &Sled, blade: &BladeSetting) -> KeySize {
    let width_mm = key_width(lattice, sled, blade);
    let mut steps: Vec<f64> = Vec::new();
    for bundle in &lattice.bundles {
        for pair in bundle.notches.windows(2) {
            if let [a, b] = pair {
                let step = b.centre - a.centre;
                if !steps
                    .iter()
                    .any(|known| (known - step).abs() < SAME_POSITION_MM)
                {
                    steps.push(step);
                }
            }
        }
    }
    steps.sort_by(f64::total_cmp);
    let slots = sled
        .rack
        .iter()
        .flat_map(|rack| rack.slots.iter().map(move |slot| (rack, slot)));
    let position = |step: f64| KeyPosition {
        centre_to_centre_mm: step,
        face_to_kerf_mm: step - width_mm / 2.0 - sled.blade.kerf / 2.0,
        slot_mm: slots
            .clone()
            .filter(|(rack, slot)| {
                (slot.measured - step).abs() <= rack.greatest_misfit + SAME_POSITION_MM
            })
            .min_by(|(_, a), (_, b)| {
                (a.measured - step)
                    .abs()
                    .total_cmp(&(b.measured - step).abs())
            })
            .map(|(_, slot)| slot.nominal),
    };
    KeySize {
        width_mm,
        positions: steps.into_iter().map(position).collect(),
    }
}
