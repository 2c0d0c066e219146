//! A candidate as the `[grid]` of a job.

use crate::geometry::SAME_POSITION_MM;
use crate::lattice::Grid;
use crate::opening::{BayWish, Candidate, Ruling};
use crate::reading::Job;
use crate::units::exact_mm;
use std::fmt::Write;

/// A candidate in a job's words; `why` becomes its remark.
pub(super) fn grid_table(candidate: &Candidate, wish: &BayWish, why: &str) -> String {
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
pub(super) fn is_drawn(job: &Job, candidate: &Candidate) -> bool {
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
    grid.pitches_x.len() == candidate.columns
        && grid.pitches_y.len() == candidate.rows
        && as_drawn(&grid.pitches_x, outer_x, inner_x)
        && as_drawn(&grid.pitches_y, outer_y, inner_y)
        && near(fitted.margins.x, beside)
        && near(fitted.margins.y, above)
}

/// Lines of a remark.
fn wrapped(text: &str) -> Vec<String> {
    const WIDTH: usize = 96;
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) if line.chars().count() + 1 + word.chars().count() <= WIDTH => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
