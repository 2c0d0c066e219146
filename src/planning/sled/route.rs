//! The way over a rack's key slots from notch to notch.

use crate::geometry::SAME_POSITION_MM;
use crate::machines::Rack;

/// A notch as the rack sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct NotchOnRack {
    /// Of its centre, square to the kerf, mm from the datum end.
    pub(super) at: f64,
    /// Whether its walls, as they are when the later notches are cut, bear on a key at all.
    pub(super) bears: bool,
    /// Whether the stop reaches it.
    pub(super) by_stop: bool,
}

/// How a notch is placed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Reached {
    /// Over the key.
    Key(RackHop),
    /// By the stop, which does better than this hop, the best over the key.
    StopRather(RackHop),
    /// By the stop: it is the first, or no slot reaches it.
    Stop,
}

impl Reached {
    /// The hop that places it.
    pub(super) fn hop(self) -> Option<RackHop> {
        match self {
            Reached::Key(hop) => Some(hop),
            Reached::StopRather(_) | Reached::Stop => None,
        }
    }
}

/// A notch reached by dropping an earlier one over the key.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RackHop {
    /// Index of the earlier notch, from 0.
    pub(super) on: usize,
    /// Index of the slot, from 0.
    pub(super) slot: usize,
    /// Greatest expected error against the first notch, mm.
    pub(super) worst_error: f64,
}

/// How far off the first notch's true grid a notch may lie: a known part and a scatter.
#[derive(Debug, Clone, Copy, Default)]
struct Standing {
    /// Sum of the slots' measured deviations, signed.
    bias: f64,
    /// Sum of squared repeatabilities.
    variance: f64,
}

impl Standing {
    /// Known deviations add up; independent scatter adds in squares: n hops over a slot with bias
    /// b and repeatability s come to n b and sqrt(n) s.
    fn worst(self) -> f64 {
        self.bias.abs() + self.variance.sqrt()
    }
}

/// For each notch, in the order in which they are cut, the hop that reaches it with the least
/// worst-case error, given how the earlier notches were placed. The stop places the first notch,
/// every notch that no slot reaches, and those that it reaches with less error than the best hop.
/// It scatters by `stop_scatter`, square to the kerf as all lengths here are.
///
/// The way is chosen notch by notch: no notch is placed worse than it could be in the hope that a
/// slot that is off the other way makes up for it at a later one. A notch drops over a key on the datum's side of the kerf, so only notches nearer the datum end
/// serve. Each notch is cut once, so the way to a later notch starts from the error that the
/// earlier one really has; hops from every earlier notch are tried, not from the last one only. Of
/// equal errors the hop from the nearest notch wins.
pub(super) fn route(places: &[NotchOnRack], rack: &Rack, stop_scatter: f64) -> Vec<Reached> {
    // Both the first notch's and a later one's setting of the stop scatter.
    let by_stop = Standing {
        bias: 0.0,
        variance: 2.0 * stop_scatter * stop_scatter,
    };
    let mut standings: Vec<Standing> = Vec::new();
    let mut all = Vec::new();
    for (index, place) in places.iter().enumerate() {
        let best = candidates(&standings, places, place.at, rack)
            .into_iter()
            .min_by(|(a, _), (b, _)| a.worst_error.total_cmp(&b.worst_error));
        let (reached, standing) = match best {
            Some((hop, _)) if place.by_stop && hop.worst_error > by_stop.worst() => {
                (Reached::StopRather(hop), by_stop)
            }
            Some((hop, standing)) => (Reached::Key(hop), standing),
            None if index == 0 => (Reached::Stop, Standing::default()),
            None => (Reached::Stop, by_stop),
        };
        standings.push(standing);
        all.push(reached);
    }
    all
}

/// All hops to `to` from the notches that stand already, the nearest first.
fn candidates(
    standings: &[Standing],
    places: &[NotchOnRack],
    to: f64,
    rack: &Rack,
) -> Vec<(RackHop, Standing)> {
    let mut from: Vec<_> = (standings.iter().zip(places).enumerate())
        .filter(|(_, (_, place))| place.bears && place.at < to)
        .collect();
    from.sort_by(|(_, (_, a)), (_, (_, b))| b.at.total_cmp(&a.at));
    let mut found = Vec::new();
    for (on, (start, place)) in from {
        for (slot, key) in rack.slots.iter().enumerate() {
            let misfit = key.measured - (to - place.at);
            if misfit.abs() > rack.greatest_misfit + SAME_POSITION_MM {
                continue;
            }
            let standing = Standing {
                bias: start.bias + misfit,
                variance: start.variance + rack.repeatability * rack.repeatability,
            };
            let hop = RackHop {
                on,
                slot,
                worst_error: standing.worst(),
            };
            found.push((hop, standing));
        }
    }
    found
}

/// Distances to a notch from those cut before it that a key could stand on.
fn distances(
    places: &[NotchOnRack],
    index: usize,
    shortest: f64,
) -> impl Iterator<Item = f64> + '_ {
    let to = places.get(index).map_or(f64::NAN, |place| place.at);
    let before = places.iter().take(index).filter(|place| place.bears);
    before
        .map(move |place| to - place.at)
        .filter(move |distance| *distance >= shortest)
}

/// Notches that no slot reaches, though a slot could: those that lie far enough behind one cut
/// before them.
pub(super) fn unreached(places: &[NotchOnRack], route: &[Reached], shortest: f64) -> Vec<usize> {
    (1..places.len())
        .filter(|&index| route.get(index) == Some(&Reached::Stop))
        .filter(|&index| distances(places, index, shortest).next().is_some())
        .collect()
}

/// Key distances to add to a rack so that every unreached notch is reached: each time the distance
/// that serves most of them, of equals the shortest. No distance below `shortest`, where the key
/// would stand in the kerf.
pub(super) fn missing_slots(places: &[NotchOnRack], route: &[Reached], shortest: f64) -> Vec<f64> {
    let mut unreached = unreached(places, route, shortest);
    let mut slots = Vec::new();
    while !unreached.is_empty() {
        let reaches = |&index: &usize| {
            distances(places, index, shortest).map(move |distance| (distance, index))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::RackSlot;
    use float_cmp::approx_eq;
    use proptest::prelude::*;

    fn rack(slots: &[(f64, f64)]) -> Rack {
        let slots = slots
            .iter()
            .map(|&(nominal, measured)| RackSlot { nominal, measured })
            .collect();
        Rack {
            slots,
            repeatability: 0.03,
            greatest_misfit: 0.15,
        }
    }

    fn places(centres: &[f64]) -> Vec<NotchOnRack> {
        let place = |at: &f64| NotchOnRack {
            at: *at,
            bears: true,
            by_stop: false,
        };
        centres.iter().map(place).collect()
    }

    fn hops_of(places: &[NotchOnRack], rack: &Rack) -> Vec<Option<RackHop>> {
        let route = route(places, rack, 0.1);
        route.into_iter().map(Reached::hop).collect()
    }

    #[test]
    fn equal_hops_add_bias_and_scatter() {
        // n hops over one slot: n b + sqrt(n) s.
        let centres: Vec<f64> = (0..5).map(|n| 20.0 + 50.0 * f64::from(n)).collect();
        let hops = hops_of(&places(&centres), &rack(&[(50.0, 50.02)]));
        assert!(hops[0].is_none());
        for (n, hop) in hops.iter().enumerate().skip(1) {
            let hop = hop.unwrap();
            assert_eq!(hop.on, n - 1);
            let wanted = 0.02 * n as f64 + 0.03 * (n as f64).sqrt();
            assert!(approx_eq!(f64, hop.worst_error, wanted, epsilon = 1e-12));
        }
    }

    #[test]
    fn a_longer_true_slot_beats_two_short_false_ones() {
        let centres = [20.0, 70.0, 120.0];
        let hops = hops_of(&places(&centres), &rack(&[(50.0, 50.1), (100.0, 100.0)]));
        let last = hops[2].unwrap();
        assert_eq!((last.on, last.slot), (0, 1));
        assert!(approx_eq!(f64, last.worst_error, 0.03, epsilon = 1e-12));
    }

    #[test]
    fn the_stop_places_what_it_reaches_better_and_later_hops_start_from_that() {
        // The stop: sqrt 2 x 0.1 = 0.1414. Hops of bias 0.05: 0.05 + 0.03 = 0.08; two of them
        // 0.1 + 0.03 sqrt 2 = 0.1424, so the stop has the third notch. From there, beyond the
        // stop, 0.05 + sqrt(2 x 0.1^2 + 0.03^2) = 0.1946, and not 0.15 + 0.03 sqrt 3 = 0.2020.
        let mut places = places(&[20.0, 70.0, 120.0, 170.0]);
        for place in &mut places[..3] {
            place.by_stop = true;
        }
        let route = route(&places, &rack(&[(50.0, 50.05)]), 0.1);
        assert_eq!(route[0], Reached::Stop);
        let near = |a: f64, b: f64| assert!(approx_eq!(f64, a, b, epsilon = 5e-5), "{a} {b}");
        let [
            Reached::Key(second),
            Reached::StopRather(third),
            Reached::Key(fourth),
        ] = route[1..]
        else {
            panic!("{route:?}");
        };
        near(second.worst_error, 0.08);
        near(third.worst_error, 0.1424);
        near(fourth.worst_error, 0.1946);
        // A slot is there for the third: none is missing.
        assert!(missing_slots(&places, &route, 5.0).is_empty());
    }

    #[test]
    fn a_slot_that_measures_the_step_reaches_it_and_others_do_not() {
        // Computed: slots every 8 mm from 24 to 96 have one of 48, and none of 42.
        let slots: Vec<_> = (3..=12)
            .map(|n| (8.0 * f64::from(n), 8.0 * f64::from(n)))
            .collect();
        let hops = hops_of(&places(&[20.0, 68.0, 116.0]), &rack(&slots));
        assert!(hops[1].is_some() && hops[2].is_some());
        let hops = route(&places(&[20.0, 62.0, 104.0]), &rack(&slots), 0.1);
        assert_eq!(hops, vec![Reached::Stop; 3]);
        assert_eq!(
            missing_slots(&places(&[20.0, 62.0, 104.0]), &hops, 5.0),
            vec![42.0]
        );
    }

    #[test]
    fn a_key_stands_only_on_sound_slots_nearer_the_datum_end() {
        // Deeper notches at 70 and 170 are cut first, then those at 20, 120 and 220.
        let mut order = places(&[70.0, 170.0, 20.0, 120.0, 220.0]);
        let rack = rack(&[(50.0, 50.0), (100.0, 100.0)]);
        let on = |order: &[NotchOnRack]| -> Vec<Option<usize>> {
            let hops = hops_of(order, &rack);
            hops.iter().map(|hop| hop.map(|hop| hop.on)).collect()
        };
        assert_eq!(on(&order), [None, Some(0), None, Some(0), Some(1)]);
        // The one at 20 lies before all that was cut: no slot is missing for it.
        let hops = route(&order, &rack, 0.1);
        assert!(unreached(&order, &hops, 5.0).is_empty());
        order[0].bears = false;
        assert_eq!(on(&order), [None, None, None, Some(2), Some(1)]);
        let hops = route(&order, &rack, 0.1);
        assert!(missing_slots(&order, &hops, 5.0).is_empty());
    }

    /// Least worst-case error of any way to each notch, all others held as `route` left them.
    fn brute_force(
        centres: &[f64],
        rack: &Rack,
        hops: &[Option<RackHop>],
        at: usize,
    ) -> Option<f64> {
        fn bias_and_count(
            hops: &[Option<RackHop>],
            centres: &[f64],
            rack: &Rack,
            at: usize,
        ) -> (f64, f64) {
            match hops[at] {
                Some(hop) => {
                    let (bias, variance) = bias_and_count(hops, centres, rack, hop.on);
                    let misfit = rack.slots[hop.slot].measured - (centres[at] - centres[hop.on]);
                    (bias + misfit, variance + rack.repeatability.powi(2))
                }
                None if at == 0 => (0.0, 0.0),
                None => (0.0, 2.0 * 0.1 * 0.1),
            }
        }
        let mut best: Option<f64> = None;
        for on in 0..at {
            for slot in &rack.slots {
                let misfit = slot.measured - (centres[at] - centres[on]);
                if misfit.abs() <= rack.greatest_misfit + 1e-9 {
                    let (bias, variance) = bias_and_count(hops, centres, rack, on);
                    let worst =
                        (bias + misfit).abs() + (variance + rack.repeatability.powi(2)).sqrt();
                    best = Some(best.map_or(worst, |known| known.min(worst)));
                }
            }
        }
        best
    }

    proptest! {
        #[test]
        fn no_other_hop_is_better(
            pitches in prop::collection::vec(2_u32..8, 1..8),
            errors in prop::collection::vec(-0.1_f64..0.1, 9),
        ) {
            let mut centres = vec![20.0];
            for pitch in &pitches {
                centres.push(centres[centres.len() - 1] + 10.0 * f64::from(*pitch));
            }
            let slots: Vec<_> = errors
                .iter()
                .zip(2..)
                .map(|(error, n)| (10.0 * f64::from(n), 10.0 * f64::from(n) + error))
                .collect();
            let rack = rack(&slots);
            let hops = hops_of(&places(&centres), &rack);
            for at in 1..centres.len() {
                let best = brute_force(&centres, &rack, &hops, at);
                prop_assert_eq!(hops[at].is_some(), best.is_some());
                if let (Some(hop), Some(best)) = (hops[at], best) {
                    prop_assert!(approx_eq!(f64, hop.worst_error, best, epsilon = 1e-12));
                }
            }
        }
    }
}
