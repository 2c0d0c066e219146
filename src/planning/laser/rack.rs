//! Base inserts of a sled: the blade's slot and the key's slots at the steps of a lattice.

use super::super::stock::measured_stock;
use super::marks::{
    across, check_label, check_line, fitting, letter_height, plate, rectangle, upward,
};
use super::{LABEL_MARGIN_MM, Order, lay_out};
use crate::finding::Finding;
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM};
use crate::instructions::laser::LaserPlan;
use crate::instructions::outline::Part;
use crate::lattice::{Lattice, Notch};
use crate::machines::{Laser, Sled};
use crate::phrase;
use crate::units::{Mm, decimal};

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
}

/// Lays out the inserts of a rack: as few as hold all distances with enough wood between the
/// slots.
///
/// # Errors
/// All that keeps them from being cut; fields are those of the laser's profile, `blade` and those
/// below it of the sled's.
pub fn plan_rack(
    lattice: &Lattice,
    rack: &RackOrder<'_>,
    machine: &str,
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(LaserPlan, Vec<Finding>), Vec<Finding>> {
    let slots = Slots::of(lattice, rack.sled)?;
    let distances = match rack.distances {
        Some(given) => given.to_vec(),
        None => steps(lattice),
    };
    let mut parts = Vec::new();
    for group in shared_out(distances, slots)? {
        parts.push(insert(&group, slots, parts.len() + 1, laser)?);
    }
    let order = Order {
        title: &lattice.title,
        machine,
        what: "base inserts",
        sheet_thickness: None,
        measured_stock: measured_stock(lattice),
    };
    Ok((lay_out(&order, &parts, laser, file_name)?, Vec::new()))
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
    steps.dedup_by(|a, b| (*a - *b).abs() < SAME_POSITION_MM);
    steps
}

/// Sizes of the slots, mm.
#[derive(Debug, Clone, Copy)]
struct Slots {
    kerf: f64,
    /// The blade runs in it from the first touch of the strips to the last.
    blade_length: f64,
    /// Width of the key: that of the notch that one pass cuts, else the kerf's.
    key: f64,
    /// As long as the sled's widest block.
    key_length: f64,
}

impl Slots {
    fn of(lattice: &Lattice, sled: &Sled) -> Result<Slots, Vec<Finding>> {
        let notches = || lattice.bundles.iter().flat_map(|bundle| &bundle.notches);
        if notches().any(|notch: &Notch| notch.angle.cos().abs() > PARALLEL_SINE) {
            let text = "key slots stand square to the blade's distance: they serve square notches";
            return Err(vec![Finding::error("not-square", "blade", text)]);
        }
        let (depth, width) = notches().fold((0.0, 0.0), |(depth, width): (f64, f64), notch| {
            (depth.max(notch.depth), width.max(notch.width))
        });
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
        Ok(Slots {
            kerf,
            blade_length,
            key: if width > kerf + SAME_POSITION_MM {
                kerf
            } else {
                width.max(kerf)
            },
            key_length,
        })
    }
}

/// Groups of distances that go on one insert each.
fn shared_out(mut distances: Vec<f64>, slots: Slots) -> Result<Vec<Vec<f64>>, Vec<Finding>> {
    distances.sort_by(f64::total_cmp);
    let nearest = (slots.key + slots.kerf) / 2.0 + WEB_MM;
    if let Some(distance) = distances.iter().find(|d| **d < nearest - SAME_POSITION_MM) {
        let text = phrase!(
            "a key {} from the blade leaves less than {} between its slot and the blade's",
            Mm(*distance),
            Mm(WEB_MM)
        );
        let hint = phrase!("{} is the least here", crate::units::AtLeast(nearest));
        return Err(vec![
            Finding::error("key-too-near", "blade.kerf", text).hint(hint),
        ]);
    }
    let mut groups: Vec<Vec<f64>> = Vec::new();
    for distance in distances {
        let apart = |last: &f64| distance - last >= slots.key + WEB_MM - SAME_POSITION_MM;
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
fn insert(group: &[f64], slots: Slots, copy: usize, laser: &Laser) -> Result<Part, Vec<Finding>> {
    let narrowest = (slots.key + WEB_MM).max(2.0);
    let height = letter_height(laser, narrowest - 1.0, "base inserts")?;
    let blade = SIDE_MM + slots.kerf / 2.0;
    let farthest = group.last().copied().unwrap_or(0.0);
    let beside = blade + slots.kerf / 2.0 + 3.0;
    let length = (blade + farthest + slots.key / 2.0 + SIDE_MM).max(beside + 56.0);
    let depth = slots.blade_length + 2.0 * END_MM;
    let middle = depth / 2.0;
    let slot = |x: f64, width: f64, long: f64| {
        rectangle(
            Point::new(x - width / 2.0, middle - long / 2.0),
            Point::new(x + width / 2.0, middle + long / 2.0),
        )
    };
    let mut holes = vec![slot(blade, slots.kerf, slots.blade_length)];
    let blade_height = height.min(SIDE_MM - 6.0);
    let mut strokes = upward("BLADE", SIDE_MM / 2.0, END_MM, blade_height);
    let above = middle + slots.key_length / 2.0 + LABEL_MARGIN_MM;
    for distance in group {
        let x = blade + distance;
        holes.push(slot(x, slots.key, slots.key_length));
        let text = decimal(*distance, 2).unwrap_or_default();
        let room = depth - LABEL_MARGIN_MM - above;
        strokes.extend(upward(&text, x, above, fitting(&text, room, height)));
    }
    let line = Point::new(beside, END_MM);
    strokes.push(check_line(line));
    strokes.extend(check_label(line, height));
    let figure = |value| decimal(value, 2).unwrap_or_default();
    let text = format!("KEY {} KERF {}", figure(slots.key), figure(slots.kerf));
    let height = fitting(&text, 50.0, height);
    strokes.extend(across(&text, Point::new(beside, END_MM + 5.0), height));
    Ok(Part {
        name: format!("base insert {copy}"),
        copy: 1,
        outer: plate(length, depth),
        holes,
        strokes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SLOTS: Slots = Slots {
        kerf: 2.8,
        blade_length: 200.0,
        key: 2.8,
        key_length: 60.0,
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
