//! Which cells take which pieces.

use crate::instructions::pare::{Bay, CellKindFigures, CellPieces, ParePlan};
use crate::instructions::sheet::{Block, Section, Table, TableCell};

/// One list for each kind of cell, where there is more than one kind.
pub(in crate::sheets) fn cells_section(plan: &ParePlan) -> Option<Section> {
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
