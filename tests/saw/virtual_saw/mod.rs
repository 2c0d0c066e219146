//! Sled plans played on a small saw, once from their JSON and once from the sentences that are
//! printed: no step may ask for what cannot be done, and what comes out are the notches drawn.

mod by_hand;
mod by_stop;
mod figures;
mod jobs;
mod saw;
mod stops_by_hand;
mod words;

pub use jobs::jobs;
use jobs::{STOP_REPEATS, Sled};
use lapwright::finding::Finding;
use lapwright::instructions::sled::{Register, SledPlan};
use lapwright::lattice::{Bundle, Lattice};
use lapwright::machines::{Machine, Sled as Profile, SledWork, StepOrder};
use lapwright::making::with_crossing_pieces;
use lapwright::planning::plan_sled;
use lapwright::reading::{read_job, read_machine, read_pattern, shipped_pattern};
use lapwright::sheets::sled_sheet;
use lapwright::units::UnitSystem;
use lapwright::writing::{json, text};
use proptest::prelude::*;
use proptest::test_runner::Config;
use saw::{Bench, Order, Saw, Strip, same};

/// A job planned on a sled, and the sled as the small saw knows it.
struct Planned {
    lattice: Lattice,
    plan: SledPlan,
    warnings: Vec<Finding>,
    sled: Profile,
}

/// Nothing where the job cannot be built (a weak web).
fn lattice(job: &str) -> Option<(Lattice, SledWork)> {
    let job = read_job("job.toml", job).ok()?;
    // Pieces of shipped patterns may run over the strips.
    let shipped = |name: &str| {
        let text = shipped_pattern(name)?.text;
        Some(read_pattern(name, text).ok()?.pattern)
    };
    let patterns: Option<Vec<_>> = job.pattern_names().map(shipped).collect();
    let job = with_crossing_pieces(job, &patterns?).ok()?;
    Some((job.panel.lattice().clone(), job.sled))
}

fn profile(text: &str) -> Profile {
    let profile = read_machine("sled.toml", text);
    let profile = profile.unwrap_or_else(|bad| panic!("{:?}\n{text}", bad.findings));
    let Machine::Sled(sled) = profile.machine else {
        panic!("no sled")
    };
    sled
}

/// The plan in an order of its steps; nothing where the job or the sled cannot.
pub fn planned_as(job: &str, sled: &str, order: StepOrder) -> Option<SledPlan> {
    let (lattice, work) = lattice(job)?;
    let work = SledWork { order, ..work };
    let planned = plan_sled(&lattice, "made up", &profile(sled), work);
    Some(planned.ok()?.0)
}

/// Nothing where the sled cannot do it.
fn planned(job: &str, sled_text: &str) -> Option<Planned> {
    let (lattice, work) = lattice(job)?;
    let sled = profile(sled_text);
    let (plan, warnings) = plan_sled(&lattice, "made up", &sled, work).ok()?;
    Some(Planned {
        lattice,
        plan,
        warnings,
        sled,
    })
}

impl Planned {
    fn powered(&self) -> bool {
        self.sled.blade.powered.is_some()
    }

    fn bench(&self, told_to: f64) -> Bench {
        let sled = &self.sled;
        let stop = sled.stop.unwrap();
        let ridge = match sled.blade.tooth {
            lapwright::machines::Tooth::FlatTop => 0.0,
            lapwright::machines::Tooth::AlternateBevel(bevel) => {
                sled.blade.kerf / 2.0 * bevel.tan()
            }
        };
        let slots = sled.rack.iter().flat_map(|rack| &rack.slots);
        Bench {
            powered: self.powered(),
            kerf: sled.blade.kerf,
            thickness: self.lattice.section.thickness,
            correction: sled.height_correction,
            ridge,
            stop: [stop.nearest, stop.farthest],
            spacers: sled.spacers.is_some(),
            rack: slots.map(|slot| (slot.nominal, slot.measured)).collect(),
            told_to,
        }
    }

    /// The bundle that a bundle's strips are cut as.
    fn cut_as(&self, bundle: usize) -> &Bundle {
        let twin = self.plan.bundles[bundle].same_as_bundle;
        &self.lattice.bundles[twin.map_or(bundle, |twin| twin - 1)]
    }

    fn strips(&self) -> Vec<Vec<Strip>> {
        let bundles = self.lattice.bundles.iter().enumerate();
        let blank = |(at, bundle): (usize, &Bundle)| {
            let strip = Strip {
                length: bundle.length,
                marks: (self.cut_as(at).notches.iter())
                    .map(|notch| notch.centre)
                    .collect(),
                cuts: Vec::new(),
            };
            vec![strip; bundle.strips.len()]
        };
        bundles.map(blank).collect()
    }

    fn json_orders(&self) -> Vec<Order> {
        let text = json::answer("lapwright/sled/1", &self.plan, &[], &[]).unwrap();
        figures::orders(&serde_json::from_str(&text).unwrap(), self.powered())
    }

    fn printed_orders(&self) -> Result<Vec<Order>, String> {
        let sheet = sled_sheet(&self.plan, self.powered());
        let counts: Vec<usize> = self
            .plan
            .bundles
            .iter()
            .map(|bundle| bundle.count)
            .collect();
        words::orders(&sheet, self.powered(), &counts)
    }

    /// Plays orders whose figures are told so closely.
    fn play(&self, orders: &[Order], told_to: f64, block_by_block: bool) -> Result<(), String> {
        let mut saw = Saw::new(self.bench(told_to), self.strips());
        saw.carry_out(orders, block_by_block)?;
        for (at, strips) in saw.bundles.iter().enumerate() {
            for (number, strip) in strips.iter().enumerate() {
                self.is_as_drawn(at, strip, told_to)
                    .map_err(|wrong| format!("bundle {}, strip {}: {wrong}", at + 1, number + 1))?;
            }
        }
        Ok(())
    }

    /// Every notch once, nothing else; over the key as far off as is said.
    fn is_as_drawn(&self, at: usize, strip: &Strip, told_to: f64) -> Result<(), String> {
        let kerf = self.sled.blade.kerf;
        let bundle = self.cut_as(at);
        let acting = self.plan.bundles[at]
            .same_as_bundle
            .map_or(at, |twin| twin - 1);
        let steps = &self.plan.bundles[acting].steps;
        let mut slots = strip.slots(0.0)?;
        for (number, notch) in (1..).zip(&bundle.notches) {
            let step = (steps.iter().find(|step| step.notch == number)).ok_or("no step")?;
            let over_key = matches!(step.register, Register::Key { .. });
            // A stop is set once a pass, a block stepped strip by strip.
            let read = told_to * 60.0;
            let off = if over_key {
                step.uncertainty_mm + read
            } else {
                read
            } + 1e-7;
            let drawn = notch.width * notch.angle.sin();
            let one_pass = drawn - kerf <= STOP_REPEATS + 1e-9;
            let width = if one_pass { kerf } else { drawn };
            let is = |slot: &saw::Cut| {
                slot.face == notch.face.name()
                    && same(slot.angle, notch.angle, 1e-4)
                    && same(slot.depth, notch.depth, 2.0 * told_to + 1e-7)
                    && same(slot.far - slot.near, width / notch.angle.sin(), read + 1e-7)
                    && same(f64::midpoint(slot.near, slot.far), notch.centre, off)
            };
            let found = slots.iter().position(is);
            let found =
                found.ok_or_else(|| format!("no notch {number}, {notch:?} in {slots:?}"))?;
            slots.remove(found);
        }
        if slots.is_empty() {
            return Ok(());
        }
        Err(format!("cut and not drawn: {slots:?}"))
    }

    fn play_all(&self) -> Result<(), String> {
        let json = self.json_orders();
        let words = self.printed_orders()?;
        for block_by_block in [true, false] {
            self.play(&json, 1e-8, block_by_block)?;
            self.play(&words, 0.0051, block_by_block)?;
        }
        Ok(())
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
    #![proptest_config(cases(600))]

    #[test]
    fn every_step_can_be_done_as_written((job, sled) in jobs()) {
        let found = planned(&job, &sled.toml());
        prop_assume!(found.is_some());
        let played = found.unwrap().play_all();
        prop_assert!(played.is_ok(), "{}\n{job}\n{}", played.unwrap_err(), sled.toml());
    }
}

/// Pieces that run over the strips ask for notches of another width: they are a setting of their own, with
/// passes of its own, over the key from each other only.
#[test]
fn notches_for_pieces_that_run_over_strips() {
    let sled = lapwright::reading::shipped_machine("key-sled")
        .unwrap()
        .text;
    let (mut one_pass, mut keyed) = (0, 0);
    for (thickness, own) in [
        ("3.2 mm", "2.6 mm"),
        ("2.6 mm", "2.6 mm"),
        ("4 mm", "3.3 mm"),
    ] {
        let job = format!(
            "title = \"x\"\n[grid]\nkind = \"square\"\npitch = \"54 mm\"\ncolumns = 4\nrows = 3\noverhang = \"18 mm\"\n\
             [strip]\nthickness = \"{thickness}\"\ndepth = \"9 mm\"\n\
             [infill]\npattern = \"horned-crossings\"\nthickness = \"{own}\"\n"
        );
        let planned = planned(&job, sled).expect("planned");
        planned
            .play_all()
            .unwrap_or_else(|wrong| panic!("{wrong}\n{job}"));
        let settings = &planned.plan.settings;
        one_pass += usize::from(settings.iter().any(|setting| setting.passes_per_notch == 1));
        let steps = planned.plan.bundles.iter().flat_map(|bundle| &bundle.steps);
        let over_key =
            steps.filter(|step| step.setting == 2 && matches!(step.register, Register::Key { .. }));
        keyed += over_key.count();
        // What the sheet says of a setting's passes is what its steps do.
        let sheet = text::sheet(&sled_sheet(&planned.plan, true), UnitSystem::Millimetres);
        let told: Vec<&str> = sheet
            .lines()
            .filter(|line| line.contains("passes for each notch"))
            .collect();
        assert_eq!(told.len(), planned.plan.settings.len().max(1), "{sheet}");
        for (line, setting) in told.iter().zip(&planned.plan.settings) {
            let passes = line
                .split_whitespace()
                .find_map(|word| word.parse::<usize>().ok());
            assert_eq!(passes, Some(setting.passes_per_notch), "{line}");
        }
    }
    assert!(one_pass > 1 && keyed > 4, "{one_pass} {keyed}");
}

/// What the made-up jobs ask for is there often enough to be looked at.
#[test]
fn made_up_jobs_use_all_that_a_sled_has() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let (mut built, mut keyed, mut spaced, mut back, mut turned) = (0, 0, 0, 0, 0);
    for _ in 0..200 {
        let (job, sled): (String, Sled) = jobs().new_tree(&mut runner).unwrap().current();
        let Some(planned) = planned(&job, &sled.toml()) else {
            continue;
        };
        built += 1;
        let steps = || planned.plan.bundles.iter().flat_map(|bundle| &bundle.steps);
        let any = |of: fn(&Register) -> bool| usize::from(steps().any(|step| of(&step.register)));
        let is_key = |register: &Register| matches!(register, Register::Key { .. });
        keyed += any(is_key);
        spaced += any(|register| matches!(register, Register::Spacers { .. }));
        let first = |steps: &[lapwright::instructions::sled::Step]| {
            let key = steps.iter().position(|step| is_key(&step.register));
            key.is_some_and(|key| steps[key..].iter().any(|step| !is_key(&step.register)))
        };
        back += usize::from(
            planned
                .plan
                .bundles
                .iter()
                .any(|bundle| first(&bundle.steps)),
        );
        turned += usize::from(planned.plan.settings.len() > 1);
    }
    let found = [built, keyed, spaced, back, turned];
    for (found, least) in found.into_iter().zip([90, 20, 5, 8, 20]) {
        assert!(
            found >= least,
            "{built} built, {keyed} keyed, {spaced} spaced, {back} back, {turned} turned"
        );
    }
}
