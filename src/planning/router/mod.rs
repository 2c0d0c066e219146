//! A lattice's strips on a router: set-ups, cutting data, tool paths.

mod bed;
mod checks;
mod cutting;
mod held;
mod lying;
mod notch_path;
mod sheet;
mod split;
mod time;

use crate::dialects::PathMode;
use crate::finding::Finding;
use crate::geometry::PARALLEL_SINE;
use crate::instructions::label_runs;
use crate::instructions::router::{
    NotchBelow, Registered, RouterPlan, RouterSetup, Stock, Trimmed,
};
use crate::instructions::tool_path::{NotchPath, ToolPath};
use crate::lattice::{Bundle, Lattice, Notch, StripId, Trim};
use crate::machines::Router;
use cutting::CuttingData;
use held::Held;
use notch_path::{Slot, notch_moves};
use split::Reach;
use std::f64::consts::FRAC_PI_2;

pub use sheet::router_sheet;

/// More passes than this beside or below each other, for one notch, are a slip of the pen.
const MOST_PASSES: f64 = 100.0;

/// Works out how a lattice's strips are notched on a router called `machine`; `file_name` gives
/// the name of the program of set-up n (from 0) of how many. The set-ups come in working order:
/// bundle by bundle, a clamping for every face and direction of its notches, and where a strip is
/// longer than the travel, several set-ups for one of them.
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
    let setting = Setting {
        lattice,
        router,
        data,
    };
    let mut faults = data.faults();
    let clampings: Vec<_> = lattice.bundles.iter().map(Bundle::clampings).collect();
    let mut held = Vec::new();
    for ((number, bundle), clampings) in (1..).zip(&lattice.bundles).zip(&clampings) {
        for (at, clamping) in clampings.iter().enumerate() {
            let earlier = clampings.get(..at).unwrap_or_default();
            let strips = setting.runs(bundle.strips.len()).strips;
            let size = (strips, lattice.section.thickness);
            let whole = Held::whole((bundle, number), clamping, earlier, size);
            let mut found = setting.faults(&whole);
            match setting.parts(&whole) {
                Some(parts) if found.is_empty() => held.extend(parts),
                Some(_) => {}
                None => found.extend(setting.reach_fault(&whole)),
            }
            faults.extend(found);
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let count = held.len();
    let setup = |(at, held): (usize, &Held<'_>)| setting.setup(held, machine, file_name(at, count));
    let plan = RouterPlan {
        title: lattice.title.clone(),
        machine: machine.to_owned(),
        setups: held.iter().enumerate().map(setup).collect(),
    };
    Ok((plan, warnings))
}

/// Coordinates have at least three decimals: rounding takes less than this off a run-out.
const LAST_PLACE_MM: f64 = 0.01;

struct Setting<'a> {
    lattice: &'a Lattice,
    router: &'a Router,
    data: CuttingData,
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
        let room = fixture.widest_bundle / self.lattice.section.thickness;
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
                let speed = self.data.feed / 60.0;
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
    fn turns(&self, held: &Held<'_>) -> [f64; 2] {
        let beyond = self.router.tool.diameter / 2.0 + self.run_out(held.bed.angle);
        [-beyond, held.bed.width() + beyond]
    }

    /// Least and greatest X of the tool's centre for a notch.
    fn span(&self, held: &Held<'_>, notch: &Notch) -> [f64; 2] {
        let wall = (held.square_width(notch) - self.router.tool.diameter).max(0.0) / 2.0;
        let mut span = [f64::INFINITY, f64::NEG_INFINITY];
        for y in self.turns(held) {
            for offset in [-wall, wall] {
                let x = held.bed.slot_x(notch.centre, offset, y);
                span = [span[0].min(x), span[1].max(x)];
            }
        }
        span
    }

    /// A clamping's set-ups; `None` where the travel does not reach its notches.
    fn parts<'a>(&self, whole: &Held<'a>) -> Option<Vec<Held<'a>>> {
        let Router {
            fixture, travel, ..
        } = self.router;
        let spans: Vec<_> = whole
            .notches()
            .map(|notch| self.span(whole, notch))
            .collect();
        let at_key: Vec<_> = whole.notches().map(|notch| whole.at_key(notch)).collect();
        let key = fixture.key.map(|key| key.x - fixture.zero_x);
        let reach = Reach {
            spans: &spans,
            at_key: &at_key,
            room: [-fixture.zero_x, travel.x - fixture.zero_x],
            key,
        };
        let parts = reach.parts()?;
        let count = parts.len();
        let held = (1..)
            .zip(&parts)
            .map(|(number, part)| whole.part(part, number, count, key));
        Some(held.collect())
    }

    fn setup(&self, held: &Held<'_>, machine: &str, file: String) -> RouterSetup {
        let Router { tool, cutting, .. } = self.router;
        let Held { bundle, bed, .. } = held;
        let Runs {
            runs,
            strips,
            scrap,
        } = self.runs(bundle.strips.len());
        let depth = held.depth();
        let steps = depth_steps(depth, cutting.depth_per_pass);
        let mut setup = RouterSetup {
            file,
            bundle: held.number,
            part: held.part.0,
            parts: held.part.1,
            family: self.lattice.family_name(bundle.family),
            strips: label_runs(&self.lattice.labels(bundle)),
            turned: self.labels(&bundle.turned),
            trims: self.trims(bundle),
            length_mm: bundle.length,
            count: bundle.strips.len(),
            strips_per_run: strips,
            runs,
            fill_with_scrap: scrap,
            face: held.clamping.face.name(),
            angle: bed.angle,
            from_square: bed.off_square(),
            step_back_mm: bed.step_back(),
            registered: self.registered(held),
            cut_before: held.before.iter().map(|index| index + 1).collect(),
            notches_below: self.below(held),
            tool_diameter_mm: tool.diameter,
            stock: Stock {
                x_mm: bed.x(),
                y_mm: [0.0, bed.width()],
                z_mm: [-self.lattice.section.depth, 0.0],
            },
            safe_z_mm: cutting.safe_height,
            step_down_mm: depth / steps as f64,
            feed_mm_per_min: self.data.feed,
            plunge_mm_per_min: self.data.plunge,
            spindle_rpm: self.data.rpm,
            notches: held.figures(),
            cutting_mm: 0.0,
            rapid_mm: 0.0,
            time_s: 0.0,
            path: ToolPath {
                remarks: Vec::new(),
                spindle_rpm: self.data.rpm,
                spin_up_s: self.router.spindle.spin_up,
                safe_z: cutting.safe_height,
                notches: self.paths(held, steps),
            },
        };
        setup.path.remarks = sheet::program_remarks(&setup, &self.lattice.title, machine);
        self.measure(&mut setup);
        setup
    }

    fn labels(&self, strips: &[StripId]) -> String {
        let labels: Vec<_> = strips.iter().map(|id| self.lattice.label(*id)).collect();
        label_runs(&labels)
    }

    fn trims(&self, bundle: &Bundle) -> Vec<Trimmed> {
        let trimmed = |trim: &Trim| Trimmed {
            strip: self.lattice.label(trim.strip),
            kept_mm: trim.kept,
        };
        bundle.trims.iter().map(trimmed).collect()
    }

    fn paths(&self, held: &Held<'_>, depth_steps: usize) -> Vec<NotchPath> {
        let Router { tool, cutting, .. } = self.router;
        let [low_y, high_y] = self.turns(held);
        let path = |(index, notch): (&usize, &Notch)| {
            let slot = Slot {
                bed: held.bed,
                centre: notch.centre,
                width: held.square_width(notch),
                depth: notch.depth,
                tool_diameter: tool.diameter,
                low_y,
                high_y,
                safe_z: cutting.safe_height,
                depth_steps,
                wall_allowance: cutting.wall_allowance,
                feed: self.data.feed,
                plunge_feed: self.data.plunge,
            };
            NotchPath {
                index: index + 1,
                moves: notch_moves(&slot),
            }
        };
        held.cut.iter().zip(held.notches()).map(path).collect()
    }

    /// What the strips lie against.
    fn registered(&self, held: &Held<'_>) -> Registered {
        let key = held.on_key.zip(self.router.fixture.key);
        match key {
            None => Registered::EndStop,
            Some(((notch, hops), key)) => Registered::Key {
                on_notch: notch + 1,
                x_mm: key.x - self.router.fixture.zero_x,
                machine_x_mm: key.x,
                worst_error_mm: hops as f64 * key.error,
            },
        }
    }

    /// Notches that look down, where a key bar under the bundle would find them.
    fn below(&self, held: &Held<'_>) -> Vec<NotchBelow> {
        let found = |index: &usize| {
            let notch = held.bundle.notches.get(*index)?;
            let angle = bed::program_angle(held.clamping.face, notch.angle);
            // Only slots along the present ones line up from strip to strip.
            let in_line = (angle - held.bed.angle).abs() < PARALLEL_SINE;
            let x = held.bed.slot_x(notch.centre, 0.0, held.bed.centre_y());
            let machine_x = x + self.router.fixture.zero_x;
            let within = (0.0..=self.router.travel.x).contains(&machine_x);
            (in_line && within).then_some(NotchBelow {
                index: index + 1,
                x_mm: x,
                machine_x_mm: machine_x,
            })
        };
        held.below.iter().filter_map(found).collect()
    }
}

/// Even depth steps, none deeper than `most`.
fn depth_steps(depth: f64, most: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
    let steps = (depth / most - 1e-9).ceil().max(1.0) as usize;
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn depth_is_divided_evenly() {
        assert_eq!(depth_steps(6.0, 1.5), 4);
        assert_eq!(depth_steps(6.0, 2.5), 3);
        assert_eq!(depth_steps(0.5, 2.5), 1);
    }
}
