//! All notches of a bundle, and cuts that belong to none.

use super::measure::NotchMeasure;
use super::report::NotchReport;
use super::seen::{CrossingNotch, NotchOnPlane, Seen, wanted_ends};
use super::slots::{FoundSlot, cuts, find_slots};
use super::webs::{TopOnPlane, Webs};
use crate::phrase;
use crate::verification::faults::{Fault, figure};
use crate::verification::simulation::bundle::SimulatedBundle;
use crate::verification::simulation::plane::WoodPlane;
use crate::verification::simulation::wood_profile::WoodProfile;
use crate::verification::simulation::wood_step::WoodStep;
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedNotch, Workpiece};
use std::borrow::Cow;

/// The other notches that cross one on a plane.
fn crossing(
    all: &[CrossingNotch],
    place: usize,
    wanted: [f64; 2],
    tolerances: &Tolerances,
) -> Vec<CrossingNotch> {
    let near = |other: &CrossingNotch| are_near(other.ends, wanted, tolerances);
    let others = all.iter().enumerate().filter(|(at, _)| *at != place);
    others.map(|(_, other)| *other).filter(near).collect()
}

/// Whether the ends of one notch come near those of another.
fn are_near(one: [f64; 2], other: [f64; 2], tolerances: &Tolerances) -> bool {
    let margin = tolerances.position_mm + tolerances.width_mm;
    one[0] - margin < other[1] && other[0] < one[1] + margin
}

/// Whether any notches of a plane may cross: neighbours come near each other then.
fn some_cross(all: &[CrossingNotch], tolerances: &Tolerances) -> bool {
    let mut ends: Vec<[f64; 2]> = all.iter().map(|notch| notch.ends).collect();
    ends.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut pairs = ends.iter().zip(ends.iter().skip(1));
    pairs.any(|(a, b)| are_near(*a, *b, tolerances) || are_near(*b, *a, tolerances))
}

/// The wood of a plane with what is told of all notches at once.
struct LookedAt<'a> {
    wood: &'a WoodProfile,
    steps: Cow<'a, [WoodStep]>,
    cuts: Vec<WoodStep>,
}

impl<'a> LookedAt<'a> {
    fn of(wood: &'a WoodProfile) -> Self {
        LookedAt {
            wood,
            steps: wood.steps(),
            cuts: cuts(wood),
        }
    }

    /// What it shows of a notch.
    fn show(&self, notch: &NotchOnPlane<'_>) -> Option<Seen> {
        if notch.others.is_empty() {
            notch.look_alone(&self.steps, &self.cuts)
        } else {
            notch.look_crossed(self.wood)
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
        let some_cross = some_cross(&everywhere, tolerances);
        // The plane itself shows what has not been cut, its surroundings what has.
        let least_cut = LookedAt::of(&plane.wood);
        let most_cut = LookedAt::of(plane.around());
        for (place, (one, own)) in measures.iter_mut().zip(&everywhere).enumerate() {
            let wanted = own.ends;
            let others = match some_cross {
                true => crossing(&everywhere, place, wanted, tolerances),
                false => Vec::new(),
            };
            let here = NotchOnPlane {
                wanted,
                notch: one.notch,
                others: &others,
                tolerances,
            };
            let on_plane = least_cut.show(&here);
            let around = most_cut.show(&here);
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
    let stray = |plane: &WoodPlane| {
        let wanted = all.iter().map(|notch| wanted_ends(plane, workpiece, notch));
        let wanted: Vec<[f64; 2]> = wanted.collect();
        move |run: &WoodStep| !wanted.iter().any(|ends| run.overlaps(*ends))
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
    let depth = figure(slot.depth_mm[1]);
    let text = phrase!(
        "a cut that nobody wanted: at x {}, {} wide, {} deep, strips {} to {}",
        x,
        width,
        depth,
        first,
        last
    );
    Fault::at("notch-surplus", slot.line, text)
}
