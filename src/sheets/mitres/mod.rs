//! The set-up sheet for mitres of pieces at a sled.

mod after;
mod joint_view;
mod row_words;
mod settings;
mod stick_words;

use crate::instructions::mitres::{LeftBecause, LeftForGuides, MitrePlan, StickFigures};
use crate::instructions::pare::EndLetter;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::lattice::PieceWay;
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::measured_stock::stock_section;
use crate::units::{Mm, Rad};
use after::{after_section, check_section};
use settings::settings_sections;

/// The sheet for a plan.
pub fn mitre_sheet(plan: &MitrePlan) -> SetupSheet {
    let mut sections = vec![held_section(plan)];
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.push(sticks_section(plan));
    sections.push(check_section(plan));
    sections.extend(settings_sections(plan));
    sections.push(after_section(plan));
    SetupSheet {
        part: SheetPart::Mitres,
        title: format!("{} - mitres, {}", plan.title, plan.machine),
        heading: format!("Mitres: {}", plan.machine),
        safety: SafetyNotes::for_piece_mitres(plan.way),
        sections,
    }
}

/// What holds the pieces, before anything else.
fn held_section(plan: &MitrePlan) -> Section {
    let remarks = match &plan.skin {
        Some(skin) => row_words::held(skin, plan.thickness_mm),
        None => stick_words::held(),
    };
    Section {
        heading: "First: what holds the pieces".into(),
        blocks: vec![Block::Remarks(remarks)],
    }
}

fn sticks_section(plan: &MitrePlan) -> Section {
    let mut figures = Vec::new();
    if let Some(skin) = &plan.skin {
        figures.push(Figure::new(
            "skin",
            Mm(skin.set_mm),
            phrase!(
                "from the floor of every mitre's cut to the upper face; {} to {} with all that can be off",
                Mm(skin.thinnest_mm),
                Mm(skin.thickest_mm)
            ),
        ));
    }
    figures.push(Figure::new(
        "kerf",
        Mm(plan.kerf_mm),
        "square to it, measured on a test groove: every stop is reckoned with it",
    ));
    let mut blocks = vec![Block::Table(sticks_table(plan)), Block::Figures(figures)];
    let mut remarks = vec![phrase!(
        "Of {} the sled cuts {} in {} through blocks; {} stay for the guides.",
        counted(plan.facets_cut + plan.facets_left, "facet"),
        plan.facets_cut,
        counted(plan.block_cuts, "cut"),
        plan.facets_left
    )];
    remarks.extend(plan.left.iter().map(left_words));
    blocks.push(Block::Remarks(remarks));
    Section {
        heading: "Sticks".into(),
        blocks,
    }
}

fn sticks_table(plan: &MitrePlan) -> Table {
    let row = |sticks: &StickFigures| {
        vec![
            TableCell::Count(sticks.number),
            TableCell::Text(format!("{} {}", sticks.piece, sticks.name)),
            TableCell::Count(sticks.count),
            TableCell::Length(sticks.length_mm),
            TableCell::Count(sticks.pieces_per_stick),
            TableCell::Count(sticks.sticks_per_block),
            TableCell::Count(sticks.blocks),
            TableCell::Count(sticks.spare()),
            TableCell::Text(ends_words(&sticks.cut_ends)),
        ]
    };
    Table {
        caption: phrase!(
            "Sticks as thick and as deep as the pieces. Piece: number and name as in the list of pieces. Length: end to end, at least; all sticks of a kind alike, both ends square. In each: pieces a stick. At once: sticks in a block. Spare: pieces more than the panel needs. Ends: those that the sled cuts."
        ),
        columns: vec![
            "sticks", "piece", "count", "length", "in each", "at once", "blocks", "spare", "ends",
        ],
        rows: plan.sticks.iter().map(row).collect(),
    }
}

fn ends_words(ends: &[EndLetter]) -> String {
    let names: Vec<&str> = ends.iter().map(|end| end.name()).collect();
    names.join(" and ")
}

/// What stays of a piece, and why.
pub(super) fn left_words(left: &LeftForGuides) -> Phrase {
    let ends = ends_words(&left.ends);
    let mut words = phrase!(
        "The {} ({}): {} {} for the guides, {}: ",
        left.name.as_str(),
        left.piece,
        if left.ends.len() == 1 { "end" } else { "ends" },
        ends.as_str(),
        counted(left.facets, "facet")
    );
    words.append(match left.why {
        LeftBecause::NotReached { jig_angle } => phrase!(
            "sticks would lie {} to the blade, which this fence does not reach.",
            Rad(jig_angle)
        ),
        LeftBecause::NoRoom => phrase!("no stick takes one."),
        LeftBecause::TwoAngles => {
            phrase!("its two facets have two angles, and a stick's end is cut with one.")
        }
        LeftBecause::OtherEnd => phrase!("the piece is too short to be held at the saw."),
    });
    words
}

/// Whether pieces lie in rows.
pub(super) fn in_rows(plan: &MitrePlan) -> bool {
    plan.way != PieceWay::StickEnds
}
