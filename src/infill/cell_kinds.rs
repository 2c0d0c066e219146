//! Which cells of a panel are filled alike: same shape, same pieces.

use super::cell_shape::CellShape;
use super::filled::{FilledCell, Infilling};
use crate::geometry::tolerance::POSITION;
use float_cmp::ApproxEq;

/// Cells of one shape that take the same pieces, however they lie.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellKind {
    /// A Roman numeral, the first kind being I: unlike numbers of pieces, letters of ends and labels
    /// of strips.
    pub name: String,
    /// Indices among the panel's cells, row by row from the bottom.
    pub cells: Vec<usize>,
    /// Indices of the distinct pieces that one of them takes, each with how many of it, in the order
    /// of the pattern.
    pub pieces: Vec<(usize, usize)>,
}

impl Infilling {
    /// Letters of the map's entries that cells of a kind take.
    pub fn letters(&self, kind: &CellKind) -> String {
        let cells = kind.cells.iter().filter_map(|at| self.cells.get(*at));
        let mut entries: Vec<usize> = cells.filter_map(|cell| cell.entry).collect();
        entries.sort_unstable();
        entries.dedup();
        let entries = entries.iter().filter_map(|at| self.map.entries.get(*at));
        let letters = entries.map(|entry| entry.letter.to_string());
        letters.collect::<Vec<_>>().join(", ")
    }

    /// The kinds of cells that take pieces, those that are whole first.
    ///
    /// Pieces are the same where they are equal turned end for end or over, so cells that are the
    /// same turned or mirrored are of one kind.
    pub fn cell_kinds(&self) -> Vec<CellKind> {
        let mut kinds: Vec<CellKind> = Vec::new();
        let filled = self.cells.iter().enumerate();
        let mut filled: Vec<_> = filled.filter(|(_, cell)| !cell.pieces.is_empty()).collect();
        filled.sort_by_key(|(_, cell)| !cell.whole);
        for (index, cell) in filled {
            let pieces = counted(cell);
            let is_like = |kind: &&mut CellKind| {
                let first = kind.cells.first().and_then(|first| self.cells.get(*first));
                let alike = first.is_some_and(|first| same_shape(first, cell));
                alike && sorted(&kind.pieces) == sorted(&pieces)
            };
            match kinds.iter_mut().find(is_like) {
                Some(kind) => kind.cells.push(index),
                None => kinds.push(CellKind {
                    name: roman(kinds.len() + 1),
                    cells: vec![index],
                    pieces,
                }),
            }
        }
        kinds
    }
}

/// The distinct pieces of a cell in the order in which they come, with their numbers.
fn counted(cell: &FilledCell) -> Vec<(usize, usize)> {
    let mut counts: Vec<(usize, usize)> = Vec::new();
    for piece in cell.pieces.iter().filter(|piece| !piece.is_further_arm()) {
        match counts.iter_mut().find(|(kind, _)| *kind == piece.kind) {
            Some((_, count)) => *count += 1,
            None => counts.push((piece.kind, 1)),
        }
    }
    counts
}

fn sorted(pieces: &[(usize, usize)]) -> Vec<(usize, usize)> {
    let mut pieces = pieces.to_vec();
    pieces.sort_unstable();
    pieces
}

/// Whether pieces are made for the same opening, turned a quarter where they are rectangles.
fn same_shape(one: &FilledCell, other: &FilledCell) -> bool {
    let near = |a: f64, b: f64| a.approx_eq(b, POSITION);
    let (a, b) = one.made_for;
    let (c, d) = other.made_for;
    let turned = one.shape == CellShape::Square && near(a, d) && near(b, c);
    one.shape == other.shape && (near(a, c) && near(b, d) || turned)
}

/// A number above zero as a Roman numeral.
fn roman(mut number: usize) -> String {
    const SIGNS: [(usize, &str); 13] = [
        (1000, "M"),
        (900, "CM"),
        (500, "D"),
        (400, "CD"),
        (100, "C"),
        (90, "XC"),
        (50, "L"),
        (40, "XL"),
        (10, "X"),
        (9, "IX"),
        (5, "V"),
        (4, "IV"),
        (1, "I"),
    ];
    let mut numeral = String::new();
    for (value, sign) in SIGNS {
        while number >= value {
            numeral.push_str(sign);
            number -= value;
        }
    }
    numeral
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numerals() {
        let said = [1, 4, 9, 14, 40, 99].map(roman);
        assert_eq!(said, ["I", "IV", "IX", "XIV", "XL", "XCIX"]);
    }
}
