//! The bays that a sled's slots give as they were measured.

use super::not_made::NotMade;
use super::sled::planned_sled;
use crate::finding::{Document, Finding};
use crate::instructions::as_built::SlotBays;
use crate::instructions::sled::{Register, SledBundle, SledPlan, Step};
use crate::lattice::{Bundle, Grid, Panel};
use crate::machines::{Chosen, Sled, SledWork};
use std::collections::BTreeMap;

/// The clear openings of a panel whose strips are cut over the rack as planned, its slots being as
/// measured: a notch that hangs on the key lies a slot's measured distance from the notch over it, one that
/// is cut by the stop where it is drawn. Bundles of a family are averaged, strip by strip.
///
/// # Errors
/// As for [`planned_sled`]; a grid without columns and rows; a way that needs no slot.
pub fn slots_as_built(
    panel: &Panel,
    sled: Chosen<'_, Sled>,
    work: SledWork,
) -> Result<SlotBays, NotMade> {
    let cannot = |code, field: &str, text: &'static str, hint: &'static str| {
        let fault = Finding::error(code, field, text).hint(hint);
        Err(NotMade::cannot(vec![fault], Document::Job))
    };
    if !matches!(panel.design().grid, Grid::Square(_)) {
        let text = "bays as built are known by columns and rows, and slanted grids have none";
        let hint = "measure cell by cell: `lapwright pare JOB --cell-opening LENGTHS`";
        return cannot("as-built-not-square", "grid", text, hint);
    }
    let (plan, _) = planned_sled(panel.lattice(), sled, work)?;
    if !plan.takes_key() {
        let text = "no notch is cut over a slot of this sled, so its slots say nothing of the bays";
        let hint = "measure the clear openings once the strips are put together, and write them into [as_built]";
        return cannot("no-slot-used", "", text, hint);
    }
    let thickness = panel.design().strip.thickness;
    let openings = |family: usize| {
        let places = family_places(panel, &plan, sled.machine, family);
        let pairs = places.windows(2);
        let opening = |pair: &[f64]| match pair {
            [from, to] => to - from - thickness,
            _ => 0.0,
        };
        pairs.map(opening).collect()
    };
    // Columns are read off the cross strips, rows off the uprights.
    Ok(SlotBays {
        title: plan.title.clone(),
        machine: plan.machine.clone(),
        openings_x_mm: openings(1),
        openings_y_mm: openings(0),
    })
}

/// Where the notches of a family's strips come to lie, in the mean of all of them, mm.
fn family_places(panel: &Panel, plan: &SledPlan, sled: &Sled, family: usize) -> Vec<f64> {
    let lattice = panel.lattice();
    let bundles = lattice.bundles.iter().zip(&plan.bundles);
    let mut sums: Vec<f64> = Vec::new();
    let mut strips = 0;
    for (bundle, cut) in bundles.filter(|(bundle, _)| bundle.family == family) {
        let places = places(cut, sled);
        for turned in [false, true] {
            let count = lying(bundle, turned);
            sums.resize(places.len(), 0.0);
            for (at, sum) in sums.iter_mut().enumerate() {
                let place = match turned {
                    false => places.get(at).copied(),
                    true => places
                        .iter()
                        .rev()
                        .nth(at)
                        .map(|place| bundle.length - place),
                };
                *sum += place.unwrap_or_default() * count as f64;
            }
            strips += count;
        }
    }
    sums.iter().map(|sum| sum / strips.max(1) as f64).collect()
}

/// Strips of a bundle that lie turned end for end, or not.
fn lying(bundle: &Bundle, turned: bool) -> usize {
    match turned {
        true => bundle.turned.len(),
        false => bundle.strips.len() - bundle.turned.len(),
    }
}

/// Where a bundle's notches come to lie, from the datum end, in their order, mm.
fn places(cut: &SledBundle, sled: &Sled) -> Vec<f64> {
    let drawn = |notch: usize| {
        let found = cut.notches.iter().find(|figures| figures.index == notch);
        found.map_or(0.0, |figures| figures.centre_mm)
    };
    let mut placed: BTreeMap<usize, f64> = BTreeMap::new();
    let mut place = |step: &Step| {
        let at = match step.register {
            Register::Key {
                slot_mm, on_notch, ..
            } => {
                let hop = slot_as_measured(sled, slot_mm);
                let from = placed.get(&on_notch).copied();
                from.unwrap_or_else(|| drawn(on_notch))
                    + hop * (drawn(step.notch) - drawn(on_notch)).signum()
            }
            Register::Stop { .. } | Register::Spacers { .. } => drawn(step.notch),
        };
        placed.insert(step.notch, at);
    };
    cut.steps.iter().for_each(&mut place);
    let notches = cut.notches.iter();
    notches
        .map(|notch| placed.get(&notch.index).copied().unwrap_or(notch.centre_mm))
        .collect()
}

/// What a slot measures that has this name, mm.
#[allow(clippy::float_cmp)] // The plan has the name as the profile has it.
fn slot_as_measured(sled: &Sled, name: f64) -> f64 {
    let mut slots = sled.rack.iter().flat_map(|rack| &rack.slots);
    slots
        .find(|slot| slot.nominal == name)
        .map_or(name, |slot| slot.measured)
}
