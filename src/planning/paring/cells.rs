//! Which cells take which pieces.

use crate::infill::{CellKind, FilledCell, Infilling, MapForm};
use crate::instructions::pare::{Bay, CellKindFigures, CellPieces};
use crate::lattice::Panel;
use crate::planning::as_built::leaf_figures;

/// The kinds of cells of a panel, with their places and pieces.
pub(super) fn figures(panel: &Panel, filled: &Infilling) -> Vec<CellKindFigures> {
    let as_built = panel.known_as_built().is_some();
    let kinds = filled.cell_kinds().into_iter();
    kinds
        .map(|kind| kind_figures(filled, kind, as_built))
        .collect()
}

fn kind_figures(filled: &Infilling, kind: CellKind, as_built: bool) -> CellKindFigures {
    let cells = kind.cells.iter().filter_map(|at| filled.cells.get(*at));
    let cells: Vec<&FilledCell> = cells.collect();
    let bays = cells.iter().map(|cell| Bay {
        column: cell.column,
        row: cell.row,
    });
    let mut bays: Vec<Bay> = bays.collect();
    bays.sort_unstable_by_key(|bay| (bay.row, bay.column));
    let (wide, high) = cells.first().map_or((0.0, 0.0), |cell| cell.made_for);
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
        as_built: as_built.then(|| leaf_figures(&cells)),
        cut: cells.iter().all(|cell| !cell.whole),
        bays,
        pieces,
    }
}
