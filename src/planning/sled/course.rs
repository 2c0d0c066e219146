//! The notches of a strip as a rack sees them, and how each can be placed.

use super::scatter::Scatter;
use crate::geometry::SAME_POSITION_MM;
use crate::machines::Rack;

/// A notch as the rack sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct NotchOnRack {
    /// Of its centre, square to the kerf, mm from the datum end.
    pub(super) at: f64,
    /// Only notches of the same one fit over a key.
    pub(super) clamping: usize,
    /// Whether its walls, as they are when the later notches are cut, bear on a key at all.
    pub(super) bears: bool,
    /// What it scatters about its place from the datum end by stop or spacers, where they reach it.
    pub(super) at_end: Option<Scatter>,
    /// Whether a strip lies in it, so that a bay begins and ends there.
    pub(super) bounds_bays: bool,
}

/// How a notch is placed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Placing {
    /// By the strip's end, against stop or spacers.
    AtEnd,
    /// By dropping an earlier notch over the key.
    OverKey {
        /// Index of the earlier notch, from 0.
        on: usize,
        /// Index of the slot, from 0.
        slot: usize,
    },
}

/// How far a figure may be off: what is known of it, and the rest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Standing {
    /// Sum of the slots' measured deviations, signed.
    pub(super) known: f64,
    pub(super) scatter: Scatter,
}

impl Standing {
    /// Its expanded uncertainty.
    pub(super) fn expanded(self) -> f64 {
        self.scatter.expanded(self.known)
    }
}

/// Notches of a strip for mates at one angle, in the order in which they are cut. Lengths are square to the
/// kerf. Errors are counted from the first of them, the datum notch: what it is off by itself shifts the
/// whole strip against these mates and goes off with its overhang.
pub(super) struct Course<'a> {
    pub(super) notches: Vec<NotchOnRack>,
    pub(super) rack: Option<&'a Rack>,
    /// What a setting of the stop scatters.
    pub(super) stop: Scatter,
    /// What a hop over the key scatters.
    pub(super) hop: Scatter,
}

impl Course<'_> {
    /// What a notch's own setting by stop or spacers scatters.
    pub(super) fn end(&self, index: usize) -> Scatter {
        let notch = self.notches.get(index);
        notch.and_then(|notch| notch.at_end).unwrap_or(self.stop)
    }

    /// What the datum notch scatters about its place from the datum end.
    pub(super) fn datum(&self) -> Scatter {
        self.end(0)
    }

    /// What a slot measures more than the step that it is used for.
    pub(super) fn misfit(&self, index: usize, on: usize, slot: usize) -> f64 {
        let at = |index: usize| self.notches.get(index).map_or(f64::NAN, |notch| notch.at);
        let slot = self.rack.and_then(|rack| rack.slots.get(slot));
        slot.map_or(f64::NAN, |slot| slot.measured - (at(index) - at(on)))
    }

    /// All ways to place a notch: over the key, hops from the nearest notches first, then by its end. A
    /// notch drops over a key on the datum's side of the kerf, so only notches nearer the datum end serve.
    /// One that nothing reaches is left to its end.
    pub(super) fn choices(&self, index: usize) -> Vec<Placing> {
        let Some(notch) = self.notches.get(index) else {
            return Vec::new();
        };
        let before = self.notches.iter().take(index).enumerate();
        let mut from: Vec<_> = before
            .filter(|(_, from)| from.clamping == notch.clamping && from.bears && from.at < notch.at)
            .collect();
        from.sort_by(|(_, a), (_, b)| b.at.total_cmp(&a.at));
        let slots = self.rack.map_or(0, |rack| rack.slots.len());
        let most = self.rack.map_or(0.0, |rack| rack.greatest_misfit) + SAME_POSITION_MM;
        let mut found: Vec<Placing> = (from.into_iter())
            .flat_map(|(on, _)| (0..slots).map(move |slot| (on, slot)))
            .filter(|(on, slot)| self.misfit(index, *on, *slot).abs() <= most)
            .map(|(on, slot)| Placing::OverKey { on, slot })
            .collect();
        if notch.at_end.is_some() || found.is_empty() {
            found.push(Placing::AtEnd);
        }
        found
    }

    /// Where a notch stands against the datum notch; `from`: where the one stands that it hops from. Known
    /// deviations add up; independent scatter adds in squares.
    pub(super) fn stand(&self, index: usize, placing: Placing, from: Standing) -> Standing {
        match placing {
            Placing::AtEnd if index == 0 => Standing::default(),
            Placing::AtEnd => Standing {
                known: 0.0,
                scatter: self.end(index).and(self.datum()),
            },
            Placing::OverKey { on, slot } => Standing {
                known: from.known + self.misfit(index, on, slot),
                scatter: from.scatter.and(self.hop),
            },
        }
    }

    /// Distances to a notch from those cut before it that a key could stand on.
    fn distances(&self, index: usize, shortest: f64) -> impl Iterator<Item = f64> + '_ {
        let to = self.notches.get(index);
        let before = self.notches.iter().take(index);
        let alike = before
            .filter(move |from| from.bears && to.is_some_and(|to| to.clamping == from.clamping));
        alike
            .map(move |from| to.map_or(f64::NAN, |to| to.at) - from.at)
            .filter(move |distance| *distance >= shortest)
    }

    /// Notches that no slot reaches, though a slot could: those that lie far enough behind one cut
    /// before them.
    pub(super) fn unreached(&self, shortest: f64) -> Vec<usize> {
        (1..self.notches.len())
            .filter(|&index| self.choices(index) == [Placing::AtEnd])
            .filter(|&index| self.distances(index, shortest).next().is_some())
            .collect()
    }

    /// Key distances to add to a rack so that every unreached notch is reached: each time the distance
    /// that serves most of them, of equals the shortest. No distance below `shortest`, where the key
    /// would stand in the kerf.
    pub(super) fn missing_slots(&self, shortest: f64) -> Vec<f64> {
        let mut unreached = self.unreached(shortest);
        let mut slots = Vec::new();
        while !unreached.is_empty() {
            let reaches = |&index: &usize| {
                (self.distances(index, shortest)).map(move |distance| (distance, index))
            };
            let mut pairs: Vec<(f64, usize)> = unreached.iter().flat_map(reaches).collect();
            pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
            let same = |a: &(f64, usize), b: &(f64, usize)| b.0 - a.0 < SAME_POSITION_MM;
            // Of equally long runs the last one wins, so they are taken from the longest distance.
            let runs: Vec<_> = pairs.chunk_by(same).rev().collect();
            let Some(best) = runs.into_iter().max_by_key(|run| run.len()) else {
                break;
            };
            slots.extend(best.first().map(|(distance, _)| *distance));
            unreached.retain(|index| !best.iter().any(|(_, served)| served == index));
        }
        slots
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::{PlusMinus, RackSlot};

    /// Notches of one clamping that the stop does not reach.
    fn course<'a>(centres: &[f64], rack: &'a Rack) -> Course<'a> {
        let notch = |at: &f64| NotchOnRack {
            at: *at,
            clamping: 0,
            bears: true,
            at_end: None,
            bounds_bays: true,
        };
        Course {
            notches: centres.iter().map(notch).collect(),
            rack: Some(rack),
            stop: Scatter::of(0.1, PlusMinus::Limits),
            hop: Scatter::of(0.03, PlusMinus::Limits),
        }
    }

    fn rack(slots: &[f64]) -> Rack {
        let slots = slots.iter().map(|&measured| RackSlot {
            nominal: measured,
            measured,
        });
        Rack {
            slots: slots.collect(),
            repeatability: 0.03,
            greatest_misfit: 0.15,
        }
    }

    fn on(course: &Course<'_>) -> Vec<Vec<usize>> {
        let of = |index| {
            let hops = course.choices(index).into_iter();
            let on = hops.filter_map(|placing| match placing {
                Placing::OverKey { on, .. } => Some(on),
                Placing::AtEnd => None,
            });
            on.collect()
        };
        (0..course.notches.len()).map(of).collect()
    }

    #[test]
    fn a_slot_that_measures_the_step_reaches_it_and_others_do_not() {
        // Slots every 8 mm from 24 to 96 have one of 48, and none of 42.
        let slots: Vec<f64> = (3..=12).map(|n| 8.0 * f64::from(n)).collect();
        let rack = rack(&slots);
        let served = course(&[20.0, 68.0, 116.0], &rack);
        assert_eq!(on(&served), [vec![], vec![0], vec![1, 0]]);
        assert!(served.missing_slots(5.0).is_empty());
        let unserved = course(&[20.0, 62.0, 104.0], &rack);
        assert_eq!(unserved.choices(1), [Placing::AtEnd]);
        assert_eq!(unserved.unreached(5.0), [1, 2]);
        assert_eq!(unserved.missing_slots(5.0), [42.0]);
    }

    #[test]
    fn a_key_stands_only_on_sound_slots_nearer_the_datum_end() {
        // Deeper notches at 70 and 170 are cut first, then those at 20, 120 and 220.
        let rack = rack(&[50.0, 100.0]);
        let mut order = course(&[70.0, 170.0, 20.0, 120.0, 220.0], &rack);
        assert_eq!(
            on(&order),
            [vec![], vec![0], vec![], vec![0, 2], vec![1, 3]]
        );
        // The one at 20 lies before all that was cut: no slot is missing for it.
        assert!(order.unreached(5.0).is_empty());
        order.notches[0].bears = false;
        assert_eq!(on(&order), [vec![], vec![], vec![], vec![2], vec![1, 3]]);
        assert!(order.missing_slots(5.0).is_empty());
        // Another face or slant fits no key.
        order.notches[2].clamping = 1;
        assert_eq!(on(&order)[3], Vec::<usize>::new());
    }
}
