//! A lattice's strips on a router: set-ups, cutting data, tool paths.

mod cutting;
mod notch_path;
mod sheet;

use crate::dialects::PathMode;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::label_runs;
use crate::instructions::router::{RouterPlan, RouterSetup, Stock};
use crate::instructions::tool_path::{Motion, Move, NotchPath, Position, ToolPath};
use crate::lattice::{Bundle, Lattice, Notch};
use crate::machines::Router;
use crate::phrase;
use crate::units::{AtLeast, Mm};
use cutting::CuttingData;
use notch_path::{Slot, notch_moves};

pub use sheet::router_sheet;

/// More passes than this beside or below each other, for one notch, are a slip of the pen.
const MOST_PASSES: f64 = 100.0;

/// Works out how a lattice's strips are notched on a router called `machine`; `file_name` gives
/// the name of the program of set-up n (from 0) of how many.
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
    let mut faults = data.faults();
    let mut setups = Vec::new();
    let count = lattice.bundles.len();
    for (at, bundle) in lattice.bundles.iter().enumerate() {
        let setting = Setting {
            lattice,
            router,
            data,
        };
        let found = setting.faults(bundle);
        if found.is_empty() {
            setups.push(setting.setup(bundle, machine, file_name(at, count)));
        }
        faults.extend(found);
    }
    if faults.is_empty() {
        Ok((
            RouterPlan {
                title: lattice.title.clone(),
                machine: machine.to_owned(),
                setups,
            },
            warnings,
        ))
    } else {
        Err(faults)
    }
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
        let room = self.router.fixture.widest_bundle / self.lattice.section.thickness;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
        let most = ((room + 1e-9).floor() as usize).max(1);
        let runs = count.div_ceil(most).max(1);
        let strips = count.div_ceil(runs).max(1);
        Runs {
            runs,
            strips,
            scrap: runs * strips - count,
        }
    }

    fn bundle_width(&self, bundle: &Bundle) -> f64 {
        self.runs(bundle.strips.len()).strips as f64 * self.lattice.section.thickness
    }

    /// How far the tool's edge runs beyond the bundle: as the profile says, or as far as a corner
    /// may be rounded, whichever is more. A control that keeps its feed v through a right angle
    /// leaves it by up to e = v^2 / 2a, and the path's straight legs e / (sqrt 2 - 1) before it
    /// (circle that touches both legs). In exact path mode it leaves nothing.
    fn run_out(&self) -> f64 {
        let rounded = match self.router.controller.path_mode {
            Some(PathMode::ExactPath) => 0.0,
            Some(PathMode::Continuous) | None => {
                let speed = self.data.feed / 60.0;
                let off_corner = speed * speed / (2.0 * self.router.travel.acceleration);
                off_corner / (2.0_f64.sqrt() - 1.0) + LAST_PLACE_MM
            }
        };
        self.router.cutting.run_out.max(rounded)
    }

    /// Distance from the bundle's side to where the tool's centre turns round.
    fn turn_round(&self) -> f64 {
        self.router.tool.diameter / 2.0 + self.run_out()
    }

    /// The tool's centre over all notches: least and greatest X, Y and Z.
    fn reach(&self, bundle: &Bundle) -> [(f64, f64); 3] {
        let half = |width: f64| (width - self.router.tool.diameter).max(0.0) / 2.0;
        let low = bundle
            .notches
            .iter()
            .map(|notch| notch.centre - half(notch.width));
        let high = bundle
            .notches
            .iter()
            .map(|notch| notch.centre + half(notch.width));
        let depth = bundle
            .notches
            .iter()
            .map(|notch| notch.depth)
            .fold(0.0, f64::max);
        [
            (
                low.fold(f64::INFINITY, f64::min),
                high.fold(f64::NEG_INFINITY, f64::max),
            ),
            (
                -self.turn_round(),
                self.bundle_width(bundle) + self.turn_round(),
            ),
            (-depth, self.router.cutting.safe_height),
        ]
    }

    fn faults(&self, bundle: &Bundle) -> Vec<Finding> {
        let Router {
            travel,
            tool,

            fixture,
            ..
        } = self.router;
        let mut faults = Vec::new();
        let thickness = self.lattice.section.thickness;
        if thickness > fixture.widest_bundle {
            let text = phrase!(
                "a strip {} thick is wider than the fixture's {}",
                Mm(thickness),
                Mm(fixture.widest_bundle)
            );
            faults.push(Finding::error(
                "bundle-too-wide",
                "fixture.widest_bundle",
                text,
            ));
        }
        for notch in &bundle.notches {
            if tool.diameter > notch.width + SAME_POSITION_MM {
                let text = phrase!(
                    "a tool of {} does not go into a notch {} wide",
                    Mm(tool.diameter),
                    Mm(notch.width)
                );
                faults.push(
                    Finding::error("tool-too-wide", "tool.diameter", text)
                        .hint("use a thinner tool"),
                );
            }
            if tool.flute_length < notch.depth - SAME_POSITION_MM {
                let text = phrase!(
                    "edges {} long do not reach the floor of a notch {} deep: the shank would rub",
                    Mm(tool.flute_length),
                    Mm(notch.depth)
                );
                faults.push(
                    Finding::error("flute-too-short", "tool.flute_length", text)
                        .hint("use a tool with longer edges"),
                );
            }
        }
        faults.extend(self.pass_faults(bundle));
        let room = self.run_out() + tool.diameter;
        if room > fixture.clear_beside + SAME_POSITION_MM {
            let text = phrase!(
                "the tool needs {} beside the bundle to run out; the fixture leaves {}",
                Mm(room),
                Mm(fixture.clear_beside)
            );
            faults.push(
                Finding::error("no-room-beside", "fixture.clear_beside", text)
                    .hint("less run-out, exact-path mode or a slower feed, or a fixture cut away at the notches"),
            );
        }
        let [x, y, z] = self.reach(bundle);
        let mut axis = |name: &str, field: &str, from: f64, to: f64, length: f64, hint: &str| {
            if from < -SAME_POSITION_MM || to > length + SAME_POSITION_MM {
                let text = phrase!(
                    "the tool would go to {} and {} on the {} axis, which reaches from {} to {}",
                    Mm(from),
                    Mm(to),
                    name,
                    Mm(0.0),
                    Mm(length)
                );
                faults.push(Finding::error("travel-too-short", field, text).hint(hint));
            }
        };
        axis(
            "X",
            "travel.x",
            x.0 + fixture.zero_x,
            x.1 + fixture.zero_x,
            travel.x,
            "strips longer than the travel cannot be notched in several set-ups yet: use a longer machine, or the sled",
        );
        axis(
            "Y",
            "travel.y",
            y.0 + fixture.zero_y,
            y.1 + fixture.zero_y,
            travel.y,
            "a narrower bundle (fixture.widest_bundle), or another place for the fixture (fixture.zero_y)",
        );
        axis(
            "Z",
            "travel.z",
            0.0,
            z.1 - z.0,
            travel.z,
            "a lower safe height",
        );
        faults
    }

    /// Notches that would take more passes than anybody waits for.
    fn pass_faults(&self, bundle: &Bundle) -> Vec<Finding> {
        let Router { tool, cutting, .. } = self.router;
        let mut faults = Vec::new();
        let largest = |size: fn(&Notch) -> f64| bundle.notches.iter().map(size).fold(0.0, f64::max);
        let (depth, width) = (largest(|notch| notch.depth), largest(|notch| notch.width));
        if depth > MOST_PASSES * cutting.depth_per_pass {
            let text = phrase!(
                "{} per pass takes hundreds of passes to a depth of {}",
                Mm(cutting.depth_per_pass),
                Mm(depth)
            );
            let hint = phrase!("make it {} or more", AtLeast(depth / MOST_PASSES));
            faults
                .push(Finding::error("too-many-passes", "cutting.depth_per_pass", text).hint(hint));
        }
        if width > MOST_PASSES * tool.diameter {
            let text = phrase!(
                "a tool of {} takes hundreds of passes for a notch {} wide",
                Mm(tool.diameter),
                Mm(width)
            );
            faults.push(
                Finding::error("too-many-passes", "tool.diameter", text)
                    .hint("use a thicker tool, up to the notch's width"),
            );
        }
        faults
    }

    fn setup(&self, bundle: &Bundle, machine: &str, file: String) -> RouterSetup {
        let Router { tool, cutting, .. } = self.router;
        let family = self.lattice.family_name(bundle.family);
        let labels = self.lattice.labels(bundle);
        let Runs {
            runs,
            strips,
            scrap,
        } = self.runs(bundle.strips.len());
        let [_, y, _] = self.reach(bundle);
        let depth = bundle
            .notches
            .iter()
            .map(|notch| notch.depth)
            .fold(0.0, f64::max);
        let steps = depth_steps(depth, cutting.depth_per_pass);
        let notch_path = |(at, notch): (usize, &Notch)| {
            let slot = Slot {
                centre: notch.centre,
                width: notch.width,
                depth: notch.depth,
                tool_diameter: tool.diameter,
                low_y: y.0,
                high_y: y.1,
                safe_z: cutting.safe_height,
                depth_steps: steps,
                wall_allowance: cutting.wall_allowance,
                feed: self.data.feed,
                plunge_feed: self.data.plunge,
            };
            NotchPath {
                index: at + 1,
                moves: notch_moves(&slot),
            }
        };
        let mut setup = RouterSetup {
            file,
            family,
            strips: label_runs(&labels),
            count: bundle.strips.len(),
            strips_per_run: strips,
            runs,
            fill_with_scrap: scrap,
            face: bundle.face().map_or("both", |face| face.name()),
            tool_diameter_mm: tool.diameter,
            stock: Stock {
                x_mm: [0.0, bundle.length],
                y_mm: [0.0, self.bundle_width(bundle)],
                z_mm: [-self.lattice.section.depth, 0.0],
            },
            safe_z_mm: cutting.safe_height,
            step_down_mm: depth / steps as f64,
            feed_mm_per_min: self.data.feed,
            plunge_mm_per_min: self.data.plunge,
            spindle_rpm: self.data.rpm,
            notches: super::notch_figures(&bundle.notches),
            cutting_mm: 0.0,
            rapid_mm: 0.0,
            time_s: 0.0,
            path: ToolPath {
                remarks: Vec::new(),
                spindle_rpm: self.data.rpm,
                spin_up_s: self.router.spindle.spin_up,
                safe_z: cutting.safe_height,
                notches: bundle.notches.iter().enumerate().map(notch_path).collect(),
            },
        };
        setup.path.remarks = sheet::program_remarks(&setup, &self.lattice.title, machine);
        self.measure(&mut setup);
        setup
    }

    /// Ways and time of a set-up's moves, from the first notch's start.
    fn measure(&self, setup: &mut RouterSetup) {
        let moves: Vec<&Move> = setup
            .path
            .notches
            .iter()
            .flat_map(|notch| &notch.moves)
            .collect();
        setup.time_s = self.router.spindle.spin_up;
        let mut at: Option<Position> = None;
        for step in moves {
            let way = at.map_or(0.0, |at| at.distance(step.to));
            let (total, speed) = match step.motion {
                Motion::Rapid => (Some(&mut setup.rapid_mm), self.router.travel.rapid),
                Motion::Cut(feed) => (Some(&mut setup.cutting_mm), feed),
                Motion::Air(feed) => (None, feed),
            };
            if let Some(total) = total {
                *total += way;
            }
            setup.time_s += move_time(way, speed / 60.0, self.router.travel.acceleration);
            at = Some(step.to);
        }
    }
}

/// Even depth steps, none deeper than `most`.
fn depth_steps(depth: f64, most: f64) -> usize {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
    let steps = (depth / most - 1e-9).ceil().max(1.0) as usize;
    steps
}

/// Seconds for a straight way from rest to rest at constant acceleration: a trapezoid of speed
/// where `speed` is reached, else a triangle. mm, mm/s, mm/s^2.
fn move_time(way: f64, speed: f64, acceleration: f64) -> f64 {
    if way >= speed * speed / acceleration {
        way / speed + speed / acceleration
    } else {
        2.0 * (way / acceleration).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_take_a_trapezoid_or_a_triangle() {
        // Elementary kinematics, computed apart from this code: 500 mm/s^2, 50 mm/s.
        for (way, wanted) in [(100.0, 2.1), (10.0, 0.3), (5.0, 0.2), (1.0, 0.0894)] {
            assert!((move_time(way, 50.0, 500.0) - wanted).abs() < 5e-5, "{way}");
        }
    }

    #[test]
    fn depth_is_divided_evenly() {
        assert_eq!(depth_steps(6.0, 1.5), 4);
        assert_eq!(depth_steps(6.0, 2.5), 3);
        assert_eq!(depth_steps(0.5, 2.5), 1);
    }
}
