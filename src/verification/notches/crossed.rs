//! A notch where others cross it: at a node of three families two slots of one strip run through
//! one place, at two angles and often two depths.
//!
//! What is cut is the deepest of them everywhere, so that an edge of a notch shows only where the
//! wood beside it stands higher than the notch's floor.

use super::seen::{CrossingNotch, NotchOnPlane, Seen, SharedFloor};
use crate::verification::simulation::bundle::BRUSH_HEIGHT_MM;
use crate::verification::simulation::wood_profile::WoodProfile;
use crate::verification::simulation::wood_step::WoodStep;

/// At which height an edge is looked for.
#[derive(Clone, Copy)]
enum EdgeLevel {
    /// Just below what stands beside the notch: the stock's top, or the floor of another notch.
    Top,
    /// At the notch's own floor.
    Floor,
}

impl NotchOnPlane<'_> {
    /// Closer than this, two edges cannot be told apart.
    fn margin(&self) -> f64 {
        self.tolerances.position_mm + self.tolerances.width_mm
    }

    /// What the plane shows of the notch; an edge that does not show is where it should be. `None`
    /// where nothing has been cut in a place that belongs to this notch alone.
    pub(super) fn look_crossed(&self, wood: &WoodProfile) -> Option<Seen> {
        let own = self.without(|_| true);
        let cuts = wood.runs_below(-BRUSH_HEIGHT_MM);
        let cut_in = |part: &[f64; 2]| cuts.iter().any(|run| run.overlaps(*part));
        if !own.is_empty() && !own.iter().any(cut_in) {
            return None;
        }
        let line = cuts.iter().find(|run| run.overlaps(self.wanted))?.line;
        let top = [0, 1].map(|side| self.edge(side, wood, EdgeLevel::Top));
        let at_floor = [0, 1].map(|side| self.edge(side, wood, EdgeLevel::Floor));
        let deep = wood.runs_below(self.deep_enough());
        let reached = deep.iter().any(|run| run.overlaps(self.wanted));
        let floor = reached.then_some(at_floor);
        let floor = SharedFloor::of(self.wanted, top, floor, self.tolerances);
        Some(Seen {
            top,
            floor: floor.ends,
            depths: self.depths(wood, floor.judged),
            line,
        })
    }

    /// Height of a floor that is just deep enough.
    fn deep_enough(&self) -> f64 {
        self.tolerances.depth_mm - self.notch.depth_mm
    }

    /// The height at which an edge is looked for beside wood cut so deep by others.
    fn height(&self, level: EdgeLevel, beside: f64) -> f64 {
        match level {
            EdgeLevel::Top if beside > 0.0 => -beside - self.tolerances.depth_mm,
            EdgeLevel::Top => -BRUSH_HEIGHT_MM,
            EdgeLevel::Floor => self.deep_enough(),
        }
    }

    /// Where an edge shows (side 0 or 1): where it should be, moved by as much as what is found is
    /// off. Against a notch as deep as this one or deeper no edge shows, and it counts as right.
    fn edge(&self, side: usize, wood: &WoodProfile, level: EdgeLevel) -> f64 {
        let outward = if side == 0 { -1.0 } else { 1.0 };
        let wanted = self.wanted[side];
        let beside = self.depth_at(wanted + outward * self.margin());
        if beside >= self.notch.depth_mm - self.tolerances.depth_mm {
            return wanted;
        }
        let runs = wood.runs_below(self.height(level, beside));
        let here = runs.iter().filter(|run| run.overlaps(self.wanted));
        let found = here.map(|run| run.ends[side] * outward).reduce(f64::max);
        let Some(found) = found.map(|place| place * outward) else {
            return wanted;
        };
        // Edges of other notches so close by may be the ones that show: only what lies beyond all
        // of them is off.
        let mut low = wanted;
        let mut high = wanted;
        for other in self.others {
            let end = other.ends[side];
            if (end - wanted).abs() < 2.0 * self.margin() {
                low = low.min(end);
                high = high.max(end);
            }
        }
        wanted + (found - found.clamp(low, high))
    }

    /// Depth that the other notches should have at a place, 0 beside them.
    fn depth_at(&self, x: f64) -> f64 {
        let here = self
            .others
            .iter()
            .filter(|other| other.ends[0] < x && x < other.ends[1]);
        here.map(|other| other.depth).fold(0.0, f64::max)
    }

    /// Greatest depth where no deeper notch is, and least depth anywhere above the shared floor.
    fn depths(&self, wood: &WoodProfile, shared: [f64; 2]) -> [f64; 2] {
        let depth = |step: &WoodStep| -step.height;
        let own = self.without(|other| other.depth > self.notch.depth_mm);
        let steps = wood.steps();
        let deepest = steps
            .iter()
            .filter(|step| own.iter().any(|part| step.overlaps(*part)))
            .map(depth)
            .reduce(f64::max)
            .unwrap_or(self.notch.depth_mm);
        let shallowest = steps
            .iter()
            .filter(|step| step.overlaps(shared))
            .map(depth)
            .fold(f64::INFINITY, f64::min);
        // What others have made deeper is not this notch's.
        [deepest, shallowest.min(self.notch.depth_mm.max(deepest))]
    }

    /// The parts of the notch that are clear of some other notches, edges left out.
    fn without(&self, which: impl Fn(&CrossingNotch) -> bool) -> Vec<[f64; 2]> {
        let margin = self.margin();
        let mut parts = vec![[self.wanted[0] + margin, self.wanted[1] - margin]];
        for other in self.others.iter().filter(|other| which(other)) {
            let [low, high] = [other.ends[0] - margin, other.ends[1] + margin];
            parts = parts
                .into_iter()
                .flat_map(|[start, end]| [[start, end.min(low)], [start.max(high), end]])
                .filter(|[start, end]| end > start)
                .collect();
        }
        parts
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verification::tolerances::Tolerances;
    use crate::verification::workpiece::ExpectedNotch;
    use float_cmp::approx_eq;

    const NOTCH: ExpectedNotch = ExpectedNotch {
        index: 1,
        centre_mm: 50.0,
        width_mm: 4.0,
        depth_mm: 6.0,
        angle_rad: 1.0,
    };

    fn seen(cuts: &[([f64; 2], f64)], other: CrossingNotch) -> Option<Seen> {
        let mut wood = WoodProfile::new([0.0, 100.0], -12.0);
        for (ends, depth) in cuts {
            wood.lower(*ends, -depth, 1);
        }
        let tolerances = Tolerances::default();
        let crossed = NotchOnPlane {
            wanted: [48.0, 52.0],
            notch: &NOTCH,
            others: &[other],
            tolerances: &tolerances,
        };
        crossed.look_crossed(&wood)
    }

    #[test]
    fn edges_show_only_above_what_is_beside_them() {
        let deeper = CrossingNotch {
            ends: [50.0, 54.0],
            depth: 8.0,
        };
        let right = [([48.0, 52.0], 6.0), ([50.0, 54.0], 8.0)];
        let found = seen(&right, deeper).unwrap();
        assert_eq!(found.top, [48.0, 52.0]);
        assert_eq!(found.floor, Some([48.0, 52.0]));
        assert_eq!(found.depths, [6.0, 6.0]);
        // The edge that shows is off, the depth is off, the notch is missing.
        let found = seen(&[([47.9, 52.0], 6.0), ([50.0, 54.0], 8.0)], deeper).unwrap();
        assert!(approx_eq!(f64, found.top[0], 47.9, epsilon = 1e-12));
        let found = seen(&[([48.0, 52.0], 6.5), ([50.0, 54.0], 8.0)], deeper).unwrap();
        assert_eq!(found.depths[0], 6.5);
        let found = seen(&[([48.0, 52.0], 5.5), ([50.0, 54.0], 8.0)], deeper).unwrap();
        assert_eq!(found.depths[1], 5.5);
        assert!(seen(&[([50.0, 54.0], 8.0)], deeper).is_none());
    }

    #[test]
    fn an_edge_inside_a_shallower_notch_is_a_step_in_its_floor() {
        let shallower = CrossingNotch {
            ends: [50.0, 54.0],
            depth: 4.0,
        };
        let found = seen(&[([48.0, 52.1], 6.0), ([50.0, 54.0], 4.0)], shallower).unwrap();
        assert!(approx_eq!(f64, found.top[1], 52.1, epsilon = 1e-12));
        assert_eq!(found.top[0], 48.0);
    }
}
