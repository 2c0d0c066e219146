//! What is left of the wood on one plane along a strip: its height as a function of x, in steps.
//!
//! A flat cutter takes away everything above its end, so that the height tells all.

/// Boundaries closer than this, mm, are one.
const SAME_X: f64 = 1e-9;

/// Heights closer than this, mm, are one.
const SAME_Z: f64 = 1e-9;

/// Wood of one height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WoodStep {
    /// Where it begins and ends along x, mm.
    pub ends: [f64; 2],
    /// Height of the wood, mm, program frame; the stock's top is 0.
    pub height: f64,
    /// Line of the program that cut it first; 0 where nothing has been cut.
    pub line: usize,
}

impl WoodStep {
    /// Whether it shares more than a point with an interval.
    pub fn overlaps(&self, ends: [f64; 2]) -> bool {
        self.ends[0] < ends[1] && ends[0] < self.ends[1]
    }
}

/// The wood on one plane. Its size grows with what is cut out, not with the number of moves.
#[derive(Debug, Clone, PartialEq)]
pub struct WoodProfile {
    steps: Vec<WoodStep>,
    bottom: f64,
}

impl WoodProfile {
    /// Uncut wood from one x to another, from z 0 down to `bottom`.
    pub fn new(ends: [f64; 2], bottom: f64) -> Self {
        let uncut = WoodStep {
            ends,
            height: 0.0,
            line: 0,
        };
        WoodProfile {
            steps: vec![uncut],
            bottom,
        }
    }

    /// The steps from left to right, without gaps.
    pub fn steps(&self) -> &[WoodStep] {
        &self.steps
    }

    fn index_range(&self, [low, high]: [f64; 2]) -> std::ops::Range<usize> {
        let first = self
            .steps
            .partition_point(|step| step.ends[1] <= low + SAME_X);
        let last = self
            .steps
            .partition_point(|step| step.ends[0] < high - SAME_X);
        first..last.max(first)
    }

    /// The height of the tallest wood in an interval, where at least `wide` mm of it lie inside;
    /// `None` where there is no wood.
    pub fn tallest(&self, interval: [f64; 2], wide: f64) -> Option<f64> {
        let steps = self.steps.get(self.index_range(interval))?;
        steps
            .iter()
            .filter(|step| {
                let inside = step.ends[1].min(interval[1]) - step.ends[0].max(interval[0]);
                step.height > self.bottom && inside >= wide
            })
            .map(|step| step.height)
            .reduce(f64::max)
    }

    /// How much of an interval, mm, has wood higher than `z`.
    pub fn width_above(&self, interval: [f64; 2], z: f64) -> f64 {
        let steps = self.steps.get(self.index_range(interval));
        let inside = |step: &WoodStep| {
            (step.ends[1].min(interval[1]) - step.ends[0].max(interval[0])).max(0.0)
        };
        let higher = steps
            .unwrap_or_default()
            .iter()
            .filter(|step| step.height > z);
        higher.map(inside).sum()
    }

    /// Takes away all wood above `z` in an interval.
    pub fn lower(&mut self, interval: [f64; 2], z: f64, line: usize) {
        let z = z.max(self.bottom);
        let range = self.index_range(interval);
        let Some(old) = self.steps.get(range.clone()) else {
            return;
        };
        if old.iter().all(|step| step.height <= z + SAME_Z) {
            return;
        }
        // One neighbour on each side takes part, so that equal heights can grow together.
        let wider = range.start.saturating_sub(1)..(range.end + 1).min(self.steps.len());
        let mut new: Vec<WoodStep> = Vec::new();
        for step in self.steps.get(wider.clone()).unwrap_or_default() {
            for part in cut_step(*step, interval, z, line).into_iter().flatten() {
                match new.last_mut() {
                    Some(last) if (last.height - part.height).abs() <= SAME_Z => {
                        last.ends[1] = part.ends[1];
                    }
                    _ => new.push(part),
                }
            }
        }
        self.steps.splice(wider, new);
    }

    /// The stretches in which the wood is lower than `z`, mm, each with its lowest height and the
    /// line that cut its first step.
    pub fn runs_below(&self, z: f64) -> Vec<WoodStep> {
        let mut runs: Vec<WoodStep> = Vec::new();
        for step in self.steps.iter().filter(|step| step.height < z) {
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

/// A step cut down to `z` inside an interval: what is left of it before, in and after it.
fn cut_step(step: WoodStep, [low, high]: [f64; 2], z: f64, line: usize) -> [Option<WoodStep>; 3] {
    if step.height <= z + SAME_Z {
        return [Some(step), None, None];
    }
    let [start, end] = step.ends;
    let snap = |x: f64| {
        if x - start <= SAME_X {
            start
        } else if end - x <= SAME_X {
            end
        } else {
            x
        }
    };
    let low = snap(low);
    let high = snap(high);
    let part = |ends: [f64; 2], height, line| {
        (ends[0] < ends[1]).then_some(WoodStep { ends, height, line })
    };
    [
        part([start, low], step.height, step.line),
        part(
            [low, high],
            z,
            if step.line == 0 { line } else { step.line },
        ),
        part([high, end], step.height, step.line),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    fn heights(profile: &WoodProfile) -> Vec<(f64, f64, f64)> {
        let steps = profile.steps().iter();
        steps.map(|s| (s.ends[0], s.ends[1], s.height)).collect()
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
        assert_eq!(profile.tallest([10.0, 15.0], 0.0), Some(-4.0));
        assert_eq!(profile.tallest([9.0, 15.0], 0.5), Some(0.0));
        assert_eq!(profile.tallest([9.9, 15.0], 0.5), Some(-4.0));
        profile.lower([-5.0, 5.0], -20.0, 5);
        assert_eq!(profile.tallest([0.0, 4.0], 0.0), None);
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
            let found = profile.steps().iter().find(|s| s.ends[0] < x && x < s.ends[1]);
            prop_assert!(approx_eq!(f64, found.unwrap().height, lowest, epsilon = 1e-8));
            let gapless = profile.steps().windows(2).all(|p| p[0].ends[1] == p[1].ends[0]);
            prop_assert!(gapless);
        }
    }
}
