//! What paring once more takes off a piece.

use crate::instructions::pare::{ParePlan, TakeOff};
use crate::instructions::sheet::{Block, Section, Table, TableCell};

/// One row for each end and amount; ends that shorten alike are told once.
pub(super) fn take_off_section(plan: &ParePlan) -> Section {
    let mut rows: Vec<(String, Vec<&TakeOff>)> = Vec::new();
    for (piece, end, letter) in
        plan.pieces
            .iter()
            .filter(|piece| piece.made > 0)
            .flat_map(|piece| {
                piece
                    .ends
                    .iter()
                    .zip(["A", "B"])
                    .map(move |(end, letter)| (piece, end, letter))
            })
    {
        let take_off: Vec<&TakeOff> = end.take_off.iter().collect();
        let name = format!("{} {letter}", piece.name);
        let alike = |known: &&mut (String, Vec<&TakeOff>)| {
            known
                .1
                .iter()
                .zip(&take_off)
                .all(|(a, b)| (a.shortens_mm - b.shortens_mm).abs() < 1e-6)
        };
        match rows.iter_mut().find(alike) {
            Some((names, _)) => names.push_str(&format!(", {name}")),
            None => rows.push((name, take_off)),
        }
    }
    let cells = |(names, take_off): (String, Vec<&TakeOff>)| {
        let mut cells = vec![TableCell::Text(names)];
        cells.extend(
            take_off
                .iter()
                .map(|row| TableCell::Length(row.shortens_mm)),
        );
        cells
    };
    let columns = ["0.05", "0.1", "0.2", "0.3", "0.5"];
    let table = Table {
        caption: "What the piece gets shorter when every facet of that end is pared once more, by 0.05, 0.1, 0.2, 0.3 or 0.5 mm square to it.".into(),
        columns: std::iter::once("piece and end").chain(columns).collect(),
        rows: rows.into_iter().map(cells).collect(),
    };
    Section {
        heading: "A piece that is too long".into(),
        blocks: vec![Block::Table(table)],
    }
}
