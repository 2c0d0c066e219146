//! The cuts of every setting in working order.
//!
//! By stops: a round's notches that are placed from the strip's end come first, stop after stop, each for all
//! bundles that it serves; then the key goes through its slots. No notch that is placed from the end hangs on
//! another one, so each stop is set once a round, and a round begins where the stop stands.

use super::key_order::{Hop, fewest_moves};
use super::on_sled::{OnSled, is_same};
use crate::instructions::rounds::{Place, PlaceCut, Round};
use crate::instructions::saw::{Obstacle, SawSetting, SettingWork};
use crate::instructions::sled::{Register, SledBundle};
use crate::lattice::Face;
use crate::machines::StepOrder;

/// One notch of a bundle, and how it is placed.
#[derive(Debug, Clone)]
struct Cut {
    at: PlaceCut,
    register: Register,
}

/// What a step learns from its turn.
struct Turn {
    bundle: usize,
    notch: usize,
    take_away: Vec<Obstacle>,
    stop_setting: Option<usize>,
}

/// Gives every setting its rounds, and every step what has to come away before it; bundles that are cut have
/// their steps in working order.
pub(super) fn put_in_order(
    settings: &mut [SawSetting],
    bundles: &mut [SledBundle],
    order: StepOrder,
) {
    let mut sled = OnSled::default();
    let mut turns = Vec::new();
    for setting in settings {
        setting.take_away = sled.set_fence(&setting.fence);
        let passes = setting.passes_per_notch;
        for cuts in rounds(setting, bundles, order) {
            if order == StepOrder::Bundles {
                sled.stands_at = None;
            }
            let face = cuts.first().map(|cut| cut.at.face);
            let face = face.filter(|face| cuts.iter().all(|cut| cut.at.face == *face));
            let places = match order {
                StepOrder::Stops => by_place(cuts, &sled, passes),
                StepOrder::Bundles => as_they_come(cuts),
            };
            let places = places
                .into_iter()
                .filter_map(|cuts| place(&cuts, &mut sled, passes, &mut turns));
            let places = places.collect();
            setting.rounds.push(Round { face, places });
        }
    }
    for (at, bundle) in (1..).zip(bundles) {
        tell_steps(at, bundle, &turns);
    }
}

/// Cuts that are laid alike, in the order of the bundles.
fn rounds(setting: &SawSetting, bundles: &[SledBundle], order: StepOrder) -> Vec<Vec<Cut>> {
    let each = setting.work.iter().map(|work| {
        let bundle = bundles.get(work.bundle.saturating_sub(1));
        let steps = bundle.into_iter().flat_map(|bundle| &bundle.steps);
        let own = steps
            .filter(|step| step.setting == setting.number && work.notches.contains(&step.notch));
        let cut = own.map(|step| Cut {
            at: PlaceCut {
                bundle: work.bundle,
                face: work.face,
                notch: step.notch,
                on_notch: match step.register {
                    Register::Key { on_notch, .. } => Some(on_notch),
                    Register::Stop { .. } | Register::Spacers { .. } => None,
                },
            },
            register: step.register.clone(),
        });
        cut.collect()
    });
    let each: Vec<Vec<Cut>> = each.collect();
    match order {
        StepOrder::Bundles => each,
        StepOrder::Stops if takes_two_rounds(setting) => by_face(each.concat()),
        StepOrder::Stops => vec![each.concat()],
    }
}

/// A stepped block rolled over is stepped the other way: where a bundle is notched in both faces, these take a
/// round each.
fn takes_two_rounds(setting: &SawSetting) -> bool {
    let mut pairs = setting.work.windows(2);
    let both =
        |pair: &[SettingWork]| matches!(pair, [a, b] if a.bundle == b.bundle && a.face != b.face);
    setting.fence.slanted.is_some() && pairs.any(both)
}

fn by_face(cuts: Vec<Cut>) -> Vec<Vec<Cut>> {
    let first = cuts.first().map(|cut| cut.at.face);
    let (first, other) = cuts.into_iter().partition(|cut| Some(cut.at.face) == first);
    vec![first, other]
}

/// One place of stop, spacers or key: neighbours that need nothing moved between them.
fn as_they_come(cuts: Vec<Cut>) -> Vec<Vec<Cut>> {
    let mut places: Vec<Vec<Cut>> = Vec::new();
    for cut in cuts {
        match places.last_mut() {
            Some(place) if place.last().is_some_and(|last| is_one_place(last, &cut)) => {
                place.push(cut);
            }
            _ => places.push(vec![cut]),
        }
    }
    places
}

fn is_one_place(a: &Cut, b: &Cut) -> bool {
    match (&a.register, &b.register) {
        (Register::Stop { stop_to_kerf_mm: a }, Register::Stop { stop_to_kerf_mm: b }) => {
            is_same(*a, *b)
        }
        (
            Register::Spacers {
                stop_to_kerf_mm: stop,
                spacer_mm: spacer,
            },
            Register::Spacers {
                stop_to_kerf_mm,
                spacer_mm,
            },
        ) => is_same(*stop, *stop_to_kerf_mm) && is_same(*spacer, *spacer_mm),
        (Register::Key { slot_mm: a, .. }, Register::Key { slot_mm: b, .. }) => is_same(*a, *b),
        _ => false,
    }
}

/// All that one setting of the stop serves: with spacers, the longest first, and without.
struct StopGroup {
    stop: f64,
    places: Vec<Vec<Cut>>,
}

/// The places of a round, stops first.
fn by_place(cuts: Vec<Cut>, sled: &OnSled, passes: usize) -> Vec<Vec<Cut>> {
    let turned = turned_bundles(&cuts);
    let (keyed, at_end): (Vec<Cut>, Vec<Cut>) =
        cuts.into_iter().partition(|cut| cut.at.on_notch.is_some());
    let (first, keyed) = over_standing_key(keyed, &at_end, sled.key);
    let mut groups = by_stop(at_end);
    groups.sort_by(|a, b| {
        let faces = faces_in(a, &turned).cmp(&faces_in(b, &turned));
        faces.then(a.stop.total_cmp(&b.stop))
    });
    let stands = sled.stands_at.filter(|_| passes == 1 && first.is_none());
    begin_where_it_stands(&mut groups, stands);
    let mut places = Vec::from_iter(first);
    places.extend(groups.into_iter().flat_map(|group| group.places));
    places.extend(over_key(&keyed));
    places
}

/// Cuts from the end, stop by stop.
fn by_stop(at_end: Vec<Cut>) -> Vec<StopGroup> {
    let mut groups: Vec<StopGroup> = Vec::new();
    for cut in at_end {
        let stop = stop_of(&cut);
        let at = groups.iter().position(|group| is_same(group.stop, stop));
        let at = at.unwrap_or_else(|| {
            let places = Vec::new();
            groups.push(StopGroup { stop, places });
            groups.len() - 1
        });
        let Some(group) = groups.get_mut(at) else {
            continue;
        };
        let alike =
            |place: &&mut Vec<Cut>| (place.first()).is_some_and(|first| is_one_place(first, &cut));
        match group.places.iter_mut().find(alike) {
            Some(place) => place.push(cut),
            None => group.places.push(vec![cut]),
        }
    }
    for group in &mut groups {
        let spacer = |place: &Vec<Cut>| place.first().map_or(0.0, spacer_of);
        group.places.sort_by(|a, b| spacer(b).total_cmp(&spacer(a)));
    }
    groups
}

/// What a key that stands already serves before stops are set, where that saves a move of it; and the rest.
fn over_standing_key(
    keyed: Vec<Cut>,
    at_end: &[Cut],
    stands: Option<f64>,
) -> (Option<Vec<Cut>>, Vec<Cut>) {
    let mut first: Vec<Cut> = Vec::new();
    let mut rest = Vec::new();
    for cut in &keyed {
        let hangs_on = |other: &Cut| is_on(cut, other);
        let hangs = keyed.iter().chain(at_end).any(hangs_on);
        let there = !hangs || first.iter().any(hangs_on);
        if there
            && slot_of(cut)
                .zip(stands)
                .is_some_and(|(slot, key)| is_same(slot, key))
        {
            first.push(cut.clone());
        } else {
            rest.push(cut.clone());
        }
    }
    if first.is_empty() || over_key(&rest).len() == over_key(&keyed).len() {
        return (None, keyed);
    }
    (Some(first), rest)
}

/// What the stop stands for comes first; where that would have come last, all go the other way round.
fn begin_where_it_stands(groups: &mut [StopGroup], stands: Option<f64>) {
    let is_set = |group: &StopGroup| stands.is_some_and(|at| is_same(at, group.stop));
    match groups.iter().position(is_set) {
        Some(at) if at + 1 == groups.len() => groups.reverse(),
        Some(at) => {
            if let Some(reached) = groups.get_mut(..=at) {
                reached.rotate_right(1);
            }
        }
        None => {}
    }
}

fn stop_of(cut: &Cut) -> f64 {
    match cut.register {
        Register::Stop { stop_to_kerf_mm }
        | Register::Spacers {
            stop_to_kerf_mm, ..
        } => stop_to_kerf_mm,
        Register::Key { .. } => 0.0,
    }
}

fn spacer_of(cut: &Cut) -> f64 {
    match cut.register {
        Register::Spacers { spacer_mm, .. } => spacer_mm,
        Register::Stop { .. } | Register::Key { .. } => 0.0,
    }
}

/// Bundles whose blocks are rolled over in the round.
fn turned_bundles(cuts: &[Cut]) -> Vec<usize> {
    let pairs = cuts.windows(2);
    let both = pairs.filter_map(|pair| match pair {
        [a, b] if a.at.bundle == b.at.bundle && a.at.face != b.at.face => Some(a.at.bundle),
        _ => None,
    });
    both.collect()
}

/// Of blocks that are rolled over: front alone comes before both, both before back alone, so that they are
/// rolled seldom.
fn faces_in(group: &StopGroup, turned: &[usize]) -> usize {
    let rolled = |cut: &&Cut| turned.contains(&cut.at.bundle);
    let faces = || {
        group
            .places
            .iter()
            .flatten()
            .filter(rolled)
            .map(|cut| cut.at.face)
    };
    match (
        faces().any(|face| face == Face::Front),
        faces().any(|face| face == Face::Back),
    ) {
        (_, false) => 0,
        (true, true) => 1,
        (false, true) => 2,
    }
}

fn slot_of(cut: &Cut) -> Option<f64> {
    match cut.register {
        Register::Key { slot_mm, .. } => Some(slot_mm),
        Register::Stop { .. } | Register::Spacers { .. } => None,
    }
}

/// Whether a cut hangs on the notch of another.
fn is_on(cut: &Cut, other: &Cut) -> bool {
    other.at.bundle == cut.at.bundle && Some(other.at.notch) == cut.at.on_notch
}

/// The notches over the key, slot by slot.
fn over_key(keyed: &[Cut]) -> Vec<Vec<Cut>> {
    let mut slots: Vec<f64> = Vec::new();
    for cut in keyed {
        let own = slot_of(cut).unwrap_or(0.0);
        if !slots.iter().any(|known| is_same(*known, own)) {
            slots.push(own);
        }
    }
    let slot_at = |wanted: f64| slots.iter().position(|slot| is_same(*slot, wanted));
    let hops = keyed.iter().enumerate().map(|(at, cut)| Hop {
        slot: slot_of(cut).and_then(slot_at).unwrap_or(0),
        after: keyed.iter().take(at).position(|other| is_on(cut, other)),
    });
    let hops: Vec<Hop> = hops.collect();
    let places = fewest_moves(&hops).into_iter();
    let cuts = |place: Vec<usize>| {
        let cuts = place.into_iter().filter_map(|at| keyed.get(at).cloned());
        cuts.collect()
    };
    places.map(cuts).collect()
}

/// Sets the sled for a place and gives its cuts their turns.
fn place(cuts: &[Cut], sled: &mut OnSled, passes: usize, turns: &mut Vec<Turn>) -> Option<Place> {
    let (set, mut away) = sled.set_for(&cuts.first()?.register, passes);
    for cut in cuts {
        turns.push(Turn {
            bundle: cut.at.bundle,
            notch: cut.at.notch,
            take_away: std::mem::take(&mut away),
            stop_setting: set.stop_setting(),
        });
    }
    let cuts = cuts.iter().map(|cut| cut.at).collect();
    Some(Place { set, cuts })
}

fn tell_steps(at: usize, bundle: &mut SledBundle, turns: &[Turn]) {
    let own: Vec<&Turn> = turns.iter().filter(|turn| turn.bundle == at).collect();
    let turn_of = |notch: usize| own.iter().position(|turn| turn.notch == notch);
    for step in &mut bundle.steps {
        if let Some(turn) = turn_of(step.notch).and_then(|turn| own.get(turn)) {
            step.take_away.clone_from(&turn.take_away);
            step.stop_setting = turn.stop_setting;
        }
    }
    if !own.is_empty() {
        bundle.steps.sort_by_key(|step| turn_of(step.notch));
    }
}
