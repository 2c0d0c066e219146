//! The key of a rack: its width and height, and where it sits for the steps of a lattice.
//!
//! A key stands parallel to the kerf at every angle of the fence, and its slots in the rack are
//! known by their distance square to the kerf: from slot to slot of a strip that is the pitch of
//! the mates, while along the strip and the fence the step is `pitch / sin`.
//!
//! It is as thick as the kerf. Where one pass makes a notch, it fills it. Where two do, the notch
//! pushed against either side of it shifts by half of what the kerf lacks, which is just what the
//! outer passes need. A third pass between them takes waste only. More are not registered by it.

use super::blade::floor_ridge;
use super::passes::of_one_width;
use super::slant::Slant;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::instructions::saw::SawSetting;
use crate::instructions::sled::{KeyPosition, KeySize, Register, SledBundle, Step};
use crate::lattice::Lattice;
use crate::machines::{Rack, Sled};
use crate::phrase;
use crate::units::AtLeast;
use float_cmp::ApproxEq;

/// Room between key and kerf that the slot's wall needs. Common practice, no source, mm.
pub(super) const LEAST_KEY_GAP_MM: f64 = 2.0;

/// The outer passes, and one between them.
const MOST_PASSES_ON_KEY: usize = 3;

/// The rack, if the sled has one whose key can register notches of so many passes, the most that the widest
/// notch takes.
///
/// # Errors
/// Why a rack that is there is not used, as a warning.
pub(super) fn rack_that_serves(
    (widest, passes): (f64, usize),
    sled: &Sled,
) -> Result<Option<&Rack>, Finding> {
    let Some(rack) = &sled.rack else {
        return Ok(None);
    };
    let unused = |text| Finding::warning("key-not-used", "rack", text);
    let Some(powered) = sled.blade.powered else {
        let text = "a hand saw cuts from above: the notches lie up, where no key of the base \
                    reaches them; the stop places all";
        return Err(unused(text.into()).hint("leave the table [rack] out of this profile"));
    };
    if passes > MOST_PASSES_ON_KEY {
        let text = phrase!(
            "a notch takes {} passes, and a key registers no more than {}; the stop places all",
            passes,
            MOST_PASSES_ON_KEY
        );
        // Three passes make 3 k - 2 overlap.
        let kerf = (widest + 2.0 * powered.overlap) / 3.0;
        let hint = phrase!("a kerf of at least {} takes fewer", AtLeast(kerf));
        return Err(unused(text).hint(hint));
    }
    Ok(Some(rack))
}

/// Key to kerf at which the rack's wood still holds: centre to centre, square to both.
pub(super) fn shortest_step(sled: &Sled) -> f64 {
    sled.blade.kerf + LEAST_KEY_GAP_MM
}

pub(super) fn key_size(
    lattice: &Lattice,
    sled: &Sled,
    rack: &Rack,
    settings: &[SawSetting],
    bundles: &[SledBundle],
) -> KeySize {
    let kerf = sled.blade.kerf;
    let depths = settings.iter().map(|setting| setting.depth_mm);
    let shallowest = depths.fold(f64::INFINITY, f64::min);
    let mut found = used(bundles);
    for step in steps(lattice) {
        if !found.iter().any(|known| known.is(&step)) {
            let slot = nearest_slot(rack, step.square);
            found.push(KeyDistance { slot, ..step });
        }
    }
    found.sort_by(|a, b| a.along.total_cmp(&b.along));
    KeySize {
        width_mm: kerf,
        below_mm: shallowest - floor_ridge(kerf, sled.blade.tooth),
        positions: found.iter().map(|step| step.position(kerf)).collect(),
    }
}

/// From the key to the kerf, centre to centre.
#[derive(Clone, Copy)]
struct KeyDistance {
    square: f64,
    along: f64,
    /// Whether both are not the same figure.
    slanted: bool,
    slot: Option<f64>,
}

impl KeyDistance {
    fn is(&self, other: &KeyDistance) -> bool {
        let same = |a: f64, b: f64| a.approx_eq(b, POSITION);
        same(self.square, other.square) && same(self.along, other.along)
    }

    /// What is told of it: the figures along the fence only where they are others.
    fn position(&self, kerf: f64) -> KeyPosition {
        let KeyDistance { square, along, .. } = *self;
        KeyPosition {
            centre_to_centre_mm: square,
            face_to_kerf_mm: square - kerf,
            along_fence_mm: self.slanted.then_some(along),
            key_along_fence_mm: self.slanted.then_some(kerf * along / square),
            slot_mm: self.slot,
        }
    }

    /// The distance that a step has over the key, if it is cut over it.
    fn of_step(step: &Step) -> Option<KeyDistance> {
        match step.register {
            Register::Key {
                key_mm,
                key_along_fence_mm,
                slot_mm,
                ..
            } => Some(KeyDistance {
                square: key_mm,
                along: key_along_fence_mm.unwrap_or(key_mm),
                slanted: key_along_fence_mm.is_some(),
                slot: Some(slot_mm),
            }),
            Register::Stop { .. } | Register::Spacers { .. } => None,
        }
    }
}

/// Each distinct distance that is cut over the key, with its slot.
fn used(bundles: &[SledBundle]) -> Vec<KeyDistance> {
    let own = (bundles.iter()).filter(|bundle| bundle.same_as_bundle.is_none());
    let mut found: Vec<KeyDistance> = Vec::new();
    for hop in own
        .flat_map(|bundle| &bundle.steps)
        .filter_map(KeyDistance::of_step)
    {
        if !(found.iter()).any(|known| known.is(&hop) && known.slot == hop.slot) {
            found.push(hop);
        }
    }
    found
}

/// Each distinct step between neighbouring slots of one clamping; opposite slants have the same
/// figures.
fn steps(lattice: &Lattice) -> Vec<KeyDistance> {
    let mut steps: Vec<KeyDistance> = Vec::new();
    for bundle in &lattice.bundles {
        for clamping in of_one_width(bundle) {
            let slant = Slant::new(clamping.face, clamping.angle);
            let centres: Vec<f64> = (clamping.notches.iter())
                .filter_map(|&at| Some(bundle.notches.get(at)?.centre))
                .collect();
            for pair in centres.windows(2) {
                let &[a, b] = pair else { continue };
                let step = KeyDistance {
                    square: slant.square(b - a),
                    along: b - a,
                    slanted: !slant.is_square(),
                    slot: None,
                };
                if !steps.iter().any(|known| known.is(&step)) {
                    steps.push(step);
                }
            }
        }
    }
    steps
}

/// The slot that comes nearest to a distance, if it serves it.
fn nearest_slot(rack: &Rack, square: f64) -> Option<f64> {
    let off = |measured: f64| (measured - square).abs();
    (rack.slots.iter())
        .filter(|slot| off(slot.measured) <= rack.greatest_misfit + SAME_POSITION_MM)
        .min_by(|a, b| off(a.measured).total_cmp(&off(b.measured)))
        .map(|slot| slot.nominal)
}
