//! The order in which a key goes through its slots: as few moves as there can be.
//!
//! Wherever it stands, all is cut that hangs on notches which are there: to leave one for later never saves
//! a move. So what is cut follows from the slots gone through. Searched best first; from any state at least
//! as many moves are left as slots are wanted, and as the longest chain of notches that hang on each other
//! changes its slot.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap, HashSet};

/// A notch over the key.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hop {
    /// Index of the slot.
    pub(super) slot: usize,
    /// Index of an earlier hop, whose notch drops over the key; nothing where that one is there before.
    pub(super) after: Option<usize>,
}

/// More states than this are not looked at: a few tenths of a second.
const MOST_STATES: usize = 4_000;

/// The hops as they are cut, place by place: the fewest moves; beyond [`MOST_STATES`], always on to the slot that
/// serves most.
pub(super) fn fewest_moves(hops: &[Hop]) -> Vec<Vec<usize>> {
    let search = Search::new(hops);
    let start = State {
        done: vec![false; hops.len()],
        slots: Vec::new(),
    };
    let way = search.best(&start).unwrap_or_else(|| search.greedy(start));
    let mut done = vec![false; hops.len()];
    let places = way.into_iter().map(|slot| search.cut(&mut done, slot));
    places.collect()
}

#[derive(Debug, Clone)]
struct State {
    done: Vec<bool>,
    /// Gone through so far.
    slots: Vec<usize>,
}

struct Search<'a> {
    hops: &'a [Hop],
    slots: usize,
    /// For each hop how many places the longest chain from it on takes.
    chain: Vec<usize>,
}

impl<'a> Search<'a> {
    fn new(hops: &'a [Hop]) -> Search<'a> {
        let mut chain = vec![1_usize; hops.len()];
        for (at, hop) in hops.iter().enumerate().rev() {
            let own = chain.get(at).copied().unwrap_or(1);
            let before = hop.after.and_then(|after| Some((after, hops.get(after)?)));
            let Some((after, before)) = before else {
                continue;
            };
            if let Some(longest) = chain.get_mut(after) {
                *longest = (*longest).max(own + usize::from(before.slot != hop.slot));
            }
        }
        Search {
            hops,
            slots: hops.iter().map(|hop| hop.slot + 1).max().unwrap_or(0),
            chain,
        }
    }

    /// Whether a hop can be cut, and is not.
    fn is_open(&self, done: &[bool], at: usize) -> bool {
        let is_done = |at: usize| done.get(at).copied().unwrap_or(true);
        let hop = self.hops.get(at);
        !is_done(at) && hop.is_some_and(|hop| hop.after.is_none_or(is_done))
    }

    fn open<'b>(&'b self, done: &'b [bool]) -> impl Iterator<Item = (usize, &'b Hop)> {
        let hops = self.hops.iter().enumerate();
        hops.filter(|(at, _)| self.is_open(done, *at))
    }

    /// All that can be cut with the key in a slot. A hop hangs on an earlier one, so one way through does.
    fn cut(&self, done: &mut [bool], slot: usize) -> Vec<usize> {
        let mut cut = Vec::new();
        for (at, hop) in self.hops.iter().enumerate() {
            if hop.slot == slot && self.is_open(done, at) {
                if let Some(own) = done.get_mut(at) {
                    *own = true;
                }
                cut.push(at);
            }
        }
        cut
    }

    /// No way takes fewer moves from here.
    fn least(&self, done: &[bool]) -> usize {
        let left = self.hops.iter().zip(done).filter(|(_, done)| !**done);
        let slots: HashSet<usize> = left.map(|(hop, _)| hop.slot).collect();
        let chains = self.open(done).filter_map(|(at, _)| self.chain.get(at));
        chains.copied().max().unwrap_or(0).max(slots.len())
    }

    /// The slots of a way with fewest moves; nothing where that takes too long.
    fn best(&self, start: &State) -> Option<Vec<usize>> {
        let mut states = vec![start.clone()];
        let mut fewest = HashMap::from([(start.done.clone(), start.slots.len())]);
        let mut next = BinaryHeap::from([(Reverse(self.least(&start.done)), Reverse(0))]);
        while let Some((_, Reverse(at))) = next.pop() {
            let state = states.get(at)?.clone();
            if state.done.iter().all(|done| *done) {
                return Some(state.slots);
            }
            for slot in 0..self.slots {
                let mut on = state.clone();
                on.slots.push(slot);
                let known = |so_far: &usize| *so_far <= on.slots.len();
                if self.cut(&mut on.done, slot).is_empty()
                    || fewest.get(&on.done).is_some_and(known)
                {
                    continue;
                }
                if states.len() == MOST_STATES {
                    return None;
                }
                fewest.insert(on.done.clone(), on.slots.len());
                let moves = on.slots.len() + self.least(&on.done);
                next.push((Reverse(moves), Reverse(states.len())));
                states.push(on);
            }
        }
        None
    }

    fn greedy(&self, mut state: State) -> Vec<usize> {
        loop {
            let serves = |slot: &usize| self.cut(&mut state.done.clone(), *slot).len();
            let most = (0..self.slots).max_by_key(|slot| (serves(slot), Reverse(*slot)));
            let Some(slot) = most.filter(|slot| serves(slot) > 0) else {
                return state.slots;
            };
            self.cut(&mut state.done, slot);
            state.slots.push(slot);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn hop(slot: usize, after: Option<usize>) -> Hop {
        Hop { slot, after }
    }

    /// Fewest moves by trying all orders of single hops, one after the other.
    fn brute(hops: &[Hop], done: &mut Vec<bool>, slot: Option<usize>) -> usize {
        if done.iter().all(|done| *done) {
            return 0;
        }
        let mut least = usize::MAX;
        for at in 0..hops.len() {
            if done[at] || hops[at].after.is_some_and(|after| !done[after]) {
                continue;
            }
            done[at] = true;
            let moved = usize::from(slot != Some(hops[at].slot));
            least = least.min(moved + brute(hops, done, Some(hops[at].slot)));
            done[at] = false;
        }
        least
    }

    #[test]
    fn a_uniform_grid_takes_one_slot() {
        let chain = |from: usize| (0..4).map(move |at| (at > 0).then(|| from + at - 1));
        let hops: Vec<Hop> = chain(0)
            .chain(chain(4))
            .map(|after| hop(0, after))
            .collect();
        assert_eq!(fewest_moves(&hops), [(0..8).collect::<Vec<_>>()]);
    }

    #[test]
    fn chains_that_cross_are_taken_together() {
        // One strip wants slots 0, 1, 0, another 1, 0: begun with 0, slot 1 serves both, then 0 again.
        let hops = [
            hop(0, None),
            hop(1, Some(0)),
            hop(0, Some(1)),
            hop(1, None),
            hop(0, Some(3)),
        ];
        assert_eq!(fewest_moves(&hops), [vec![0], vec![1, 3], vec![2, 4]]);
    }

    fn chains() -> impl Strategy<Value = Vec<Hop>> {
        let hop = (0..3_usize, any::<bool>(), any::<prop::sample::Index>());
        prop::collection::vec(hop, 1..8).prop_map(|drawn| {
            let hops = drawn
                .into_iter()
                .enumerate()
                .map(|(at, (slot, roots, on))| Hop {
                    slot,
                    after: (at > 0 && !roots).then(|| on.index(at.max(1))),
                });
            hops.collect()
        })
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]

        #[test]
        fn no_order_of_the_same_hops_moves_the_key_less(hops in chains()) {
            let places = fewest_moves(&hops);
            let mut cut: Vec<usize> = Vec::new();
            for place in &places {
                prop_assert!(!place.is_empty());
                for at in place {
                    prop_assert_eq!(hops[*at].slot, hops[place[0]].slot);
                    prop_assert!(hops[*at].after.is_none_or(|after| cut.contains(&after)));
                    cut.push(*at);
                }
            }
            cut.sort_unstable();
            prop_assert_eq!(cut, (0..hops.len()).collect::<Vec<_>>());
            prop_assert_eq!(places.len(), brute(&hops, &mut vec![false; hops.len()], None));
        }
    }
}
