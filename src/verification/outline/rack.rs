//! The rack of a sled: base inserts with the blade's slot and those for the key.

use super::rings::{points, rectangle};
use super::wanted_part::{Engraved, EngravedText, WantedPart, written_place};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::Lattice;
use crate::machines::{Fit, Sled};
use crate::units::UnitSystem;

/// The steps from notch to notch of all bundles.
fn steps(lattice: &Lattice) -> Vec<f64> {
    let mut steps = Vec::new();
    for bundle in &lattice.bundles {
        let next = bundle.notches.iter().skip(1);
        let pairs = bundle.notches.iter().zip(next);
        steps.extend(pairs.map(|(notch, next)| next.centre - notch.centre));
    }
    steps
}

/// Centres of the key's slots on each insert: every distance on the first insert on which it is
/// 3 mm of wood away from the one before. Steps that are alike need one slot; distances that were
/// asked for get one each.
fn inserts(lattice: &Lattice, distances: Option<&[f64]>, slot: f64) -> Vec<Vec<f64>> {
    let mut all = distances.map_or_else(|| steps(lattice), <[f64]>::to_vec);
    all.sort_by(f64::total_cmp);
    let mut on: Vec<Vec<f64>> = Vec::new();
    let mut before = f64::NEG_INFINITY;
    for distance in all {
        if distances.is_none() && distance - before < SAME_POSITION_MM {
            continue;
        }
        before = distance;
        let free = |insert: &&mut Vec<f64>| {
            let nearest = insert.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b));
            distance - nearest - slot >= 3.0 - SAME_POSITION_MM
        };
        match on.iter_mut().find(free) {
            Some(insert) => insert.push(distance),
            None => on.push(vec![distance]),
        }
    }
    on
}

/// Sizes that all inserts share, mm.
struct InsertSizes {
    tall: f64,
    kerf: f64,
    /// The blade's slot: its middle from the left edge, and its length.
    blade_at: f64,
    blade: f64,
    /// The key, and the width and length of its slots.
    key: f64,
    slot_width: f64,
    slot_length: f64,
    /// Of what is written.
    units: UnitSystem,
}

/// How long the blade's slot is. The middle of a saw's blade goes from where the blade just touches
/// the block to where it just leaves it: the block, and at each end half a chord at the height of the
/// base's top. In the base the blade is longest at the underside, half a chord beyond its middle.
fn blade_slot(lattice: &Lattice, sled: &Sled) -> f64 {
    let notches = lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
    let depth = notches.map(|notch| notch.depth).fold(0.0, f64::max);
    let Some(saw) = sled.blade.powered else {
        return sled.widest_block + 40.0;
    };
    let radius = saw.diameter / 2.0;
    let over_base = depth + sled.height_correction;
    let half = |height: f64| {
        let below_centre = radius - height;
        (radius * radius - below_centre * below_centre)
            .max(0.0)
            .sqrt()
    };
    sled.widest_block + 2.0 * half(over_base) + 2.0 * half(over_base + sled.base_thickness)
}

/// The base inserts of a rack: the blade's slot 15 mm from the left edge and 10 mm from either end;
/// each key slot at its distance from the blade's, as long as the sled's widest block, all about
/// the same middle. With a fit, a slot is wider than its key by as much as the slot that was tried
/// than its strip.
pub fn rack_wanted(
    lattice: &Lattice,
    sled: &Sled,
    fit: Option<Fit>,
    distances: Option<&[f64]>,
    units: UnitSystem,
) -> Vec<WantedPart> {
    // The key is as wide as the kerf: it fills what one pass cuts, and of several takes up one.
    let kerf = sled.blade.kerf;
    let key = kerf;
    let blade = blade_slot(lattice, sled);
    let sizes = InsertSizes {
        tall: blade + 20.0,
        kerf,
        blade_at: 15.0 + kerf / 2.0,
        blade,
        key,
        slot_width: fit.map_or(key, |fit| key + fit.slot - fit.strip),
        slot_length: sled.widest_block,
        units,
    };
    let inserts = inserts(lattice, distances, sizes.slot_width).into_iter();
    let numbered = inserts.zip(1..);
    numbered
        .map(|(distances, number)| sizes.insert(&distances, number))
        .collect()
}

impl InsertSizes {
    /// A slot about a place along x, in the middle across.
    fn slot(&self, at: f64, wide: f64, long: f64) -> Vec<Point> {
        let left = at - wide / 2.0;
        let right = at + wide / 2.0;
        let low = (self.tall - long) / 2.0;
        let high = (self.tall + long) / 2.0;
        points(&[(left, low), (right, low), (right, high), (left, high)])
    }

    fn insert(&self, distances: &[f64], number: usize) -> WantedPart {
        let from = self.blade_at;
        let farthest = distances.iter().copied().fold(0.0, f64::max);
        let length =
            (from + farthest + self.slot_width / 2.0 + 15.0).max(from + self.kerf / 2.0 + 59.0);
        let [key, kerf] = [self.key, self.kerf].map(|mm| written_place(mm, self.units));
        let told = if self.units == UnitSystem::Inches {
            "INCHES "
        } else {
            ""
        };
        let sizes = format!("{told}KEY {key} KERF {kerf}");
        let mut holes = vec![self.slot(from, self.kerf, self.blade)];
        let mut texts = ["BLADE", &sizes, "50 MM"]
            .map(EngravedText::anywhere)
            .to_vec();
        for distance in distances {
            let at = from + distance;
            holes.push(self.slot(at, self.slot_width, self.slot_length));
            texts.push(EngravedText::about(
                written_place(*distance, self.units),
                at,
                self.key / 4.0,
            ));
        }
        WantedPart::plain(
            format!("base insert {number}"),
            rectangle(length, self.tall),
            1,
        )
        .with_holes(holes)
        .with_engraving(Engraved::beside_check_line(Vec::new(), texts))
    }
}
