//! The sled with slanted notches: that its figures put the kerf where the notch is, that its order
//! can be worked through, and figures by hand.

mod by_hand;
mod lap;
mod plane;

use crate::made_up::{SledNumbers, Texts, sleds, texts};
use crate::support::slanted::{Strips, lattice};
use float_cmp::approx_eq;
use lapwright::instructions::saw::SawSetting;
use lapwright::instructions::sled::{Register, SledBundle, SledPlan, Step};
use lapwright::lattice::{Bundle, Face, Lattice, Notch};
use lapwright::machines::{Machine, Sled, SledWork};
use lapwright::planning::plan_sled;
use lapwright::reading::{read_job, read_machine};
use lapwright::sheets::sled_sheet;
use lapwright::units::UnitSystem;
use lapwright::writing::text;
use plane::Bench;
use proptest::prelude::*;
use proptest::test_runner::Config;

fn sled(text: &str) -> Sled {
    let profile = read_machine("sled.toml", text);
    let profile = profile.unwrap_or_else(|bad| panic!("{:?}", bad.findings));
    let Machine::Sled(sled) = profile.machine else {
        panic!("no sled")
    };
    sled
}

/// A made-up job on its sled; nothing where the job cannot be built (a short strip, a weak web).
fn planned(texts: &Texts) -> Option<(Lattice, Sled, SledPlan)> {
    let job = read_job("job.toml", &texts.job).ok()?;
    let lattice = job.panel.lattice();
    let sled = sled(&texts.sled);
    let (plan, _) = plan_sled(lattice, "made up", &sled, SledWork::default())
        .unwrap_or_else(|faults| panic!("{faults:?}\n{}\n{}", texts.job, texts.sled));
    Some((lattice.clone(), sled, plan))
}

fn close(a: f64, b: f64) -> bool {
    approx_eq!(f64, a, b, epsilon = 1e-7)
}

fn setting<'a>(plan: &'a SledPlan, step: &Step) -> &'a SawSetting {
    &plan.settings[step.setting - 1]
}

/// Every pass of every notch, at the first and third strip of a block: the outer passes lie on
/// the notch's walls, the others between, each overlapping the last.
fn kerfs_are_where_the_notches_are(lattice: &Lattice, sled: &Sled, plan: &SledPlan) {
    let section = &lattice.section;
    for (bundle, own) in plan.bundles.iter().zip(&lattice.bundles) {
        for step in &bundle.steps {
            let notch = &own.notches[step.notch - 1];
            let stop = &bundle.by_stop[step.notch - 1];
            let passes = if stop.passes_mm.is_empty() {
                vec![stop.stop_to_kerf_mm]
            } else {
                stop.passes_mm.clone()
            };
            let bench = |stop: f64, strip: usize| Bench {
                setting: setting(plan, step),
                thickness: section.thickness,
                kerf: sled.blade.kerf,
                powered: sled.blade.powered.is_some(),
                stop,
                strip,
            };
            for strip in [0, 2] {
                one_notch(
                    &bench,
                    strip,
                    &passes,
                    notch,
                    section.thickness + section.clearance,
                );
            }
            spaced(bundle, step, stop.stop_to_kerf_mm);
            let under_the_kerf = bench(stop.stop_to_kerf_mm, 0);
            on_the_key(&under_the_kerf, step, own);
        }
    }
}

fn one_notch<'a>(
    bench: &dyn Fn(f64, usize) -> Bench<'a>,
    strip: usize,
    passes: &[f64],
    notch: &Notch,
    width: f64,
) {
    let half = bench(0.0, 0).kerf / 2.0;
    let first = bench(passes[0], strip).walls(notch);
    let last = bench(passes[passes.len() - 1], strip).walls(notch);
    // A wide kerf lies over the notch evenly, and so does one that lacks less than a stop which
    // repeats to 0.1 can be set.
    let wall = if passes.len() == 1 { width / 2.0 } else { half };
    assert!(wall <= half + 0.05 + 1e-9);
    for x in first.left {
        assert!(
            close(x, -wall),
            "left wall at {x}, kerf at {}: {notch:?}",
            -half
        );
    }
    for x in last.right {
        assert!(
            close(x, wall),
            "right wall at {x}, kerf at {half}: {notch:?}"
        );
    }
    if bench(0.0, 0).powered {
        for pair in passes.windows(2) {
            let [a, b] = [pair[0], pair[1]].map(|stop| bench(stop, strip).walls(notch).left[0]);
            assert!(a > b && a - b < 2.0 * half, "no overlap of passes");
        }
    }
}

/// While a notch is under the kerf's middle, the slot on the key lies along the blade, its middle
/// as far to the left of the kerf's as the key is said to stand.
fn on_the_key(bench: &Bench<'_>, step: &Step, own: &Bundle) {
    if let Register::Key {
        on_notch, key_mm, ..
    } = step.register
    {
        let walls = bench.walls(&own.notches[on_notch - 1]);
        for (left, right) in walls.left.iter().zip(walls.right) {
            assert!(
                close(f64::midpoint(*left, right), -key_mm),
                "{walls:?}, key at {key_mm}"
            );
        }
    }
}

/// Stop and spacer together place the notch as the stop alone.
fn spaced(bundle: &SledBundle, step: &Step, stop: f64) {
    if let Some(spacers) = &bundle.by_spacers {
        let spacer = spacers.spacers_mm[step.notch - 1];
        assert!(spacer >= -1e-9 && close(spacers.stop_to_kerf_mm - spacer, stop));
    }
}

/// Each notch once, with a setting that fits it; on a key only what is cut, fits and bears.
fn the_order_can_be_worked_through(lattice: &Lattice, plan: &SledPlan) {
    for pair in plan.settings.windows(2) {
        let fence = |setting: &SawSetting| setting.fence.slot_angle;
        let same = approx_eq!(f64, fence(&pair[0]), fence(&pair[1]), epsilon = 1e-9);
        assert!(
            !same || pair[0].depth_mm > pair[1].depth_mm,
            "deepest first"
        );
        let later = plan.settings.iter().skip(pair[1].number);
        let again =
            |other: &SawSetting| approx_eq!(f64, fence(other), fence(&pair[0]), epsilon = 1e-9);
        assert!(same || !later.clone().any(again), "a fence set twice");
    }
    for (bundle, own) in plan.bundles.iter().zip(&lattice.bundles) {
        let mut cut: Vec<usize> = Vec::new();
        for (at, step) in bundle.steps.iter().enumerate() {
            assert!(at == 0 || bundle.steps[at - 1].setting <= step.setting);
            let notch = &own.notches[step.notch - 1];
            assert!(!cut.contains(&step.notch) && close(setting(plan, step).depth_mm, notch.depth));
            if let Register::Key {
                on_notch,
                key_mm,
                bearing_share,
                slot_mm,
                ..
            } = step.register
            {
                assert!(cut.contains(&on_notch), "{on_notch} is not cut yet");
                let on = &own.notches[on_notch - 1];
                assert!(on.face == notch.face && close(on.angle, notch.angle));
                assert!(on.centre < notch.centre);
                assert!(close(
                    key_mm,
                    (notch.centre - on.centre) * notch.angle.sin()
                ));
                assert!((key_mm - slot_mm).abs() <= 0.2 + 1e-6);
                crossed(own, &cut, on_notch, bearing_share);
            }
            cut.push(step.notch);
        }
        assert_eq!(cut.len(), own.notches.len());
    }
}

/// The share is said just where another slot of the node in the same face was cut before.
fn crossed(own: &Bundle, cut: &[usize], on: usize, share: Option<f64>) {
    let notch = &own.notches[on - 1];
    let at = |number: &usize| cut.iter().position(|known| known == number);
    let crossed = own.notches.iter().zip(1..).any(|(other, number)| {
        number != on
            && other.face == notch.face
            && close(other.centre, notch.centre)
            && at(&number).is_some_and(|place| Some(place) < at(&on))
    });
    assert_eq!(share.is_some(), crossed);
    assert!(share.is_none_or(|share| share > 0.0 && share < 1.0));
}

/// What the settings list is what the bundles need, each part once.
fn the_settings_hold_all_work(plan: &SledPlan) {
    let mut listed: Vec<(usize, usize)> = Vec::new();
    for setting in &plan.settings {
        for work in &setting.work {
            listed.extend(work.notches.iter().map(|notch| (work.bundle, *notch)));
        }
    }
    listed.sort_unstable();
    let own = plan
        .bundles
        .iter()
        .zip(1..)
        .filter(|(bundle, _)| bundle.same_as_bundle.is_none());
    let wanted: Vec<(usize, usize)> = own
        .flat_map(|(bundle, number)| (1..=bundle.notches.len()).map(move |notch| (number, notch)))
        .collect();
    assert_eq!(listed, wanted);
}

/// A part cut as another's needs no setting that the other does not.
fn twins_are_cut_alike(plan: &SledPlan) {
    for bundle in &plan.bundles {
        let Some(twin) = bundle.same_as_bundle else {
            continue;
        };
        let settings = |steps: &[Step]| {
            let mut numbers: Vec<usize> = steps.iter().map(|step| step.setting).collect();
            numbers.sort_unstable();
            numbers
        };
        assert_eq!(
            settings(&bundle.steps),
            settings(&plan.bundles[twin - 1].steps)
        );
    }
}

fn loads_fit(plan: &SledPlan, sled: &Sled) {
    for bundle in &plan.bundles {
        let loads = &bundle.loads;
        assert!(loads.block_width_mm <= sled.widest_block + 1e-6);
        assert!(loads.blocks * loads.strips_per_block >= bundle.count);
        if let (Some(powered), Some(travel)) = (sled.blade.powered, loads.block_travel_mm) {
            assert!(travel <= powered.travel + 1e-6 && loads.single_travel_mm <= Some(travel));
        }
    }
}

/// Pages of slanted jobs; those of plain ones are wider with some sleds.
fn lines_fit_the_page(plan: &SledPlan, sled: &Sled) {
    let powered = sled.blade.powered.is_some();
    let page = text::sheet(&sled_sheet(plan, powered), UnitSystem::Millimetres);
    let slanted = plan
        .settings
        .iter()
        .any(|setting| setting.fence.slanted.is_some());
    for line in page.lines().filter(|_| slanted) {
        assert!(line.chars().count() <= text::WIDTH, "{line}");
    }
}

fn cases(cases: u32) -> Config {
    Config {
        cases,
        failure_persistence: None,
        max_global_rejects: 10_000,
        ..Config::default()
    }
}

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn made_up_jobs_come_out_as_drawn(texts in texts()) {
        let found = planned(&texts);
        prop_assume!(found.is_some());
        let (lattice, sled, plan) = found.unwrap();
        kerfs_are_where_the_notches_are(&lattice, &sled, &plan);
        the_order_can_be_worked_through(&lattice, &plan);
        the_settings_hold_all_work(&plan);
        twins_are_cut_alike(&plan);
        loads_fit(&plan, &sled);
        lines_fit_the_page(&plan, &sled);
    }

    /// Any angles and faces on one strip, more than a lattice would have.
    #[test]
    fn any_notch_comes_out_as_drawn(
        notches in prop::collection::vec((20.0..160.0_f64, any::<bool>()), 1..6),
        thickness in 2.0..5.0_f64,
        numbers in sleds(),
    ) {
        let strips = Strips { count: 3, thickness, depth: 12.0, length: 60.0 * notches.len() as f64 + 60.0 };
        let specs: Vec<_> = (notches.iter().enumerate())
            .map(|(at, &(angle, back))| {
                let face = if back { Face::Back } else { Face::Front };
                (60.0 + 60.0 * at as f64, angle, face)
            })
            .collect();
        let lattice = lattice(strips, &specs);
        let sled = sled(&SledNumbers { swing: 80.0, ..numbers }.toml());
        let (plan, _) = plan_sled(&lattice, "made up", &sled, SledWork::default()).unwrap();
        kerfs_are_where_the_notches_are(&lattice, &sled, &plan);
        the_order_can_be_worked_through(&lattice, &plan);
    }
}

#[test]
fn most_made_up_jobs_can_be_built() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let built = (0..100)
        .filter(|_| planned(&texts().new_tree(&mut runner).unwrap().current()).is_some())
        .count();
    assert!(built > 60, "{built} of 100");
}
