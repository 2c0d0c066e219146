//! The few panels worth making.

use super::around::JobAround;
use super::draft::{grid_table, is_drawn};
use super::machines::{share, shares};
use super::reason::reason;
use crate::finding::Finding;
use crate::infill::Pattern;
use crate::instructions::choice::{Choice, MachineShare, PanelOption, RackChoice};
use crate::lattice::MOST_BAYS;
use crate::machines::{Guides, Rack, Sled, Station};
use crate::making::{NotMade, Workshop, filled, size_of, with_crossing_pieces};
use crate::opening::{BayWish, Candidate, Ruling, candidates, worth_showing};
use crate::phrase;
use crate::phrase::counted;
use crate::planning::plan_pieces;
use crate::reading::{Job, read_job};
use crate::units::{AtMost, Mm, UnitSystem};

/// As many are told side by side as a terminal of 100 columns holds.
const MOST_OPTIONS: usize = 5;

/// So often panels that cannot be built are replaced by others.
const MOST_ROUNDS: usize = 6;

/// What the order of the options goes by, with a rack and without.
fn ranked_by(has_rack: bool) -> Vec<&'static str> {
    vec![
        "the most machines that can make it",
        if has_rack {
            "one slot for every step, then two slots, then square cells by the stop, then cells that are not square"
        } else {
            "square cells before others"
        },
        "the least sum of what the pitch is off, what the margins differ and what the outermost bays differ",
        "smaller margins, that is more cells",
    ]
}

/// What is to be chosen for.
#[derive(Debug, Clone)]
pub struct PanelRequest<'a> {
    /// The job but for its grid.
    pub around: JobAround,
    /// About this pitch, mm.
    pub pitch: Option<f64>,
    /// So many bays side by side.
    pub columns: Option<usize>,
    /// So many bays above each other.
    pub rows: Option<usize>,
    /// Least margin, mm; where it is not given, what leaves the job's least web outside the last notch.
    pub least_margin: Option<f64>,
    /// Greatest margin, mm; where it is not given, one pitch more than the least.
    pub most_margin: Option<f64>,
    /// The machines at hand.
    pub workshop: &'a Workshop,
    /// Of the pieces, in the order in which the job names them.
    pub patterns: &'a [Pattern],
}

/// What there is to choose from, with a job for each.
#[derive(Debug, Clone)]
pub struct ChosenPanels {
    /// What is told.
    pub choice: Choice,
    /// Of each option the text of its job, which was read and planned.
    pub jobs: Vec<String>,
}

/// The panels worth making for an opening, best first.
///
/// # Errors
/// Where nothing fits, with what would; where what fits cannot be built.
pub fn choose(request: &PanelRequest<'_>) -> Result<ChosenPanels, Vec<Finding>> {
    let rack = request
        .workshop
        .machine::<Sled>()
        .and_then(|sled| sled.machine.rack.as_ref());
    let wish = request.wish(rack);
    request.check(&wish)?;
    let mut made = request.buildable(&wish, rack)?;
    made.sort_by_key(|(option, _)| option.lacking().len());
    let (mut options, jobs): (Vec<PanelOption>, Vec<String>) = made.into_iter().unzip();
    for (number, option) in (1..).zip(&mut options) {
        option.option = number;
    }
    let inside = request.around.inside;
    Ok(ChosenPanels {
        choice: Choice {
            inside_mm: [inside.width, inside.height],
            wanted_pitch_mm: wish.pitch,
            least_margin_mm: wish.least_margin,
            most_margin_mm: wish.most_margin,
            ranked_by: ranked_by(rack.is_some()),
            options,
        },
        jobs,
    })
}

impl PanelRequest<'_> {
    /// The jobs worth showing. What cannot be built makes room for what can, a few times over.
    fn buildable(
        &self,
        wish: &BayWish,
        rack: Option<&Rack>,
    ) -> Result<Vec<(PanelOption, String)>, Vec<Finding>> {
        let mut all = candidates(self.around.inside, wish);
        if all.is_empty() {
            return Err(vec![self.nothing_fits(wish)]);
        }
        let mut first_faults = None;
        for round in 1.. {
            let shown = worth_showing(all.clone(), wish.pitch, MOST_OPTIONS);
            let mut made = Vec::new();
            let mut failed = Vec::new();
            for candidate in shown {
                match self.made(&candidate, wish, rack) {
                    Ok(option) => made.push(option),
                    Err(faults) => {
                        first_faults.get_or_insert(faults);
                        failed.push(candidate);
                    }
                }
            }
            let is_last = round == MOST_ROUNDS || failed.is_empty();
            match (is_last, made.is_empty()) {
                (true, false) => return Ok(made),
                (true, true) => break,
                (false, _) => {}
            }
            // What keeps one panel with long cells from being built keeps all of them.
            let no_filling = failed.iter().any(|one| one.ruling == Ruling::Fill);
            let is_out = |one: &Candidate| {
                failed.contains(one) || (no_filling && one.ruling == Ruling::Fill)
            };
            all.retain(|one| !is_out(one));
        }
        Err(first_faults.unwrap_or_else(|| vec![self.nothing_fits(wish)]))
    }

    fn wish(&self, rack: Option<&Rack>) -> BayWish {
        let slots = rack.map(|rack| rack.slots.iter().map(|slot| slot.measured).collect());
        BayWish {
            pitch: self.pitch,
            columns: self.columns,
            rows: self.rows,
            least_margin: self.least_margin.unwrap_or(self.around.least_margin),
            most_margin: self.most_margin,
            least_pitch: self.around.least_pitch,
            slots: slots.unwrap_or_default(),
        }
    }

    fn check(&self, wish: &BayWish) -> Result<(), Vec<Finding>> {
        let mut found = Vec::new();
        let has_rack = !wish.slots.is_empty();
        if wish.pitch.is_none() && wish.columns.is_none() && wish.rows.is_none() && !has_rack {
            let text = "nothing says how large the cells should be";
            let hint = "give --pitch 40mm, which is taken as about 40 mm, or --columns and --rows; a sled with a rack decides by itself";
            found.push(Finding::error("missing", "grid.pitch_about", text).hint(hint));
        }
        if let Some(pitch) = wish.pitch.filter(|pitch| *pitch <= self.around.thickness) {
            let text = phrase!(
                "a pitch of {} leaves no opening between strips {} thick",
                Mm(pitch),
                Mm(self.around.thickness)
            );
            let hint = "pitch is measured from centre line to centre line";
            found.push(
                Finding::error("pitch-within-thickness", "grid.pitch_about", text).hint(hint),
            );
        }
        let inside = self.around.inside;
        let room = inside.width.min(inside.height) - 2.0 * wish.least_margin;
        if let Some(pitch) = wish.pitch.filter(|pitch| *pitch > room) {
            let text = phrase!(
                "not one cell with a pitch of {} goes into an inside {} by {} with margins of {}",
                Mm(pitch),
                Mm(inside.width),
                Mm(inside.height),
                Mm(wish.least_margin)
            );
            let hint = phrase!(
                "the largest square cell that does has a pitch of {}",
                AtMost(room.max(0.0))
            );
            found.push(Finding::error("pitch-too-wide", "grid.pitch_about", text).hint(hint));
        }
        if let Some(most) = wish.most_margin.filter(|most| *most < wish.least_margin) {
            let text = phrase!(
                "the greatest margin, {}, is below the least one, {}",
                Mm(most),
                Mm(wish.least_margin)
            );
            let hint = "both are measured from the inside's edge to the outermost centre line; without --least-margin it is half a strip and the least wood outside a notch";
            found.push(Finding::error("margins-cross", "grid.most_margin", text).hint(hint));
        }
        if found.is_empty() { Ok(()) } else { Err(found) }
    }

    fn nothing_fits(&self, wish: &BayWish) -> Finding {
        let inside = self.around.inside;
        let text = phrase!(
            "no bays of what you want go into an inside {} by {} with margins of {} or more",
            Mm(inside.width),
            Mm(inside.height),
            Mm(wish.least_margin)
        );
        let hint = match wish.most_margin {
            Some(most) => phrase!(
                "margins of at most {} rule all of them out: leave out --most-margin, or ask for other bays",
                Mm(most)
            ),
            None => phrase!(
                "ask for fewer bays, another pitch or smaller margins; 1 to {} bays in one direction can be built",
                MOST_BAYS
            ),
        };
        Finding::error("nothing-fits", "grid.pitch_about", text).hint(hint)
    }

    /// A candidate as a job that was read, with what its machines would do.
    fn made(
        &self,
        candidate: &Candidate,
        wish: &BayWish,
        rack: Option<&Rack>,
    ) -> Result<(PanelOption, String), Vec<Finding>> {
        let why = reason(candidate, wish, rack);
        let grid = grid_table(candidate, wish, &why.text(UnitSystem::Millimetres));
        let text = self.around.with_grid(&grid);
        let job = read_job("panel.toml", &text).map_err(|unreadable| unreadable.findings)?;
        let job = with_crossing_pieces(job, self.patterns).map_err(faults_of)?;
        if !is_drawn(&job, candidate) {
            let text =
                "what was written of this panel reads as another one: a fault of this program";
            return Err(vec![Finding::error("draft-differs", "grid", text)]);
        }
        let lattice = job.panel.lattice();
        let mut at_machines = shares(&job, self.workshop);
        let pieces = self.pieces(&job)?;
        at_machines.extend(pieces.share);
        let [across, up] = candidate.pitch;
        let option = PanelOption {
            option: 0,
            pitch_mm: candidate.pitch,
            border_mm: matches!(candidate.ruling, Ruling::TwoSlots { .. })
                .then_some(candidate.border),
            columns: candidate.columns,
            rows: candidate.rows,
            margin_mm: candidate.margin,
            finished_mm: size_of(&job).finished_mm,
            square: (across - up).abs() < crate::geometry::SAME_POSITION_MM,
            rack: rack.and_then(|rack| rack_choice(candidate, rack)),
            piece_kinds: pieces.kinds,
            pieces: pieces.count,
            cells_open: pieces.cells_open,
            strips: lattice.strips.len(),
            strip_metres: lattice.strips.iter().map(|strip| strip.length).sum::<f64>() / 1000.0,
            set_ups: at_machines.iter().map(|share| share.set_ups).sum(),
            at_machines,
            reason: why,
        };
        Ok((option, text))
    }

    /// What the pattern makes of it; a panel whose cells do not take it is none that was asked for.
    fn pieces(&self, job: &Job) -> Result<Pieces, Vec<Finding>> {
        if job.map.is_none() {
            return Ok(Pieces::default());
        }
        let filled = filled(job, self.patterns).map_err(faults_of)?;
        let guides = self.workshop.machine::<Guides>();
        let infill = job.panel.design().infill.as_ref();
        let allowance = infill.map_or(0.0, |infill| infill.allowance);
        let (plan, _) = plan_pieces(&job.panel, &filled, allowance, guides);
        let blocks = plan.blocks.len();
        let what = format!("{} for all mitres", counted(blocks, "block"));
        Ok(Pieces {
            kinds: plan.pieces.len(),
            count: plan.pieces.iter().map(|piece| piece.count).sum(),
            cells_open: plan.cells_open,
            share: guides.map(|guides| share(Station::Guides, guides.name, blocks, what)),
        })
    }
}

/// The pattern's share.
#[derive(Default)]
struct Pieces {
    kinds: usize,
    count: usize,
    cells_open: usize,
    share: Option<MachineShare>,
}

/// The slots that a candidate is drawn to; where it is not, the one that comes nearest.
fn rack_choice(candidate: &Candidate, rack: &Rack) -> Option<RackChoice> {
    let slot = |at: usize| rack.slots.get(at).copied();
    let [across, _] = candidate.pitch;
    let (inner, reached, border) = match candidate.ruling {
        Ruling::OneSlot { slot: at } => (slot(at)?, true, None),
        Ruling::TwoSlots {
            inner,
            border: [x, y],
        } => {
            let border = [slot(x)?.nominal, slot(y)?.nominal];
            (slot(inner)?, true, Some(border))
        }
        _ => {
            let off = |slot: &&crate::machines::RackSlot| (slot.measured - across).abs();
            let nearest = rack.slots.iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
            (*nearest, false, None)
        }
    };
    Some(RackChoice {
        slot_mm: inner.nominal,
        bay_mm: inner.measured,
        reached,
        border_slot_mm: border,
    })
}
/// What keeps a pattern from these cells.
fn faults_of(cause: NotMade) -> Vec<Finding> {
    match cause {
        NotMade::Cannot(faults) => faults,
        // Nothing is written or proved while cells are filled.
        _ => {
            let text = "the pattern cannot be worked out in these cells";
            vec![Finding::error("not-filled", "infill.pattern", text)]
        }
    }
}
