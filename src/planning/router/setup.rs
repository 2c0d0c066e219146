//! What a set-up tells: of the strips, of how they lie, of what is done to them.

use super::bed::program_angle;
use super::clamped_bundle::ClampedBundle;
use super::notch_path::{NotchCut, NotchCuts, notch_moves};
use super::planner::{NotchingPlanner, Runs};
use super::remarks::{job_remarks, program_remarks};
use super::sharing::Sharer;
use super::time::ways;
use crate::geometry::tolerance::DIRECTION;
use crate::instructions::label_runs;
use crate::instructions::router::{
    ClampFigures, LyingBundle, NotchBelow, Registered, RouterSetup, Stock, ToolFigures, Trimmed,
};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::{ProgramWork, ToolPath};
use crate::lattice::StripId;
use crate::machines::{Clamp, Router};
use float_cmp::ApproxEq;
use std::sync::Arc;

/// The cutter as it is told of.
pub(super) fn tool_figures(router: &Router) -> ToolFigures {
    let tool = router.tool;
    let trimmed = (tool.over_edges - tool.diameter).abs() > 0.0;
    ToolFigures {
        cuts_mm: tool.diameter,
        over_edges_mm: trimmed.then_some(tool.over_edges),
        stick_out_mm: tool.stick_out,
        work_zero: router.controller.work_zero.then_some("G54"),
    }
}

/// A clamp as it is told of.
pub(super) fn clamp_figures(clamp: &Clamp) -> ClampFigures {
    ClampFigures {
        name: clamp.name.clone(),
        x_mm: clamp.x,
        y_mm: clamp.y,
        top_mm: clamp.top,
    }
}

/// A rapid way that is shorter by less than this is not shorter, mm: sheets tell centimetres.
const TOLD_MM: f64 = 10.0;

impl NotchingPlanner<'_> {
    /// All that is told of one program, and its moves.
    pub(super) fn setup(
        &self,
        held: &ClampedBundle<'_>,
        machine: &str,
        file: String,
        stop_back: bool,
    ) -> RouterSetup {
        let cutting = self.router.cutting;
        let ClampedBundle { bundle, bed, .. } = held;
        let count = held.count();
        let Runs {
            runs,
            strips,
            scrap,
        } = self.runs(count);
        let (depth_per_pass, steps) = self.depth_per_pass(held);
        let safe_height = self.safe_height();
        let mut setup = RouterSetup {
            file,
            after_stop: None,
            stop_back,
            bundle: held.sharers.first().map_or(0, |first| first.number),
            part: held.part,
            parts: held.parts,
            strips: self.all_labels(held),
            lying: held
                .sharers
                .iter()
                .filter_map(|one| self.lying(held, one))
                .collect(),
            trims: held
                .sharers
                .iter()
                .flat_map(|one| self.trims(one))
                .collect(),
            length_mm: bundle.length,
            count,
            strips_per_run: strips,
            runs,
            fill_with_scrap: scrap,
            angle: bed.angle,
            from_square: bed.off_square(),
            step_back_mm: bed.step_back(),
            registered: self.registered(held),
            cut_before: held.before.iter().map(|index| index + 1).collect(),
            rolled_over: !held.below.is_empty(),
            notches_below: self.below(held),
            tool: tool_figures(self.router),
            stock: Stock {
                x_mm: bed.x(),
                y_mm: [0.0, bed.width()],
                z_mm: [-self.lattice.section.depth, 0.0],
            },
            safe_height_mm: safe_height,
            depth_per_pass_mm: depth_per_pass,
            passes: self.passes(held, steps),
            backers_mm: self.router.fixture.backers,
            feed_mm_per_min: self.data.feed,
            wall_feed_mm_per_min: self.first_wall_feed(held),
            deflection_mm: self.deflection(depth_per_pass),
            plunge_feed_mm_per_min: self.data.plunge,
            spindle_rpm: self.data.rpm,
            notches: held.figures(),
            cutting_mm: 0.0,
            rapid_mm: 0.0,
            rapid_from_front_mm: None,
            time_s: 0.0,
            path: ToolPath {
                work: ProgramWork::Notches,
                job: job_remarks(&self.lattice.title, machine),
                set_up: Vec::new(),
                safety: SafetyNotes::for_router(),
                spindle_rpm: self.data.rpm,
                spin_up_s: self.router.spindle.spin_up,
                safe_height,
                cuts: Arc::new(self.slots(held, steps, safe_height, cutting.short_ways)),
            },
        };
        let clamps: Vec<_> = (self.router.fixture.clamps.iter())
            .map(clamp_figures)
            .collect();
        setup.path.set_up = program_remarks(&setup, &clamps);
        self.sum_up(&mut setup, held, steps);
        setup
    }

    /// Ways and time.
    fn sum_up(&self, setup: &mut RouterSetup, held: &ClampedBundle<'_>, steps: usize) {
        let cutting = self.router.cutting;
        let all = ways(self.router, &*setup.path.cuts);
        setup.cutting_mm = all.cutting_mm;
        setup.rapid_mm = all.rapid_mm;
        setup.time_s = self.router.spindle.spin_up + all.time_s;
        if cutting.short_ways && !cutting.returns_in_air {
            let slots = self.slots(held, steps, setup.safe_height_mm, false);
            let longer = ways(self.router, &slots).rapid_mm;
            setup.rapid_from_front_mm = (longer > setup.rapid_mm + TOLD_MM).then_some(longer);
        }
    }

    pub(super) fn labels(&self, strips: &[StripId]) -> String {
        let labels: Vec<_> = strips.iter().map(|id| self.lattice.label(*id)).collect();
        label_runs(&labels)
    }

    /// Labels of all strips that share a program, bundle by bundle.
    pub(super) fn all_labels(&self, held: &ClampedBundle<'_>) -> String {
        let sharers = held.sharers.iter();
        let labels: Vec<String> = sharers
            .flat_map(|one| self.lattice.labels(one.bundle))
            .collect();
        label_runs(&labels)
    }

    /// How a bundle's strips lie where the first one's lie as its clamping says; nothing of a bundle
    /// of no strips.
    fn lying(&self, held: &ClampedBundle<'_>, one: &Sharer<'_>) -> Option<LyingBundle> {
        let bundle = one.bundle;
        let face = held.clamping.face;
        let face_up = if one.turn.is_over() {
            face.opposite()
        } else {
            face
        };
        let mut strips = self.lattice.strips.iter();
        let first = strips.find(|strip| bundle.strips.first() == Some(&strip.id));
        let datum_end = first?.datum_end();
        let end_at_stop = if one.turn.swaps_ends() {
            datum_end.opposite()
        } else {
            datum_end
        };
        let own = bundle.notch_for_notch(held.bundle, one.turn);
        let own: Vec<usize> = own.into_iter().map(|index| index + 1).collect();
        let in_order = (1..).zip(&own).all(|(number, own)| number == *own);
        Some(LyingBundle {
            bundle: one.number,
            family: self.lattice.family_name(bundle.family),
            strips: label_runs(&self.lattice.labels(bundle)),
            count: bundle.strips.len(),
            face_up,
            end_at_stop,
            turned: self.labels(&bundle.turned),
            own_numbers: if in_order { Vec::new() } else { own },
        })
    }

    /// What is kept of strips that are notched longer, from the end toward the stop.
    fn trims(&self, one: &Sharer<'_>) -> Vec<Trimmed> {
        let length = one.bundle.length;
        let mut trimmed = Vec::new();
        for trim in &one.bundle.trims {
            let [low, high] = trim.kept;
            trimmed.push(Trimmed {
                strip: self.lattice.label(trim.strip),
                kept_mm: if one.turn.swaps_ends() {
                    [length - high, length - low]
                } else {
                    [low, high]
                },
            });
        }
        trimmed
    }

    /// The ways of the notches that a program cuts, in their order.
    fn slots(
        &self,
        held: &ClampedBundle<'_>,
        depth_steps: usize,
        safe_height: f64,
        short_ways: bool,
    ) -> NotchCuts {
        let Router { tool, cutting, .. } = self.router;
        let [low_y, high_y] = self.turns(held.bed);
        let mut behind = false;
        let mut slots = Vec::new();
        for (index, notch) in held.cut.iter().zip(held.notches()) {
            let slot = NotchCut {
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
        NotchCuts(slots)
    }

    /// What the strips lie against.
    fn registered(&self, held: &ClampedBundle<'_>) -> Registered {
        let (Some(on_key), Some(key)) = (held.on_key, self.router.fixture.key) else {
            return Registered::EndStop;
        };
        let notch = held.bundle.notches.get(on_key.notch);
        Registered::Key {
            on_notch: on_key.notch + 1,
            x_mm: key.x - self.router.fixture.zero_x,
            machine_x_mm: key.x,
            near_edge_mm: notch.map_or(0.0, |notch| {
                held.bed.datum + notch.centre - notch.width / 2.0
            }),
            worst_error_mm: on_key.hops as f64 * key.error,
        }
    }

    /// Notches that look down, where a key bar under the bundle would find them.
    fn below(&self, held: &ClampedBundle<'_>) -> Vec<NotchBelow> {
        let bed = held.bed;
        let mut found = Vec::new();
        for &index in &held.below {
            let Some(notch) = held.bundle.notches.get(index) else {
                continue;
            };
            let x = bed.slot_x(notch.centre, 0.0, bed.centre_y());
            let machine_x = x + self.router.fixture.zero_x;
            // Only slots along the present ones line up from strip to strip.
            let angle = program_angle(held.clamping.face, notch.angle);
            let in_line = angle.approx_eq(bed.angle, DIRECTION);
            if in_line && (0.0..=self.router.travel.x).contains(&machine_x) {
                found.push(NotchBelow {
                    index: index + 1,
                    x_mm: x,
                    machine_x_mm: machine_x,
                });
            }
        }
        found
    }
}
