//! Cells of which the frame closes the outermost.

use super::bay_wish::BayWish;
use super::candidate::{Candidate, Ruling};
use crate::geometry::SAME_POSITION_MM;
use crate::opening::size::Size;
use crate::opening::square::{Edge, margin, pitch_of};

/// Cells that are longer than wide by more are not seen as square. Common practice, no source.
const LONGEST_CELL: f64 = 1.25;

/// Fewer cells leave no bay between strips.
const LEAST_CELLS: usize = 3;

/// Equal cells that fill the inside without a strip at the frame, `p = (W + t) / N` in each direction by
/// itself; none where a margin is asked for, since there is none.
pub(super) fn frame_candidates(inside: Size, wish: &BayWish) -> Vec<Candidate> {
    let Some(thickness) = wish.frame_closes else {
        return Vec::new();
    };
    let edge = Edge::Frame { thickness };
    let [least, _] = wish.near();
    let pitches = |side: f64, wanted: Option<usize>| -> Vec<(usize, f64)> {
        let counts = BayWish::counts_within(wanted, edge.room(side), least).into_iter();
        let counts = counts.filter(|count| *count >= LEAST_CELLS);
        let pitches = counts.map(|count| (count, pitch_of(side, count, edge)));
        pitches.filter(|(_, pitch)| wish.is_near(*pitch)).collect()
    };
    let up = pitches(inside.height, wish.rows);
    let mut found = Vec::new();
    for (columns, across) in pitches(inside.width, wish.columns) {
        for &(rows, high) in &up {
            let squarish = (1.0 / LONGEST_CELL..=LONGEST_CELL).contains(&(across / high));
            if wish.pitch.is_none() && !squarish {
                continue;
            }
            let pitch = [across, high];
            found.push(Candidate {
                ruling: Ruling::FrameCloses {
                    square: (across - high).abs() < SAME_POSITION_MM,
                },
                pitch,
                border: pitch,
                columns,
                rows,
                margin: [
                    margin(inside.width, across, columns, edge),
                    margin(inside.height, high, rows, edge),
                ],
            });
        }
    }
    found
}
