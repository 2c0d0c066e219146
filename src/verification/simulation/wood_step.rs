//! A step of wood on a plane, level or slanted, and a floor that is cut into it.

/// Boundaries closer than this, mm, are one.
pub(super) const SAME_X: f64 = 1e-9;

/// Heights closer than this, mm, are one.
pub(super) const SAME_Z: f64 = 1e-9;

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

    pub(super) fn lowest(&self) -> f64 {
        self.heights[0].min(self.heights[1])
    }

    pub(super) fn highest(&self) -> f64 {
        self.heights[0].max(self.heights[1])
    }

    pub(super) fn at(&self, x: f64) -> f64 {
        between(self.ends, self.heights, x)
    }

    /// The parts of it above and at `bottom`: below it there is nothing to cut.
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
    pub(super) fn new(ends: [f64; 2], heights: [f64; 2], line: usize) -> Self {
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

    pub(super) fn is_level(&self) -> bool {
        self.rise == 0.0
    }

    fn heights(&self) -> [f64; 2] {
        [
            self.height + (-self.rise).max(0.0),
            self.height + self.rise.max(0.0),
        ]
    }

    pub(super) fn highest(&self) -> f64 {
        self.height + self.rise.abs()
    }

    pub(super) fn at(&self, x: f64) -> f64 {
        between(self.ends, self.heights(), x)
    }

    /// Level ones that are nowhere higher than it.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // clamped
    pub(super) fn stairs(self) -> impl Iterator<Item = WoodStep> {
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

/// By how much a step is higher than a floor at most, where they have something in common.
#[allow(clippy::float_cmp)] // exact: what is level is level everywhere
pub(super) fn higher(step: &WoodStep, floor: &CutFloor) -> f64 {
    if step.is_level() && floor.heights[0] == floor.heights[1] {
        return step.height - floor.heights[0];
    }
    let low = step.ends[0].max(floor.ends[0]);
    let high = step.ends[1].min(floor.ends[1]);
    // Both are straight, so that it is most at an end.
    (step.at(low) - floor.at(low)).max(step.at(high) - floor.at(high))
}

/// Where a floor is lower than a step by more than `by`.
pub(super) fn lower_part(step: &WoodStep, floor: &CutFloor, by: f64) -> Option<[f64; 2]> {
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
