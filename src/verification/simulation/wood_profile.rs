//! What is left of the wood on one plane along a strip: its height as a function of x, in steps.
//!
//! A flat cutter takes away everything above its end, so that the height tells all. Where it went up
//! or down on its way a step is slanted.

use smallvec::SmallVec;
use std::borrow::Cow;

/// Boundaries closer than this, mm, are one.
const SAME_X: f64 = 1e-9;

/// Heights closer than this, mm, are one.
const SAME_Z: f64 = 1e-9;

/// A slanted step is told as level ones of at most this height, mm, ...
const STAIR_MM: f64 = 0.002;

/// ... but as no more than so many.
const MOST_STAIRS: f64 = 1000.0;

/// Wood of one height, or slanted between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WoodStep {
    /// Where it begins and ends along x, mm.
    pub ends: [f64; 2],
    /// Height of the wood, mm, program frame; the stock's top is 0. At its lower end.
    pub height: f64,
    /// Line of the program that cut it first; 0 where nothing has been cut.
    pub line: usize,
    /// How much higher it is at its right end than at its left, mm. None that is told has any.
    rise: f64,
}

/// What a cutter's end passes on a plane: all wood above it goes. Straight from end to end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutFloor {
    /// Where it begins and ends along x, mm.
    pub ends: [f64; 2],
    /// Its heights there, mm.
    pub heights: [f64; 2],
}

impl CutFloor {
    /// One of one height.
    pub fn level(ends: [f64; 2], z: f64) -> Self {
        CutFloor {
            ends,
            heights: [z; 2],
        }
    }

    /// The same so much higher.
    #[must_use]
    pub fn raised(self, by: f64) -> Self {
        CutFloor {
            heights: self.heights.map(|z| z + by),
            ..self
        }
    }

    fn lowest(&self) -> f64 {
        self.heights[0].min(self.heights[1])
    }

    fn highest(&self) -> f64 {
        self.heights[0].max(self.heights[1])
    }

    fn at(&self, x: f64) -> f64 {
        between(self.ends, self.heights, x)
    }

    /// The parts of it above and at `bottom`: below it there is nothing to cut.
    #[allow(clippy::float_cmp)] // exact: a part that is not there
    pub(super) fn above(self, bottom: f64) -> [Option<CutFloor>; 2] {
        let [left, right] = self.heights;
        if self.lowest() >= bottom {
            return [Some(self), None];
        }
        if self.highest() <= bottom {
            return [Some(CutFloor::level(self.ends, bottom)), None];
        }
        let share = (bottom - left) / (right - left);
        let cross = self.ends[0] + share * (self.ends[1] - self.ends[0]);
        let part = |ends: [f64; 2], heights: [f64; 2]| Some(CutFloor { ends, heights });
        [
            part([self.ends[0], cross], [left.max(bottom), bottom]),
            part([cross, self.ends[1]], [bottom, right.max(bottom)]),
        ]
    }
}

/// The height at x of a straight line between two ends; exact at both.
#[allow(clippy::float_cmp)] // exact: a level line is level everywhere
fn between(ends: [f64; 2], heights: [f64; 2], x: f64) -> f64 {
    if heights[0] == heights[1] || x <= ends[0] {
        heights[0]
    } else if x >= ends[1] {
        heights[1]
    } else {
        heights[0] + (heights[1] - heights[0]) * ((x - ends[0]) / (ends[1] - ends[0]))
    }
}

impl WoodStep {
    fn new(ends: [f64; 2], heights: [f64; 2], line: usize) -> Self {
        let rise = heights[1] - heights[0];
        WoodStep {
            ends,
            height: heights[0].min(heights[1]),
            line,
            rise: if rise.abs() <= SAME_Z { 0.0 } else { rise },
        }
    }

    /// Whether it shares more than a point with an interval.
    pub fn overlaps(&self, ends: [f64; 2]) -> bool {
        self.ends[0] < ends[1] && ends[0] < self.ends[1]
    }

    fn is_level(&self) -> bool {
        self.rise == 0.0
    }

    fn heights(&self) -> [f64; 2] {
        [
            self.height + (-self.rise).max(0.0),
            self.height + self.rise.max(0.0),
        ]
    }

    fn highest(&self) -> f64 {
        self.height + self.rise.abs()
    }

    fn at(&self, x: f64) -> f64 {
        between(self.ends, self.heights(), x)
    }

    /// Level ones that are nowhere higher than it.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
    fn stairs(self) -> impl Iterator<Item = WoodStep> {
        let count = (self.rise.abs() / STAIR_MM).ceil().clamp(1.0, MOST_STAIRS);
        let [left, right] = self.ends;
        let x = move |stair: usize| {
            if stair as f64 >= count {
                right
            } else {
                left + (right - left) * stair as f64 / count
            }
        };
        (0..count as usize).map(move |stair| {
            let ends = [x(stair), x(stair + 1)];
            let heights = ends.map(|x| self.at(x));
            WoodStep {
                ends,
                height: heights[0].min(heights[1]),
                rise: 0.0,
                ..self
            }
        })
    }
}

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
            let counts = inside >= wide && step.highest() > self.bottom;
            for floor in floors {
                if floor.ends[0] >= step.ends[1] {
                    break;
                }
                let higher = higher(step, floor);
                met.any |= higher > SAME_Z;
                if counts && floor.ends[1] > step.ends[0] {
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
        for step in self.steps.get(wider.clone()).unwrap_or_default() {
            new.cut_step(*step, floors, line);
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

/// By how much a step is higher than a floor at most, where they have something in common.
#[allow(clippy::float_cmp)] // exact: what is level is level everywhere
fn higher(step: &WoodStep, floor: &CutFloor) -> f64 {
    if step.is_level() && floor.heights[0] == floor.heights[1] {
        return step.height - floor.heights[0];
    }
    let low = step.ends[0].max(floor.ends[0]);
    let high = step.ends[1].min(floor.ends[1]);
    // Both are straight, so that it is most at an end.
    (step.at(low) - floor.at(low)).max(step.at(high) - floor.at(high))
}

/// Where a floor is lower than a step by more than `by`.
fn lower_part(step: &WoodStep, floor: &CutFloor, by: f64) -> Option<[f64; 2]> {
    let snap = |x: f64| {
        if x - step.ends[0] <= SAME_X {
            step.ends[0]
        } else if step.ends[1] - x <= SAME_X {
            step.ends[1]
        } else {
            x
        }
    };
    let [low, high] = floor.ends.map(snap);
    let above = |x: f64| step.at(x) - floor.at(x);
    let [left, right] = [above(low), above(high)];
    if low >= high || left.max(right) <= by {
        return None;
    }
    if left.min(right) >= -by {
        return Some([low, high]);
    }
    let cross = low + (high - low) * (left / (left - right));
    Some(if left > right {
        [low, snap(cross)]
    } else {
        [snap(cross), high]
    })
}

/// Floors beside each other on a plane.
pub(super) type Floors = SmallVec<[CutFloor; 16]>;

/// Steps while they are cut, from left to right.
#[derive(Default)]
struct NewSteps {
    steps: SmallVec<[WoodStep; 16]>,
    /// Whether anything was taken away.
    cut: bool,
}

impl NewSteps {
    /// A step cut down to floors: what is left of it before, in and after each.
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
    }
}
