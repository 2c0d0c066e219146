//! How little the sticks can come to if patterns could be cut in fractions: a bound for every plan, and the
//! patterns that a good one is made of.
//!
//! P. C. Gilmore and R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations
//! Research 9, 1961 (from memory): the program has a column for every pattern, and those that it needs are
//! found one by one. Its dual gives every part a worth and every limited stock a toll so that no pattern is
//! worth more than its stick and toll; patterns that are, are added as rows. Solved in this form, the worths
//! can be read without asking the solver for duals.
//!
//! The bound does not trust the solver's arithmetic. Worths are turned into whole numbers, the pattern that
//! is worth the most is found in whole numbers, and tolls are set and worths scaled down until no pattern
//! whatever is worth more than its stick: then no plan costs less than its parts are worth, less the tolls
//! of all sticks.

use super::knapsack::best_pattern;
use super::pattern::{Left, Pattern, fill};
use super::whole::Whole;
use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};
use std::collections::BTreeSet;

/// Whole numbers of worths: the greatest weight is about so many.
const SCALE: u64 = 1 << 40;

/// A pattern has to be worth more by this share of the greatest weight.
const GAIN: f64 = 1e-9;

/// Worth of a part in greatest weights, at most: what a part costs that finds no stick.
const MOST_WORTH: f64 = 1_000.0;

/// Rounds of looking for better patterns.
const MOST_ROUNDS: usize = 400;

/// Work that knapsacks may take in one search for patterns.
const MOST_WORK: u64 = 40_000_000;

/// Parts of 1 that worths are scaled by.
const PARTS: u128 = 1 << 30;

/// Patterns that were met, each once.
#[derive(Debug, Default)]
pub(super) struct Columns(BTreeSet<Pattern>);

/// Worths and tolls by which no pattern gains.
#[derive(Debug, Clone)]
pub(super) struct Prices {
    /// Of one part of each kind.
    pub(super) worth: Vec<u128>,
    /// Of one stick of each bar; nothing where there are as many as asked for.
    pub(super) toll: Vec<u128>,
    /// What a weight of 1 is in these numbers.
    pub(super) one: u128,
}

/// What fractions of patterns come to.
#[derive(Debug)]
pub(super) struct Relaxed {
    /// No plan weighs less.
    pub(super) bound: u64,
    pub(super) prices: Prices,
    /// How often each pattern would be cut.
    pub(super) shares: Vec<(Pattern, f64)>,
}

impl Prices {
    /// A stick and its toll.
    pub(super) fn stick(&self, whole: &Whole, bar: usize) -> u128 {
        u128::from(whole.bars[bar].weight) * self.one + self.toll[bar]
    }

    /// What every plan for these parts and sticks comes to, at least; below zero is zero.
    pub(super) fn bound(&self, left: &Left) -> u128 {
        self.parts(left).saturating_sub(self.tolls(left))
    }

    /// How much more than the bound a plan of this weight comes to; none where it is below.
    pub(super) fn slack(&self, left: &Left, weight: u64) -> Option<u128> {
        let have = u128::from(weight) * self.one + self.tolls(left);
        have.checked_sub(self.parts(left))
    }

    fn parts(&self, left: &Left) -> u128 {
        let parts = self.worth.iter().zip(&left.parts);
        parts.map(|(worth, count)| worth * u128::from(*count)).sum()
    }

    /// Of all sticks that are left.
    pub(super) fn tolls(&self, left: &Left) -> u128 {
        let sticks = self.toll.iter().zip(&left.sticks);
        sticks
            .map(|(toll, count)| toll * u128::from(count.unwrap_or(0)))
            .sum()
    }
}

/// Worths as the solver found them: no promise that no pattern gains.
struct Guess {
    worth: Vec<u64>,
    /// Sticks and tolls in the same whole numbers.
    stick: Vec<u64>,
}

/// The program for what is left; none where the solver gives up. `enough` ends it: a bound that good is all
/// that is wanted.
pub(super) fn relaxed(
    whole: &Whole,
    left: &Left,
    columns: &mut Columns,
    enough: u64,
) -> Option<Relaxed> {
    let greatest = whole.greatest_weight();
    let one = (SCALE / greatest).max(1);
    columns.start(whole, left);
    let mut dual = Dual::new(whole, left, columns)?;
    let mut best: Option<(u64, Prices)> = None;
    let mut work = 0;
    for _ in 0..MOST_ROUNDS {
        let guess = dual.guess(whole, one);
        let mut gained = false;
        let mut most = Vec::with_capacity(whole.bars.len());
        for bar in 0..whole.bars.len() {
            if !left.has(bar) {
                most.push(0);
                continue;
            }
            let above = guess.stick[bar] + gain(one, greatest);
            let found = best_pattern(whole, bar, left, &guess.worth, above);
            work += found.work;
            most.push(found.at_most);
            if found.value > above && columns.0.insert(found.pattern.clone()) {
                dual = dual.with(whole, &found.pattern)?;
                gained = true;
            }
        }
        let prices = secured(whole, left, &guess, &most, one);
        let bound = whole_bound(&prices, left);
        if best.as_ref().is_none_or(|(old, _)| bound >= *old) {
            best = Some((bound, prices));
        }
        if !gained || bound >= enough || work > MOST_WORK {
            break;
        }
    }
    let (bound, prices) = best?;
    let shares = shares(whole, left, columns)?;
    Some(Relaxed {
        bound,
        prices,
        shares,
    })
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a small share of 2^40
fn gain(one: u64, greatest: u64) -> u64 {
    ((one * greatest) as f64 * GAIN) as u64
}

fn whole_bound(prices: &Prices, left: &Left) -> u64 {
    u64::try_from(prices.bound(left).div_ceil(prices.one)).unwrap_or(u64::MAX)
}

/// Tolls and a scale by which no pattern gains, `most` being the greatest worth of a pattern of each bar. A
/// limited stock's toll is raised; where there are as many sticks as asked for, all worths are scaled down.
fn secured(whole: &Whole, left: &Left, guess: &Guess, most: &[u64], one: u64) -> Prices {
    let open = || (0..whole.bars.len()).filter(|bar| left.has(*bar));
    let mut over = PARTS;
    for bar in open().filter(|bar| left.sticks[*bar].is_none()) {
        let stick = u128::from(whole.bars[bar].weight) * u128::from(one);
        let worth = u128::from(most[bar]);
        if worth > stick {
            over = over.min(stick * PARTS / worth);
        }
    }
    // Everything times PARTS; worths times `over`, rounded down.
    let toll = |bar: usize| {
        if left.sticks[bar].is_none() || !left.has(bar) {
            return 0;
        }
        let stick = u128::from(whole.bars[bar].weight) * u128::from(one) * PARTS;
        (u128::from(most[bar]) * over).saturating_sub(stick)
    };
    Prices {
        worth: guess
            .worth
            .iter()
            .map(|worth| u128::from(*worth) * over)
            .collect(),
        toll: (0..whole.bars.len()).map(toll).collect(),
        one: u128::from(one) * PARTS,
    }
}

impl Columns {
    /// Patterns to begin with: every bar with as many of one kind as go in, and filled longest first.
    fn start(&mut self, whole: &Whole, left: &Left) {
        for bar in (0..whole.bars.len()).filter(|bar| left.has(*bar)) {
            for kind in 0..whole.kinds.len() {
                let mut only = Left {
                    parts: vec![0; whole.kinds.len()],
                    sticks: left.sticks.clone(),
                };
                only.parts[kind] = left.parts[kind];
                let mut shorter = left.clone();
                shorter
                    .parts
                    .iter_mut()
                    .take(kind)
                    .for_each(|count| *count = 0);
                for from in [&only, &shorter] {
                    let pattern = fill(whole, bar, from);
                    if !pattern.parts.is_empty() {
                        self.0.insert(pattern);
                    }
                }
            }
        }
    }

    /// Those that can be cut from what is left.
    fn fitting<'a>(&'a self, left: &'a Left) -> impl Iterator<Item = &'a Pattern> {
        self.0.iter().filter(|pattern| pattern.times(left) > 0)
    }
}

/// The dual program: the worth of all parts less the tolls of all sticks shall be the greatest.
struct Dual {
    solution: Solution,
    worths: Vec<Option<Variable>>,
    tolls: Vec<Option<Variable>>,
    greatest: f64,
}

impl Dual {
    fn new(whole: &Whole, left: &Left, columns: &Columns) -> Option<Dual> {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let worths: Vec<Option<Variable>> = left
            .parts
            .iter()
            .map(|count| (*count > 0).then(|| problem.add_var(*count as f64, (0.0, MOST_WORTH))))
            .collect();
        let tolls: Vec<Option<Variable>> = left
            .sticks
            .iter()
            .map(|count| count.map(|count| problem.add_var(-(count as f64), (0.0, f64::INFINITY))))
            .collect();
        let greatest = whole.greatest_weight() as f64;
        for pattern in columns.fitting(left) {
            let row = row(pattern, &worths, &tolls);
            let weight = whole.bars[pattern.bar].weight as f64 / greatest;
            problem.add_constraint(row.as_slice(), ComparisonOp::Le, weight);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some(Dual {
            solution,
            worths,
            tolls,
            greatest,
        })
    }

    fn with(self, whole: &Whole, pattern: &Pattern) -> Option<Dual> {
        let row = row(pattern, &self.worths, &self.tolls);
        let weight = whole.bars[pattern.bar].weight as f64 / self.greatest;
        let outcome = self
            .solution
            .add_constraint(row.as_slice(), ComparisonOp::Le, weight);
        let solution = outcome.ok()?.into_solution().ok()?;
        Some(Dual { solution, ..self })
    }

    fn guess(&self, whole: &Whole, one: u64) -> Guess {
        let scale = one as f64 * self.greatest;
        let value = |variable: &Option<Variable>| match variable {
            Some(variable) => counted(self.solution.var_value(*variable) * scale),
            None => 0,
        };
        let stick =
            |(bar, toll): (usize, &Option<Variable>)| whole.bars[bar].weight * one + value(toll);
        Guess {
            worth: self.worths.iter().map(value).collect(),
            stick: self.tolls.iter().enumerate().map(stick).collect(),
        }
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // rounded down, no less than zero
fn counted(value: f64) -> u64 {
    value.max(0.0) as u64
}

fn row(
    pattern: &Pattern,
    worths: &[Option<Variable>],
    tolls: &[Option<Variable>],
) -> Vec<(Variable, f64)> {
    let parts = pattern.parts.iter();
    let mut row: Vec<(Variable, f64)> = parts
        .filter_map(|(kind, count)| worths[*kind].map(|worth| (worth, *count as f64)))
        .collect();
    row.extend(tolls[pattern.bar].map(|toll| (toll, -1.0)));
    row
}

/// The program itself, over the patterns that were met.
fn shares(whole: &Whole, left: &Left, columns: &Columns) -> Option<Vec<(Pattern, f64)>> {
    let greatest = whole.greatest_weight() as f64;
    let patterns: Vec<&Pattern> = columns.fitting(left).collect();
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut of_kind: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); left.parts.len()];
    let mut of_bar: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); left.sticks.len()];
    let mut variables = Vec::with_capacity(patterns.len());
    for pattern in &patterns {
        let weight = whole.bars[pattern.bar].weight as f64 / greatest;
        let variable = problem.add_var(weight, (0.0, f64::INFINITY));
        for (kind, count) in &pattern.parts {
            of_kind[*kind].push((variable, *count as f64));
        }
        of_bar[pattern.bar].push((variable, 1.0));
        variables.push(variable);
    }
    for (row, count) in of_kind
        .iter_mut()
        .zip(&left.parts)
        .filter(|(_, count)| **count > 0)
    {
        row.push((problem.add_var(MOST_WORTH, (0.0, f64::INFINITY)), 1.0));
        problem.add_constraint(row.as_slice(), ComparisonOp::Ge, *count as f64);
    }
    for (row, count) in of_bar.iter().zip(&left.sticks) {
        if let Some(count) = count.filter(|_| !row.is_empty()) {
            problem.add_constraint(row.as_slice(), ComparisonOp::Le, count as f64);
        }
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let share = |(pattern, variable): (&&Pattern, &Variable)| {
        ((*pattern).clone(), solution.var_value(*variable))
    };
    Some(patterns.iter().zip(&variables).map(share).collect())
}

#[cfg(test)]
mod tests {
    use super::super::whole::{Bar, Kind};
    use super::*;

    fn bar(room: u64, count: Option<u64>, weight: u64) -> Bar {
        Bar {
            stock: 0,
            room,
            room_held_by_rest: room,
            count,
            weight,
            holds: vec![true; 2],
        }
    }

    /// Parts of 50 and 30: sticks of 100 take two of the one or three of the other.
    fn whole(bars: Vec<Bar>) -> Whole {
        let kind = |size, count| Kind {
            size,
            count,
            members: Vec::new(),
        };
        Whole {
            kinds: vec![kind(50, 4), kind(30, 9)],
            bars,
        }
    }

    /// Worths that are twice too high are halved where there are as many sticks as asked for, and taken back by
    /// tolls where there are not: four halves and nine thirds of a stick are five, and no bound is above that.
    #[test]
    fn no_worth_is_believed() {
        let one = 6_000;
        let guess = |sticks: usize| Guess {
            worth: vec![one, 2 * one / 3],
            stick: vec![one; sticks],
        };
        for bars in [
            vec![bar(100, None, 1)],
            vec![bar(100, Some(7), 1)],
            vec![bar(100, None, 1), bar(80, Some(2), 1)],
        ] {
            let whole = whole(bars);
            let left = Left::all(&whole);
            let guess = guess(whole.bars.len());
            let most = |bar| best_pattern(&whole, bar, &left, &guess.worth, 0).at_most;
            let most: Vec<u64> = (0..whole.bars.len()).map(most).collect();
            let prices = secured(&whole, &left, &guess, &most, one);
            let bound = whole_bound(&prices, &left);
            assert!(bound <= 5, "{bound}: {whole:?}");
            assert!(whole.bars.len() > 1 || bound >= 3, "{bound}: {whole:?}");
        }
    }

    /// By hand: four of 50 and nine of 30 out of 100 are five sticks, also in fractions.
    #[test]
    fn fractions_by_hand() {
        let whole = whole(vec![bar(100, None, 1)]);
        let left = Left::all(&whole);
        let relaxed = relaxed(&whole, &left, &mut Columns::default(), u64::MAX).unwrap();
        assert_eq!(relaxed.bound, 5);
        let shares: f64 = relaxed.shares.iter().map(|(_, share)| share).sum();
        assert!((shares - 5.0).abs() < 1e-6, "{shares}");
    }
}
