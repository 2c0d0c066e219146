//! What is told of cells that stay open, and of figures that lack their like beyond a wall.

use super::cell_shape::CellShape;
use super::filled::{FilledCell, Infilling};
use super::pattern::{Neighbours, Pattern};
use super::pattern_map::{LegendEntry, MapForm};
use super::rules::beyond;
use crate::finding::{Document, Finding};
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::GridCell;
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Mm;

const EDGE_FIELD: &str = "infill.edge";

/// A pattern for cells of another shape than the grid has.
pub(super) fn other_walls(pattern: &Pattern, cells: &[GridCell], field: &str) -> Option<Finding> {
    let walls = cells.first()?.corners.len();
    let drawn = pattern.cell.walls().len();
    let (code, hint) = match drawn {
        _ if drawn == walls => return None,
        3 => (
            "pattern-for-triangles",
            "the cells of this grid have four walls: choose a pattern for those",
        ),
        _ => (
            "pattern-for-squares",
            "the cells of this grid are triangles: choose a pattern for those",
        ),
    };
    let text = format!("`{}` is drawn for cells with {drawn} walls", pattern.name);
    let fault = Finding::error(code, field, text);
    Some(fault.hint(hint).in_document(Document::Job))
}

/// Folded pieces in a cell that the panel's edge cuts.
pub(super) fn folded_at_edge(name: &str) -> Finding {
    let text = format!(
        "`{name}` has folded pieces, and the panel's edge cuts some of its cells: a strip that is cut off beside its bend falls apart"
    );
    let hint = "leave the cells at the edge open (edge = \"leave\"), or give those cells another pattern by a map";
    Finding::error("fold-at-edge", EDGE_FIELD, text)
        .hint(hint)
        .in_document(Document::Job)
}

/// What is unusual about a panel whose cells are filled; `grid`: its cells, `figures`: the patterns of the
/// map's entries, `unheld`: cut cells that lack a strip, `same_within`: of a panel as built, mm.
///
/// # Errors
/// Where no cell is filled at all.
pub(super) fn told(
    filled: &Infilling,
    grid: &[GridCell],
    figures: &[&Pattern],
    unheld: usize,
    same_within: Option<f64>,
) -> Result<Vec<Finding>, Vec<Finding>> {
    let mut warnings = Vec::new();
    for (at, (entry, pattern)) in filled.map.entries.iter().zip(figures).enumerate() {
        warnings.extend(left_open(filled, at, (entry, pattern)));
        let out = same_within.map(|within| out_of_square(filled, at, (entry, pattern), within));
        warnings.extend(out.flatten());
    }
    if filled.cells.iter().all(|cell| cell.pieces.is_empty()) {
        return Err(vec![none_filled(filled, warnings)]);
    }
    if unheld > 0 {
        let text = format!(
            "{unheld} cells at the edge stay open: a strip is missing on one of their walls"
        );
        warnings.push(Finding::warning("edge-cells-left-open", EDGE_FIELD, text));
    }
    // One pattern for all has its like wherever there is a cell.
    if filled.map.form != MapForm::Same {
        let walls = beyond(grid);
        for (at, (entry, pattern)) in filled.map.entries.iter().zip(figures).enumerate() {
            if pattern.neighbours == Neighbours::Mirror {
                warnings.extend(without_like(filled, &walls, (at, entry), pattern));
            }
        }
    }
    Ok(warnings)
}

fn none_filled(filled: &Infilling, warnings: Vec<Finding>) -> Finding {
    let field = filled.map.entries.first();
    let field = field.map_or("infill", |entry| entry.field.as_str());
    let fault = match warnings.into_iter().next() {
        Some(told) => Finding {
            code: "no-cell-filled",
            ..Finding::error("no-cell-filled", told.field, told.message)
                .hint(told.hint.unwrap_or_default())
        },
        None if filled.map.cells.iter().all(Option::is_none) => Finding::error(
            "no-cell-filled",
            "infill.map",
            "every cell is to stay open",
        )
        .hint("put a letter of the legend where pieces go; leave [infill] out for a panel without"),
        None => {
            let text = "no cell of this panel is whole, and none is filled";
            let hint = "make the panel larger; or write edge = \"fill\" for trimmed pieces";
            Finding::error("no-cell-filled", field, text).hint(hint)
        }
    };
    fault.in_document(Document::Job)
}

/// Whole cells that were to take an entry's pattern and are open, since its figure does not hold in them.
fn left_open(
    filled: &Infilling,
    entry: usize,
    (legend, pattern): (&LegendEntry, &Pattern),
) -> Option<Finding> {
    let takes = |cell: &&FilledCell| cell.whole && cell.entry == Some(entry);
    let open = |cell: &&FilledCell| takes(cell) && cell.pieces.is_empty();
    let first = filled.cells.iter().find(open)?;
    let whole = filled.cells.iter().filter(takes).count();
    let open = filled.cells.iter().filter(open).count();
    let (what, hint) = match first.shape {
        CellShape::Rhomb => ("rhombs", "choose a pattern that holds in rhombs"),
        CellShape::Square | CellShape::Triangle => (
            "longer than wide",
            "make the pitches of both directions the same, or choose a pattern that also holds in \
             rectangles",
        ),
    };
    let mut text = phrase!(
        "{} of {} cells are {} and are left open: the figure of `{}` needs squares",
        open,
        whole,
        what,
        &pattern.name
    );
    if filled.map.form != MapForm::Same {
        text = phrase!(
            "{} of {} cells that are to take {} are {} and are left open, such as column {}, row {}: the figure of `{}` needs squares",
            open,
            whole,
            legend.letter.to_string(),
            what,
            first.column,
            first.row,
            &pattern.name
        );
    }
    let warning = Finding::warning("cells-left-open", legend.field.as_str(), text);
    Some(warning.hint(hint))
}

/// Cells as built that are out of square and take a square leaf, since their figure needs one; `within`: what
/// is taken for alike.
fn out_of_square(
    filled: &Infilling,
    entry: usize,
    (legend, pattern): (&LegendEntry, &Pattern),
    within: f64,
) -> Option<Finding> {
    let out = |cell: &&FilledCell| (cell.opening.0 - cell.opening.1).abs();
    let takes = |cell: &&FilledCell| cell.entry == Some(entry) && !cell.pieces.is_empty();
    let cells = filled.cells.iter().filter(takes);
    let cells: Vec<&FilledCell> = cells
        .filter(|cell| pattern.needs_square() && out(cell) > within + SAME_POSITION_MM)
        .collect();
    let most = cells.iter().max_by(|a, b| out(a).total_cmp(&out(b)))?;
    let text = phrase!(
        "the figure of `{}` needs squares, and {} out of square as built, by up to {} in column {}, row {}: made for the middle of both sides, a leaf is too long one way there and too short the other",
        &pattern.name,
        match cells.len() {
            1 => "1 cell is".to_owned(),
            count => format!("{count} cells are"),
        },
        Mm(out(most)),
        most.column,
        most.row
    );
    let hint = "the list of leaves says by how much: fit these by hand, in the bay itself";
    Some(Finding::warning("leaves-out-of-square", legend.field.as_str(), text).hint(hint))
}

/// Ends that were to run over a strip and find nothing of their like on its other side.
pub(super) fn without_mate(entry: &LegendEntry, pattern: &str, ends: usize) -> Finding {
    let text = phrase!(
        "pieces of `{}` run over the strips to their like in the next cell; {} inside the panel: they end at the strip, flush and without a lap",
        pattern,
        match ends {
            1 => "1 end finds none".to_owned(),
            ends => format!("{ends} ends find none"),
        }
    );
    let hint = "put the same pattern in cells beside each other where pieces are to run on";
    Finding::warning("runs-on-alone", entry.field.as_str(), text).hint(hint)
}

/// What lies beyond the walls of an entry's cells where its figure would go on mirrored.
fn without_like(
    filled: &Infilling,
    walls: &[Vec<Option<usize>>],
    (at, entry): (usize, &LegendEntry),
    pattern: &Pattern,
) -> Option<Finding> {
    let is_like = |other: &LegendEntry| other.pattern == entry.pattern && other.pose == entry.pose;
    let mut others = 0;
    let mut open = 0;
    let mut cells = 0;
    for (cell, walls) in filled.cells.iter().zip(walls) {
        if cell.entry != Some(at) || cell.pieces.is_empty() {
            continue;
        }
        let before = others + open;
        for beyond in walls
            .iter()
            .flatten()
            .filter_map(|at| filled.cells.get(*at))
        {
            let figure = beyond.entry.filter(|_| !beyond.pieces.is_empty());
            match figure.and_then(|at| filled.map.entries.get(at)) {
                Some(other) if is_like(other) => {}
                Some(_) => others += 1,
                // Cut cells are open as in any panel.
                None if beyond.whole => open += 1,
                None => {}
            }
        }
        cells += usize::from(others + open > before);
    }
    if cells == 0 {
        return None;
    }
    let mut beyond = Phrase::default();
    if others > 0 {
        beyond.append(phrase!("another beyond {}", counted(others, "wall")));
    }
    if open > 0 {
        let and = if others > 0 { " and " } else { "" };
        beyond.append(phrase!("{}none beyond {}", and, counted(open, "wall")));
    }
    let mut text = phrase!(
        "the figure of `{}` goes on mirrored in the cell beside it; {} of {} have ",
        &pattern.name,
        counted(cells, "cell"),
        entry.letter.to_string()
    );
    text.append(beyond);
    let hint = "pieces are right for their cells in any case; put the same letter in cells beside each \
                other where the figure is to close";
    let warning = Finding::warning("figure-without-its-like", entry.field.as_str(), text);
    Some(warning.hint(hint))
}
