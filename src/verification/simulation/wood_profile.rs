//! What is left of the wood on one plane along a strip: its height as a function of x, in steps.
//!
//! A flat cutter takes away everything above its end, so that the height tells all. Where it went up
//! or down on its way a step is slanted.

use super::wood_step::{CutFloor, SAME_X, SAME_Z, WoodStep, higher, lower_part};
use smallvec::SmallVec;
use std::borrow::Cow;

/// The wood on one plane. Its size grows with what is cut out, not with the number of moves.
#[derive(Debug, Clone)]
pub struct WoodProfile {
    steps: Vec<WoodStep>,
    bottom: f64,
    /// Where the last cut began: the next is often beside it.
    last: usize,
}

/// What a floor meets on a plane.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MetOnPlane {
    /// By how much wood stands higher than the floor, where enough of it lies inside; `None` where
    /// there is no wood.
    pub higher: Option<f64>,
    /// Whether any is higher at all.
    pub any: bool,
}

impl MetOnPlane {
    /// What is met with another.
    pub(super) fn join(self, other: MetOnPlane) -> MetOnPlane {
        MetOnPlane {
            higher: match (self.higher, other.higher) {
                (Some(a), Some(b)) => Some(a.max(b)),
                (one, other) => one.or(other),
            },
            any: self.any || other.any,
        }
    }
}

impl WoodProfile {
    /// Uncut wood from one x to another, from z 0 down to `bottom`.
    pub fn new(ends: [f64; 2], bottom: f64) -> Self {
        WoodProfile {
            steps: vec![WoodStep::new(ends, [0.0; 2], 0)],
            bottom,
            last: 0,
        }
    }

    /// No wood at all.
    pub(super) fn nothing() -> Self {
        WoodProfile {
            steps: Vec::new(),
            bottom: 0.0,
            last: 0,
        }
    }

    /// The steps from left to right, without gaps; slanted ones as stairs of level ones, each at its
    /// lower height.
    pub fn steps(&self) -> Cow<'_, [WoodStep]> {
        if self.steps.iter().all(WoodStep::is_level) {
            return Cow::Borrowed(&self.steps);
        }
        let stairs = self.steps.iter().flat_map(|step| step.stairs());
        Cow::Owned(stairs.collect())
    }

    /// Number of the first step that ends behind `low`.
    fn first_behind(&self, low: f64) -> usize {
        let behind = |at: usize| self.steps.get(at).is_none_or(|step| step.ends[1] > low);
        if behind(self.last) && (self.last == 0 || !behind(self.last - 1)) {
            return self.last;
        }
        self.steps.partition_point(|step| step.ends[1] <= low)
    }

    fn index_range(&self, [low, high]: [f64; 2]) -> std::ops::Range<usize> {
        let first = self.first_behind(low + SAME_X);
        let rest = self.steps.get(first..).unwrap_or_default();
        let inside = rest
            .iter()
            .take_while(|step| step.ends[0] < high - SAME_X)
            .count();
        first..first + inside
    }

    fn steps_in(&self, interval: [f64; 2]) -> &[WoodStep] {
        self.steps
            .get(self.index_range(interval))
            .unwrap_or_default()
    }

    /// What floors meet that lie beside each other, from left to right, where at least `wide` mm of a
    /// step lie inside `whole`, of which they are parts.
    pub fn met(&self, floors: &[CutFloor], whole: [f64; 2], wide: f64) -> MetOnPlane {
        let mut met = MetOnPlane::default();
        let (Some(first), Some(last)) = (floors.first(), floors.last()) else {
            return met;
        };
        let mut floors = floors;
        for step in self.steps_in([first.ends[0], last.ends[1]]) {
            let inside = step.ends[1].min(whole[1]) - step.ends[0].max(whole[0]);
            let wood = step.highest() > self.bottom;
            for floor in floors {
                if floor.ends[0] >= step.ends[1] {
                    break;
                }
                let higher = higher(step, floor);
                met.any |= wood && higher > SAME_Z;
                if wood && inside >= wide && floor.ends[1] > step.ends[0] {
                    met.higher = Some(met.higher.map_or(higher, |most| most.max(higher)));
                }
            }
            let done = |floor: &CutFloor| floor.ends[1] <= step.ends[1];
            while let Some((_, rest)) = floors.split_first().filter(|(first, _)| done(first)) {
                floors = rest;
            }
        }
        met
    }

    /// Along how much of a floor, mm, wood stands higher than it by more than `by`.
    pub fn width_above(&self, floor: &CutFloor, by: f64) -> f64 {
        let floor = floor.raised(by);
        let steps = self.steps_in(floor.ends).iter();
        steps
            .map(|step| {
                let [low, high] = lower_part(step, &floor, 0.0).unwrap_or_default();
                (high - low).max(0.0)
            })
            .sum()
    }

    /// Takes away all wood above `z` in an interval.
    pub fn lower(&mut self, interval: [f64; 2], z: f64, line: usize) {
        self.lower_to(&[CutFloor::level(interval, z)], line);
    }

    /// Takes away all wood above floors that lie beside each other, from left to right.
    pub fn lower_to(&mut self, floors: &[CutFloor], line: usize) {
        let above: Floors;
        let floors = if floors.iter().all(|floor| floor.lowest() >= self.bottom) {
            floors
        } else {
            let parts = floors.iter().flat_map(|floor| floor.above(self.bottom));
            above = parts.flatten().collect();
            &above
        };
        let (Some(first), Some(last)) = (floors.first(), floors.last()) else {
            return;
        };
        let range = self.index_range([first.ends[0], last.ends[1]]);
        self.last = range.start;
        // One neighbour on each side takes part, so that equal heights can grow together.
        let wider = range.start.saturating_sub(1)..(range.end + 1).min(self.steps.len());
        let mut new = NewSteps::default();
        let mut rest = floors;
        for step in self.steps.get(wider.clone()).unwrap_or_default() {
            let passed = rest
                .iter()
                .take_while(|floor| floor.ends[1] <= step.ends[0]);
            rest = rest.get(passed.count()..).unwrap_or_default();
            new.cut_step(*step, rest, line);
        }
        if new.cut {
            self.steps.splice(wider, new.steps);
        }
    }

    /// The stretches in which the wood is lower than `z`, mm, each with its lowest height and the
    /// line that cut its first step.
    pub fn runs_below(&self, z: f64) -> Vec<WoodStep> {
        let mut runs: Vec<WoodStep> = Vec::new();
        for step in self.steps().iter().filter(|step| step.height < z) {
            match runs.last_mut() {
                Some(run) if step.ends[0] <= run.ends[1] + SAME_X => {
                    run.ends[1] = step.ends[1];
                    run.height = run.height.min(step.height);
                }
                _ => runs.push(*step),
            }
        }
        runs
    }
}

/// Floors beside each other on a plane.
pub(super) type Floors = SmallVec<[CutFloor; 24]>;

/// Steps while they are cut, from left to right.
#[derive(Default)]
struct NewSteps {
    steps: SmallVec<[WoodStep; 16]>,
    /// Whether anything was taken away.
    cut: bool,
}

impl NewSteps {
    /// A step cut down to floors: what is left of it before, in and after each.
    #[allow(clippy::float_cmp)] // exact: nothing was cut
    fn cut_step(&mut self, step: WoodStep, floors: &[CutFloor], line: usize) {
        let cut_by = if step.line == 0 { line } else { step.line };
        let mut start = step.ends[0];
        let left = |ends: [f64; 2]| WoodStep::new(ends, ends.map(|x| step.at(x)), step.line);
        for floor in floors {
            if floor.ends[0] >= step.ends[1] {
                break;
            }
            let Some([low, high]) = lower_part(&step, floor, SAME_Z) else {
                continue;
            };
            let low = low.max(start);
            if low >= high {
                continue;
            }
            self.cut = true;
            if start < low {
                self.push(left([start, low]));
            }
            let heights = [low, high].map(|x| floor.at(x));
            self.push(WoodStep::new([low, high], heights, cut_by));
            start = high;
        }
        if start == step.ends[0] {
            self.push(step);
        } else if start < step.ends[1] {
            self.push(left([start, step.ends[1]]));
        }
    }

    fn push(&mut self, part: WoodStep) {
        match self.steps.last_mut() {
            Some(last)
                if last.is_level()
                    && part.is_level()
                    && (last.height - part.height).abs() <= SAME_Z =>
            {
                last.ends[1] = part.ends[1];
            }
            _ => self.steps.push(part),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    fn heights(profile: &WoodProfile) -> Vec<(f64, f64, f64)> {
        let steps = profile.steps();
        steps
            .iter()
            .map(|s| (s.ends[0], s.ends[1], s.height))
            .collect()
    }

    #[test]
    fn passes_deepen_and_merge() {
        let mut profile = WoodProfile::new([0.0, 100.0], -12.0);
        profile.lower([10.0, 13.0], -2.0, 1);
        profile.lower([12.0, 15.0], -2.0, 2);
        profile.lower([10.0, 15.0], -4.0, 3);
        profile.lower([10.0, 15.0], -3.0, 4);
        assert_eq!(
            heights(&profile),
            [(0.0, 10.0, 0.0), (10.0, 15.0, -4.0), (15.0, 100.0, 0.0)]
        );
        assert_eq!(profile.steps()[1].line, 1);
        let tallest = |profile: &WoodProfile, ends: [f64; 2], wide| {
            profile
                .met(&[CutFloor::level(ends, 0.0)], ends, wide)
                .higher
        };
        assert_eq!(tallest(&profile, [10.0, 15.0], 0.0), Some(-4.0));
        assert_eq!(tallest(&profile, [9.0, 15.0], 0.5), Some(0.0));
        assert_eq!(tallest(&profile, [9.9, 15.0], 0.5), Some(-4.0));
        profile.lower([-5.0, 5.0], -20.0, 5);
        assert_eq!(tallest(&profile, [0.0, 4.0], 0.0), None);
        assert_eq!(profile.runs_below(-0.5).len(), 2);
    }

    #[test]
    fn the_same_cut_again_and_again_takes_no_memory() {
        let mut profile = WoodProfile::new([0.0, 100.0], -12.0);
        for turn in 0..1000_u16 {
            let x = f64::from(turn % 10) * 0.1;
            profile.lower([20.0 + x, 22.0 + x], -f64::from(turn % 7), turn.into());
        }
        assert!(profile.steps().len() < 5, "{:?}", heights(&profile));
    }

    proptest! {
        /// Any order of cuts leaves at every x the lowest of those that cover it, and no gaps.
        #[test]
        fn the_lowest_cut_wins(
            cuts in prop::collection::vec((0.0..20.0_f64, 0.0..8.0_f64, -9.0..1.0_f64), 1..30),
            x in 0.0..20.0_f64,
        ) {
            let mut profile = WoodProfile::new([0.0, 20.0], -8.0);
            for (line, (low, wide, z)) in cuts.iter().enumerate() {
                profile.lower([*low, low + wide], *z, line + 1);
            }
            let near_an_edge = |(low, wide, _): &(f64, f64, f64)| {
                approx_eq!(f64, x, *low, epsilon = 1e-6) || approx_eq!(f64, x - low, *wide, epsilon = 1e-6)
            };
            prop_assume!(!cuts.iter().any(near_an_edge));
            let covering = cuts.iter().filter(|(low, wide, _)| *low < x && x < low + wide);
            let lowest = covering.map(|cut| cut.2).fold(0.0, f64::min).max(-8.0);
            let steps = profile.steps();
            let found = steps.iter().find(|s| s.ends[0] < x && x < s.ends[1]);
            prop_assert!(approx_eq!(f64, found.unwrap().height, lowest, epsilon = 1e-8));
            let gapless = steps.windows(2).all(|p| p[0].ends[1] == p[1].ends[0]);
            prop_assert!(gapless);
        }

        /// Slanted floors too: at every x the lowest of all that cover it, no gaps; and what a floor
        /// meets is what stands above it there.
        #[test]
        fn the_lowest_slanted_cut_wins(
            cuts in prop::collection::vec(
                (0.0..20.0_f64, 0.1..8.0_f64, -9.0..0.0_f64, -9.0..0.0_f64, any::<bool>()), 1..12,
            ),
        ) {
            let mut profile = WoodProfile::new([0.0, 20.0], -8.0);
            let floors: Vec<CutFloor> = cuts
                .iter()
                .map(|(low, wide, left, right, level)| CutFloor {
                    ends: [*low, low + wide],
                    heights: [*left, if *level { *left } else { *right }],
                })
                .collect();
            let places = || (0..2000).map(|x| f64::from(x) * 0.01 + 0.0037);
            let inside = |floor: &CutFloor, x: f64| floor.ends[0] < x && x < floor.ends[1];
            for (at, floor) in floors.iter().enumerate() {
                let before = |x: f64| {
                    let over = floors[..at].iter().filter(|floor| inside(floor, x));
                    over.map(|floor| floor.at(x)).fold(0.0, f64::min).max(-8.0)
                };
                let met = profile.met(&[*floor], floor.ends, 0.0);
                let wood = places().filter(|x| inside(floor, *x) && before(*x) > -8.0);
                let stands = wood.map(|x| before(x) - floor.at(x));
                let most = stands.fold(f64::NEG_INFINITY, f64::max);
                // Slopes of up to 90 between places 0.01 apart.
                let higher = met.higher.unwrap_or(most);
                prop_assert!(higher >= most - 1e-9, "{higher} {most}");
                prop_assert!(met.any || most <= 1e-6);
                profile.lower_to(&[*floor], at + 1);
            }
            let steps = &profile.steps;
            prop_assert!(steps.windows(2).all(|pair| pair[0].ends[1] == pair[1].ends[0]));
            prop_assert!(steps.iter().all(|step| step.ends[0] < step.ends[1]));
            let stairs = profile.steps();
            for x in places() {
                let over = floors.iter().filter(|floor| inside(floor, x));
                let wanted = over.map(|floor| floor.at(x)).fold(0.0, f64::min).max(-8.0);
                let found = steps.iter().find(|step| step.ends[0] <= x && x <= step.ends[1]).unwrap();
                prop_assert!((found.at(x) - wanted).abs() < 1e-6, "{x}: {} {wanted}", found.at(x));
                // Told as stairs that are nowhere higher.
                let stair = stairs.iter().find(|step| step.ends[0] <= x && x <= step.ends[1]).unwrap();
                prop_assert!(stair.height <= wanted + 1e-6);
                prop_assert!(stair.height >= wanted - 0.0091, "{x}: {} {wanted}", stair.height);
            }
        }

        /// Floors side by side cut as each of them does by itself.
        #[test]
        fn floors_beside_each_other_are_cut_together(
            wood in prop::collection::vec((0.0..20.0_f64, 0.1..8.0_f64, -8.0..0.0_f64, -8.0..0.0_f64), 0..6),
            places in prop::collection::btree_set(0..2000_u32, 2..9),
            heights in prop::collection::vec(-9.0..0.0_f64, 9),
        ) {
            let mut together = WoodProfile::new([0.0, 20.0], -8.0);
            for (low, wide, left, right) in wood {
                together.lower_to(&[CutFloor { ends: [low, low + wide], heights: [left, right] }], 1);
            }
            let mut alone = together.clone();
            let places: Vec<f64> = places.into_iter().map(|x| f64::from(x) * 0.01).collect();
            let floors: Vec<CutFloor> = places
                .windows(2)
                .zip(heights.windows(2))
                .map(|(ends, heights)| CutFloor { ends: [ends[0], ends[1]], heights: [heights[0], heights[1]] })
                .collect();
            let whole = [places[0], places[places.len() - 1]];
            let one_by_one = floors.iter().map(|floor| together.met(&[*floor], whole, 0.0));
            let one_by_one = one_by_one.fold(MetOnPlane::default(), MetOnPlane::join);
            prop_assert_eq!(together.met(&floors, whole, 0.0), one_by_one);
            together.lower_to(&floors, 2);
            for floor in &floors {
                alone.lower_to(&[*floor], 2);
            }
            for x in (0..2000).map(|x| f64::from(x) * 0.01 + 0.0037) {
                let at = |profile: &WoodProfile| {
                    profile.steps.iter().find(|step| step.ends[0] <= x && x <= step.ends[1]).map(|step| step.at(x))
                };
                prop_assert!((at(&together).unwrap() - at(&alone).unwrap()).abs() < 1e-6);
            }
        }
    }
}
