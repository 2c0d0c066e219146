//! The key of a rack: its width, and where it sits for the steps of a lattice.
//!
//! A key stands parallel to the kerf at every angle of the fence, and its slots in the rack are
//! known by their distance square to the kerf: from slot to slot of a strip that is the pitch of
//! the mates, while along the strip and the fence the step is `pitch / sin`.

use super::fit::width_as_cut;
use super::slant::Slant;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::sled::{KeyPosition, KeySize};
use crate::lattice::Lattice;
use crate::machines::Sled;

/// Room between key and kerf that the slot's wall needs. Common practice, no source, mm.
pub(super) const LEAST_KEY_GAP_MM: f64 = 2.0;

/// A key fills the notch that one pass cuts: square to itself it is as thick as the notch is wide
/// square to itself. Where a notch takes several passes the key is as thick as the kerf: pushed
/// against either side of it, the notch shifts by half of what the kerf lacks, which is just what
/// the outer passes need.
pub(super) fn key_width(lattice: &Lattice, sled: &Sled, passes: usize) -> f64 {
    if passes > 1 {
        sled.blade.kerf
    } else {
        width_as_cut(lattice, sled)
    }
}

pub(super) fn key_size(lattice: &Lattice, sled: &Sled, passes: usize) -> KeySize {
    let width_mm = key_width(lattice, sled, passes);
    let rack = sled.rack.as_ref();
    let slots = rack.map_or(&[][..], |rack| &rack.slots);
    let misfit = rack.map_or(0.0, |rack| rack.greatest_misfit);
    let position = |(step, slant): (f64, Slant)| {
        let square = slant.square(step);
        let off = |measured: f64| (measured - square).abs();
        let slanted = |length: f64| (!slant.is_square()).then_some(length);
        KeyPosition {
            centre_to_centre_mm: square,
            face_to_kerf_mm: square - width_mm / 2.0 - sled.blade.kerf / 2.0,
            along_fence_mm: slanted(step),
            key_along_fence_mm: slanted(slant.along(width_mm)),
            slot_mm: (slots.iter())
                .filter(|slot| off(slot.measured) <= misfit + SAME_POSITION_MM)
                .min_by(|a, b| off(a.measured).total_cmp(&off(b.measured)))
                .map(|slot| slot.nominal),
        }
    };
    KeySize {
        width_mm,
        positions: steps(lattice).into_iter().map(position).collect(),
    }
}

/// Each distinct step between neighbouring slots of one clamping, and a slant that it is found at;
/// opposite slants have the same figures.
fn steps(lattice: &Lattice) -> Vec<(f64, Slant)> {
    let mut steps: Vec<(f64, Slant)> = Vec::new();
    for bundle in &lattice.bundles {
        for clamping in bundle.clampings() {
            let slant = Slant::new(clamping.face, clamping.angle);
            let centres: Vec<f64> = (clamping.notches.iter())
                .filter_map(|&at| Some(bundle.notches.get(at)?.centre))
                .collect();
            for pair in centres.windows(2) {
                let &[a, b] = pair else { continue };
                let step = b - a;
                let known = |(other, at): &(f64, Slant)| {
                    (other - step).abs() < SAME_POSITION_MM
                        && (at.square(*other) - slant.square(step)).abs() < SAME_POSITION_MM
                };
                if !steps.iter().any(known) {
                    steps.push((step, slant));
                }
            }
        }
    }
    steps.sort_by(|a, b| a.0.total_cmp(&b.0));
    steps
}
