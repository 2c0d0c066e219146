//! A candidate of square cells as the `[grid]` of a job.

use super::draft::{Draft, DraftFigures, nearest_slot, wrapped};
use super::reason::reason;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::choice::RackChoice;
use crate::lattice::Grid;
use crate::machines::Rack;
use crate::opening::{BayWish, Candidate, Ruling};
use crate::phrase::Phrase;
use crate::reading::Job;
use crate::units::exact_mm;
use std::fmt::Write;

impl Draft for Candidate {
    type Wish = BayWish;

    fn grid_table(&self, wish: &BayWish, why: &str) -> String {
        grid_table(self, wish, why)
    }

    fn reason(&self, wish: &BayWish, rack: Option<&Rack>) -> Phrase {
        reason(self, wish, rack)
    }

    fn is_drawn(&self, job: &Job) -> bool {
        is_drawn(job, self)
    }

    fn figures(&self, _: &Job, rack: Option<&Rack>) -> DraftFigures {
        let [across, up] = self.pitch;
        DraftFigures {
            pitch: self.pitch,
            border: matches!(self.ruling, Ruling::TwoSlots { .. }).then_some(self.border),
            columns: self.columns,
            rows: self.rows,
            margin: self.margin,
            square: (across - up).abs() < SAME_POSITION_MM,
            frame_closes: matches!(self.ruling, Ruling::FrameCloses { .. }),
            rack: rack.and_then(|rack| rack_choice(self, rack)),
            slanted: None,
        }
    }

    /// What keeps one panel with long cells from being built keeps all of them.
    fn falls_with(&self, failed: &Candidate) -> bool {
        let both_fill = [self, failed].map(|one| one.ruling == Ruling::Fill) == [true, true];
        self == failed || both_fill
    }
}

/// A candidate in a job's words; `why` becomes its remark.
fn grid_table(candidate: &Candidate, wish: &BayWish, why: &str) -> String {
    let mut text = format!("# {}\n", wrapped(why).join("\n# "));
    text.push_str("[grid]\nkind = \"square\"\n");
    let [across, up] = candidate.pitch;
    let least = exact_mm(wish.least_margin);
    match candidate.ruling {
        Ruling::TwoSlots { .. } => {
            let lists = [
                ("pitches_x", 0, candidate.columns),
                ("pitches_y", 1, candidate.rows),
            ];
            for (key, axis, count) in lists {
                let _ = writeln!(text, "{key} = [{}]", bays(candidate, axis, count));
            }
            return text;
        }
        Ruling::OneSlot { .. } => {
            let _ = writeln!(
                text,
                "pitch = \"{}\"       # what the rack's slot gives, as measured: every bay is equal",
                exact_mm(across)
            );
        }
        Ruling::Pitch | Ruling::LastAllowed => {
            let _ = writeln!(text, "pitch = \"{}\"", exact_mm(across));
        }
        Ruling::EvenMargins => {
            let _ = writeln!(
                text,
                "rest = \"even-margins\"   # the pitch, {across:.4} mm, follows: the same margin all round"
            );
        }
        Ruling::LeastMargins => {
            let _ = writeln!(
                text,
                "# the pitch, {across:.4} mm, follows from the least margin"
            );
        }
        Ruling::Fill => {
            let _ = writeln!(
                text,
                "cells = \"fill\"     # they come out {across:.4} mm by {up:.4} mm from centre line to centre line"
            );
        }
        Ruling::FrameCloses { .. } => {
            let _ = writeln!(
                text,
                "cells = \"fill\"     # they come out {across:.4} mm by {up:.4} mm from centre line to centre line\nedge = \"frame\"     # its inner faces close the outermost cells; they count\ncolumns = {}\nrows = {}",
                candidate.columns, candidate.rows
            );
            return text;
        }
    }
    let _ = writeln!(text, "columns = {}", candidate.columns);
    let _ = writeln!(text, "rows = {}", candidate.rows);
    let _ = writeln!(
        text,
        "least_margin = \"{least}\"   # frame's inner face, or flush end, to the outermost centre line"
    );
    text
}

/// One direction's bays as a list.
fn bays(candidate: &Candidate, axis: usize, count: usize) -> String {
    let [(inner, outer), other] = [0, 1].map(|at| {
        let pick = |[x, y]: [f64; 2]| if at == 0 { x } else { y };
        (pick(candidate.pitch), pick(candidate.border))
    });
    let (inner, outer) = if axis == 0 { (inner, outer) } else { other };
    let bay = |at: usize| {
        let is_outer = at == 0 || at + 1 == count;
        format!("\"{}\"", exact_mm(if is_outer { outer } else { inner }))
    };
    (0..count).map(bay).collect::<Vec<_>>().join(", ")
}

/// Whether a job that was read has just the bays and margins of a candidate: what is told of the one then
/// holds for the other.
fn is_drawn(job: &Job, candidate: &Candidate) -> bool {
    let (Grid::Square(grid), Some(fitted)) = (&job.panel.design().grid, &job.fitted) else {
        return false;
    };
    let near = |a: f64, b: f64| (a - b).abs() < 2.0 * SAME_POSITION_MM;
    let as_drawn = |pitches: &[f64], outer: f64, inner: f64| {
        let last = pitches.len().saturating_sub(1);
        let mut bays = pitches.iter().enumerate();
        bays.all(|(at, pitch)| near(*pitch, if at == 0 || at == last { outer } else { inner }))
    };
    let [outer_x, outer_y] = candidate.border;
    let [inner_x, inner_y] = candidate.pitch;
    let [beside, above] = candidate.margin;
    let bays = |cells: usize| match candidate.ruling {
        Ruling::FrameCloses { .. } => cells.saturating_sub(2),
        _ => cells,
    };
    grid.pitches_x.len() == bays(candidate.columns)
        && grid.pitches_y.len() == bays(candidate.rows)
        && as_drawn(&grid.pitches_x, outer_x, inner_x)
        && as_drawn(&grid.pitches_y, outer_y, inner_y)
        && near(fitted.margins.x, beside)
        && near(fitted.margins.y, above)
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
        _ => return nearest_slot(rack, across),
    };
    Some(RackChoice {
        slot_mm: inner.nominal,
        bay_mm: inner.measured,
        reached,
        border_slot_mm: border,
    })
}
