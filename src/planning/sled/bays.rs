//! Bays from notch to notch of a strip, and how far two that are drawn equal come out different.

use super::course::{Course, Placing, Standing};
use super::scatter::Scatter;
use crate::geometry::tolerance::POSITION;
use float_cmp::ApproxEq;

/// From one notch to its neighbour: indices in the order in which they are cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bay {
    pub(super) from: usize,
    pub(super) to: usize,
    /// As drawn, square to the kerf.
    pub(super) step: f64,
}

impl Bay {
    /// The notch of it that is cut last.
    fn done_with(&self) -> usize {
        self.from.max(self.to)
    }

    fn is_like(&self, other: &Bay) -> bool {
        self.step.approx_eq(other.step, POSITION)
    }
}

/// Two bays drawn equal, and what the second comes out wider than the first.
#[derive(Debug, Clone, Copy)]
pub(super) struct Difference {
    pub(super) bays: [Bay; 2],
    pub(super) standing: Standing,
}

/// The bays of a course that have one like them.
pub(super) struct Bays(Vec<Bay>);

impl Bays {
    pub(super) fn none() -> Bays {
        Bays(Vec::new())
    }

    pub(super) fn of(course: &Course<'_>) -> Bays {
        let notches = course.notches.iter().enumerate();
        let mut bounds: Vec<(usize, f64)> = notches
            .filter(|(_, notch)| notch.bounds_bays)
            .map(|(index, notch)| (index, notch.at))
            .collect();
        bounds.sort_by(|a, b| a.1.total_cmp(&b.1));
        let all: Vec<Bay> = (bounds.windows(2))
            .filter_map(|pair| {
                let &[(from, near), (to, far)] = pair else {
                    return None;
                };
                let step = far - near;
                Some(Bay { from, to, step })
            })
            .collect();
        let alike = |bay: &&Bay| {
            all.iter()
                .any(|other| *other != **bay && bay.is_like(other))
        };
        Bays(all.iter().filter(alike).copied().collect())
    }

    /// No two bays drawn equal differ less than this, however their notches are placed: the notch cut last
    /// of both, and one more of them, have an error of their own in the difference.
    pub(super) fn least(&self, course: &Course<'_>) -> f64 {
        let hop = course.rack.map(|_| course.hop);
        let ends = (0..course.notches.len()).map(|index| course.end(index));
        let own = (ends.chain(hop)).min_by(|a, b| a.variance().total_cmp(&b.variance()));
        let own = own.unwrap_or_default();
        if self.0.is_empty() {
            return 0.0;
        }
        own.and(own).expanded(0.0)
    }

    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Pairs drawn equal of which one is done with that notch, and the other too.
    fn pairs_done_with(&self, index: usize) -> impl Iterator<Item = [Bay; 2]> + '_ {
        let done = self.0.iter().filter(move |bay| bay.done_with() == index);
        done.flat_map(move |bay| {
            let others = self.0.iter().filter(move |other| {
                let sooner = other.done_with() < index
                    || (other.done_with() == index && other.from < bay.from);
                sooner && bay.is_like(other)
            });
            others.map(move |other| [*other, *bay])
        })
    }

    /// The greatest expected difference of two bays drawn equal that are done with the last of these
    /// placings.
    pub(super) fn greatest_of_last(
        &self,
        course: &Course<'_>,
        placings: &[Placing],
        standings: &[Standing],
    ) -> f64 {
        let last = placings.len().saturating_sub(1);
        let pairs = self.pairs_done_with(last);
        pairs
            .map(|bays| {
                difference(course, placings, standings, bays)
                    .standing
                    .expanded()
            })
            .fold(0.0, f64::max)
    }

    /// All pairs of bays drawn equal.
    pub(super) fn differences(
        &self,
        course: &Course<'_>,
        placings: &[Placing],
        standings: &[Standing],
    ) -> Vec<Difference> {
        let pairs = (0..placings.len()).flat_map(|index| self.pairs_done_with(index));
        pairs
            .map(|bays| difference(course, placings, standings, bays))
            .collect()
    }
}

/// What the second of two bays comes out wider: the ends' errors with their signs. What two notches owe to
/// the same hops and settings falls out; what stays adds in squares.
fn difference(
    course: &Course<'_>,
    placings: &[Placing],
    standings: &[Standing],
    bays: [Bay; 2],
) -> Difference {
    let [first, second] = bays;
    let ends = [
        (first.from, 1.0),
        (first.to, -1.0),
        (second.from, -1.0),
        (second.to, 1.0),
    ];
    let mut known = 0.0;
    let mut own = vec![0.0; placings.len()];
    let mut datum = 0.0;
    for (mut index, sign) in ends {
        known += sign
            * standings
                .get(index)
                .map_or(f64::NAN, |standing| standing.known);
        loop {
            if index == 0 {
                break;
            }
            if let Some(count) = own.get_mut(index) {
                *count += sign;
            }
            match placings.get(index) {
                Some(Placing::OverKey { on, .. }) => index = *on,
                _ => {
                    datum -= sign;
                    break;
                }
            }
        }
    }
    let mut scatter = course.datum().times(datum);
    for (index, (count, placing)) in own.iter().zip(placings).enumerate() {
        let each = match placing {
            Placing::AtEnd => course.end(index),
            Placing::OverKey { .. } => course.hop,
        };
        scatter = Scatter::and(scatter, each.times(*count));
    }
    Difference {
        bays,
        standing: Standing { known, scatter },
    }
}
