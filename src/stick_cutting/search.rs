//! Goes through all plans that a bound leaves, as far as a number of steps allows.
//!
//! Sticks are filled one after the other, always round the longest part that is left: it lies in one stick or
//! another, so nothing is lost by filling its stick first. Only patterns to which nothing can be added are
//! tried: parts of later sticks may be moved into a gap, and what is left of these is still cut as safely. A
//! pattern loses what it is worth less than its stick; all losses together are what a plan comes to above the
//! bound, so that most patterns are out of question from the beginning.

use super::columns::Prices;
use super::pattern::{Cuts, Left, Pattern, room_with};
use super::whole::Whole;
use std::collections::HashMap;

/// Ways of filling one stick that are tried.
const MOST_WAYS: usize = 3_000;

/// Kinds that are looked at in the time of a step.
const KINDS_OF_A_STEP: u64 = 4;

/// States that are remembered as hopeless.
const MOST_FAILED: usize = 200_000;

/// A search of bounded effort.
pub(super) struct Search<'a> {
    whole: &'a Whole,
    prices: &'a Prices,
    steps: u64,
    /// Whether nothing was left out: then what was not found is not there.
    pub(super) complete: bool,
    /// For what was left at some time: with so much to lose there is no plan.
    failed: HashMap<Left, u128>,
}

/// The ways that are still to be tried of filling one stick, the best last.
struct Level {
    ways: Vec<(u128, Pattern)>,
    tried: Option<Pattern>,
    /// What may be lost from here on.
    slack: u128,
}

impl<'a> Search<'a> {
    pub(super) fn new(whole: &'a Whole, prices: &'a Prices, steps: u64) -> Self {
        Search {
            whole,
            prices,
            steps,
            complete: true,
            failed: HashMap::new(),
        }
    }

    /// A plan for what is left that weighs no more than this.
    pub(super) fn within(&mut self, left: &Left, weight: u64) -> Option<Cuts> {
        let slack = self.prices.slack(left, weight)?;
        let mut left = left.clone();
        if left.is_done() {
            return Some(Cuts::default());
        }
        let mut levels = vec![self.level(&left, slack)];
        while let Some(level) = levels.last_mut() {
            if let Some(pattern) = level.tried.take() {
                left.put_back(&pattern);
            }
            let Some((loss, pattern)) = level.ways.pop() else {
                let slack = level.slack;
                levels.pop();
                self.fail(&left, slack);
                continue;
            };
            let slack = level.slack.saturating_sub(loss);
            left.take(&pattern, 1);
            level.tried = Some(pattern);
            if left.is_done() {
                if self.prices.tolls(&left) <= slack {
                    return Some(plan(levels));
                }
                continue;
            }
            if self.steps == 0 {
                self.complete = false;
                return None;
            }
            if self
                .failed
                .get(&left)
                .is_some_and(|failed| slack <= *failed)
            {
                continue;
            }
            let level = self.level(&left, slack);
            levels.push(level);
        }
        None
    }

    fn fail(&mut self, left: &Left, slack: u128) {
        if self.failed.len() < MOST_FAILED {
            let most = self.failed.entry(left.clone()).or_insert(slack);
            *most = slack.max(*most);
        }
    }

    fn level(&mut self, left: &Left, slack: u128) -> Level {
        let mut ways = Vec::new();
        let longest = left.parts.iter().position(|count| *count > 0).unwrap_or(0);
        for bar in (0..self.whole.bars.len()).filter(|bar| left.has(*bar)) {
            let mut filling = Filling::new(self, left, bar, slack);
            let room = room_with(&self.whole.bars[bar], longest);
            if filling.fits(longest, room) {
                filling.with(longest, room, 0);
            }
            let (found, steps, complete) = (filling.ways, filling.steps, filling.complete);
            ways.extend(found);
            self.steps = steps;
            self.complete &= complete;
        }
        // The least loss last; of equal ones the one with fewer, longer parts.
        ways.sort_by(|(loss, one), (other_loss, other)| {
            let parts = |pattern: &Pattern| pattern.parts.iter().map(|part| part.1).sum::<u64>();
            other_loss
                .cmp(loss)
                .then(parts(other).cmp(&parts(one)))
                .then(other.cmp(one))
        });
        Level {
            ways,
            tried: None,
            slack,
        }
    }
}

fn plan(levels: Vec<Level>) -> Cuts {
    let patterns = levels.into_iter().filter_map(|level| level.tried);
    Cuts(patterns.map(|pattern| (pattern, 1)).collect())
}

/// Goes through the ways of filling one stick.
struct Filling<'a> {
    whole: &'a Whole,
    prices: &'a Prices,
    left: &'a Left,
    bar: usize,
    /// What the parts have to be worth at least.
    least: u128,
    stick: u128,
    /// For each kind: the one of it and those after that is worth the most for its length.
    best_after: Vec<(u128, u128)>,
    /// Of each kind in the stick.
    parts: Vec<u64>,
    steps: u64,
    complete: bool,
    ways: Vec<(u128, Pattern)>,
}

impl<'a> Filling<'a> {
    fn new(search: &Search<'a>, left: &'a Left, bar: usize, slack: u128) -> Self {
        let (whole, prices) = (search.whole, search.prices);
        let stick = prices.stick(whole, bar);
        let mut best_after = vec![(0, 1); whole.kinds.len() + 1];
        for kind in (0..whole.kinds.len()).rev() {
            let (worth, size) = best_after[kind + 1];
            let own = (prices.worth[kind], u128::from(whole.kinds[kind].size));
            // Worths are below 2^90, lengths below 2^32.
            let better = left.parts[kind] > 0 && own.0 * size > worth * own.1;
            best_after[kind] = if better { own } else { (worth, size) };
        }
        Filling {
            whole,
            prices,
            left,
            bar,
            least: stick.saturating_sub(slack),
            stick,
            best_after,
            parts: vec![0; whole.kinds.len()],
            steps: search.steps,
            complete: true,
            ways: Vec::new(),
        }
    }

    /// Puts a kind into what is free, then all that goes beside it and is no longer.
    fn with(&mut self, kind: usize, free: u64, worth: u128) {
        let free = free - self.whole.kinds[kind].size;
        let worth = worth + self.prices.worth[kind];
        self.parts[kind] += 1;
        let mut full = true;
        for next in kind..self.whole.kinds.len() {
            if self.steps == 0 || self.ways.len() >= MOST_WAYS {
                self.complete = false;
                break;
            }
            if !self.fits(next, free) {
                continue;
            }
            full = false;
            let (best, size) = self.best_after[next];
            if worth + u128::from(free) * best / size < self.least {
                break;
            }
            self.steps -= 1;
            self.with(next, free, worth);
        }
        if full && worth >= self.least && !(0..kind).any(|other| self.fits(other, free)) {
            // Looking at every kind takes as long as several steps.
            self.steps = self
                .steps
                .saturating_sub(self.parts.len() as u64 / KINDS_OF_A_STEP);
            let parts = self.parts.iter().copied().enumerate().collect();
            self.ways.push((
                self.stick.saturating_sub(worth),
                Pattern::new(self.bar, parts),
            ));
        }
        self.parts[kind] -= 1;
    }

    fn fits(&self, kind: usize, free: u64) -> bool {
        self.parts[kind] < self.left.parts[kind] && self.whole.kinds[kind].size <= free
    }
}
