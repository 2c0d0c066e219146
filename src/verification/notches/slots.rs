//! The cuts that a simulated bundle shows, whatever was wanted.

use crate::verification::simulation::bundle::{BRUSH_HEIGHT_MM, SimulatedBundle};
use crate::verification::simulation::plane::WoodPlane;
use crate::verification::simulation::wood_profile::WoodProfile;
use crate::verification::simulation::wood_step::WoodStep;
use std::collections::VecDeque;

/// A cut that runs from plane to plane through one or more strips.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundSlot {
    /// First and last strip that it is in, from 0.
    pub strips: [usize; 2],
    /// y of the first and last plane on which it is seen, program frame, mm.
    pub y_mm: [f64; 2],
    /// x of its middle there, program frame, mm.
    pub centre_mm: [f64; 2],
    /// Least and greatest width along the strips, at the top, mm.
    pub width_mm: [f64; 2],
    /// Least and greatest depth of its floor, plane by plane, mm.
    pub depth_mm: [f64; 2],
    /// Line that cut it first.
    pub line: usize,
    /// y, and the lowest and highest x at the top, on every plane on which it is seen, mm.
    pub outline_mm: Vec<[f64; 3]>,
}

impl FoundSlot {
    fn new(plane: &WoodPlane, run: &WoodStep) -> Self {
        let strip = plane.strip.unwrap_or_default();
        FoundSlot {
            strips: [strip; 2],
            y_mm: [plane.y; 2],
            centre_mm: [middle(run); 2],
            width_mm: [width(run); 2],
            depth_mm: [-run.height; 2],
            line: run.line,
            outline_mm: vec![outline(plane, run)],
        }
    }

    fn grow(&mut self, plane: &WoodPlane, run: &WoodStep) {
        self.strips[1] = plane.strip.unwrap_or_default();
        self.y_mm[1] = plane.y;
        self.centre_mm[1] = middle(run);
        widen(&mut self.width_mm, width(run));
        widen(&mut self.depth_mm, -run.height);
        self.outline_mm.push(outline(plane, run));
    }

    /// From the strips' direction to the slot's, rad; `None` where it is seen on one plane only.
    pub fn angle_rad(&self) -> Option<f64> {
        let dx = self.centre_mm[1] - self.centre_mm[0];
        let dy = self.y_mm[1] - self.y_mm[0];
        (dy > 0.0).then(|| dy.atan2(dx))
    }
}

fn outline(plane: &WoodPlane, run: &WoodStep) -> [f64; 3] {
    [plane.y, run.ends[0], run.ends[1]]
}

fn middle(run: &WoodStep) -> f64 {
    (run.ends[0] + run.ends[1]) / 2.0
}

fn width(run: &WoodStep) -> f64 {
    run.ends[1] - run.ends[0]
}

fn widen(range: &mut [f64; 2], value: f64) {
    *range = [range[0].min(value), range[1].max(value)];
}

/// The cuts of a profile: where wood is missing from the top.
pub(super) fn cuts(wood: &WoodProfile) -> Vec<WoodStep> {
    wood.runs_below(-BRUSH_HEIGHT_MM)
}

/// The slots in the strips of a bundle, by x, of those cuts that `wanted` lets through on each plane.
pub(in crate::verification) fn find_slots<W: Fn(&WoodStep) -> bool>(
    bundle: &SimulatedBundle,
    wanted: impl Fn(&WoodPlane) -> W,
) -> Vec<FoundSlot> {
    let mut done: Vec<FoundSlot> = Vec::new();
    // From left to right, as the cuts of the next plane come: the one that goes on is among the first.
    let mut open: VecDeque<(FoundSlot, WoodStep)> = VecDeque::new();
    for plane in bundle.planes().iter().filter(|plane| plane.strip.is_some()) {
        let mut still_open = VecDeque::new();
        let wanted = wanted(plane);
        for run in cuts(plane.around()).into_iter().filter(wanted) {
            let before = open.iter().position(|(_, last)| last.overlaps(run.ends));
            let slot = match before.and_then(|place| open.remove(place)) {
                Some((mut slot, _)) => {
                    slot.grow(plane, &run);
                    slot
                }
                None => FoundSlot::new(plane, &run),
            };
            still_open.push_back((slot, run));
        }
        done.extend(open.drain(..).map(|(slot, _)| slot));
        open = still_open;
    }
    done.extend(open.into_iter().map(|(slot, _)| slot));
    done.sort_by(|a, b| a.centre_mm[0].total_cmp(&b.centre_mm[0]));
    done
}
