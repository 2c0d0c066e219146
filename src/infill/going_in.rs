//! In which order pieces that run over strips go in: from the front, what lies behind first.

use super::filled::FilledCell;
use super::over_strips::RunningPart;
use crate::finding::{Document, Finding};
use crate::lattice::Face;
use std::collections::HashMap;

/// A piece in its cell: place of the cell among the filled ones, and its own in it.
type At = (usize, usize);

/// The kinds of the pieces that run over strips in the order in which they go in: each after all those that
/// lie behind it where they lap, whether they run over strips too or not.
///
/// # Errors
/// Pieces that hold each other, so that none of them can go in first: the name of one.
pub(super) fn going_in(
    cells: &[(usize, FilledCell)],
    parts: &[RunningPart],
) -> Result<Vec<Vec<usize>>, String> {
    if parts.is_empty() {
        return Ok(Vec::new());
    }
    let bodies = bodies(cells);
    let mut waits = vec![0_usize; bodies.count];
    let mut frees: Vec<Vec<usize>> = vec![Vec::new(); bodies.count];
    for (behind, in_front) in laps(cells) {
        let (Some(behind), Some(in_front)) = (bodies.of.get(&behind), bodies.of.get(&in_front))
        else {
            continue;
        };
        if let Some(freed) = frees.get_mut(*behind) {
            freed.push(*in_front);
        }
        if let Some(count) = waits.get_mut(*in_front) {
            *count += 1;
        }
    }
    let mut ready: Vec<usize> = (0..bodies.count)
        .filter(|at| waits.get(*at) == Some(&0))
        .collect();
    let mut left = bodies.count;
    let mut layers: Vec<Vec<usize>> = Vec::new();
    while !ready.is_empty() {
        left -= ready.len();
        let mut kinds: Vec<usize> = ready
            .iter()
            .filter_map(|at| bodies.running.get(at).copied())
            .collect();
        kinds.sort_unstable();
        kinds.dedup();
        layers.push(kinds);
        let mut next = Vec::new();
        for freed in ready.drain(..).filter_map(|at| frees.get(at)).flatten() {
            if let Some(count) = waits.get_mut(*freed) {
                *count -= 1;
                if *count == 0 {
                    next.push(*freed);
                }
            }
        }
        ready = next;
    }
    if left > 0 {
        let held = waits.iter().position(|count| *count > 0);
        let name = held.and_then(|held| bodies.name(held, cells));
        return Err(name.unwrap_or_default());
    }
    layers.retain(|kinds| !kinds.is_empty());
    Ok(layers)
}

/// Pieces of which each lies behind another one where they lap.
pub(super) fn hold_each_other(name: &str) -> Finding {
    let text = format!(
        "pieces that run over the strips hold each other, `{name}` among them: none of them can go in first"
    );
    let hint = "let the pieces of one direction lie over those of the other everywhere";
    Finding::error("pieces-hold-each-other", "infill", text)
        .hint(hint)
        .in_document(Document::Job)
}

/// Pieces by number, parts of one that runs over strips under the same.
struct Bodies {
    of: HashMap<At, usize>,
    count: usize,
    /// The kinds of those that run over strips.
    running: HashMap<usize, usize>,
}

impl Bodies {
    fn name(&self, body: usize, cells: &[(usize, FilledCell)]) -> Option<String> {
        let (at, _) = self.of.iter().find(|(_, of)| **of == body)?;
        let piece = cells.get(at.0)?.1.pieces.get(at.1)?;
        Some(piece.name.clone())
    }
}

fn bodies(cells: &[(usize, FilledCell)]) -> Bodies {
    let mut found = Bodies {
        of: HashMap::new(),
        count: 0,
        running: HashMap::new(),
    };
    let mut of_piece: HashMap<usize, usize> = HashMap::new();
    for (cell, (_, filled)) in cells.iter().enumerate() {
        for (at, piece) in filled.pieces.iter().enumerate() {
            let body = match piece.run {
                None => found.count,
                Some(run) => *of_piece.entry(run.piece).or_insert(found.count),
            };
            found.count = found.count.max(body + 1);
            found.of.insert((cell, at), body);
            if piece.run.is_some() {
                found.running.insert(body, piece.kind);
            }
        }
    }
    found
}

/// Laps in cells: the piece behind, and the one in front.
fn laps(cells: &[(usize, FilledCell)]) -> Vec<(At, At)> {
    let mut all = Vec::new();
    for (cell, (_, filled)) in cells.iter().enumerate() {
        for (at, piece) in filled.pieces.iter().enumerate() {
            for lap in piece.laps.iter().filter(|lap| lap.face == Face::Front) {
                let mut others = filled.pieces.iter();
                if let Some(mate) = others.position(|other| other.name == lap.mate) {
                    all.push(((cell, at), (cell, mate)));
                }
            }
        }
    }
    all
}
