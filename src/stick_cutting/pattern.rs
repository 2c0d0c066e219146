//! What is cut out of one stick.

use super::whole::{Bar, Whole};

/// Parts of one stick.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Pattern {
    /// Which bar it is cut from.
    pub(super) bar: usize,
    /// Kinds and how many of each, the longest first; none is there for nothing.
    pub(super) parts: Vec<(usize, u64)>,
}

impl Pattern {
    pub(super) fn new(bar: usize, mut parts: Vec<(usize, u64)>) -> Pattern {
        parts.retain(|(_, count)| *count > 0);
        parts.sort_unstable();
        Pattern { bar, parts }
    }

    /// How often it may be cut, with parts and sticks that are left.
    pub(super) fn times(&self, left: &Left) -> u64 {
        let parts = self
            .parts
            .iter()
            .map(|(kind, count)| left.parts[*kind] / count);
        let most = parts.min().unwrap_or(0);
        left.sticks[self.bar].map_or(most, |sticks| sticks.min(most))
    }
}

/// Parts that are still to be cut, and sticks that are still there.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) struct Left {
    pub(super) parts: Vec<u64>,
    pub(super) sticks: Vec<Option<u64>>,
}

impl Left {
    pub(super) fn all(whole: &Whole) -> Left {
        Left {
            parts: whole.counts(),
            sticks: whole.sticks(),
        }
    }

    pub(super) fn is_done(&self) -> bool {
        self.parts.iter().all(|count| *count == 0)
    }

    pub(super) fn has(&self, bar: usize) -> bool {
        self.sticks[bar] != Some(0)
    }

    pub(super) fn take(&mut self, pattern: &Pattern, times: u64) {
        for (kind, count) in &pattern.parts {
            self.parts[*kind] -= count * times;
        }
        if let Some(sticks) = &mut self.sticks[pattern.bar] {
            *sticks -= times;
        }
    }

    pub(super) fn put_back(&mut self, pattern: &Pattern) {
        for (kind, count) in &pattern.parts {
            self.parts[*kind] += count;
        }
        if let Some(sticks) = &mut self.sticks[pattern.bar] {
            *sticks += 1;
        }
    }
}

/// Patterns and how often each is cut.
#[derive(Debug, Clone, Default)]
pub(super) struct Cuts(pub(super) Vec<(Pattern, u64)>);

impl Cuts {
    pub(super) fn weight(&self, whole: &Whole) -> u64 {
        let each = self.0.iter();
        each.map(|(pattern, times)| whole.bars[pattern.bar].weight * times)
            .sum()
    }
}

/// Longest first, as long as there is room in a bar: the first that can be held opens it.
pub(super) fn fill(whole: &Whole, at: usize, left: &Left) -> Pattern {
    let bar = &whole.bars[at];
    let mut free = None;
    let mut parts = Vec::new();
    for (kind, size) in whole.kinds.iter().map(|kind| kind.size).enumerate() {
        if left.parts[kind] == 0 {
            continue;
        }
        let room = free.unwrap_or_else(|| room_with(bar, kind));
        let count = left.parts[kind].min(room / size);
        if count > 0 {
            parts.push((kind, count));
            free = Some(room - count * size);
        }
    }
    Pattern::new(at, parts)
}

/// Room of a bar whose longest part this is.
pub(super) fn room_with(bar: &Bar, longest: usize) -> u64 {
    if bar.holds[longest] {
        bar.room
    } else {
        bar.room_held_by_rest
    }
}
