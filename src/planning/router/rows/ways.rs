//! What a router makes of pieces, beside other ways.

use crate::instructions::end_letter::EndLetter;
use crate::instructions::pare::{PieceFigures, WayFigures};
use crate::instructions::routed_rows::{RoutedRow, RoutedRows};
use crate::lattice::PieceWay;
use crate::planning::paring::MachinedEnds;

/// What a router makes of each kind of piece; `pieces` are those of the list, by their numbers.
pub fn routed_ways(plan: &RoutedRows, pieces: &[PieceFigures]) -> Vec<WayFigures> {
    let way = |row: &RoutedRow| {
        let piece = pieces.iter().find(|piece| piece.number == row.number)?;
        let facets: usize = piece.ends.iter().map(|end| end.facets.len()).sum();
        Some(WayFigures {
            piece: row.number,
            name: row.piece.clone(),
            way: PieceWay::RoutedRows,
            machine: Some(plan.machine.clone()),
            settings: 1,
            cuts: row.mitres.len() * row.sticks(),
            sticks: row.sticks(),
            facets_cut: facets * row.wanted,
            facets_pared: 0,
        })
    };
    plan.rows.iter().filter_map(way).collect()
}

/// Both ends of all pieces that it cuts: nothing stays for the guides.
pub fn routed_ends(plan: &RoutedRows) -> Vec<MachinedEnds> {
    let ends = |row: &RoutedRow| MachinedEnds {
        piece: row.number,
        ends: EndLetter::BOTH.to_vec(),
        laps: true,
    };
    plan.rows.iter().map(ends).collect()
}
