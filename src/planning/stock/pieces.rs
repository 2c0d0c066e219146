//! Pieces as the chosen way takes them: rough lengths, or sticks that they are made on; and the guide that pares
//! them.

use super::order::StockOrder;
use super::part::need;
use crate::instructions::pare::{ParePlan, PieceFigures};
use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind, NeedNote};
use crate::lattice::PieceWay;
use crate::machines::SpareShares;
use crate::planning::paring::block_breadth;

/// Sticks for what a saw or a router makes on them, rough lengths for the rest.
pub(super) fn pieces(order: &StockOrder<'_>, pare: &ParePlan) -> Vec<Need> {
    let mut all = sticks(order, pare);
    let on_sticks = on_sticks(pare);
    let rough = pare.pieces.iter();
    let rough = rough.filter(|piece| piece.made > 0 && !on_sticks.contains(&piece.number));
    all.extend(rough.map(|piece| rough_piece(order, pare, piece)));
    all.extend(battens(order, pare));
    all
}

/// Numbers of the pieces that sticks are made into.
fn on_sticks(pare: &ParePlan) -> Vec<usize> {
    let sawn = pare.mitres.iter().flat_map(|plan| &plan.sticks);
    let routed = pare.routed.iter().flat_map(|plan| &plan.rows);
    let sawn = sawn.map(|sticks| sticks.piece);
    sawn.chain(routed.map(|row| row.number)).collect()
}

/// By name; with its number in the list of pieces where others have that name too.
fn named(pare: &ParePlan, number: usize, name: &str) -> String {
    let same = pare
        .pieces
        .iter()
        .filter(|piece| piece.name == name && piece.made > 0);
    if same.count() > 1 {
        format!("{name} (no. {number})")
    } else {
        name.to_owned()
    }
}

fn rough_piece(order: &StockOrder<'_>, pare: &ParePlan, piece: &PieceFigures) -> Need {
    let has_mouth = piece.ends.iter().any(|end| end.mouth.is_some());
    let note = if piece.folds.is_empty() {
        has_mouth.then_some(NeedNote::Mouth)
    } else {
        Some(NeedNote::Folded)
    };
    Need {
        spare: SpareShares::of(order.wishes.spares.pieces, piece.made),
        note,
        ..need(
            (named(pare, piece.number, &piece.name), NeedKind::Piece),
            piece.wood_mm.unwrap_or(order.piece_section),
            (piece.rough_length_mm, piece.made),
            order.pieces_from,
        )
    }
}

/// A long stick for every row, both grips included; or one that pieces are made on the end of.
fn sticks(order: &StockOrder<'_>, pare: &ParePlan) -> Vec<Need> {
    let stick = |name: String, section: [f64; 2], length: f64, count: usize, note: NeedNote| Need {
        spare: SpareShares::of(order.wishes.spares.pieces, count),
        note: Some(note),
        ..need(
            (format!("stick of {name}"), NeedKind::PieceStick),
            section,
            (length, count),
            NeedFrom::Stick,
        )
    };
    let sawn = pare.mitres.iter().flat_map(|plan| {
        let section = [plan.thickness_mm, plan.depth_mm];
        plan.sticks.iter().map(move |sticks| {
            let note = NeedNote::Row {
                way: plan.way,
                pieces: sticks.pieces_per_stick,
                wanted: sticks.needed,
            };
            let name = named(pare, sticks.piece, &sticks.name);
            stick(name, section, sticks.length_mm, sticks.count, note)
        })
    });
    let routed = pare.routed.iter().flat_map(|plan| &plan.rows);
    let routed = routed.map(|row| {
        let note = NeedNote::Row {
            way: PieceWay::RoutedRows,
            pieces: row.pieces_a_stick,
            wanted: row.wanted,
        };
        let section = [row.thickness_mm, row.depth_mm];
        let name = named(pare, row.number, &row.piece);
        stick(name, section, row.stick_mm, row.sticks(), note)
    });
    sawn.chain(routed).collect()
}

/// One for every stick of a row: it stays there until the saw is off for good.
fn battens(order: &StockOrder<'_>, pare: &ParePlan) -> Vec<Need> {
    let in_rows = pare.mitres.iter().filter(|plan| plan.in_rows());
    let battens = in_rows.flat_map(|plan| {
        plan.sticks.iter().map(|sticks| {
            let spare = SpareShares::of(order.wishes.spares.pieces, sticks.count);
            need(
                (
                    format!("batten for {}", named(pare, sticks.piece, &sticks.name)),
                    NeedKind::Batten,
                ),
                [plan.thickness_mm, plan.depth_mm],
                (sticks.length_mm, sticks.count + spare),
                NeedFrom::Scrap,
            )
        })
    });
    battens.collect()
}

/// What the guide lacks of blocks; all of the guide where nobody names one.
pub(super) fn guide_parts(order: &StockOrder<'_>, pare: &ParePlan) -> Vec<Need> {
    let guide = &pare.guide;
    let part = |name: String, [length, breadth]: [f64; 2], height: f64| {
        need(
            (name, NeedKind::Guide),
            [breadth, height],
            (length, 1),
            order.guide_from,
        )
    };
    let lacking = pare
        .blocks
        .iter()
        .filter(|block| block.at_hand != Some(true));
    let mut all: Vec<Need> = lacking
        .map(|block| {
            let breadth = block_breadth(guide.block_length_mm, block.jig_angle);
            let name = format!("guide block {}", crate::units::Rad(block.jig_angle).text());
            part(name, [guide.block_length_mm, breadth], guide.height_mm)
        })
        .collect();
    if pare.machine.is_none() && !pare.blocks.is_empty() {
        all.push(part(
            "fence of the guide".into(),
            guide.fence_mm,
            guide.height_mm,
        ));
        all.push(part(
            "stop of the guide".into(),
            guide.stop_mm,
            guide.height_mm,
        ));
        all.push(Need {
            note: Some(NeedNote::OrThicker),
            ..part("base of the guide".into(), guide.base_mm, guide.height_mm)
        });
    }
    all
}
