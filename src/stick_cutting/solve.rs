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
    solve_within(whole, STEPS)
}

fn solve_within(whole: &Whole, steps: u64) -> Solved {
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
        task.search(&root, steps);
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
    fn search(&mut self, root: &Relaxed, steps: u64) {
        while !self.is_done() {
            let mut search = Search::new(self.whole, &root.prices, steps);
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
            let mut search = Search::new(self.whole, &root.prices, steps);
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

#[cfg(test)]
mod tests {
    use super::super::whole::{Bar, Kind};
    use super::*;

    /// Six kinds of parts out of sticks of two lengths.
    fn made_up(state: &mut u64) -> Whole {
        let mut next = |least: u64, most: u64| {
            *state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            least + (*state >> 33) % (most + 1 - least)
        };
        let mut sizes: Vec<u64> = (0..6).map(|_| next(20, 70)).collect();
        sizes.sort_unstable_by(|a, b| b.cmp(a));
        sizes.dedup();
        let bar = |room, weight| Bar {
            stock: 0,
            room,
            room_held_by_rest: room,
            count: None,
            weight,
            holds: vec![true; sizes.len()],
        };
        let bars = vec![bar(100, 10), bar(140, 10 + next(3, 5))];
        let kind = |size: &u64| Kind {
            size: *size,
            count: next(1, 3),
            members: Vec::new(),
        };
        Whole {
            kinds: sizes.iter().map(kind).collect(),
            bars,
        }
    }

    /// Of a search that was broken off nothing is claimed; one that went through all there is raises the bound.
    #[test]
    fn what_was_not_gone_through_is_not_proved() {
        let (mut state, mut raised) = (1, 0);
        for _ in 0..100 {
            let whole = made_up(&mut state);
            let told = |steps| match solve_within(&whole, steps) {
                Solved::Plan { cuts, bound } => (cuts.weight(&whole), bound),
                Solved::TooFew { .. } => panic!("{steps}"),
            };
            let ((weight, bound), (quick, quick_bound)) = (told(STEPS), told(0));
            assert_eq!(weight, bound, "{whole:?}");
            assert!(quick_bound <= bound && quick >= weight, "{whole:?}");
            raised += usize::from(quick_bound < bound);
        }
        assert!(raised > 10, "{raised}");
    }
}
