//! All notches of a bundle, and cuts that belong to none.

use super::measure::NotchMeasure;
use super::report::NotchReport;
use super::seen::{CrossingNotch, NotchOnPlane, Seen, wanted_ends};
use super::slots::{FoundSlot, cuts, find_slots};
use super::webs::{TopOnPlane, Webs};
use crate::verification::faults::{Fault, figure};
use crate::verification::simulation::bundle::SimulatedBundle;
use crate::verification::simulation::plane::WoodPlane;
use crate::verification::simulation::wood_profile::WoodProfile;
use crate::verification::simulation::wood_step::WoodStep;
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedNotch, Workpiece};

/// The other notches that cross one on a plane.
fn crossing(
    all: &[CrossingNotch],
    place: usize,
    wanted: [f64; 2],
    tolerances: &Tolerances,
) -> Vec<CrossingNotch> {
    let margin = tolerances.position_mm + tolerances.width_mm;
    let near = |other: &CrossingNotch| {
        other.ends[0] - margin < wanted[1] && wanted[0] < other.ends[1] + margin
    };
    let others = all.iter().enumerate().filter(|(at, _)| *at != place);
    others.map(|(_, other)| *other).filter(near).collect()
}

impl NotchOnPlane<'_> {
    /// What wood shows of the notch; `cuts` are all of the plane.
    fn look(&self, wood: &WoodProfile, cuts: &[WoodStep]) -> Option<Seen> {
        if self.others.is_empty() {
            self.look_alone(wood, cuts)
        } else {
            self.look_crossed(wood)
        }
    }
}

/// The verdict on all notches.
pub(in crate::verification) struct Comparison {
    /// One for each notch expected, in that order.
    pub(in crate::verification) reports: Vec<NotchReport>,
    pub(in crate::verification) faults: Vec<Fault>,
}

/// Compares all notches, those that were there before as well: a program may not spoil them.
pub(in crate::verification) fn compare(
    bundle: &SimulatedBundle,
    workpiece: &Workpiece,
    expected: &[ExpectedNotch],
    tolerances: &Tolerances,
) -> Comparison {
    let all: Vec<ExpectedNotch> = expected
        .iter()
        .chain(&workpiece.cut_before)
        .copied()
        .collect();
    let mut measures: Vec<NotchMeasure> = all.iter().map(NotchMeasure::new).collect();
    let mut webs = Webs::new(&all, tolerances.web_mm);
    for plane in bundle.planes() {
        let Some(strip) = plane.strip else { continue };
        let mut tops = Vec::new();
        let everywhere: Vec<CrossingNotch> = all
            .iter()
            .map(|notch| CrossingNotch {
                ends: wanted_ends(plane, workpiece, notch),
                depth: notch.depth_mm,
            })
            .collect();
        // The plane itself shows what has not been cut, its surroundings what has.
        let least_cut = cuts(&plane.wood);
        let most_cut = cuts(plane.around());
        for (place, one) in measures.iter_mut().enumerate() {
            let wanted = wanted_ends(plane, workpiece, one.notch);
            let here = NotchOnPlane {
                wanted,
                notch: one.notch,
                others: &crossing(&everywhere, place, wanted, tolerances),
                tolerances,
            };
            let on_plane = here.look(&plane.wood, &least_cut);
            let around = here.look(plane.around(), &most_cut);
            one.add(strip, wanted, on_plane.as_ref(), workpiece.thickness_mm);
            one.add(strip, wanted, around.as_ref(), workpiece.thickness_mm);
            let found = around.map(|seen| seen.top);
            tops.push(TopOnPlane { wanted, found });
        }
        webs.add(&tops);
    }
    let mut reports = Vec::new();
    let mut faults = Vec::new();
    for one in measures {
        let (report, wrong) = one.close(tolerances);
        reports.push(report);
        faults.extend(wrong);
    }
    reports.truncate(expected.len());
    faults.extend(webs.close());
    faults.extend(surplus(bundle, workpiece, &all));
    Comparison { reports, faults }
}

/// Cuts that belong to no notch.
fn surplus(bundle: &SimulatedBundle, workpiece: &Workpiece, all: &[ExpectedNotch]) -> Vec<Fault> {
    let stray = |plane: &WoodPlane, run: &WoodStep| {
        !all.iter()
            .any(|notch| run.overlaps(wanted_ends(plane, workpiece, notch)))
    };
    find_slots(bundle, stray)
        .iter()
        .map(surplus_fault)
        .collect()
}

fn surplus_fault(slot: &FoundSlot) -> Fault {
    let [first, last] = slot.strips.map(|strip| strip + 1);
    let x = figure(slot.centre_mm[0]);
    let width = figure(slot.width_mm[1]);
    let text = format!(
        "a cut that nobody wanted: at x {x}, {width} wide, {} deep, strips {first} to {last}",
        figure(slot.depth_mm[1])
    );
    Fault::at("notch-surplus", slot.line, text)
}
