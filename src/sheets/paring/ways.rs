//! The ways to make a piece's mitres, side by side.

use crate::instructions::pare::{ParePlan, WayFigures};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::lattice::PieceWay;
use crate::phrase;

/// A row for each piece and way; nothing where only guides are at hand.
pub(super) fn ways_section(plan: &ParePlan) -> Option<Section> {
    if plan.ways.is_empty() {
        return None;
    }
    let table = Table {
        caption: phrase!(
            "Settings: of fence and blade, of the guide's stop, or programs. Cuts: through blocks of sticks. Sawn or routed, pared: facets of all pieces of the kind. Guides: every facet by hand. Rows: in a row on long sticks, a skin holding the pieces. Stick-ends: on the end of a stick, each piece then sawn off by hand. A piece that a way is not told for is pared."
        ),
        columns: vec![
            "piece", "way", "machine", "sticks", "settings", "cuts", "cut", "pared", "chosen",
        ],
        rows: plan.ways.iter().map(|way| row(way, plan)).collect(),
    };
    Some(Section {
        heading: "Ways to make the mitres".into(),
        blocks: vec![Block::Table(table)],
    })
}

fn row(way: &WayFigures, plan: &ParePlan) -> Vec<TableCell> {
    vec![
        TableCell::Text(format!("{} {}", way.piece, way.name)),
        TableCell::Text(way.way.name().into()),
        TableCell::Text(way.machine.clone().unwrap_or_else(|| "guides".into())),
        TableCell::Count(way.sticks),
        TableCell::Count(way.settings),
        TableCell::Count(way.cuts),
        TableCell::Count(way.facets_cut),
        TableCell::Count(way.facets_pared),
        TableCell::Text(if is_chosen(way, plan) { "yes" } else { "" }.into()),
    ]
}

/// The way that the job or a flag asks for; guides for pieces that it makes nothing of.
fn is_chosen(way: &WayFigures, plan: &ParePlan) -> bool {
    let asked = |one: &&WayFigures| one.piece == way.piece && one.way == plan.way;
    match plan.ways.iter().find(asked) {
        Some(asked) => asked.way == way.way,
        None => way.way == PieceWay::Guides,
    }
}
