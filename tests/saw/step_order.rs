//! The order of the steps at a saw: how often stop and key are moved, against every order of the same steps.

use crate::virtual_saw::{jobs, planned_as};
use lapwright::instructions::rounds::{PlaceCut, PlaceSet, Round};
use lapwright::instructions::sled::{Register, SledPlan, Step};
use lapwright::machines::StepOrder;
use lapwright::reading::shipped_machine;
use proptest::prelude::*;
use proptest::test_runner::Config;
use std::collections::{BTreeSet, HashMap};

/// More steps of one round than this are too many for all orders of them.
const MOST_STEPS: usize = 13;

/// Two figures that a person sets alike, mm.
fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// What stands on the sled, by places of this test's own numbering.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
struct Stands {
    stop: Option<usize>,
    key: Option<usize>,
}

/// A step of a round: where the stop or the key has to stand, and which step must be done before.
#[derive(Debug, Clone, Copy)]
struct Wanted {
    stop: Option<usize>,
    key: Option<usize>,
    after: Option<usize>,
    /// A notch of several passes leaves the stop elsewhere, but for the other blocks of this place.
    leaves: bool,
}

/// Places of stop and key that were met so far: number by number.
#[derive(Default)]
struct Places {
    /// Stop, spacers and passes.
    stops: Vec<(f64, f64, usize)>,
    keys: Vec<f64>,
}

impl Places {
    /// With several passes a place is one of stop and spacers together.
    fn stop(&mut self, at: f64, spacer: f64, passes: usize) -> usize {
        let spacer = if passes > 1 { spacer } else { 0.0 };
        let is = |known: &(f64, f64, usize)| {
            alike(known.0, at) && alike(known.1, spacer) && known.2 == passes
        };
        self.stops.iter().position(is).unwrap_or_else(|| {
            self.stops.push((at, spacer, passes));
            self.stops.len() - 1
        })
    }

    fn key(&mut self, slot: f64) -> usize {
        let known = self.keys.iter().position(|key| alike(*key, slot));
        known.unwrap_or_else(|| {
            self.keys.push(slot);
            self.keys.len() - 1
        })
    }
}

fn step_of<'a>(plan: &'a SledPlan, cut: &PlaceCut) -> &'a Step {
    let steps = plan.bundles[cut.bundle - 1].steps.iter();
    steps
        .into_iter()
        .find(|step| step.notch == cut.notch)
        .unwrap()
}

fn wanted(plan: &SledPlan, round: &Round, passes: usize, places: &mut Places) -> Vec<Wanted> {
    let cuts: Vec<&PlaceCut> = round.places.iter().flat_map(|place| &place.cuts).collect();
    let each = cuts.iter().map(|cut| match step_of(plan, cut).register {
        Register::Stop { stop_to_kerf_mm } => Wanted {
            stop: Some(places.stop(stop_to_kerf_mm, 0.0, passes)),
            key: None,
            after: None,
            leaves: passes > 1,
        },
        Register::Spacers {
            stop_to_kerf_mm,
            spacer_mm,
        } => Wanted {
            stop: Some(places.stop(stop_to_kerf_mm, spacer_mm, passes)),
            key: None,
            after: None,
            leaves: passes > 1,
        },
        Register::Key {
            slot_mm, on_notch, ..
        } => Wanted {
            stop: None,
            key: Some(places.key(slot_mm)),
            after: cuts
                .iter()
                .position(|other| other.bundle == cut.bundle && other.notch == on_notch),
            leaves: false,
        },
    });
    each.collect()
}

/// Settings of the stop and moves of the key for one more step, and what stands then.
fn done(step: &Wanted, stands: Stands) -> ([usize; 2], Stands) {
    match (step.stop, step.key) {
        (Some(stop), _) => {
            let set = usize::from(stands.stop != Some(stop));
            (
                [set, 0],
                Stands {
                    stop: Some(stop),
                    key: None,
                },
            )
        }
        (None, key) => {
            let moved = usize::from(stands.key != key);
            ([0, moved], Stands { stop: None, key })
        }
    }
}

/// The fewest settings of the stop and the fewest moves of the key, each for itself, of all orders of the steps
/// from a mask of those that are done.
fn fewest(
    steps: &[Wanted],
    mask: u32,
    stands: Stands,
    known: &mut HashMap<(u32, Stands), [usize; 2]>,
) -> [usize; 2] {
    if mask.count_ones() as usize == steps.len() {
        return [0, 0];
    }
    if let Some(found) = known.get(&(mask, stands)) {
        return *found;
    }
    let mut least = [usize::MAX; 2];
    for (at, step) in steps.iter().enumerate() {
        let open = step.after.is_none_or(|after| mask & 1 << after != 0);
        if mask & 1 << at != 0 || !open {
            continue;
        }
        let (moved, then) = done(step, stands);
        let rest = fewest(steps, mask | 1 << at, then, known);
        for which in 0..2 {
            least[which] = least[which].min(moved[which] + rest[which]);
        }
    }
    known.insert((mask, stands), least);
    least
}

/// How the plan does it.
fn as_planned(steps: &[Wanted], mut stands: Stands) -> ([usize; 2], Stands) {
    let mut all = [0, 0];
    for step in steps {
        let (moved, then) = done(step, stands);
        all = [all[0] + moved[0], all[1] + moved[1]];
        stands = then;
    }
    if steps.last().is_some_and(|step| step.leaves) {
        stands.stop = None;
    }
    (all, stands)
}

/// Every round against all orders of its steps: how many were small enough for that, and how often stop and key
/// are moved in all.
fn no_order_is_better(plan: &SledPlan) -> Result<(usize, [usize; 2]), String> {
    let (mut looked_at, mut all) = (0, [0, 0]);
    let (mut places, mut stands, mut fence) = (Places::default(), Stands::default(), None);
    let mut numbers = BTreeSet::new();
    for setting in &plan.settings {
        if fence.replace(setting.fence.clone()) != Some(setting.fence.clone()) {
            (places, stands) = (Places::default(), Stands::default());
        }
        for round in &setting.rounds {
            let steps = wanted(plan, round, setting.passes_per_notch, &mut places);
            let (ours, then) = as_planned(&steps, stands);
            if steps.len() <= MOST_STEPS {
                let least = fewest(&steps, 0, stands, &mut HashMap::new());
                if ours != least {
                    return Err(format!("{ours:?} settings, {least:?} would do: {round:?}"));
                }
                looked_at += 1;
            }
            let mut stops: Vec<usize> = steps.iter().filter_map(|step| step.stop).collect();
            stops.dedup();
            if stops.len() != stops.iter().collect::<BTreeSet<_>>().len() {
                return Err(format!("a stop is set twice in a round: {round:?}"));
            }
            all = [all[0] + ours[0], all[1] + ours[1]];
            stands = then;
            let told = round
                .places
                .iter()
                .filter_map(|place| place.set.stop_setting());
            numbers.extend(told);
        }
    }
    if numbers.into_iter().collect::<Vec<_>>() != (1..=all[0]).collect::<Vec<_>>() {
        return Err(format!("numbers of stops that are set {} times", all[0]));
    }
    Ok((looked_at, all))
}

/// Settings of the stop and moves of the key.
fn counted(plan: &SledPlan) -> [usize; 2] {
    let (mut stops, mut keys, mut slot) = (BTreeSet::new(), 0, None);
    for place in plan
        .settings
        .iter()
        .flat_map(|setting| &setting.rounds)
        .flat_map(|round| &round.places)
    {
        match place.set {
            PlaceSet::Key { slot_mm } => {
                keys += usize::from(!slot.is_some_and(|slot| alike(slot, slot_mm)));
                slot = Some(slot_mm);
            }
            PlaceSet::Stop { stop_setting, .. } | PlaceSet::Spacers { stop_setting, .. } => {
                stops.insert(stop_setting);
                slot = None;
            }
        }
    }
    [stops.len(), keys]
}

proptest! {
    #![proptest_config(Config { cases: 300, failure_persistence: None, max_global_rejects: 10_000, ..Config::default() })]

    #[test]
    fn no_order_of_the_same_steps_moves_stop_or_key_less((job, sled) in jobs()) {
        let found = planned_as(&job, &sled.toml(), StepOrder::Stops);
        prop_assume!(found.is_some());
        let plan = found.unwrap();
        let looked = no_order_is_better(&plan);
        prop_assert!(looked.is_ok(), "{}\n{job}\n{}", looked.unwrap_err(), sled.toml());
        prop_assert!(looked.unwrap().1[0] == counted(&plan)[0]);
        let by_bundle = planned_as(&job, &sled.toml(), StepOrder::Bundles).unwrap();
        let [stops, keys] = counted(&plan);
        let before = counted(&by_bundle);
        prop_assert!(stops <= before[0] && keys <= before[1], "{stops} {keys}, by bundle {before:?}\n{job}");
    }
}

/// Hexagons: every setting has as many places of the stop as its longest strips have notches, and the middle
/// family, notched in both faces, sets them twice, once where the stop stands already.
#[test]
fn a_hexagon_sets_a_stop_once_a_round() {
    for (rings, steps, places) in [(2, 48, [5, 4, 4, 5]), (3, 88, [7, 6, 6, 7])] {
        let job = format!(
            "title = \"Hexagon\"\n[grid]\nkind = \"triangular\"\nside = \"45 mm\"\nregion = \"hexagon\"\n\
             rings = {rings}\noverhang = \"20 mm\"\n[strip]\nthickness = \"3 mm\"\ndepth = \"15 mm\"\n"
        );
        let sled = shipped_machine("stop-sled").unwrap().text;
        let [stops, bundles] = [StepOrder::Stops, StepOrder::Bundles]
            .map(|order| planned_as(&job, sled, order).unwrap());
        assert_eq!(counted(&bundles), [steps, 0]);
        assert_eq!(counted(&stops), [places.iter().sum(), 0]);
        let rounds = stops.settings.iter().flat_map(|setting| &setting.rounds);
        let set: Vec<usize> = rounds.map(|round| round.places.len()).collect();
        assert_eq!(
            set,
            places.map(|own| if own % 2 == 0 { own + 1 } else { own })
        );
    }
}
