//! Every kind of piece on a router: how many sticks, how they lie, what the program does.

use super::super::cutting::{CuttingData, deflection, deflection_warning};
use super::super::notch_path::NotchCut;
use super::super::passes::depth_steps;
use super::super::planner::{NotchingPlanner, safe_height};
use super::super::remarks::{job_remarks, row_remarks};
use super::super::setup::{clamp_figures, tool_figures};
use super::super::time::ways;
use super::cuts::{StickCut, StickCuts};
use super::order::{LaidRow, RowSticks, most, no_longer, square_width};
use crate::dialects::SetUps;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::infill::{Infilling, PieceKind};
use crate::instructions::routed_rows::{LeftOutPiece, RoutedRow, RoutedRows};
use crate::instructions::router::Passes;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::tool_path::{ProgramWork, ToolPath};
use crate::lattice::Panel;
use crate::machines::{Chosen, LongSticks, Router};
use crate::phrase;
use crate::planning::measured_figures::measured_figures;
use crate::planning::measured_stock::measured_stock;
use crate::planning::paring::pieces_made;
use crate::units::Mm;
use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

/// Spacers between sticks are so many millimetres wide, or a multiple: people make them.
const SPACER_STEP_MM: f64 = 0.5;

/// Longer rows than this nobody cuts.
const MOST_IN_ROW: usize = 400;

/// A panel's rows.
#[derive(Debug, Clone)]
pub struct PlannedRows {
    /// What the router cuts.
    pub plan: RoutedRows,
    /// Why it does not cut some kinds of pieces.
    pub unmade: Vec<Finding>,
}

/// Works out how a panel's pieces are cut on a router in rows on long sticks; `file_name` gives the
/// name of program n (from 0) of how many. Kinds of pieces that it cannot cut are left out.
///
/// # Errors
/// All that the router cannot do, at the fields of its profile; also where it cuts no kind of piece.
pub fn plan_rows(
    panel: &Panel,
    filled: &Infilling,
    router: Chosen<'_, Router>,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(PlannedRows, Vec<Finding>), Vec<Finding>> {
    let Chosen { name, machine } = router;
    let Some(sticks) = machine.mitres else {
        return Err(vec![no_mitres()]);
    };
    let mut warnings = Vec::new();
    let data = CuttingData::of(machine, &mut warnings);
    let planner = RowPlanner::of(panel, filled, machine, sticks, data);
    let mut faults = data.faults();
    faults.extend(planner.faults());
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut rows = Vec::new();
    let mut left_out = Vec::new();
    let mut unmade = Vec::new();
    for (at, kind) in filled.kinds.iter().enumerate() {
        let wanted = pieces_made(filled, at, kind);
        if wanted == 0 {
            continue;
        }
        let shared_out = match kind.stock.is_like(&filled.most_stock) {
            true => planner.shared_out(kind, wanted),
            false => Err(vec![other_wood(kind)]),
        };
        match shared_out {
            Ok(row) => rows.push((at, row)),
            Err(found) => {
                unmade.extend(found);
                left_out.push(LeftOutPiece {
                    number: at + 1,
                    name: kind.name.clone(),
                });
            }
        }
    }
    if rows.is_empty() {
        return Err(unmade);
    }
    warnings.extend(planner.bending());
    let count = rows.len();
    let mut made = Vec::new();
    let mut runs = 0;
    for (nth, (at, shared)) in rows.iter().enumerate() {
        let (file, after_stop) = match machine.controller.set_ups {
            SetUps::Files => (file_name(nth, count), None),
            SetUps::OneFile => (file_name(0, 1), Some(runs)),
        };
        let mut row = planner.row(*at, shared, file);
        row.after_stop = after_stop;
        row.path.job = job_remarks(&panel.design().title, name);
        runs += row.runs;
        made.push(row);
    }
    let plan = RoutedRows {
        title: panel.design().title.clone(),
        machine: name.to_owned(),
        measured_stock: measured_stock(panel.lattice()),
        measured_figures: measured_figures(&machine.measured),
        time_s: made.iter().map(|row| row.runs as f64 * row.time_s).sum(),
        rows: made,
        left_out,
        clamps: machine.fixture.clamps.iter().map(clamp_figures).collect(),
    };
    Ok((PlannedRows { plan, unmade }, warnings))
}

/// A kind of piece of other wood than the sticks.
fn other_wood(kind: &PieceKind) -> Finding {
    let text = phrase!(
        "the {} is {} thick and {} deep: not the wood of most pieces, for whose sticks the router is set",
        kind.name.as_str(),
        Mm(kind.stock.thickness),
        Mm(kind.stock.depth)
    );
    Finding::warning("piece-of-other-wood", "mitres", text).hint("it is pared on the guides")
}

/// A kind of piece, shared out over sticks and runs.
pub(super) struct SharedOut<'a> {
    kind: &'a PieceKind,
    wanted: usize,
    sticks_a_run: usize,
    runs: usize,
    row: LaidRow,
}

pub(super) struct RowPlanner<'a> {
    pub(super) router: &'a Router,
    pub(super) sticks: LongSticks,
    pub(super) notching: NotchingPlanner<'a>,
    data: CuttingData,
    pub(super) thickness: f64,
    pub(super) depth: f64,
    /// How far the tool's edge runs beyond a stick.
    pub(super) run_out: f64,
}

impl<'a> RowPlanner<'a> {
    fn of(
        panel: &'a Panel,
        filled: &Infilling,
        router: &'a Router,
        sticks: LongSticks,
        data: CuttingData,
    ) -> Self {
        let mut notching = NotchingPlanner::new(panel.lattice(), router, data);
        let kinds = filled.kinds.iter();
        let laps = || kinds.clone().flat_map(|kind| &kind.figures.laps);
        let feeds = laps().map(|lap| notching.wall_feed(lap.width * lap.angle.sin()));
        notching.fastest_cut = feeds.fold(data.feed, f64::max);
        // Sideways from pass to pass at a slant only laps take the tool, beside the stick.
        let slanted = laps().map(|lap| notching.run_out(lap.angle));
        let run_out = slanted.fold(notching.run_out(FRAC_PI_2), f64::max);
        let section = filled.most_stock;
        RowPlanner {
            router,
            sticks,
            notching,
            data,
            thickness: section.thickness,
            depth: section.depth,
            run_out,
        }
    }

    /// Depth of a mitre: all of the stick but its skin.
    pub(super) fn mitre_depth(&self) -> f64 {
        self.depth - self.sticks.skin
    }

    pub(super) fn row_sticks<'k>(&self, kind: &'k PieceKind) -> RowSticks<'k> {
        let Router { tool, cutting, .. } = self.router;
        RowSticks {
            kind,
            thickness: self.thickness,
            depth: self.depth,
            grip: self.sticks.grip,
            tool_diameter: tool.diameter,
            wall_allowance: cutting.wall_allowance,
            beyond: tool.diameter / 2.0 + self.run_out,
        }
    }

    /// Between neighbouring sticks: the tool turns round in air, as far from the next stick as from its
    /// own; as a spacer that a person can make.
    pub(super) fn apart(&self) -> f64 {
        let room = self.router.tool.diameter + 2.0 * self.run_out;
        (room / SPACER_STEP_MM - SAME_POSITION_MM).ceil() * SPACER_STEP_MM
    }

    /// Sticks that lie on the machine at once.
    pub(super) fn at_once(&self) -> usize {
        let Router {
            fixture, travel, ..
        } = self.router;
        if fixture.single {
            return 1;
        }
        let beyond = self.router.tool.diameter / 2.0 + self.run_out;
        let room = fixture
            .widest_bundle
            .min(travel.y - fixture.zero_y - beyond);
        let each = self.thickness + self.apart();
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small and positive
        let most = ((room + self.apart() + SAME_POSITION_MM) / each)
            .floor()
            .max(1.0) as usize;
        most
    }

    /// As many pieces on a stick as it holds, then as few as serve in as many runs.
    fn shared_out<'k>(
        &self,
        kind: &'k PieceKind,
        wanted: usize,
    ) -> Result<SharedOut<'k>, Vec<Finding>> {
        let sticks = self.row_sticks(kind);
        let found = self.kind_faults(kind, &sticks);
        if !found.is_empty() {
            return Err(found);
        }
        let fits = |row: &LaidRow| self.reaches(row);
        let holds = most(&sticks, MOST_IN_ROW.min(wanted), fits);
        if holds == 0 {
            return Err(self.too_long(kind, &sticks.laid(1)));
        }
        let at_once = self.at_once();
        let needed = wanted.div_ceil(holds);
        let runs = needed.div_ceil(at_once);
        let sticks_a_run = needed.div_ceil(runs);
        let pieces = wanted.div_ceil(sticks_a_run * runs);
        let row = sticks.laid(pieces);
        let found = self.clamp_faults(kind, &sticks, &row, sticks_a_run);
        if !found.is_empty() {
            return Err(found);
        }
        Ok(SharedOut {
            kind,
            wanted,
            sticks_a_run,
            runs,
            row,
        })
    }

    /// Whether the tool gets everywhere, and such sticks are taken.
    pub(super) fn reaches(&self, row: &LaidRow) -> bool {
        let Router {
            fixture, travel, ..
        } = self.router;
        let most = travel.x - fixture.zero_x;
        no_longer(row, self.sticks.longest) && row.reach[1] <= most + SAME_POSITION_MM
    }

    /// Y of the sticks' front edges.
    pub(super) fn fronts(&self, sticks: usize) -> Vec<f64> {
        let each = self.thickness + self.apart();
        (0..sticks).map(|stick| stick as f64 * each).collect()
    }

    /// Even depth steps of a cut so deep.
    fn steps(&self, depth: f64) -> usize {
        depth_steps(depth, self.router.cutting.depth_per_pass)
    }

    fn bending(&self) -> Option<Finding> {
        let depth = self.mitre_depth();
        let step = depth / self.steps(depth) as f64;
        let bent = deflection(self.router, self.data.feed, self.data.rpm, step);
        deflection_warning(self.router, bent, step)
    }

    fn row(&self, at: usize, shared: &SharedOut<'_>, file: String) -> RoutedRow {
        let Router { tool, cutting, .. } = self.router;
        let SharedOut {
            kind,
            wanted,
            sticks_a_run,
            runs,
            row,
        } = shared;
        let sticks = self.row_sticks(kind);
        let depth = self.mitre_depth();
        let steps = self.steps(depth);
        let safe_height = safe_height(self.router);
        let cuts = self.cuts(&sticks, row, &self.fronts(*sticks_a_run));
        let ways = ways(self.router, &cuts);
        let pieces = row.pieces.len();
        let mut made = RoutedRow {
            file,
            after_stop: None,
            number: at + 1,
            piece: kind.name.clone(),
            length_over_points_mm: kind.figures.length,
            wanted: *wanted,
            face_up: sticks.face_up(),
            pieces_a_stick: pieces,
            sticks_a_run: *sticks_a_run,
            runs: *runs,
            spare: pieces * sticks_a_run * runs - wanted,
            stick_mm: row.length,
            thickness_mm: self.thickness,
            depth_mm: self.depth,
            apart_mm: self.apart(),
            front_edges_mm: self.fronts(*sticks_a_run),
            grip_mm: self.sticks.grip,
            skin_mm: self.sticks.skin,
            thinnest_skin_mm: self.sticks.thinnest_skin(),
            thickest_skin_mm: self.sticks.thickest_skin(0.0),
            pieces: row.pieces.clone(),
            laps: row.laps.clone(),
            mitres: row.mitres.clone(),
            tool: tool_figures(self.router),
            safe_height_mm: safe_height,
            depth_per_pass_mm: depth / steps as f64,
            passes: Passes {
                depths: steps,
                roughing: 1,
                walls: 0,
                wall_allowance_mm: 0.0,
                floor_allowance_mm: 0.0,
                returns_in_air: cutting.returns_in_air,
                spring_pass: cutting.spring_pass,
            },
            run_out_mm: sticks.beyond - tool.diameter / 2.0,
            feed_mm_per_min: self.data.feed,
            plunge_feed_mm_per_min: self.data.plunge,
            spindle_rpm: self.data.rpm,
            cutting_mm: ways.cutting_mm,
            rapid_mm: ways.rapid_mm,
            time_s: self.router.spindle.spin_up + ways.time_s,
            path: ToolPath {
                work: ProgramWork::Mitres,
                job: Vec::new(),
                set_up: Vec::new(),
                safety: SafetyNotes::for_routed_rows(),
                spindle_rpm: self.data.rpm,
                spin_up_s: self.router.spindle.spin_up,
                safe_height,
                cuts: Arc::new(cuts),
            },
        };
        let clamps: Vec<_> = (self.router.fixture.clamps.iter())
            .map(clamp_figures)
            .collect();
        made.path.set_up = row_remarks(&made, &clamps);
        made
    }

    /// Stick by stick the laps, then the mitres: a skin holds no piece against a lap's cut.
    fn cuts(&self, sticks: &RowSticks<'_>, row: &LaidRow, fronts: &[f64]) -> StickCuts {
        let cutting = self.router.cutting;
        let turns_in_air = cutting.short_ways && !cutting.returns_in_air;
        let mut cuts = Vec::new();
        for front in fronts {
            let mut behind = false;
            let mut add = |mut cut: NotchCut| {
                cut.from_behind = behind && turns_in_air;
                let cut = StickCut { cut, front: *front };
                behind = cut.ends_behind();
                cuts.push(cut);
            };
            for lap in &row.laps {
                let floor = cutting.floor_allowance.min(lap.depth_mm);
                add(NotchCut {
                    width: square_width(lap),
                    depth: lap.depth_mm,
                    depth_steps: self.steps(lap.depth_mm - floor),
                    floor_allowance: floor,
                    wall_feed: self.notching.wall_feed(square_width(lap)),
                    ..self.cut(sticks, lap.angle, lap.centre_mm)
                });
            }
            for mitre in &row.mitres {
                add(self.cut(sticks, mitre.angle, mitre.centre_mm));
            }
        }
        StickCuts(cuts)
    }

    /// A mitre's cut: a slot as wide as the tool, so that it is cut in one pass at each depth, and
    /// which way does not matter.
    fn cut(&self, sticks: &RowSticks<'_>, angle: f64, centre: f64) -> NotchCut {
        let Router { tool, cutting, .. } = self.router;
        let [low_y, high_y] = sticks.turns();
        let depth = self.mitre_depth();
        NotchCut {
            bed: sticks.bed(angle),
            centre,
            width: tool.diameter,
            depth,
            tool_diameter: tool.diameter,
            low_y,
            high_y,
            safe_height: safe_height(self.router),
            depth_steps: self.steps(depth),
            wall_allowance: cutting.wall_allowance,
            floor_allowance: 0.0,
            returns_in_air: cutting.returns_in_air,
            spring_pass: cutting.spring_pass,
            from_behind: false,
            feed: self.data.feed,
            wall_feed: self.data.feed,
            plunge_feed: self.data.plunge,
        }
    }
}

/// A profile that says nothing of sticks.
fn no_mitres() -> Finding {
    let text = "the profile does not say how this router cuts pieces in rows on long sticks";
    Finding::error("no-mitres", "mitres", text).hint(
        "add the table [mitres] with skin, least_skin, height_error, depth_spread, grip and longest_stick; small-router has an example (lapwright machine show small-router)",
    )
}
