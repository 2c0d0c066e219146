//! What is told of a panel as built.

use crate::infill::FilledCell;
use crate::instructions::as_built::{AsBuiltFigures, BayFigures, LeafFigures};
use crate::lattice::{BuiltBay, Panel};

/// As many cells as these or fewer are no batch: each is said to need a leaf of its own. Common practice,
/// no source.
const FEW_CELLS: usize = 2;

/// The bays of a panel that is known as built.
pub(crate) fn as_built_of(panel: &Panel) -> Option<AsBuiltFigures> {
    let as_built = panel.known_as_built()?;
    let figures = |bay: BuiltBay| BayFigures {
        number: bay.number,
        drawn_mm: bay.drawn,
        measured_mm: bay.built,
    };
    let [columns, rows] = panel.built_bays();
    Some(AsBuiltFigures {
        columns: columns.into_iter().map(figures).collect(),
        rows: rows.into_iter().map(figures).collect(),
        same_within_mm: as_built.same_within,
    })
}

/// How leaves of one kind fit the cells that take them.
pub(super) fn leaf_figures(cells: &[&FilledCell]) -> LeafFigures {
    let over = |cell: &&FilledCell| {
        let (wide, high) = cell.opening;
        [cell.made_for.0 - wide, cell.made_for.1 - high]
    };
    let most = |sign: f64| {
        let over = cells.iter().flat_map(over);
        over.map(|over| sign * over).fold(0.0, f64::max)
    };
    LeafFigures {
        too_long_mm: most(1.0),
        too_short_mm: most(-1.0),
        own: cells.len() <= FEW_CELLS,
    }
}
