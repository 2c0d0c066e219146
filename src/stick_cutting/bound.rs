//! What no plan can do with less of, by arithmetic alone.

use super::pattern::Left;
use super::whole::Whole;

/// Least weight of sticks for what is left.
pub(super) fn least_weight(whole: &Whole, left: &Left) -> u64 {
    let open = |at: &usize| left.has(*at);
    let bars: Vec<usize> = (0..whole.bars.len()).filter(open).collect();
    match bars.as_slice() {
        [one] => whole.bars[*one].weight * fewest(whole, *one, &left.parts),
        _ => by_length(whole, left),
    }
}

/// All parts together, in the sticks that count least for their lengths.
fn by_length(whole: &Whole, left: &Left) -> u64 {
    let mut bars: Vec<usize> = (0..whole.bars.len()).filter(|at| left.has(*at)).collect();
    let bar = |at: usize| &whole.bars[at];
    bars.sort_by_key(|at| (u128::from(bar(*at).weight) << 64) / u128::from(bar(*at).room.max(1)));
    let mut length = sum(whole, &left.parts);
    let mut weight = 0;
    for at in bars {
        let (room, each) = (bar(at).room.max(1), bar(at).weight);
        let sticks = length.div_ceil(room);
        if let Some(count) = left.sticks[at].filter(|count| *count < sticks) {
            weight += count * each;
            length -= count * room;
            continue;
        }
        // Part of a stick counts for part of its weight: another one may be used for the rest.
        let share = u128::from(length) * u128::from(each);
        return weight + u64::try_from(share.div_ceil(u128::from(room))).unwrap_or(u64::MAX);
    }
    weight
}

/// Length and kerf of all parts.
pub(super) fn sum(whole: &Whole, parts: &[u64]) -> u64 {
    whole
        .kinds
        .iter()
        .zip(parts)
        .map(|(kind, count)| kind.size * count)
        .sum()
}

/// Fewer sticks than this never do, all being alike.
///
/// For every `a` up to half a stick: parts above `room - a` go with nothing that is `a` or more, other ones
/// above half a stick are one to a stick, and those from `a` to half a stick fill what these leave and sticks
/// of their own (L2 of S. Martello and P. Toth, Lower bounds and reduction procedures for the bin packing
/// problem, Discrete Applied Mathematics 28, 1990; from memory).
fn fewest(whole: &Whole, bar: usize, parts: &[u64]) -> u64 {
    let room = whole.bars[bar].room.max(1);
    let half = room / 2;
    let each = || {
        whole
            .kinds
            .iter()
            .map(|kind| kind.size)
            .zip(parts.iter().copied())
    };
    let long: u64 = each()
        .filter(|(size, _)| *size > half)
        .map(|(_, count)| count)
        .sum();
    let short = each().filter(|(size, count)| *size <= half && *count > 0);
    let mut best = long;
    for least in short.map(|(size, _)| size).chain([0]) {
        let (mut free, mut filling) = (0, 0);
        for (size, count) in each() {
            if size + least > room {
                continue;
            }
            if size > half {
                free += (room - size) * count;
            } else if size >= least {
                filling += size * count;
            }
        }
        best = best.max(long + filling.saturating_sub(free).div_ceil(room));
    }
    best
}
