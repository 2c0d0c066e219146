//! A lattice's strips on a router: set-ups, cutting data, tool paths.

mod bed;
mod checks;
mod clamps;
mod cutting;
mod held;
pub(crate) mod lying;
mod mortises;
mod notch_path;
mod passes;
mod pocket_path;
pub(crate) mod remarks;
mod setup;
mod split;
mod time;

use super::measured_stock::measured_stock;
use crate::dialects::{PathMode, SetUps};
use crate::finding::{Finding, grouped};
use crate::instructions::router::{ClampFigures, RouterPlan, RouterSetup};
use crate::lattice::{Lattice, Notch};
use crate::machines::{Clamp, Router};
use bed::Bed;
use cutting::CuttingData;
use held::{Held, count, sharing};
use notch_path::{Slot, Slots, notch_moves};
use split::Reach;
use std::f64::consts::FRAC_PI_2;

pub use mortises::{MortisePrograms, plan_mortises};

/// More passes than this beside or below each other, for one notch, are a slip of the pen.
const MOST_PASSES: f64 = 100.0;

/// Works out how a lattice's strips are notched on a router called `machine`; `file_name` gives
/// the name of the program of set-up n (from 0) of how many. The set-ups come in working order:
/// part by part, a clamping for every face and direction of its notches, and where a strip is
/// longer than the travel, several set-ups for one of them. Bundles that are the same part share
/// theirs.
///
/// # Errors
/// All that the router cannot do; fields are those of its profile.
pub fn plan_router(
    lattice: &Lattice,
    machine: &str,
    router: &Router,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(RouterPlan, Vec<Finding>), Vec<Finding>> {
    let mut warnings = Vec::new();
    let data = CuttingData::of(router, &mut warnings);
    let mut setting = Setting {
        lattice,
        router,
        data,
        fastest_cut: data.feed,
    };
    setting.fastest_cut = setting.fastest_wall_feed();
    let mut faults = data.faults();
    let sharing = sharing(&lattice.bundles);
    let parts = sharing.iter().filter_map(|sharers| {
        let first = sharers.first()?.bundle;
        Some((first, sharers.as_slice(), first.clampings()))
    });
    let parts: Vec<_> = parts.collect();
    let mut held = Vec::new();
    for (bundle, sharers, clampings) in &parts {
        for (at, clamping) in clampings.iter().enumerate() {
            let earlier = clampings.get(..at).unwrap_or_default();
            let strips = setting.runs(count(sharers)).strips;
            let size = (strips, lattice.section.thickness);
            let whole = Held::whole((bundle, sharers), clamping, earlier, size);
            let mut found = setting.faults(&whole);
            match setting.parts(&whole) {
                Some(parts) => {
                    found.extend(setting.key_fault(&parts));
                    held.extend(parts);
                }
                None => found.extend(setting.reach_fault(&whole)),
            }
            for sharer in *sharers {
                let own = found.iter().cloned();
                faults.extend(own.map(|fault| fault.in_bundle(sharer.number)));
            }
        }
    }
    if !faults.is_empty() {
        return Err(grouped(faults));
    }
    warnings.extend(setting.bending(&held));
    warnings.extend(setting.holder_warnings(&held));
    warnings.extend(setting.adding_up(&held));
    let programs = held.len();
    let keyed = |at: usize| held.get(at).is_some_and(|held| held.on_key.is_some());
    let setup = |(at, one): (usize, &Held<'_>)| {
        let file = match router.controller.set_ups {
            SetUps::Files => file_name(at, programs),
            SetUps::OneFile => file_name(0, 1),
        };
        // For the key the end stop was taken away.
        let stop_back = at > 0 && keyed(at - 1) && !keyed(at);
        setting.setup(one, machine, (file, stop_back))
    };
    let mut setups: Vec<RouterSetup> = held.iter().enumerate().map(setup).collect();
    if router.controller.set_ups == SetUps::OneFile {
        number_stops(&mut setups);
    }
    let plan = RouterPlan {
        title: lattice.title.clone(),
        machine: machine.to_owned(),
        measured_stock: measured_stock(lattice),
        time_s: setups
            .iter()
            .map(|setup| setup.runs as f64 * setup.time_s)
            .sum(),
        setups,
        clamps: router.fixture.clamps.iter().map(clamp_figures).collect(),
    };
    Ok((plan, warnings))
}

/// The program of all set-ups stops before every run but the first.
fn number_stops(setups: &mut [RouterSetup]) {
    let mut runs = 0;
    for setup in setups {
        setup.after_stop = Some(runs);
        runs += setup.runs;
    }
}

fn clamp_figures(clamp: &Clamp) -> ClampFigures {
    ClampFigures {
        name: clamp.name.clone(),
        x_mm: clamp.x,
        y_mm: clamp.y,
        top_mm: clamp.top,
    }
}

/// Coordinates have at least three decimals: rounding takes less than this off a run-out.
const LAST_PLACE_MM: f64 = 0.01;

/// Least height of rapid moves over a clamp. Common practice, no source.
const OVER_CLAMPS_MM: f64 = 1.0;

fn safe_height(router: &Router) -> f64 {
    let clamps = router.fixture.clamps.iter();
    let over = clamps.map(|clamp| clamp.top + OVER_CLAMPS_MM);
    over.fold(router.cutting.safe_height, f64::max)
}

struct Setting<'a> {
    lattice: &'a Lattice,
    router: &'a Router,
    data: CuttingData,
    /// Fastest feed in wood, mm/min.
    fastest_cut: f64,
}

/// How the strips of a bundle are shared out over runs of the program.
struct Runs {
    runs: usize,
    strips: usize,
    scrap: usize,
}

impl Setting<'_> {
    /// Runs of equal width, so that one program serves all of them.
    fn runs(&self, count: usize) -> Runs {
        let fixture = &self.router.fixture;
        let room = self.room_across() / self.lattice.section.thickness;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
        let most = if fixture.single {
            1
        } else {
            ((room + 1e-9).floor() as usize).max(1)
        };
        let runs = count.div_ceil(most).max(1);
        let strips = count.div_ceil(runs).max(1);
        Runs {
            runs,
            strips,
            scrap: runs * strips - count,
        }
    }

    /// Room for strips across the fixture, beside the backers.
    fn room_across(&self) -> f64 {
        let fixture = &self.router.fixture;
        fixture.widest_bundle - fixture.backers.iter().sum::<f64>()
    }

    /// Height of moves from notch to notch: over all clamps, as a program may begin anywhere.
    fn safe_height(&self) -> f64 {
        safe_height(self.router)
    }

    /// How far the tool's edge runs beyond the bundle, square to its sides: as the profile says, or
    /// as far as a corner may be rounded, whichever is more. A control that keeps its feed v through
    /// a corner leaves it by up to e = v^2 / 2a. The circle that touches both legs of a corner of
    /// angle p then leaves the path's straight legs e cos(p/2) / (1 - sin(p/2)) before it, which is
    /// e / (sqrt 2 - 1) for a right angle. A slot at `angle` makes corners of `angle` and of what it
    /// lacks to a straight line with the ways beside the bundle, and right angles with those down.
    /// In exact path mode no corner is rounded.
    fn run_out(&self, angle: f64) -> f64 {
        let rounded = match self.router.controller.path_mode {
            Some(PathMode::ExactPath) => 0.0,
            Some(PathMode::Continuous) | None => {
                let speed = self.fastest_cut / 60.0;
                let off_corner = speed * speed / (2.0 * self.router.travel.acceleration);
                // The blunter of both corners takes longer legs.
                let half = (FRAC_PI_2 - angle).abs() / 2.0 + FRAC_PI_2 / 2.0;
                let leg = off_corner * half.cos() / (1.0 - half.sin());
                let right = off_corner / (2.0_f64.sqrt() - 1.0);
                right.max(leg * angle.sin()) + LAST_PLACE_MM
            }
        };
        self.router.cutting.run_out.max(rounded)
    }

    /// Y at which the tool's centre turns round, before and behind the bundle.
    fn turns(&self, bed: Bed) -> [f64; 2] {
        let beyond = self.router.tool.diameter / 2.0 + self.run_out(bed.angle);
        let [front, back] = self.router.fixture.backers;
        [-front - beyond, bed.width() + back + beyond]
    }

    /// Least and greatest X of the tool's centre for a notch.
    fn span(&self, held: &Held<'_>, notch: &Notch) -> [f64; 2] {
        let wall = (held.square_width(notch) - self.router.tool.diameter).max(0.0) / 2.0;
        let mut span = [f64::INFINITY, f64::NEG_INFINITY];
        for y in self.turns(held.bed) {
            for offset in [-wall, wall] {
                let x = held.bed.slot_x(notch.centre, offset, y);
                span = [span[0].min(x), span[1].max(x)];
            }
        }
        span
    }

    /// A clamping's set-ups; `None` where the travel does not reach its notches, or clamps stand in
    /// the way.
    fn parts<'a>(&self, whole: &Held<'a>) -> Option<Vec<Held<'a>>> {
        let Router {
            fixture, travel, ..
        } = self.router;
        let notches: Vec<&Notch> = whole.notches().collect();
        let spans: Vec<_> = notches
            .iter()
            .map(|notch| self.span(whole, notch))
            .collect();
        let is_clear = |at: usize, datum: f64| {
            let bed = Bed { datum, ..whole.bed };
            let met = |notch: &&Notch| self.clamp_in_way(bed, notch).is_some();
            !notches.get(at).is_some_and(met)
        };
        let at_key: Vec<_> = whole.notches().map(|notch| whole.at_key(notch)).collect();
        let key = fixture.key.map(|key| key.x - fixture.zero_x);
        let reach = Reach {
            spans: &spans,
            at_key: &at_key,
            room: [-fixture.zero_x, travel.x - fixture.zero_x],
            is_clear: &is_clear,
            key,
        };
        let parts = reach.parts()?;
        let count = parts.len();
        let held = (1..)
            .zip(&parts)
            .map(|(number, part)| whole.part(part, number, count, key));
        Some(held.collect())
    }

    /// The ways of the notches that a program cuts, in their order.
    fn slots(
        &self,
        held: &Held<'_>,
        depth_steps: usize,
        safe_height: f64,
        short_ways: bool,
    ) -> Slots {
        let Router { tool, cutting, .. } = self.router;
        let [low_y, high_y] = self.turns(held.bed);
        let mut behind = false;
        let mut slots = Vec::new();
        for (index, notch) in held.cut.iter().zip(held.notches()) {
            let slot = Slot {
                bed: held.bed,
                centre: notch.centre,
                width: held.square_width(notch),
                depth: notch.depth,
                tool_diameter: tool.diameter,
                low_y,
                high_y,
                safe_height,
                depth_steps,
                wall_allowance: cutting.wall_allowance,
                floor_allowance: cutting.floor_allowance,
                returns_in_air: cutting.returns_in_air,
                spring_pass: cutting.spring_pass,
                from_behind: behind && short_ways && !cutting.returns_in_air,
                feed: self.data.feed,
                wall_feed: self.wall_feed(held.square_width(notch)),
                plunge_feed: self.data.plunge,
            };
            behind = (notch_moves(&slot).last()).is_some_and(|step| step.to.y > 0.0);
            slots.push((index + 1, slot));
        }
        Slots(slots)
    }
}
