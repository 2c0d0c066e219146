//! Strips cut on a sled that scatters: how many keep within what is printed.

use super::brute::Step;
use super::{Case, KEY, STOP, cases, crossing, taken, uneven};
use lapwright::instructions::sled::SledBundle;
use lapwright::units::{AtLeast, UnitSystem};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// Strips cut for each rack and aim.
const STRIPS: usize = 2_000;

/// `splitmix64` (G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", 2014),
/// seeded so that every run cuts the same strips.
struct Chance(u64);

impl Chance {
    /// Anywhere within plus or minus `limit` alike.
    fn within(&mut self, limit: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^= bits >> 31;
        let unit = (bits >> 11) as f64 / (1_u64 << 53) as f64;
        limit * (2.0 * unit - 1.0)
    }
}

/// Where the notches of one strip come to lie, from its datum end.
fn cut(way: &[Step], case: &Case, chance: &mut Chance) -> Vec<f64> {
    let drawn = case.strip().centres;
    let mut lie: Vec<f64> = Vec::new();
    for (notch, step) in way.iter().enumerate() {
        let at = match step {
            Step::Stop => drawn[notch] + chance.within(STOP),
            Step::Key { on, slot } => lie[*on] + case.slots[*slot].1 + chance.within(KEY),
        };
        lie.push(at);
    }
    lie
}

/// What a reader of the sheet has.
fn printed(mm: f64) -> f64 {
    let text = AtLeast(mm).text(UnitSystem::Millimetres);
    text.trim_end_matches(" mm").parse().unwrap()
}

/// How many of so many keep within, and the least share of any notch.
#[derive(Default)]
struct Kept {
    within: usize,
    all: usize,
    least: f64,
}

impl Kept {
    fn add(&mut self, within: usize, all: usize) {
        let share = within as f64 / all as f64;
        self.least = if self.all == 0 {
            share
        } else {
            self.least.min(share)
        };
        self.within += within;
        self.all += all;
    }
}

fn play(case: &Case, bundle: &SledBundle, chance: &mut Chance, places: &mut Kept, bays: &mut Kept) {
    let way = taken(bundle, case);
    let drawn = case.strip().centres;
    let strips: Vec<Vec<f64>> = (0..STRIPS).map(|_| cut(&way, case, chance)).collect();
    for step in &bundle.steps {
        let at = step.notch - 1;
        let told = printed(step.uncertainty_mm);
        let off = |lie: &&Vec<f64>| {
            let off = (lie[at] - lie[0]) - (drawn[at] - drawn[0]);
            off.abs() <= told + 1e-9
        };
        places.add(strips.iter().filter(off).count(), STRIPS);
    }
    let Some(told) = bundle.route.bays_mm.map(printed) else {
        return;
    };
    let step = |lie: &[f64], from: usize| lie[from + 1] - lie[from];
    for a in 0..drawn.len() - 1 {
        for b in (0..a).filter(|b| (step(&drawn, a) - step(&drawn, *b)).abs() < 1e-6) {
            let alike = |lie: &&Vec<f64>| (step(lie, a) - step(lie, b)).abs() <= told + 1e-9;
            bays.add(strips.iter().filter(alike).count(), STRIPS);
        }
    }
}

/// Of each notch, and of each pair of bays, at least 95 of 100 strips keep within what is printed; that is
/// sampled, so a share may come out lower by four standard deviations of its count.
#[test]
fn what_is_printed_covers_what_scatters() {
    let mut runner = TestRunner::deterministic();
    let mut chance = Chance(2026);
    let (mut places, mut bays) = (Kept::default(), Kept::default());
    let made_up = (0..120).map(|_| cases().new_tree(&mut runner).unwrap().current());
    let mut racks = 0;
    for case in made_up.chain([uneven()]) {
        for aim in ["places", "bays"] {
            let planned = (!case.slots.is_empty())
                .then(|| case.planned(aim))
                .flatten();
            let Some((plan, _)) = planned else { continue };
            let bundle = crossing(&plan, &case);
            if case.strip().can_be(&taken(bundle, &case)) {
                racks += 1;
                play(&case, bundle, &mut chance, &mut places, &mut bays);
            }
        }
    }
    assert!(racks > 100, "{racks}");
    let sampled = 4.0 * (0.95 * 0.05 / STRIPS as f64).sqrt();
    for (what, kept) in [("places", &places), ("bays", &bays)] {
        let share = kept.within as f64 / kept.all as f64;
        assert!(kept.all > 100_000, "{what}");
        assert!(kept.least >= 0.95 - sampled, "{what}: {}", kept.least);
        assert!(share >= 0.95, "{what}: {share}");
    }
}

/// The test can fail: 5 to 7 of 100 notches lay beyond the sum of what is known and the root of the squares of
/// the limits of hops alone.
#[test]
fn a_lesser_figure_does_not_cover() {
    let case = uneven();
    let (plan, _) = case.planned("places").unwrap();
    let way = taken(crossing(&plan, &case), &case);
    let mut chance = Chance(1);
    let off = |lie: Vec<f64>| ((lie[5] - lie[0]) - 250.0).abs();
    let told = 0.9
        * crossing(&plan, &case)
            .steps
            .iter()
            .map(|step| step.uncertainty_mm)
            .fold(0.0, f64::max);
    let beyond = (0..STRIPS)
        .filter(|_| off(cut(&way, &case, &mut chance)) > told)
        .count();
    assert!(beyond as f64 > 0.05 * STRIPS as f64, "{beyond}");
}
