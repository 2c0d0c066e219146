//! Which cells take which pieces.

use crate::infill::{CellKind, FilledCell, Infilling, MapForm};
use crate::instructions::pare::{Bay, CellKindFigures, CellPieces};

/// The kinds of cells of a panel, with their places and pieces.
pub(super) fn figures(filled: &Infilling) -> Vec<CellKindFigures> {
    let kinds = filled.cell_kinds().into_iter();
    kinds.map(|kind| kind_figures(filled, kind)).collect()
}

fn kind_figures(filled: &Infilling, kind: CellKind) -> CellKindFigures {
    let cells = kind.cells.iter().filter_map(|at| filled.cells.get(*at));
    let cells: Vec<&FilledCell> = cells.collect();
    let bays = cells.iter().map(|cell| Bay {
        column: cell.column,
        row: cell.row,
    });
    let mut bays: Vec<Bay> = bays.collect();
    bays.sort_unstable_by_key(|bay| (bay.row, bay.column));
    let (wide, high) = cells.first().map_or((0.0, 0.0), |cell| cell.opening);
    let mut pieces = Vec::new();
    for (at, count) in &kind.pieces {
        let name = filled.kinds.get(*at).map(|piece| piece.name.clone());
        pieces.push(CellPieces {
            number: at + 1,
            name: name.unwrap_or_default(),
            count: *count,
        });
    }
    let mapped = filled.map.form != MapForm::Same;
    CellKindFigures {
        letters: mapped.then(|| filled.letters(&kind)),
        kind: kind.name,
        count: cells.len(),
        opening_mm: [wide, high],
        cut: cells.iter().all(|cell| !cell.whole),
        bays,
        pieces,
    }
}
