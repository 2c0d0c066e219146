//! Which cells take which pieces.

use crate::infill::{CellKind, FilledCell, Infilling};
use crate::instructions::pare::{Bay, CellKindFigures, CellPieces};

/// The kinds of cells of a panel, with their places and pieces.
pub(super) fn figures(filled: &Infilling) -> Vec<CellKindFigures> {
    let told = |kind: CellKind| {
        let cells = kind.cells.iter().filter_map(|at| filled.cells.get(*at));
        let cells: Vec<&FilledCell> = cells.collect();
        let first = cells.first();
        let mut bays: Vec<Bay> = cells.iter().map(|cell| bay(cell)).collect();
        bays.sort_unstable_by_key(|bay| (bay.row, bay.column));
        let (wide, high) = first.map_or((0.0, 0.0), |cell| cell.opening);
        let piece = |(at, count): &(usize, usize)| {
            let name = filled.kinds.get(*at).map(|piece| piece.name.clone());
            CellPieces {
                number: at + 1,
                name: name.unwrap_or_default(),
                count: *count,
            }
        };
        CellKindFigures {
            kind: kind.name,
            count: cells.len(),
            opening_mm: [wide, high],
            cut: cells.iter().all(|cell| !cell.whole),
            bays,
            pieces: kind.pieces.iter().map(piece).collect(),
        }
    };
    filled.cell_kinds().into_iter().map(told).collect()
}

fn bay(cell: &FilledCell) -> Bay {
    Bay {
        column: cell.column,
        row: cell.row,
    }
}
