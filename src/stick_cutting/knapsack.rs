//! The parts of one stick that are worth the most.
//!
//! Kinds are taken one after the other; of all that was put together so far only what is not beaten stays,
//! neither by something that is no longer and worth as much, nor by the best there is when all the room left
//! were filled with the kind that is worth the most for its length. Where too much stays, the least promising
//! is dropped, and the most that it could have come to is told.

use super::pattern::{Left, Pattern};
use super::whole::Whole;

/// What stays at most after each kind.
const MOST_STATES: usize = 60_000;

/// The best that was found.
#[derive(Debug)]
pub(super) struct Best {
    pub(super) pattern: Pattern,
    pub(super) value: u64,
    /// Nothing is worth more than this.
    pub(super) at_most: u64,
    /// States that were looked at.
    pub(super) work: u64,
}

/// The best pattern of a bar, each kind no more often than it is left; only what is worth more than `above` is
/// looked for.
pub(super) fn best_pattern(
    whole: &Whole,
    bar: usize,
    left: &Left,
    values: &[u64],
    above: u64,
) -> Best {
    let here = &whole.bars[bar];
    let item = |kind: usize| Item {
        kind,
        size: whole.kinds[kind].size,
        value: values[kind],
        count: left.parts[kind],
    };
    let items: Vec<Item> = (0..whole.kinds.len())
        .filter(|kind| left.parts[*kind] > 0)
        .map(item)
        .collect();
    let (mut long, mut short): (Vec<Item>, Vec<Item>) =
        items.into_iter().partition(|item| here.holds[item.kind]);
    by_worth(&mut long);
    by_worth(&mut short);
    let all: Vec<Item> = long.iter().chain(&short).copied().collect();
    let needs_long = if short.is_empty() { 0 } else { long.len() };
    let mut best = if short.is_empty() || !long.is_empty() {
        Packing::new(here.room, above).run(&all, needs_long)
    } else {
        Found::none(above)
    };
    if !short.is_empty() {
        let other = Packing::new(here.room_held_by_rest, above.max(best.value)).run(&short, 0);
        best = best.or(other);
    }
    Best {
        pattern: Pattern::new(bar, best.parts),
        value: best.value,
        at_most: best.at_most,
        work: best.work,
    }
}

#[derive(Debug, Clone, Copy)]
struct Item {
    kind: usize,
    size: u64,
    value: u64,
    count: u64,
}

fn by_worth(items: &mut [Item]) {
    items.sort_by(|a, b| {
        let (one, other) = (
            u128::from(a.value) * u128::from(b.size),
            u128::from(b.value) * u128::from(a.size),
        );
        other.cmp(&one).then(a.kind.cmp(&b.kind))
    });
}

#[derive(Debug)]
struct Found {
    parts: Vec<(usize, u64)>,
    value: u64,
    at_most: u64,
    work: u64,
}

impl Found {
    fn none(above: u64) -> Found {
        Found {
            parts: Vec::new(),
            value: 0,
            at_most: above,
            work: 0,
        }
    }

    fn or(self, other: Found) -> Found {
        let at_most = self.at_most.max(other.at_most);
        let work = self.work + other.work;
        let best = if other.value > self.value {
            other
        } else {
            self
        };
        Found {
            at_most,
            work,
            ..best
        }
    }
}

#[derive(Debug, Clone, Copy)]
struct State {
    size: u64,
    value: u64,
    /// Its last step.
    step: usize,
}

/// Some of one kind were added to what the step before had.
#[derive(Debug, Clone, Copy)]
struct Step {
    before: usize,
    kind: usize,
    count: u64,
}

const NOTHING: State = State {
    size: 0,
    value: 0,
    step: 0,
};

struct Packing {
    room: u64,
    steps: Vec<Step>,
    states: Vec<State>,
    best: State,
    /// Only what is worth more is looked for.
    above: u64,
    dropped: u64,
    work: u64,
}

impl Packing {
    fn new(room: u64, above: u64) -> Packing {
        let start = Step {
            before: 0,
            kind: 0,
            count: 0,
        };
        Packing {
            room,
            steps: vec![start],
            states: Vec::new(),
            best: NOTHING,
            above,
            dropped: 0,
            work: 0,
        }
    }

    /// The first `needs` items are those of which one has to be there; 0 if it does not matter.
    fn run(mut self, items: &[Item], needs: usize) -> Found {
        let mut worth_after = vec![(0, 1); items.len() + 1];
        for (at, item) in items.iter().enumerate().rev() {
            let (value, size) = worth_after[at + 1];
            let better = u128::from(item.value) * u128::from(size)
                > u128::from(value) * u128::from(item.size);
            worth_after[at] = if better {
                (item.value, item.size)
            } else {
                (value, size)
            };
        }
        if needs == 0 {
            self.states.push(NOTHING);
        }
        for (at, item) in items.iter().enumerate() {
            let mut left = item.count.min(self.room / item.size);
            let mut chunk = 1;
            while left > 0 {
                let count = chunk.min(left);
                self.add(*item, count, at < needs);
                left -= count;
                chunk *= 2;
            }
            self.prune(worth_after[at + 1]);
        }
        Found {
            parts: self.parts(),
            value: self.best.value,
            at_most: self.best.value.max(self.above).max(self.dropped),
            work: self.work,
        }
    }

    /// What there is, and the same with `count` more; `from_nothing` also these alone.
    fn add(&mut self, item: Item, count: u64, from_nothing: bool) {
        let (size, value) = (item.size * count, item.value * count);
        let nothing = from_nothing.then_some(NOTHING);
        let base: Vec<State> = nothing
            .into_iter()
            .chain(self.states.iter().copied())
            .collect();
        let fitting = base.partition_point(|state| state.size + size <= self.room);
        let mut merged: Vec<State> = Vec::with_capacity(self.states.len() + fitting);
        let mut old = self.states.iter().copied().peekable();
        for before in &base[..fitting] {
            let new = State {
                size: before.size + size,
                value: before.value + value,
                step: self.steps.len(),
            };
            while let Some(state) = old.next_if(|state| state.size <= new.size) {
                keep(&mut merged, state);
            }
            if keep(&mut merged, new) {
                self.steps.push(Step {
                    before: before.step,
                    kind: item.kind,
                    count,
                });
                if new.value > self.best.value {
                    self.best = new;
                }
            }
        }
        old.for_each(|state| {
            keep(&mut merged, state);
        });
        self.work += merged.len() as u64;
        self.states = merged;
    }

    /// Leaves away what cannot come to more than the best.
    fn prune(&mut self, (value, size): (u64, u64)) {
        let (room, least) = (self.room, self.best.value.max(self.above));
        let most = |state: &State| {
            let more = u128::from(room - state.size) * u128::from(value) / u128::from(size);
            state
                .value
                .saturating_add(u64::try_from(more).unwrap_or(u64::MAX))
        };
        self.states.retain(|state| most(state) > least);
        if self.states.len() > MOST_STATES {
            let mut all: Vec<u64> = self.states.iter().map(most).collect();
            all.sort_unstable_by(|a, b| b.cmp(a));
            let limit = all[MOST_STATES];
            self.dropped = self.dropped.max(limit);
            self.states.retain(|state| most(state) > limit);
        }
    }

    fn parts(&self) -> Vec<(usize, u64)> {
        let mut parts: Vec<(usize, u64)> = Vec::new();
        let mut at = self.best.step;
        while at != 0 {
            let step = self.steps[at];
            match parts.iter_mut().find(|(kind, _)| *kind == step.kind) {
                Some((_, count)) => *count += step.count,
                None => parts.push((step.kind, step.count)),
            }
            at = step.before;
        }
        parts
    }
}

/// Adds a state that is no shorter than all before, unless it is worth no more; what is as long and worth less
/// goes.
fn keep(states: &mut Vec<State>, new: State) -> bool {
    match states.last_mut() {
        Some(last) if last.value >= new.value => false,
        Some(last) if last.size == new.size => {
            *last = new;
            true
        }
        _ => {
            states.push(new);
            true
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::whole::{Bar, Kind};
    use super::*;

    /// A generator of its own, the same everywhere.
    fn numbers(mut state: u64) -> impl FnMut(u64, u64) -> u64 {
        move |least, most| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            least + (state >> 33) % (most + 1 - least)
        }
    }

    fn made_up(next: &mut impl FnMut(u64, u64) -> u64) -> (Whole, Vec<u64>) {
        let mut sizes: Vec<u64> = (0..next(1, 5)).map(|_| next(3, 40)).collect();
        sizes.sort_unstable_by(|a, b| b.cmp(a));
        sizes.dedup();
        let room = next(20, 90);
        let hold = [0, 15, 30][usize::try_from(next(0, 2)).unwrap()];
        let bar = Bar {
            stock: 0,
            room,
            room_held_by_rest: room.saturating_sub(hold),
            count: None,
            weight: 1,
            holds: sizes.iter().map(|size| *size >= hold).collect(),
        };
        let kind = |size: &u64| Kind {
            size: *size,
            count: 1 + size % 4,
            members: Vec::new(),
        };
        let whole = Whole {
            kinds: sizes.iter().map(kind).collect(),
            bars: vec![bar],
        };
        let values = sizes.iter().map(|_| next(0, 50)).collect();
        (whole, values)
    }

    /// Every choice of parts.
    fn by_trying(
        whole: &Whole,
        values: &[u64],
        kind: usize,
        size: u64,
        value: u64,
        held: bool,
    ) -> u64 {
        let bar = &whole.bars[0];
        let Some(own) = whole.kinds.get(kind) else {
            let room = if held {
                bar.room
            } else {
                bar.room_held_by_rest
            };
            return if size <= room { value } else { 0 };
        };
        let some = (0..=own.count).map(|count| {
            let held = held || (count > 0 && bar.holds[kind]);
            by_trying(
                whole,
                values,
                kind + 1,
                size + count * own.size,
                value + count * values[kind],
                held,
            )
        });
        some.max().unwrap()
    }

    #[test]
    fn nothing_is_worth_more() {
        let mut next = numbers(4);
        let mut held = 0;
        for _ in 0..2_000 {
            let (whole, values) = made_up(&mut next);
            let wanted = by_trying(&whole, &values, 0, 0, 0, false);
            let left = Left::all(&whole);
            let best = best_pattern(&whole, 0, &left, &values, 0);
            assert_eq!(
                (best.value, best.at_most),
                (wanted, wanted),
                "{whole:?} {values:?}"
            );
            // The pattern is worth that, and it can be cut.
            let parts = &best.pattern.parts;
            let worth: u64 = parts
                .iter()
                .map(|(kind, count)| values[*kind] * count)
                .sum();
            let size: u64 = parts
                .iter()
                .map(|(kind, count)| whole.kinds[*kind].size * count)
                .sum();
            let bar = &whole.bars[0];
            let holds = parts.iter().any(|(kind, _)| bar.holds[*kind]);
            let room = if holds {
                bar.room
            } else {
                bar.room_held_by_rest
            };
            assert_eq!(worth, wanted);
            assert!(size <= room || parts.is_empty(), "{whole:?} {best:?}");
            assert!(
                parts
                    .iter()
                    .all(|(kind, count)| *count <= left.parts[*kind])
            );
            held += usize::from(parts.len() > 1 && holds && !bar.holds.iter().all(|holds| *holds));
            // What is not above what is asked for is not told as more than that.
            let above = best_pattern(&whole, 0, &left, &values, wanted);
            assert!(above.at_most == wanted, "{above:?}");
        }
        assert!(held > 100, "{held}");
    }
}
