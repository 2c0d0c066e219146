//! Lengths and weights as whole numbers, so that sums are exact and every machine comes to the same plan.
//!
//! A part is rounded up to whole units, the saw's kerf too; a stick, less what is trimmed off its ends, is
//! rounded down. What fits in whole numbers therefore fits as it was given, and no part comes out short.
//! What rounding costs is at most a unit for each part and kerf, less than a saw can be set to; a plan is
//! proved for lengths rounded so.
//!
//! A kerf goes with every part and once with the stick: the last part needs none where the stick ends with
//! it, so sum l + k (n - 1) <= L is sum (l + k) <= L + k.

use super::task::{CutTask, Stock};
use std::collections::BTreeMap;

/// Lengths are counted in units of this many mm.
pub(super) const UNIT_MM: f64 = 0.01;

/// A length within this share of a unit of a whole number is that number: what arithmetic leaves over of
/// 437.3 mm is not a hundredth of a millimetre.
const NOISE: f64 = 1e-6;

/// Parts of equal length.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    /// Length and kerf.
    pub(super) size: u64,
    pub(super) count: u64,
    /// Which parts they are, and how many of each.
    pub(super) members: Vec<(usize, u64)>,
}

/// Sticks of one stock.
#[derive(Debug, Clone)]
pub(super) struct Bar {
    /// Which stock they are.
    pub(super) stock: usize,
    /// Room for parts with their kerfs.
    pub(super) room: u64,
    /// The same where no part is long enough to be held: the rest has to be.
    pub(super) room_held_by_rest: u64,
    /// How many there are.
    pub(super) count: Option<u64>,
    /// What a stick counts for.
    pub(super) weight: u64,
    /// For each kind: whether it is long enough to be held while the rest is cut off.
    pub(super) holds: Vec<bool>,
}

/// Parts and sticks in whole numbers.
#[derive(Debug, Clone)]
pub(super) struct Whole {
    /// The longest first.
    pub(super) kinds: Vec<Kind>,
    pub(super) bars: Vec<Bar>,
}

impl Whole {
    /// Sticks of `stocks`, with what each of them counts for.
    pub(super) fn of(task: &CutTask, stocks: &[usize], weights: &[u64]) -> Whole {
        let kinds = kinds(task);
        let bar = |(stock, weight): (&usize, &u64)| {
            let bar = task.stocks.get(*stock)?;
            Some(bar_of(task, &kinds, *stock, bar, *weight))
        };
        let bars = stocks.iter().zip(weights).filter_map(bar).collect();
        Whole { kinds, bars }
    }

    pub(super) fn counts(&self) -> Vec<u64> {
        self.kinds.iter().map(|kind| kind.count).collect()
    }

    pub(super) fn sticks(&self) -> Vec<Option<u64>> {
        self.bars.iter().map(|bar| bar.count).collect()
    }

    /// Most that a stick counts for; no less than 1.
    pub(super) fn greatest_weight(&self) -> u64 {
        self.bars
            .iter()
            .map(|bar| bar.weight)
            .max()
            .unwrap_or(1)
            .max(1)
    }
}

fn kinds(task: &CutTask) -> Vec<Kind> {
    let kerf = up(task.saw.kerf);
    let mut by_size: BTreeMap<u64, Vec<(usize, u64)>> = BTreeMap::new();
    for (at, part) in task
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.count > 0)
    {
        let members = by_size.entry(up(part.length) + kerf).or_default();
        members.push((at, part.count as u64));
    }
    let kind = |(size, members): (u64, Vec<(usize, u64)>)| Kind {
        size,
        count: members.iter().map(|(_, count)| count).sum(),
        members,
    };
    by_size.into_iter().rev().map(kind).collect()
}

fn bar_of(task: &CutTask, kinds: &[Kind], at: usize, stock: &Stock, weight: u64) -> Bar {
    let saw = &task.saw;
    let kerf = up(saw.kerf);
    let room = down(stock.length - 2.0 * saw.trim) + kerf;
    let held = down(stock.length - saw.trim).saturating_sub(up(saw.hold));
    // A part that is the whole stick is not cut at all.
    let uncut = |kind: &Kind| saw.trim <= 0.0 && kind.size == room;
    let long = |kind: &Kind| kind.size - kerf >= up(saw.hold);
    Bar {
        stock: at,
        room,
        room_held_by_rest: held.min(room),
        count: stock.count.map(|count| count as u64),
        weight,
        holds: kinds.iter().map(|kind| long(kind) || uncut(kind)).collect(),
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // above zero, far below 2^63
fn up(mm: f64) -> u64 {
    (mm / UNIT_MM - NOISE).ceil().max(0.0) as u64
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // above zero, far below 2^63
fn down(mm: f64) -> u64 {
    (mm / UNIT_MM + NOISE).floor().max(0.0) as u64
}

/// A stick's length from end to end, rounded.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // above zero, far below 2^63
pub(super) fn length_units(mm: f64) -> u64 {
    (mm / UNIT_MM).round().max(1.0) as u64
}

#[cfg(test)]
mod tests {
    use super::super::task::{Aim, Part, Saw, Supply};
    use super::*;

    fn whole(lengths: &[f64], stick: f64, saw: Saw) -> Whole {
        let part = |length: &f64| Part {
            length: *length,
            count: 2,
        };
        let stock = Stock {
            length: stick,
            count: None,
            supply: Supply::Hand,
        };
        let task = CutTask {
            parts: lengths.iter().map(part).collect(),
            stocks: vec![stock],
            saw,
            aim: Aim::FewestSticks,
        };
        Whole::of(&task, &[0], &[1])
    }

    /// 100.001 is 100.01, the kerf of 2.404 is 2.41, and 899.999 of a stick is 899.99.
    #[test]
    fn parts_are_rounded_up_and_sticks_down() {
        let saw = Saw {
            kerf: 2.404,
            trim: 5.0,
            hold: 100.005,
        };
        let whole = whole(&[100.001, 437.3], 909.999, saw);
        let sizes: Vec<u64> = whole.kinds.iter().map(|kind| kind.size).collect();
        assert_eq!(sizes, [43_730 + 241, 10_001 + 241]);
        assert_eq!(whole.bars[0].room, 89_999 + 241);
        // 909.999 - 5 is 904.99, less 100.01 in the hand.
        assert_eq!(whole.bars[0].room_held_by_rest, 90_499 - 10_001);
        assert_eq!(whole.bars[0].holds, [true, true]);
    }

    /// What arithmetic leaves over makes nothing longer or shorter: 0.1 + 0.2 is 0.30000000000000004.
    #[test]
    fn noise_is_no_length() {
        let saw = Saw {
            kerf: 0.1 + 0.2,
            trim: 0.0,
            hold: 0.0,
        };
        let whole = whole(&[0.7 * 3.0, 4.35 * 100.0], 2.9 * 100.0, saw);
        let sizes: Vec<u64> = whole.kinds.iter().map(|kind| kind.size).collect();
        assert_eq!(sizes, [43_500 + 30, 210 + 30]);
        assert_eq!(whole.bars[0].room, 29_000 + 30);
    }

    /// A part that is the stick is not cut, and needs not be held; one a little shorter is.
    #[test]
    fn the_whole_stick_is_not_cut() {
        let saw = Saw {
            kerf: 3.0,
            trim: 0.0,
            hold: 150.0,
        };
        assert_eq!(
            whole(&[100.0, 99.0], 100.0, saw).bars[0].holds,
            [true, false]
        );
    }
}
