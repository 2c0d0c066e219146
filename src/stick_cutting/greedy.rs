//! Plans made stick by stick: quick, often good, never proved.

use super::knapsack::best_pattern;
use super::pattern::{Cuts, Left, Pattern, fill};
use super::whole::Whole;

/// The ways of filling a stick.
#[derive(Debug, Clone, Copy)]
pub(super) enum Filling {
    /// The longest first, whatever still goes in.
    LongestFirst,
    /// As full as it gets; long parts count a little more, so that they are not left to the end.
    Fullest,
}

/// Sticks one after the other, each the one that counts least for what is cut from it, until nothing goes in any
/// more; what is then left is told.
pub(super) fn stick_by_stick(whole: &Whole, mut left: Left, filling: Filling) -> (Cuts, Left) {
    let mut cuts = Cuts::default();
    while !left.is_done() {
        let bars = (0..whole.bars.len()).filter(|bar| left.has(*bar));
        let filled = bars.map(|bar| filled(whole, bar, &left, filling));
        let filled = filled.filter(|pattern| !pattern.parts.is_empty());
        let Some(pattern) = filled.min_by_key(|pattern| rank(whole, pattern)) else {
            break;
        };
        let times = pattern.times(&left).max(1);
        left.take(&pattern, times);
        cuts.0.push((pattern, times));
    }
    (cuts, left)
}

/// Weight for what is cut from it; then what stays.
fn rank(whole: &Whole, pattern: &Pattern) -> (u128, u64) {
    let parts = pattern.parts.iter();
    let cut: u64 = parts
        .map(|(kind, count)| whole.kinds[*kind].size * count)
        .sum();
    let bar = &whole.bars[pattern.bar];
    let each = (u128::from(bar.weight) << 64) / u128::from(cut.max(1));
    (each, bar.room.saturating_sub(cut))
}

fn filled(whole: &Whole, bar: usize, left: &Left, filling: Filling) -> Pattern {
    match filling {
        Filling::LongestFirst => fill(whole, bar, left),
        Filling::Fullest => {
            let room = whole.bars[bar].room.max(1);
            // A part as long as the stick counts for a sixteenth more than its length.
            let value = |size: u64| 1024 * size + 64 * size * size.min(room) / room;
            let values: Vec<u64> = whole.kinds.iter().map(|kind| value(kind.size)).collect();
            best_pattern(whole, bar, left, &values, 0).pattern
        }
    }
}
