//! From fractions of patterns to a plan: whole patterns are cut, the program is solved again for what is left,
//! and so on.

use super::columns::{Columns, Relaxed, relaxed};
use super::greedy::{Filling, stick_by_stick};
use super::pattern::{Cuts, Left, Pattern};
use super::search::Search;
use super::whole::Whole;

/// Parts that are left when a search is worth its while.
const FEW_PARTS: u64 = 60;

/// Steps of such a search.
const STEPS: u64 = 60_000;

/// A share this far below a whole number is that number.
const NEARLY: f64 = 1e-6;

/// A plan that weighs less than `below`, if this way leads to one.
pub(super) fn dive(
    whole: &Whole,
    root: &Relaxed,
    columns: &mut Columns,
    below: u64,
) -> Option<Cuts> {
    let mut left = Left::all(whole);
    let mut cuts = Cuts::default();
    let mut here = None;
    loop {
        let now = here.as_ref().unwrap_or(root);
        let spent = cuts.weight(whole);
        if spent + now.bound >= below {
            return None;
        }
        let whole_ones = take_whole_ones(&mut left, &mut cuts, now);
        if left.is_done() {
            return Some(cuts).filter(|cuts| cuts.weight(whole) < below);
        }
        if whole_ones {
            here = Some(relaxed(whole, &left, columns, u64::MAX)?);
            continue;
        }
        if let Some(rest) = rest(whole, &left, now, below - spent) {
            cuts.0.extend(rest.0);
            return Some(cuts);
        }
        let pattern = largest(now, &left)?.clone();
        left.take(&pattern, 1);
        cuts.0.push((pattern, 1));
        if left.is_done() {
            return Some(cuts).filter(|cuts| cuts.weight(whole) < below);
        }
        here = Some(relaxed(whole, &left, columns, u64::MAX)?);
    }
}

fn take_whole_ones(left: &mut Left, cuts: &mut Cuts, now: &Relaxed) -> bool {
    let mut any = false;
    for (pattern, share) in &now.shares {
        let times = whole_part(*share).min(pattern.times(left));
        if times > 0 {
            left.take(pattern, times);
            cuts.0.push((pattern.clone(), times));
            any = true;
        }
    }
    any
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // a count, no less than zero
fn whole_part(share: f64) -> u64 {
    (share + NEARLY).max(0.0) as u64
}

fn largest<'a>(now: &'a Relaxed, left: &Left) -> Option<&'a Pattern> {
    let open = now
        .shares
        .iter()
        .filter(|(pattern, _)| pattern.times(left) > 0);
    let most = open.max_by(|(_, one), (_, other)| one.total_cmp(other));
    most.map(|(pattern, _)| pattern)
}

/// What is left, longest first, as full as it gets, or by a search if there is little.
fn rest(whole: &Whole, left: &Left, now: &Relaxed, below: u64) -> Option<Cuts> {
    for filling in [Filling::LongestFirst, Filling::Fullest] {
        let (cuts, after) = stick_by_stick(whole, left.clone(), filling);
        if after.is_done() && cuts.weight(whole) < below {
            return Some(cuts);
        }
    }
    if left.parts.iter().sum::<u64>() > FEW_PARTS {
        return None;
    }
    Search::new(whole, &now.prices, STEPS).within(left, below - 1)
}
