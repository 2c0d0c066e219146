//! Base inserts of a sled: the blade's slot and the key's slots at the steps of a lattice.

use super::super::measured_stock::measured_stock;
use super::batch::WareBatch;
use super::labels::{
    Letters, across, check_label, check_line, fitting, letter_height, place, plate, rectangle,
    upward,
};
use crate::finding::{Document, Finding};
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::instructions::laser::Ware;
use crate::instructions::outline::CutPart;
use crate::lattice::{Lattice, Notch};
use crate::machines::{Laser, Sled, Station};
use crate::phrase;
use crate::units::{Mm, UnitSystem};
use float_cmp::ApproxEq;

/// Least wood between two slots. Common practice, no source, mm.
const WEB_MM: f64 = 3.0;

/// Wood outside the outermost slots, mm.
const SIDE_MM: f64 = 15.0;

/// Wood before and behind the blade's slot, mm.
const END_MM: f64 = 10.0;

/// What a hand saw's slot is longer than the key's, mm.
const HAND_SAW_MM: f64 = 40.0;

/// What a rack is made for.
#[derive(Debug, Clone, Copy)]
pub struct RackOrder<'a> {
    /// The sled's profile.
    pub sled: &'a Sled,
    /// Distances from the key's centre to the kerf's; else the steps of the lattice.
    pub distances: Option<&'a [f64]>,
    /// Units of the places that are written on them.
    pub marked_in: UnitSystem,
}

impl WareBatch {
    /// The inserts as parts. Where a slot was tried on a comb, a key's slot is drawn wider than the key
    /// by as much as that slot was wider than its strip.
    ///
    /// # Errors
    /// All that keeps them from being cut; fields are those of the laser's profile, `blade` and those
    /// below it of the sled's.
    pub fn inserts(
        lattice: &Lattice,
        rack: &RackOrder<'_>,
        laser: &Laser,
    ) -> Result<WareBatch, Vec<Finding>> {
        let slots = InsertSlots::of(lattice, rack, laser)?;
        let distances = match rack.distances {
            Some(given) => given.to_vec(),
            None => steps(lattice),
        };
        let mut parts = Vec::new();
        for group in shared_out(distances, slots)? {
            parts.push(insert(&group, slots, parts.len() + 1, laser)?);
        }
        Ok(WareBatch {
            fitted: true,
            ..WareBatch::new(Ware::Inserts, None, measured_stock(lattice), parts)
        })
    }
}

/// Distinct distances between neighbouring notches, the shortest first.
fn steps(lattice: &Lattice) -> Vec<f64> {
    let pairs = lattice
        .bundles
        .iter()
        .flat_map(|bundle| bundle.notches.windows(2));
    let mut steps: Vec<f64> = pairs
        .filter_map(|pair| match pair {
            [a, b] => Some(b.centre - a.centre),
            _ => None,
        })
        .collect();
    steps.sort_by(f64::total_cmp);
    steps.dedup_by(|a, b| (*a).approx_eq(*b, POSITION));
    steps
}

/// Sizes of the slots, mm.
#[derive(Debug, Clone, Copy)]
struct InsertSlots {
    kerf: f64,
    /// The blade runs in it from the first touch of the strips to the last.
    blade_length: f64,
    /// Width of the key's slot. The key is as wide as the kerf: it fills what one pass cuts, and of
    /// several passes it takes up one.
    key_slot: f64,
    /// As long as the sled's widest block.
    key_length: f64,
    /// Units of the places that are written on it.
    marked_in: UnitSystem,
}

impl InsertSlots {
    fn of(
        lattice: &Lattice,
        rack: &RackOrder<'_>,
        laser: &Laser,
    ) -> Result<InsertSlots, Vec<Finding>> {
        let sled = rack.sled;
        let notches = || lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
        if notches().any(|notch: &Notch| notch.angle.cos().approx_ne(0.0, DIRECTION)) {
            let text = "key slots stand square to the blade's distance: they serve square notches";
            let fault = Finding::error("not-square", "blade", text);
            return Err(vec![fault.in_document(Document::Profile(Station::Sled))]);
        }
        let depth = notches().map(|notch| notch.depth).fold(0.0, f64::max);
        let kerf = sled.blade.kerf;
        let height = depth + sled.height_correction;
        let key_length = sled.widest_block;
        let blade_length = match sled.blade.powered {
            None => key_length + HAND_SAW_MM,
            // The strips start and end clear of the blade above the base; below it the blade
            // reaches farther out.
            Some(saw) => {
                let chord = |h: f64| 2.0 * (h * (saw.diameter - h)).max(0.0).sqrt();
                key_length + chord(height) + chord(height + sled.base_thickness)
            }
        };
        Ok(InsertSlots {
            kerf,
            blade_length,
            key_slot: kerf + laser.fit.map_or(0.0, |fit| fit.slot - fit.strip),
            key_length,
            marked_in: rack.marked_in,
        })
    }
}

/// Groups of distances that go on one insert each.
fn shared_out(mut distances: Vec<f64>, slots: InsertSlots) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
    distances.sort_by(f64::total_cmp);
    let nearest = (slots.key_slot + slots.kerf) / 2.0 + WEB_MM;
    if let Some(distance) = distances.iter().find(|d| **d < nearest - SAME_POSITION_MM) {
        let text = phrase!(
            "a key {} from the blade leaves less than {} between its slot and the blade's",
            Mm(*distance),
            Mm(WEB_MM)
        );
        let hint = phrase!("{} is the least here", crate::units::AtLeast(nearest));
        return Err(vec![
            Finding::error("key-too-near", "blade.kerf", text)
                .hint(hint)
                .in_document(Document::Profile(Station::Sled)),
        ]);
    }
    let mut groups: Vec<Vec<f64>> = Vec::new();
    for distance in distances {
        let apart = |last: &f64| distance - last >= slots.key_slot + WEB_MM - SAME_POSITION_MM;
        match groups
            .iter_mut()
            .find(|group| group.last().is_some_and(apart))
        {
            Some(group) => group.push(distance),
            None => groups.push(vec![distance]),
        }
    }
    Ok(groups)
}

/// One insert: x from its edge on the blade's side, y along the cut.
fn insert(
    group: &[f64],
    slots: InsertSlots,
    copy: usize,
    laser: &Laser,
) -> Result<CutPart, Vec<Finding>> {
    let letters = Letters::of(laser);
    let blade = SIDE_MM + slots.kerf / 2.0;
    let farthest = group.last().copied().unwrap_or(0.0);
    let beside = blade + slots.kerf / 2.0 + 3.0;
    let length = (blade + farthest + slots.key_slot / 2.0 + SIDE_MM).max(beside + 56.0);
    let depth = slots.blade_length + 2.0 * END_MM;
    let middle = depth / 2.0;
    let above = middle + slots.key_length / 2.0 + letters.clear;
    let kerf = place(slots.kerf, slots.marked_in);
    let sizes = match slots.marked_in {
        UnitSystem::Millimetres => format!("KEY {kerf} KERF {kerf}"),
        UnitSystem::Inches => format!("INCHES KEY {kerf} KERF {kerf}"),
    };
    let height = letter_height(
        laser,
        room_for_letters(group, slots, [above, depth], &letters, &sizes),
        "base inserts",
    )?;
    let mut holes = vec![slot(
        Point::new(blade, middle),
        slots.kerf,
        slots.blade_length,
    )];
    let mut strokes = upward("BLADE", SIDE_MM / 2.0, END_MM, height);
    for distance in group {
        let x = blade + distance;
        holes.push(slot(
            Point::new(x, middle),
            slots.key_slot,
            slots.key_length,
        ));
        strokes.extend(upward(&place(*distance, slots.marked_in), x, above, height));
    }
    let line = Point::new(beside, END_MM);
    strokes.push(check_line(line));
    strokes.extend(check_label(line, height));
    strokes.extend(across(&sizes, Point::new(beside, END_MM + 5.0), height));
    Ok(CutPart {
        name: format!("base insert {copy}"),
        copy: 1,
        outer: plate(length, depth),
        holes,
        strokes,
        laid_edge: false,
    })
}

/// A slot about its middle, along the cut.
fn slot(middle: Point, width: f64, length: f64) -> Vec<Point> {
    rectangle(
        Point::new(middle.x - width / 2.0, middle.y - length / 2.0),
        Point::new(middle.x + width / 2.0, middle.y + length / 2.0),
    )
}

/// How high letters may be: those above key slots beside each other, and the first of them beside
/// the blade's slot; all within the insert's `depth`, from `above` on; the sizes within the check
/// line's length.
fn room_for_letters(
    group: &[f64],
    slots: InsertSlots,
    [above, depth]: [f64; 2],
    letters: &Letters,
    sizes: &str,
) -> f64 {
    let beside_each_other = (slots.key_slot + WEB_MM).max(2.0) - 1.0;
    let first = group.first().copied().unwrap_or(f64::INFINITY);
    let beside_blade = 2.0 * (first - slots.kerf / 2.0 - letters.clear);
    let height = beside_each_other.min(beside_blade);
    let height = fitting(sizes, 50.0, height);
    let labels = group
        .iter()
        .map(|distance| place(*distance, slots.marked_in));
    labels.fold(height, |height, text| {
        fitting(&text, depth - letters.clear - above, height)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SLOTS: InsertSlots = InsertSlots {
        kerf: 2.8,
        blade_length: 200.0,
        key_slot: 2.8,
        key_length: 60.0,
        marked_in: UnitSystem::Millimetres,
    };

    #[test]
    fn slots_too_near_each_other_go_on_another_insert() {
        // 2.8 wide with 3 between them: 5.8 from centre to centre.
        let groups = shared_out(vec![50.0, 30.0, 33.0, 35.8], SLOTS).unwrap();
        assert_eq!(groups, [vec![30.0, 35.8, 50.0], vec![33.0]]);
        assert!(shared_out(vec![5.7], SLOTS).is_err());
        assert!(shared_out(vec![5.8], SLOTS).is_ok());
    }
}
