//! The few panels worth making.

use super::draft::Draft;
use super::machines::{add_saw_time, shares};
use super::pieces::{faults_of, pieces};
use super::request::PanelRequest;
use super::slanted::kind_of;
use crate::finding::Finding;
use crate::instructions::choice::{Choice, MachineShare, PanelOption, RateFigures};
use crate::making::{NotMade, planned_rails, size_of, with_crossing_pieces};
use crate::opening::{candidates, slanted_candidates, slanted_worth_showing, worth_showing};
use crate::phrase::Phrase;
use crate::reading::{Job, read_job};
use crate::units::UnitSystem;

/// As many are told side by side as a terminal of 100 columns holds.
const MOST_OPTIONS: usize = 5;

/// Of slanted grids so many are tried: many have stubs in their corners that no sled holds.
const MOST_TRIED: usize = 15;

/// So often panels that cannot be built are replaced by others.
const MOST_ROUNDS: usize = 6;

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
    let wish = request.bay_wish();
    request.check(&wish)?;
    let inside = request.around.inside;
    let made = match request.slanted {
        None => {
            let all = candidates(inside, &wish);
            let pick = |all, _| worth_showing(all, wish.pitch, MOST_OPTIONS);
            request.buildable(&wish, all, &pick)?
        }
        Some(grid) => {
            let slanted = request.slanted_wish(grid);
            let all = slanted_candidates(inside, &slanted);
            let pick = |all, most| slanted_worth_showing(all, wish.pitch, most);
            request.buildable(&slanted, all, &pick)?
        }
    };
    let Some(mut made) = made else {
        return Err(vec![request.nothing_fits(&wish)]);
    };
    made.sort_by_key(|(option, _)| option.lacking().len());
    let (mut options, jobs): (Vec<PanelOption>, Vec<String>) = made.into_iter().unzip();
    for (number, option) in (1..).zip(&mut options) {
        option.option = number;
    }
    let is_square = request.slanted.is_none();
    Ok(ChosenPanels {
        choice: Choice {
            kind: request.slanted.map_or("square", kind_of),
            inside_mm: [inside.width, inside.height],
            wanted_pitch_mm: wish.pitch,
            least_margin_mm: (request.least_margin).or(is_square.then_some(wish.least_margin)),
            most_margin_mm: wish.most_margin,
            rates: request.rates(),
            ranked_by: request.ranked_by(),
            options,
        },
        jobs,
    })
}

/// An option and its job.
type Made = (PanelOption, String);

/// How candidates are picked: of these the best, so many at most.
type Pick<'p, C> = &'p dyn Fn(Vec<C>, usize) -> Vec<C>;

/// A candidate as a job that was read, with what its machines would do with the strips.
struct Drafted<C> {
    candidate: C,
    why: Phrase,
    text: String,
    job: Job,
    at_machines: Vec<MachineShare>,
}

/// Of those that were tried, those that all machines can make, then others, as far as there is room.
fn best<C: Draft>(tried: Vec<Drafted<C>>, pick: Pick<'_, C>) -> Vec<Drafted<C>> {
    let can_make = |one: &Drafted<C>| one.at_machines.iter().all(|share| share.cannot.is_none());
    let (can, cannot): (Vec<_>, Vec<_>) = tried.into_iter().partition(can_make);
    let mut kept = Vec::new();
    for mut some in [can, cannot] {
        let candidates = some.iter().map(|one| one.candidate.clone());
        for picked in pick(candidates.collect(), MOST_OPTIONS) {
            let at = some.iter().position(|one| one.candidate == picked);
            let room = kept.len() < MOST_OPTIONS;
            kept.extend(at.filter(|_| room).map(|at| some.swap_remove(at)));
        }
    }
    kept
}

impl PanelRequest<'_> {
    /// What the order of the options goes by, with a rack and without.
    fn ranked_by(&self) -> Vec<&'static str> {
        let has_rack = self.rack().is_some();
        let first = "the most machines that can make it";
        if self.slanted.is_some() {
            let mut all = vec![first];
            if has_rack {
                all.push("one slot for every step before others");
            }
            all.extend([
                "the least sum of what the pitch is off and what whole cells leave over at one side and above",
                "no strip shorter than the pitch",
                "more cells",
            ]);
            return all;
        }
        vec![
            first,
            if has_rack {
                "one slot for every step, then two slots, then square cells by the stop, then cells that are not square, then those that the frame closes"
            } else {
                "square cells before others, those that the frame closes last"
            },
            "the least sum of what the pitch is off, what the margins differ and what the outermost bays differ",
            "smaller margins, that is more cells",
        ]
    }

    fn rates(&self) -> Vec<RateFigures> {
        let named = self.around.rates.named().into_iter();
        let figures = named.map(|(name, rate)| RateFigures {
            name,
            seconds: rate.seconds,
            example: !rate.is_own,
        });
        figures.collect()
    }

    /// The jobs worth showing; nothing where there are no candidates. What cannot be built makes room for
    /// what can, a few times over.
    fn buildable<C: Draft>(
        &self,
        wish: &C::Wish,
        mut all: Vec<C>,
        pick: Pick<'_, C>,
    ) -> Result<Option<Vec<Made>>, Vec<Finding>> {
        let mut first_faults = None;
        for round in 1..=MOST_ROUNDS {
            let mut failed = Vec::new();
            let mut fails = |candidate: C, faults| {
                first_faults.get_or_insert(faults);
                failed.push(candidate);
            };
            let mut drafted = Vec::new();
            for candidate in pick(all.clone(), MOST_TRIED) {
                match self.drafted(candidate.clone(), wish) {
                    Ok(draft) => drafted.push(draft),
                    Err(faults) => fails(candidate, faults),
                }
            }
            let mut made = Vec::new();
            for draft in best(drafted, pick) {
                let candidate = draft.candidate.clone();
                match self.made(draft) {
                    Ok(option) => made.push(option),
                    Err(faults) => fails(candidate, faults),
                }
            }
            let is_last = round == MOST_ROUNDS || failed.is_empty();
            if is_last && !made.is_empty() {
                return Ok(Some(made));
            }
            if failed.is_empty() {
                break;
            }
            all.retain(|one| !failed.iter().any(|other| one.falls_with(other)));
        }
        first_faults.map_or(Ok(None), Err)
    }

    /// A candidate as a job whose panel and frame can be made.
    fn drafted<C: Draft>(&self, candidate: C, wish: &C::Wish) -> Result<Drafted<C>, Vec<Finding>> {
        let why = candidate.reason(wish, self.rack());
        let grid = candidate.grid_table(wish, &why.text(UnitSystem::Millimetres));
        let text = self.around.with_grid(&grid);
        let job = read_job("panel.toml", &text).map_err(|unreadable| unreadable.findings)?;
        let job = with_crossing_pieces(job, self.patterns).map_err(faults_of)?;
        if !candidate.is_drawn(&job) {
            let text =
                "what was written of this panel reads as another one: a fault of this program";
            return Err(vec![Finding::error("draft-differs", "grid", text)]);
        }
        if let Some(frame) = &job.frame
            && let Err(NotMade::Cannot(faults)) = planned_rails(job.panel.lattice(), frame, None)
        {
            return Err(faults);
        }
        Ok(Drafted {
            candidate,
            why,
            text,
            at_machines: shares(&job, self.workshop),
            job,
        })
    }

    /// The same with its pieces, as it is told.
    fn made<C: Draft>(&self, drafted: Drafted<C>) -> Result<Made, Vec<Finding>> {
        let Drafted {
            candidate,
            why,
            text,
            job,
            mut at_machines,
        } = drafted;
        let rates = &self.around.rates;
        let pieces = pieces(&job, self.patterns, self.workshop, &mut at_machines)?;
        add_saw_time(&mut at_machines, rates);
        let figures = candidate.figures(&job, self.rack());
        let strips = &job.panel.lattice().strips;
        let set_ups = at_machines.iter();
        let set_ups = set_ups.map(|share| share.set_ups + share.mitre_set_ups.unwrap_or(0));
        let option = PanelOption {
            option: 0,
            pitch_mm: figures.pitch,
            border_mm: figures.border,
            columns: figures.columns,
            rows: figures.rows,
            margin_mm: figures.margin,
            finished_mm: size_of(&job).finished_mm,
            square: figures.square,
            frame_closes: figures.frame_closes,
            slanted: figures.slanted,
            rack: figures.rack,
            piece_kinds: pieces.kinds,
            pieces: pieces.count,
            cells_open: pieces.cells_open,
            strips: strips.len(),
            strip_metres: strips.iter().map(|strip| strip.length).sum::<f64>() / 1000.0,
            set_ups: set_ups.sum(),
            at_bench: pieces.at_bench(strips.len(), rates),
            at_machines,
            reason: why,
        };
        Ok((option, text))
    }
}
