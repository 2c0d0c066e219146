//! The way over a rack's key slots from notch to notch.

use crate::geometry::SAME_POSITION_MM;
use crate::machines::Rack;

/// A notch reached by dropping an earlier one over the key.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hop {
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

/// For each notch (centres in mm from the datum end, in order) the hop that reaches it with the
/// least worst-case error, given how the earlier notches were reached; `None` for the first notch
/// and for every notch that no slot reaches. Those are placed by the stop, with `stop_scatter`.
///
/// Each notch is cut once, so the way to a later notch starts from the error that the earlier one
/// really has; hops from every earlier notch are tried, not from the last one only. Of equal
/// errors the hop from the nearest notch wins.
pub(super) fn route(centres: &[f64], rack: &Rack, stop_scatter: f64) -> Vec<Option<Hop>> {
    let mut standings: Vec<Standing> = Vec::new();
    let mut hops = Vec::new();
    for (at, &centre) in centres.iter().enumerate() {
        let best = candidates(&standings, centres, centre, rack)
            .min_by(|(a, _), (b, _)| a.worst_error.total_cmp(&b.worst_error));
        // Both the first notch's and this one's setting of the stop scatter.
        let by_stop = Standing {
            bias: 0.0,
            variance: 2.0 * stop_scatter * stop_scatter,
        };
        standings.push(match best {
            Some((_, standing)) => standing,
            None if at == 0 => Standing::default(),
            None => by_stop,
        });
        hops.push(best.map(|(hop, _)| hop));
    }
    hops
}

/// All hops to `centre` from the notches that stand already, the nearest first.
fn candidates<'a>(
    standings: &'a [Standing],
    centres: &'a [f64],
    centre: f64,
    rack: &'a Rack,
) -> impl Iterator<Item = (Hop, Standing)> + 'a {
    let from = standings.iter().zip(centres).enumerate().rev();
    from.flat_map(move |(on, (start, &earlier))| {
        rack.slots
            .iter()
            .enumerate()
            .filter_map(move |(slot, key)| {
                let misfit = key.measured - (centre - earlier);
                if misfit.abs() > rack.greatest_misfit + SAME_POSITION_MM {
                    return None;
                }
                let scatter = rack.repeatability * rack.repeatability;
                let standing = Standing {
                    bias: start.bias + misfit,
                    variance: start.variance + scatter,
                };
                Some((
                    Hop {
                        on,
                        slot,
                        worst_error: standing.worst(),
                    },
                    standing,
                ))
            })
    })
}

/// Key distances to add to a rack so that every unreached notch is reached: each time the distance
/// that serves most of them, of equals the shortest. No distance below `shortest`, where the key
/// would stand in the kerf.
pub(super) fn missing_slots(centres: &[f64], hops: &[Option<Hop>], shortest: f64) -> Vec<f64> {
    let mut unreached: Vec<usize> = (1..centres.len())
        .filter(|&at| hops.get(at).is_some_and(Option::is_none))
        .collect();
    let mut slots = Vec::new();
    while !unreached.is_empty() {
        let serves = |distance: f64, at: usize| {
            let to = centres.get(at).copied().unwrap_or(f64::NAN);
            centres
                .iter()
                .take(at)
                .any(|from| (to - from - distance).abs() < SAME_POSITION_MM)
        };
        let distances = unreached.iter().flat_map(|&at| {
            let to = centres.get(at).copied().unwrap_or(f64::NAN);
            centres.iter().take(at).map(move |from| to - from)
        });
        let best = distances
            .filter(|distance| *distance >= shortest)
            .map(|distance| {
                (
                    unreached.iter().filter(|&&at| serves(distance, at)).count(),
                    distance,
                )
            })
            .max_by(|(n, a), (m, b)| n.cmp(m).then(b.total_cmp(a)));
        let Some((_, slot)) = best else { break };
        slots.push(slot);
        unreached.retain(|&at| !serves(slot, at));
    }
    slots
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::machines::Slot;
    use proptest::prelude::*;

    fn rack(slots: &[(f64, f64)]) -> Rack {
        let slots = slots
            .iter()
            .map(|&(nominal, measured)| Slot { nominal, measured })
            .collect();
        Rack {
            slots,
            repeatability: 0.03,
            greatest_misfit: 0.15,
        }
    }

    #[test]
    fn equal_hops_add_bias_and_scatter() {
        // n hops over one slot: n b + sqrt(n) s.
        let centres: Vec<f64> = (0..5).map(|n| 20.0 + 50.0 * f64::from(n)).collect();
        let hops = route(&centres, &rack(&[(50.0, 50.02)]), 0.1);
        assert!(hops[0].is_none());
        for (n, hop) in hops.iter().enumerate().skip(1) {
            let hop = hop.unwrap();
            assert_eq!(hop.on, n - 1);
            let wanted = 0.02 * n as f64 + 0.03 * (n as f64).sqrt();
            assert!((hop.worst_error - wanted).abs() < 1e-12);
        }
    }

    #[test]
    fn a_longer_true_slot_beats_two_short_false_ones() {
        let centres = [20.0, 70.0, 120.0];
        let hops = route(&centres, &rack(&[(50.0, 50.1), (100.0, 100.0)]), 0.1);
        let last = hops[2].unwrap();
        assert_eq!((last.on, last.slot), (0, 1));
        assert!((last.worst_error - 0.03).abs() < 1e-12);
    }

    #[test]
    fn key_slots_every_ten_reach_fifty() {
        // Slots every 10 mm from 20 to 100 reach a pitch of 50: common practice, no source.
        let slots: Vec<_> = (2..=10)
            .map(|n| (10.0 * f64::from(n), 10.0 * f64::from(n)))
            .collect();
        let hops = route(&[20.0, 70.0, 120.0], &rack(&slots), 0.1);
        assert!(hops[1].is_some() && hops[2].is_some());
        let hops = route(&[20.0, 62.0, 104.0], &rack(&slots), 0.1);
        assert_eq!(hops, vec![None; 3]);
        assert_eq!(missing_slots(&[20.0, 62.0, 104.0], &hops, 5.0), vec![42.0]);
    }

    /// Least worst-case error of any way to each notch, all others held as `route` left them.
    fn brute_force(centres: &[f64], rack: &Rack, hops: &[Option<Hop>], at: usize) -> Option<f64> {
        fn bias_and_count(
            hops: &[Option<Hop>],
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
            let hops = route(&centres, &rack, 0.1);
            for at in 1..centres.len() {
                let best = brute_force(&centres, &rack, &hops, at);
                prop_assert_eq!(hops[at].is_some(), best.is_some());
                if let (Some(hop), Some(best)) = (hops[at], best) {
                    prop_assert!((hop.worst_error - best).abs() < 1e-12);
                }
            }
        }
    }
}
