//! Which cells take which pieces.

use crate::instructions::as_built::{AsBuiltFigures, LeafFigures};
use crate::instructions::pare::{Bay, CellKindFigures, CellPieces, ParePlan};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::sheets::as_built::bays_words;
use crate::units::Mm;

/// One list for each kind of cell, where there is more than one kind; of a panel as built the bays that need
/// a leaf of their own, and the others.
pub(in crate::sheets) fn cells_section(plan: &ParePlan) -> Option<Section> {
    if let Some(as_built) = plan
        .as_built
        .as_ref()
        .filter(|_| !plan.cell_kinds.is_empty())
    {
        return Some(built_cells(plan, as_built));
    }
    if plan.cell_kinds.len() < 2 {
        return None;
    }
    let row = |kind: &CellKindFigures| {
        let pieces: Vec<String> = kind.pieces.iter().map(piece).collect();
        vec![
            TableCell::Text(named(kind)),
            TableCell::Count(kind.count),
            TableCell::Text(places(&kind.bays)),
            TableCell::Text(pieces.join(", ")),
        ]
    };
    let caption = if plan.cells_trimmed > 0 {
        "One cell's pieces by number, in the order in which they are filled in; x: how many of it, where that is more than one. Rows are counted from the bottom, columns from the left of their row, cells cut by the edge included."
    } else {
        "One cell's pieces by number, in the order in which they are filled in; x: how many of it, where that is more than one. Rows are counted from the bottom, columns from the left of their row."
    };
    let table = Table {
        caption: caption.into(),
        columns: vec!["kind", "cells", "which", "pieces of one cell"],
        rows: plan.cell_kinds.iter().map(row).collect(),
    };
    Some(Section {
        heading: "Kinds of cells".into(),
        blocks: vec![Block::Table(table)],
    })
}

fn built_cells(plan: &ParePlan, as_built: &AsBuiltFigures) -> Section {
    let leaf = |kind: &&CellKindFigures| kind.as_built.clone();
    let leaves: Vec<LeafFigures> = plan
        .cell_kinds
        .iter()
        .filter_map(|kind| leaf(&kind))
        .collect();
    let most = |of: fn(&LeafFigures) -> f64| leaves.iter().map(of).fold(0.0, f64::max);
    let mut words = phrase!("As built: ");
    words.append(bays_words(as_built));
    words.append(phrase!(
        ". Leaves of bays that differ by {} or less are made alike, for the middle of them: the openings below are what they are made for, at most {} too long and {} too short",
        Mm(as_built.same_within_mm),
        Mm(most(|leaf| leaf.too_long_mm)),
        Mm(most(|leaf| leaf.too_short_mm))
    ));
    words.append(match plan.wood.as_ref().filter(|wood| wood.fit_mm != 0.0) {
        Some(wood) => phrase!(", the fit of {} not counted.", Mm(wood.fit_mm)),
        None => ".".into(),
    });
    let is_own = |kind: &&CellKindFigures| leaf(kind).is_some_and(|leaf| leaf.own);
    let (own, others): (Vec<_>, Vec<_>) = plan.cell_kinds.iter().partition(is_own);
    let tables = [
        ("Bays that need a leaf of their own.", own),
        ("Leaves made alike.", others),
    ];
    let tables = tables.into_iter().filter(|(_, kinds)| !kinds.is_empty());
    let mut blocks = vec![Block::Remarks(vec![words])];
    blocks.extend(tables.enumerate().map(|(at, (caption, kinds))| {
        let mut caption = Phrase::from(caption);
        if at == 0 {
            caption.append(" Wide, high: the opening that the leaf is made for. Too long, too short: what that is off the opening as built, at most. Columns are counted from the left, rows from the bottom. Pieces of one cell by number, in the order in which they are filled in; x: how many of it.".into());
        }
        Block::Table(built_table(caption, &kinds))
    }));
    Section {
        heading: "Kinds of cells, as built".into(),
        blocks,
    }
}

fn built_table(caption: Phrase, kinds: &[&CellKindFigures]) -> Table {
    let row = |kind: &&CellKindFigures| {
        let leaf = kind.as_built.as_ref();
        let pieces: Vec<String> = kind.pieces.iter().map(piece).collect();
        vec![
            TableCell::Text(named(kind)),
            TableCell::Count(kind.count),
            TableCell::Text(places(&kind.bays)),
            TableCell::Length(kind.opening_mm[0]),
            TableCell::Length(kind.opening_mm[1]),
            TableCell::length(leaf.map(|leaf| leaf.too_long_mm)),
            TableCell::length(leaf.map(|leaf| leaf.too_short_mm)),
            TableCell::Text(pieces.join(", ")),
        ]
    };
    Table {
        caption,
        columns: vec![
            "kind",
            "cells",
            "which",
            "wide",
            "high",
            "too long",
            "too short",
            "pieces of one cell",
        ],
        rows: kinds.iter().map(row).collect(),
    }
}

/// `II`, or `II (B)` with its letters in the map.
fn named(kind: &CellKindFigures) -> String {
    match &kind.letters {
        Some(letters) => format!("{} ({letters})", kind.kind),
        None => kind.kind.clone(),
    }
}

/// `2 hinge x4`.
fn piece(piece: &CellPieces) -> String {
    let CellPieces {
        number,
        name,
        count,
    } = piece;
    match count {
        1 => format!("{number} {name}"),
        count => format!("{number} {name} x{count}"),
    }
}

/// Bays in words, rows with the same columns together: `columns 1, 4 of rows 1, 6`.
fn places(bays: &[Bay]) -> String {
    let mut rows: Vec<(usize, Vec<usize>)> = Vec::new();
    for bay in bays {
        match rows.iter_mut().find(|(row, _)| *row == bay.row) {
            Some((_, columns)) => columns.push(bay.column),
            None => rows.push((bay.row, vec![bay.column])),
        }
    }
    let mut alike: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for (row, columns) in rows {
        match alike.iter_mut().find(|(_, known)| *known == columns) {
            Some((rows, _)) => rows.push(row),
            None => alike.push((vec![row], columns)),
        }
    }
    let words = alike.iter().map(|(rows, columns)| {
        let columns = numbers("column", columns);
        let rows = numbers("row", rows);
        format!("{columns} of {rows}")
    });
    words.collect::<Vec<_>>().join("; ")
}

/// Numbers that grow, runs of three or more shortened: `rows 1, 2, 4-7`.
fn numbers(what: &str, numbers: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == *number => *last = *number,
            _ => runs.push((*number, *number)),
        }
    }
    let run = |(first, last): &(usize, usize)| match last - first {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first}-{last}"),
    };
    let words: Vec<String> = runs.iter().map(run).collect();
    let plural = if numbers.len() == 1 { "" } else { "s" };
    format!("{what}{plural} {}", words.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bays_of_equal_rows_are_told_together() {
        let bays = |places: &[(usize, usize)]| {
            let bay = |&(column, row): &(usize, usize)| Bay { column, row };
            super::places(&places.iter().map(bay).collect::<Vec<_>>())
        };
        let corners = bays(&[(1, 1), (4, 1), (1, 6), (4, 6)]);
        assert_eq!(corners, "columns 1, 4 of rows 1, 6");
        assert_eq!(
            bays(&[(1, 1), (2, 1), (3, 1), (5, 2)]),
            "columns 1-3 of row 1; column 5 of row 2"
        );
    }
}
