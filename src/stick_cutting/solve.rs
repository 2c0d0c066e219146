//! The plan of least weight, and what is proved of it.

use super::bound::{least_weight, sum};
use super::columns::{Columns, Relaxed, relaxed};
use super::dive::dive;
use super::greedy::{Filling, stick_by_stick};
use super::pattern::{Cuts, Left};
use super::search::Search;
use super::whole::Whole;

/// Steps of the search that ends the work.
const STEPS: u64 = 4_000_000;

/// Ways from fractions to a plan; each but the first has to end below the one before.
const MOST_DIVES: usize = 2;

/// What came out.
#[derive(Debug)]
pub(super) enum Solved {
    /// A plan, and the weight that no plan is below.
    Plan {
        /// Patterns and how often each is cut.
        cuts: Cuts,
        /// As heavy as the plan where that is proved.
        bound: u64,
    },
    /// The sticks do not do.
    TooFew {
        /// What the best try had no stick for.
        left: Left,
        /// Whether no plan whatever does with them; else none was found.
        proved: bool,
    },
}

/// Goes from what is quick to what is exact, until bound and plan meet or the steps are used up.
pub(super) fn solve(whole: &Whole) -> Solved {
    let all = Left::all(whole);
    let mut task = Solving::quickly(whole, &all);
    if task.is_done() {
        return task.told();
    }
    let mut columns = Columns::default();
    let enough = task.weight().unwrap_or(u64::MAX);
    if let Some(root) = relaxed(whole, &all, &mut columns, enough) {
        task.bound = task.bound.max(root.bound);
        task.dive(&root, &mut columns);
        task.search(&root);
    }
    task.told()
}

struct Solving<'a> {
    whole: &'a Whole,
    all: &'a Left,
    best: Option<Cuts>,
    /// What the best try had no stick for.
    lacking: Left,
    bound: u64,
    impossible: bool,
}

impl<'a> Solving<'a> {
    fn quickly(whole: &'a Whole, all: &'a Left) -> Self {
        let mut solving = Solving {
            whole,
            all,
            best: None,
            lacking: all.clone(),
            bound: least_weight(whole, all),
            impossible: false,
        };
        solving.impossible = solving.is_short();
        for filling in [Filling::LongestFirst, Filling::Fullest] {
            if !solving.is_done() || solving.impossible {
                let (cuts, left) = stick_by_stick(whole, all.clone(), filling);
                solving.met(cuts, left);
            }
        }
        solving
    }

    /// Whether all sticks together are shorter than all parts.
    fn is_short(&self) -> bool {
        let bars = self.whole.bars.iter();
        let rooms: Option<u64> = bars
            .map(|bar| bar.count.map(|count| count.saturating_mul(bar.room)))
            .sum();
        rooms.is_some_and(|rooms| rooms < sum(self.whole, &self.all.parts))
    }

    fn met(&mut self, cuts: Cuts, left: Left) {
        if !left.is_done() {
            if sum(self.whole, &left.parts) < sum(self.whole, &self.lacking.parts) {
                self.lacking = left;
            }
        } else if self
            .weight()
            .is_none_or(|weight| cuts.weight(self.whole) < weight)
        {
            self.best = Some(cuts);
        }
    }

    fn weight(&self) -> Option<u64> {
        self.best.as_ref().map(|cuts| cuts.weight(self.whole))
    }

    fn is_done(&self) -> bool {
        self.impossible || self.weight().is_some_and(|weight| weight <= self.bound)
    }

    /// Most that a better plan weighs.
    fn better(&self) -> u64 {
        let bars = self.whole.bars.iter();
        let all = || {
            bars.map(|bar| bar.count.unwrap_or(0).saturating_mul(bar.weight))
                .sum()
        };
        self.weight()
            .map_or_else(all, |weight| weight.saturating_sub(1))
    }

    fn dive(&mut self, root: &Relaxed, columns: &mut Columns) {
        if self.best.is_none() && self.bound > self.better() {
            self.impossible = true;
        }
        for _ in 0..MOST_DIVES {
            if self.is_done() {
                break;
            }
            let Some(cuts) = dive(self.whole, root, columns, self.better() + 1) else {
                break;
            };
            self.best = Some(cuts);
        }
    }

    /// All that is better; then, where that was too much, all that comes near the bound.
    fn search(&mut self, root: &Relaxed) {
        while !self.is_done() {
            let mut search = Search::new(self.whole, &root.prices, STEPS);
            match search.within(self.all, self.better()) {
                Some(cuts) => self.best = Some(cuts),
                None if search.complete => {
                    self.impossible = self.best.is_none();
                    self.bound = self.weight().unwrap_or(self.bound);
                }
                None => break,
            }
        }
        while !self.is_done() && self.bound < self.better() {
            let mut search = Search::new(self.whole, &root.prices, STEPS);
            match search.within(self.all, self.bound) {
                Some(cuts) => self.best = Some(cuts),
                None if search.complete => self.bound += 1,
                None => break,
            }
        }
    }

    fn told(self) -> Solved {
        match self.best {
            Some(cuts) => Solved::Plan {
                cuts,
                bound: self.bound,
            },
            None => Solved::TooFew {
                left: self.lacking,
                proved: self.impossible,
            },
        }
    }
}
