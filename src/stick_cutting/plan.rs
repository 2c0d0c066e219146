//! The plan as a person cuts it.

use super::fault::{CutFault, faults};
use super::order::in_order;
use super::pattern::{Cuts, Left, Pattern, room_with};
use super::solve::{Solved, solve};
use super::task::{Aim, CutTask, Stock, Supply};
use super::whole::{Whole, length_units};
use std::collections::BTreeMap;

/// Sticks of one stock that are cut alike.
#[derive(Debug, Clone, PartialEq)]
pub struct SticksAlike {
    /// Which stock.
    pub stock: usize,
    /// How many of them.
    pub count: usize,
    /// The parts, in the order in which they are cut off one end.
    pub cuts: Vec<usize>,
    /// What is left of each in the hand after the last cut, with what is trimmed off its far end, mm.
    pub left: f64,
}

/// What the aim is counted of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Counted {
    /// Nothing has to be bought: sticks used, or their lengths.
    Used,
    /// What is bought: sticks, money, or their lengths.
    Bought,
}

/// How a task's parts are cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPlan {
    /// By stock, longest parts first.
    pub sticks: Vec<SticksAlike>,
    /// What there shall be least of. Where nothing is bought the least cost is the fewest sticks.
    pub aim: Aim,
    /// What that is counted of.
    pub counted: Counted,
    /// How much of it there is: sticks, money, or mm.
    pub amount: f64,
    /// No plan whatever has less.
    pub bound: f64,
    /// Whether the plan has no more than that.
    pub proved: bool,
}

impl CutPlan {
    /// Sticks that are cut into.
    pub fn sticks_used(&self) -> usize {
        self.sticks.iter().map(|alike| alike.count).sum()
    }

    /// Sticks of one stock that are cut into.
    pub fn sticks_of(&self, stock: usize) -> usize {
        let own = self.sticks.iter().filter(|alike| alike.stock == stock);
        own.map(|alike| alike.count).sum()
    }
}

/// The plan for a task.
///
/// Sticks in hand are used before any is bought: first it is tried to do with these alone, then the aim counts
/// only what is bought. The effort is counted in steps, never in time, so that the same task gives the same
/// plan everywhere; where they do not reach, [`CutPlan::proved`] is false and the bound stands beside.
///
/// # Errors
/// Whatever is wrong with the task, all of it; or that its sticks do not do.
pub fn cut_plan(task: &CutTask) -> Result<CutPlan, Vec<CutFault>> {
    let wrong = faults(task);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let all: Vec<usize> = (0..task.stocks.len())
        .filter(|at| task.stocks[*at].count != Some(0))
        .collect();
    let hand: Vec<usize> = all
        .iter()
        .copied()
        .filter(|at| is_in_hand(&task.stocks[*at]))
        .collect();
    let whole = Whole::of(task, &all, &vec![1; all.len()]);
    let wrong = cannot_be_cut(task, &whole);
    if !wrong.is_empty() {
        return Err(wrong);
    }
    for (stocks, counted) in [(&hand, Counted::Used), (&all, Counted::Bought)] {
        // Without sticks in hand there is only what is bought, with nothing to buy only what is in hand.
        let is_last = counted == Counted::Bought || hand.len() == all.len();
        if stocks.is_empty() {
            continue;
        }
        let weights = Weights::of(task, stocks, counted);
        let whole = Whole::of(task, stocks, &weights.each);
        match solve(&whole) {
            Solved::Plan { cuts, bound } => return Ok(weights.plan(task, &whole, &cuts, bound)),
            Solved::TooFew { left, proved } if is_last => {
                return Err(vec![too_few(task, &whole, &left, proved)]);
            }
            Solved::TooFew { .. } => {}
        }
    }
    Err(vec![CutFault::NoStock])
}

fn is_in_hand(stock: &Stock) -> bool {
    matches!(stock.supply, Supply::Hand)
}

/// Parts that no stick is long enough for, or that cannot be held.
fn cannot_be_cut(task: &CutTask, whole: &Whole) -> Vec<CutFault> {
    let mut faults = Vec::new();
    let lengths = || whole.bars.iter().map(|bar| task.stocks[bar.stock].length);
    for (at, kind) in whole.kinds.iter().enumerate() {
        let beside = |held: &usize, room: u64| {
            let other = &whole.kinds[*held];
            let twice = *held == at && kind.count < 2;
            !twice && other.size + kind.size <= room
        };
        let fits = |bar: &super::whole::Bar| {
            let mut held = (0..whole.kinds.len()).filter(|held| bar.holds[*held]);
            kind.size <= room_with(bar, at) || held.any(|held| beside(&held, bar.room))
        };
        if whole.bars.iter().any(fits) {
            continue;
        }
        let is_too_long = whole.bars.iter().all(|bar| kind.size > bar.room);
        for (part, _) in &kind.members {
            let saw = &task.saw;
            faults.push(if is_too_long {
                CutFault::PartTooLong {
                    part: *part,
                    longest: (lengths().fold(0.0, f64::max) - 2.0 * saw.trim).max(0.0),
                }
            } else {
                CutFault::PartNotHeld {
                    part: *part,
                    needed: saw.trim + task.parts[*part].length + saw.kerf + saw.hold,
                }
            });
        }
    }
    faults
}

fn too_few(task: &CutTask, whole: &Whole, left: &Left, proved: bool) -> CutFault {
    let mut lacking = Vec::new();
    for (kind, count) in whole.kinds.iter().zip(&left.parts) {
        let mut count = *count;
        for (part, most) in &kind.members {
            let here = count.min(*most);
            if here > 0 {
                lacking.push((*part, to_usize(here)));
            }
            count -= here;
        }
    }
    let length = |(part, count): &(usize, usize)| task.parts[*part].length * *count as f64;
    CutFault::TooFewSticks {
        length: lacking.iter().map(length).sum(),
        lacking,
        proved,
    }
}

/// What sticks count for, as whole numbers.
struct Weights {
    counted: Counted,
    aim: Aim,
    each: Vec<u64>,
    /// What a weight of 1 is: sticks, money, or mm.
    unit: f64,
}

/// Money is counted in this part of its unit.
const MONEY: f64 = 10_000.0;

impl Weights {
    fn of(task: &CutTask, stocks: &[usize], counted: Counted) -> Weights {
        let aim = match (task.aim, counted) {
            (Aim::LeastCost, Counted::Used) => Aim::FewestSticks,
            (aim, _) => aim,
        };
        let weight = |at: &usize| {
            let stock = &task.stocks[*at];
            match (aim, stock.supply) {
                (_, Supply::Hand) if counted == Counted::Bought => 0,
                (Aim::FewestSticks, _) => 1,
                (Aim::LeastWood, _) => length_units(stock.length),
                (Aim::LeastCost, Supply::Shop { price }) => money(price.unwrap_or(0.0)),
                (Aim::LeastCost, Supply::Hand) => 0,
            }
        };
        let own = match aim {
            Aim::FewestSticks => 1.0,
            Aim::LeastCost => 1.0 / MONEY,
            Aim::LeastWood => super::whole::UNIT_MM,
        };
        let mut each: Vec<u64> = stocks.iter().map(weight).collect();
        let greatest = each.iter().copied().fold(0, common);
        if greatest == 0 {
            // All is free: then the fewest sticks.
            each.fill(1);
        } else {
            each.iter_mut().for_each(|weight| *weight /= greatest);
        }
        Weights {
            counted,
            aim,
            each,
            unit: own * greatest as f64,
        }
    }

    fn plan(&self, task: &CutTask, whole: &Whole, cuts: &Cuts, bound: u64) -> CutPlan {
        let sticks = sticks_alike(task, whole, cuts);
        let proved = bound >= cuts.weight(whole);
        let each = sticks.iter().map(|alike| self.amount(task, alike));
        let amount: f64 = each.sum();
        CutPlan {
            sticks,
            aim: self.aim,
            counted: self.counted,
            amount,
            bound: if proved {
                amount
            } else {
                (bound as f64 * self.unit).min(amount)
            },
            proved,
        }
    }

    fn amount(&self, task: &CutTask, alike: &SticksAlike) -> f64 {
        let stock = &task.stocks[alike.stock];
        let one = match (self.aim, stock.supply) {
            (_, Supply::Hand) if self.counted == Counted::Bought => 0.0,
            (Aim::FewestSticks, _) => 1.0,
            (Aim::LeastWood, _) => stock.length,
            (Aim::LeastCost, Supply::Shop { price }) => price.unwrap_or(0.0),
            (Aim::LeastCost, Supply::Hand) => 0.0,
        };
        one * alike.count as f64
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // above zero, below 10^10
fn money(price: f64) -> u64 {
    (price * MONEY).round() as u64
}

/// The greatest number that divides both; the other one where one is zero.
fn common(mut one: u64, mut other: u64) -> u64 {
    while other > 0 {
        (one, other) = (other, one % other);
    }
    one
}

/// Which parts are cut from which sticks: parts of one length are taken in the order in which they were asked
/// for, so that sticks are alike as far as they can be.
fn sticks_alike(task: &CutTask, whole: &Whole, cuts: &Cuts) -> Vec<SticksAlike> {
    let mut times: BTreeMap<&Pattern, u64> = BTreeMap::new();
    for (pattern, count) in &cuts.0 {
        *times.entry(pattern).or_default() += count;
    }
    let mut waiting: Vec<std::vec::IntoIter<(usize, u64)>> = whole
        .kinds
        .iter()
        .map(|kind| kind.members.clone().into_iter())
        .collect();
    let mut open: Vec<Option<(usize, u64)>> = waiting.iter_mut().map(Iterator::next).collect();
    let mut alike: Vec<SticksAlike> = Vec::new();
    for (pattern, times) in times {
        for _ in 0..times {
            let kinds = pattern.parts.iter();
            let kinds = kinds.flat_map(|(kind, count)| (0..*count).map(move |_| *kind));
            let parts = kinds.filter_map(|kind| next(&mut open[kind], &mut waiting[kind]));
            let parts: Vec<usize> = parts.collect();
            let stock = whole.bars[pattern.bar].stock;
            let (cuts, left) = in_order(task, stock, parts);
            match alike.last_mut() {
                Some(last) if last.stock == stock && last.cuts == cuts => last.count += 1,
                _ => alike.push(SticksAlike {
                    stock,
                    count: 1,
                    cuts,
                    left,
                }),
            }
        }
    }
    alike
}

fn next(
    open: &mut Option<(usize, u64)>,
    waiting: &mut std::vec::IntoIter<(usize, u64)>,
) -> Option<usize> {
    let (part, left) = open.as_mut()?;
    let part = *part;
    *left -= 1;
    if *left == 0 {
        *open = waiting.next();
    }
    Some(part)
}

fn to_usize(count: u64) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX)
}
