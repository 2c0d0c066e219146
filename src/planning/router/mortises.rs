//! The mortises of a frame's rails on a router: how the rails lie, what the tool does.

use super::checks::{Axis, axis_fault};
use super::clamps::{BESIDE_CLAMPS_MM, holder_fault};
use super::cutting::{CuttingData, deflection, deflection_warning};
use super::notch_path::levels;
use super::passes::depth_steps;
use super::planner::{MOST_PASSES, safe_height};
use super::pocket_path::{Pocket, PocketRows, Pockets, ramp, ramp_legs};
use super::remarks::{job_remarks, rail_remarks};
use super::setup::tool_figures;
use super::time::ways;
use crate::dialects::{PathMode, SetUps};
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::instructions::rails::{LyingRail, PocketFigures, RailCorner, RailProgram};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::{ProgramWork, ToolPath};
use crate::lattice::{Frame, Lattice, Rail};
use crate::machines::Router;
use crate::phrase;
use crate::planning::rails::rail_names;
use crate::units::{AtLeast, Mm};
use float_cmp::ApproxEq;
use std::sync::Arc;

/// How long the tool stands in corners that the control would round, seconds: what most controls
/// state a wait in. A wait keeps the axes still (NISTIR 6556, 3.5.4).
const REST_S: f64 = 0.1;

/// A ramp to and fro on a shorter way is no better than a plunge. From memory, mm.
const SHORTEST_RAMP_MM: f64 = 1.0;

/// The programs for a frame's rails.
#[derive(Debug, Clone)]
pub struct MortisePrograms {
    /// In the rails' order.
    pub programs: Vec<RailProgram>,
    /// Rails with mortises that the router does not reach.
    pub left_out: Vec<String>,
    /// Why not, at the fields of its profile.
    pub unreached: Vec<Finding>,
}

/// Works out how a router called `machine` cuts the mortises of a frame's rails; `file_name` gives
/// the name of program n (from 0) of how many. Rails whose mortises are alike share a program; those
/// that do not lie within its reach get none.
///
/// # Errors
/// What the frame's geometry forbids, at the job's fields, then all that the router cannot do, at
/// its profile's; also where it reaches none of the rails.
pub fn plan_mortises(
    lattice: &Lattice,
    frame: &Frame,
    machine: &str,
    router: &Router,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(MortisePrograms, Vec<Finding>), Vec<Finding>> {
    let mut warnings = Vec::new();
    let data = CuttingData::of(router, &mut warnings);
    let made = frame.rails(lattice)?;
    let beds = beds(&made.rails);
    let front = frame.setback - frame.clearance / 2.0;
    let setting = RailPlanner {
        title: &lattice.title,
        machine,
        router,
        data,
        thickness: frame.thickness,
        y: [front, front + lattice.section.depth + frame.clearance],
        depth: frame.mortise_depth,
    };
    let mut faults = data.faults();
    if !beds.is_empty() {
        faults.extend(setting.faults(&beds));
    }
    let (beds, left_out) = setting.within_reach(beds);
    let unreached = left_out.iter().flat_map(|(_, faults)| faults.clone());
    let unreached: Vec<Finding> = unreached.collect();
    if beds.is_empty() {
        faults.extend(unreached.clone());
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let (step, _) = setting.depth_per_pass();
    let bent = deflection(router, data.feed, data.rpm, step);
    warnings.extend(deflection_warning(router, bent, step));
    let count = beds.len();
    let mut programs = Vec::new();
    let mut runs = 0;
    for (at, bed) in beds.iter().enumerate() {
        let (file, after_stop) = match router.controller.set_ups {
            SetUps::Files => (file_name(at, count), None),
            SetUps::OneFile => (file_name(0, 1), Some(runs)),
        };
        programs.push(setting.program(bed, file, after_stop));
        runs += bed.rails.len();
    }
    let names = left_out.iter().flat_map(|(bed, _)| &bed.rails);
    let left_out = names.map(|rail| rail.name.clone()).collect();
    let made = MortisePrograms {
        programs,
        left_out,
        unreached,
    };
    Ok((made, warnings))
}

/// Rails that lie alike: walls of their mortises along X.
struct RailBed {
    rails: Vec<LyingRail>,
    length: f64,
    mortises: Vec<[f64; 2]>,
}

impl RailBed {
    /// Whether a rail so long, with such mortises, lies just as these do.
    fn holds(&self, length: f64, mortises: &[[f64; 2]]) -> bool {
        let mut pairs = self
            .mortises
            .iter()
            .flatten()
            .zip(mortises.iter().flatten());
        self.length.approx_eq(length, POSITION)
            && self.mortises.len() == mortises.len()
            && pairs.all(|(a, b)| a.approx_eq(*b, POSITION))
    }
}

/// How the rails with mortises lie. Seen from the front, a right-handed frame with Z out of the
/// inner face and Y to the back has X counter-clockwise round the panel: from the left or lower end
/// of bottom rail and right stile, but from the right or upper end of top rail and left stile.
fn beds(rails: &[Rail]) -> Vec<RailBed> {
    let inside = middle(rails);
    let mut beds: Vec<RailBed> = Vec::new();
    for (rail, name) in rails.iter().zip(rail_names(rails)) {
        if rail.mortises.is_empty() {
            continue;
        }
        let length = rail.length();
        let counter_clockwise = rail.start.to(rail.end).cross(rail.start.to(inside)) > 0.0;
        let mut mortises: Vec<[f64; 2]> = rail.mortises.iter().map(|found| found.edges).collect();
        if !counter_clockwise {
            mortises = mortises
                .iter()
                .rev()
                .map(|[near, far]| [length - far, length - near])
                .collect();
        }
        let lying = LyingRail {
            name,
            zero_corner: zero_corner(rail, counter_clockwise),
        };
        match beds.iter_mut().find(|bed| bed.holds(length, &mortises)) {
            Some(bed) => bed.rails.push(lying),
            None => beds.push(RailBed {
                rails: vec![lying],
                length,
                mortises,
            }),
        }
    }
    beds
}

/// The mean of the rails' corners: a point inside the panel, which is convex.
fn middle(rails: &[Rail]) -> Point {
    let corners = || rails.iter().flat_map(|rail| [rail.start, rail.end]);
    let count = corners().count().max(1) as f64;
    let x: f64 = corners().map(|corner| corner.x).sum();
    let y: f64 = corners().map(|corner| corner.y).sum();
    Point::new(x / count, y / count)
}

/// A rail starts at its left end or, a steep one, at its lower.
fn zero_corner(rail: &Rail, from_start: bool) -> RailCorner {
    let along = rail.start.to(rail.end);
    match (along.y.abs() > along.x.abs() + SAME_POSITION_MM, from_start) {
        (false, true) => RailCorner::Left,
        (false, false) => RailCorner::Right,
        (true, true) => RailCorner::Lower,
        (true, false) => RailCorner::Upper,
    }
}

struct RailPlanner<'a> {
    title: &'a str,
    machine: &'a str,
    router: &'a Router,
    data: CuttingData,
    /// Of the rails, front to back.
    thickness: f64,
    /// Front and back walls of the mortises.
    y: [f64; 2],
    depth: f64,
}

impl RailPlanner<'_> {
    /// Depth of a pass, and how many there are before the floor's own.
    fn depth_per_pass(&self) -> (f64, usize) {
        let cutting = self.router.cutting;
        let roughed = (self.depth - cutting.floor_allowance).max(0.0);
        let steps = depth_steps(roughed, cutting.depth_per_pass);
        (roughed / steps as f64, steps)
    }

    fn rows(&self, [near, far]: [f64; 2]) -> PocketRows {
        let sides = [far - near, self.y[1] - self.y[0]];
        let Router { tool, cutting, .. } = self.router;
        PocketRows::of(sides, tool.diameter, cutting.wall_allowance)
    }

    fn program(&self, bed: &RailBed, file: String, after_stop: Option<usize>) -> RailProgram {
        let Router { tool, cutting, .. } = self.router;
        let (depth_per_pass, steps) = self.depth_per_pass();
        let safe_height = safe_height(self.router);
        let levels = levels(self.depth, steps, cutting.floor_allowance);
        let exact = self.router.controller.path_mode == Some(PathMode::ExactPath);
        let mut pockets = Vec::new();
        let mut figures = Vec::new();
        for (index, x) in (1..).zip(&bed.mortises) {
            pockets.push(Pocket {
                x: *x,
                y: self.y,
                levels: levels.clone(),
                tool_diameter: tool.diameter,
                safe_height,
                wall_allowance: cutting.wall_allowance,
                spring_pass: cutting.spring_pass,
                rest: (!exact).then_some(REST_S),
                feed: self.data.feed,
                plunge_feed: self.data.plunge,
            });
            figures.push(PocketFigures {
                index,
                near_edge_mm: x[0],
                far_edge_mm: x[1],
            });
        }
        let pockets = Pockets(pockets);
        let ways = ways(self.router, &pockets);
        let mut program = RailProgram {
            file,
            after_stop,
            rails: bed.rails.clone(),
            inner_length_mm: bed.length,
            stock_y_mm: [0.0, self.thickness],
            y_mm: self.y,
            mortises: figures,
            depth_mm: self.depth,
            tool: tool_figures(self.router),
            wall_allowance_mm: bed
                .mortises
                .first()
                .map_or(0.0, |edges| self.rows(*edges).left),
            corner_radius_mm: tool.diameter / 2.0,
            safe_height_mm: safe_height,
            depth_per_pass_mm: depth_per_pass,
            depths: levels.len(),
            ramp: ramp(self.data.feed, self.data.plunge).atan(),
            feed_mm_per_min: self.data.feed,
            spindle_rpm: self.data.rpm,
            rests_in_corners: !exact,
            cutting_mm: ways.cutting_mm,
            rapid_mm: ways.rapid_mm,
            time_s: self.router.spindle.spin_up + ways.time_s,
            path: ToolPath {
                work: ProgramWork::Mortises,
                job: job_remarks(self.title, self.machine),
                set_up: Vec::new(),
                safety: SafetyNotes::for_mortises(true),
                spindle_rpm: self.data.rpm,
                spin_up_s: self.router.spindle.spin_up,
                safe_height,
                cuts: Arc::new(pockets),
            },
        };
        program.path.set_up = rail_remarks(&program);
        program
    }

    /// All that stands against cutting the mortises.
    fn faults(&self, beds: &[RailBed]) -> Vec<Finding> {
        let mut faults = self.tool_faults(beds);
        if faults.is_empty() {
            faults.extend(self.pass_faults(beds));
        }
        faults.extend(self.room_faults());
        faults
    }

    fn tool_faults(&self, beds: &[RailBed]) -> Vec<Finding> {
        let tool = self.router.tool;
        let widths = beds.iter().flat_map(|bed| &bed.mortises);
        let narrowest = widths
            .map(|[near, far]| far - near)
            .fold(self.y[1] - self.y[0], f64::min);
        let mut faults = Vec::new();
        if tool.diameter > narrowest + SAME_POSITION_MM {
            let text = phrase!(
                "a tool of {} does not go into a mortise {} wide",
                Mm(tool.diameter),
                Mm(narrowest)
            );
            let finding = Finding::error("tool-too-wide", "tool.diameter", text);
            faults.push(finding.hint("use a thinner tool, or chop or drill the mortises"));
        }
        if tool.flute_length < self.depth - SAME_POSITION_MM {
            let text = phrase!(
                "edges {} long do not reach the floor of a mortise {} deep: the shank would rub",
                Mm(tool.flute_length),
                Mm(self.depth)
            );
            let finding = Finding::error("flute-too-short", "tool.flute_length", text);
            faults.push(finding.hint("use a tool with longer edges"));
        }
        faults
    }

    /// No way to ramp down, or more passes than anybody waits for.
    fn pass_faults(&self, beds: &[RailBed]) -> Vec<Finding> {
        let Router { tool, cutting, .. } = self.router;
        let mut faults = Vec::new();
        let rows = beds.iter().flat_map(|bed| &bed.mortises);
        let rows: Vec<PocketRows> = rows.map(|edges| self.rows(*edges)).collect();
        let reach = rows.iter().map(|rows| rows.reach);
        let shortest = 2.0 * reach.fold(f64::INFINITY, f64::min);
        let slope = ramp(self.data.feed, self.data.plunge);
        if shortest < SHORTEST_RAMP_MM {
            let text = phrase!(
                "a tool of {} has {} to go down along a ramp in a mortise; it needs {}",
                Mm(tool.diameter),
                Mm(shortest),
                Mm(SHORTEST_RAMP_MM)
            );
            let finding = Finding::error("no-room-to-ramp", "tool.diameter", text);
            faults.push(finding.hint("use a thinner tool, or chop or drill the mortises"));
        } else if ramp_legs(cutting.depth_per_pass, shortest / 2.0, slope) > MOST_PASSES {
            let text = phrase!("ramps so flat take hundreds of ways to and fro");
            let finding = Finding::error("too-many-passes", "cutting.plunge_feed", text);
            faults.push(finding.hint("a faster plunge feed, or less depth per pass"));
        }
        if self.depth > MOST_PASSES * cutting.depth_per_pass {
            let text = phrase!(
                "{} per pass takes hundreds of passes to a depth of {}",
                Mm(cutting.depth_per_pass),
                Mm(self.depth)
            );
            let hint = phrase!("make it {} or more", AtLeast(self.depth / MOST_PASSES));
            let finding = Finding::error("too-many-passes", "cutting.depth_per_pass", text);
            faults.push(finding.hint(hint));
        }
        if rows
            .iter()
            .any(|rows| rows.across.len() as f64 > MOST_PASSES)
        {
            let text = phrase!(
                "a tool of {} takes hundreds of passes for a mortise",
                Mm(tool.diameter)
            );
            let finding = Finding::error("too-many-passes", "tool.diameter", text);
            faults.push(finding.hint("use a thicker tool, up to the mortise's width"));
        }
        faults
    }

    /// Room for rail and tool on the machine.
    fn room_faults(&self) -> Vec<Finding> {
        let Router {
            travel,
            tool,
            fixture,
            ..
        } = self.router;
        let mut faults = Vec::new();
        if self.thickness > fixture.widest_bundle + SAME_POSITION_MM {
            let text = phrase!(
                "a rail {} thick is wider than the fixture's {}",
                Mm(self.thickness),
                Mm(fixture.widest_bundle)
            );
            let field = "fixture.widest_bundle";
            faults.push(Finding::error("rail-too-wide", field, text));
        }
        let radius = tool.diameter / 2.0;
        faults.extend(holder_fault(self.router, self.depth));
        faults.extend(axis_fault(
            Axis::y(travel),
            [
                self.y[0] + radius + fixture.zero_y,
                self.y[1] - radius + fixture.zero_y,
            ],
            "another place for the fixture (fixture.zero_y)",
        ));
        faults.extend(axis_fault(
            Axis::z(travel),
            [0.0, safe_height(self.router) + self.depth],
            "a lower safe height",
        ));
        faults
    }

    /// Beds whose mortises can all be reached, and the others with what stands against them.
    fn within_reach(&self, beds: Vec<RailBed>) -> (Vec<RailBed>, Vec<(RailBed, Vec<Finding>)>) {
        let mut within = Vec::new();
        let mut beyond = Vec::new();
        for bed in beds {
            let faults = self.reach_faults(&bed);
            if faults.is_empty() {
                within.push(bed);
            } else {
                beyond.push((bed, faults));
            }
        }
        (within, beyond)
    }

    /// Mortises that lie too far along, or under a clamp.
    fn reach_faults(&self, bed: &RailBed) -> Vec<Finding> {
        let Router {
            travel,
            tool,
            fixture,
            ..
        } = self.router;
        let radius = tool.diameter / 2.0;
        let walls = || bed.mortises.iter().flatten();
        let low = walls().copied().fold(f64::INFINITY, f64::min) + radius;
        let high = walls().copied().fold(f64::NEG_INFINITY, f64::max) - radius;
        let names: Vec<&str> = bed.rails.iter().map(|rail| rail.name.as_str()).collect();
        let hint = phrase!(
            "{}: mortises farther along than the machine reaches: chop or drill them after the stop list, or use a longer machine",
            names.join(", ")
        );
        let axis = axis_fault(
            Axis::x(travel),
            [low + fixture.zero_x, high + fixture.zero_x],
            hint,
        );
        let clamps = bed.mortises.iter().filter_map(|x| self.clamp_fault(*x));
        axis.into_iter().chain(clamps).collect()
    }

    /// A clamp too near a mortise, or so near that the holder meets it.
    fn clamp_fault(&self, x: [f64; 2]) -> Option<Finding> {
        let tool = self.router.tool;
        let wider = tool.holder_diameter.unwrap_or(tool.diameter) - tool.diameter;
        let clamps = self.router.fixture.clamps.iter().enumerate();
        let mut in_way = clamps.filter(|(_, clamp)| {
            let within = |by: f64| overlap(clamp.x, x, by) && overlap(clamp.y, self.y, by);
            clamp.top > -self.depth && within(BESIDE_CLAMPS_MM)
                || clamp.top > tool.length() - self.depth
                    && within(BESIDE_CLAMPS_MM + wider.max(0.0) / 2.0)
        });
        let (at, clamp) = in_way.next()?;
        let text = phrase!(
            "{} stands in the tool's way in the mortise at {}",
            &clamp.name,
            Mm(f64::midpoint(x[0], x[1]))
        );
        let field = format!("fixture.clamps[{at}]");
        Some(Finding::error("clamp-in-the-way", field, text).hint("move it"))
    }
}

/// Whether two stretches come nearer to each other than `by`.
fn overlap(a: [f64; 2], b: [f64; 2], by: f64) -> bool {
    a[0] < b[1] + by && b[0] < a[1] + by
}
