//! The table of pieces on the sheet.

use super::wood;
use crate::infill::CellShape;
use crate::instructions::pare::ParePlan;
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::{Phrase, counted};

pub(super) fn list_section(plan: &ParePlan) -> Section {
    let whole = plan.pieces.iter().filter(|piece| piece.made > 0);
    let rows = whole.map(|piece| {
        let mut row = vec![
            TableCell::Text(piece.name.clone()),
            TableCell::Count(piece.made),
            TableCell::Length(piece.opening_mm[0]),
            TableCell::Length(piece.opening_mm[1]),
            match piece.machined.is_empty() {
                true => TableCell::Length(piece.rough_length_mm),
                false => TableCell::Empty,
            },
            TableCell::Length(piece.length_over_points_mm),
        ];
        if measured(plan) {
            row.push(TableCell::length(piece.drawn_length_mm));
            row.push(TableCell::length(
                piece
                    .drawn_length_mm
                    .map(|drawn| piece.length_over_points_mm - drawn),
            ));
        }
        row
    });
    let (first, second, cell) = match plan.cell {
        CellShape::Triangle => ("cell base", "cell high", "clear base and height"),
        CellShape::Rhomb => (
            "cell side",
            "between",
            "clear side, and square from wall to wall",
        ),
        CellShape::Square => ("cell wide", "cell high", "clear opening"),
    };
    let mut columns = vec!["piece", "count", first, second, "rough", "over points"];
    let cell = match plan.as_built {
        Some(_) => "clear opening that the leaf is made for,",
        None => cell,
    };
    let mut caption = phrase!(
        "Cell: {} between strips. Rough: both ends square. Over points: along the piece's axis, from extreme point to extreme point.",
        cell
    );
    if plan.pieces.iter().any(|piece| !piece.folds.is_empty()) {
        caption.append(phrase!(" Of a folded piece: unfolded."));
    }
    if measured(plan) {
        columns.extend(["by the job", "difference"]);
        caption.append(phrase!(
            " Counts are for one cell of the opening that was measured."
        ));
    }
    let mut remarks = vec![phrase!(
        "{}: fills {}; left open: {}.",
        plan.pattern.as_str(),
        counted(plan.cells_filled, "cell"),
        plan.cells_open
    )];
    remarks.extend(plan.as_built.as_ref().map(|_| {
        phrase!("The strips are cut: cells are bays as built, by the list under Kinds of cells.")
    }));
    remarks.extend(plan.wood.as_ref().map(wood::remark));
    remarks.extend(edge_remark(plan));
    Section {
        heading: "Pieces".into(),
        blocks: vec![
            Block::Remarks(remarks),
            Block::Table(Table {
                caption,
                columns,
                rows: rows.collect(),
            }),
        ],
    }
}

/// What becomes of the cells at the edge, where it cuts any.
fn edge_remark(plan: &ParePlan) -> Option<Phrase> {
    if plan.cells_cut == 0 {
        return None;
    }
    let mut remark = phrase!(
        "Cut by the panel's edge: {}; with trimmed pieces: {}; left open: {}.",
        counted(plan.cells_cut, "more cell"),
        plan.cells_trimmed,
        plan.cells_cut - plan.cells_trimmed
    );
    if plan.pieces_left_out > 0 {
        remark.append(phrase!(
            " Left out at the edge: {}, of which too little lies in the panel to be held.",
            counted(plan.pieces_left_out, "piece")
        ));
    }
    Some(remark)
}

fn measured(plan: &ParePlan) -> bool {
    plan.pieces
        .iter()
        .any(|piece| piece.drawn_length_mm.is_some())
}
