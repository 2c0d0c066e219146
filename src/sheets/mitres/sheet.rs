//! The set-up sheet for mitres of pieces at a sled.

use super::after::check_section;
use super::settings::{blade_words, settings_sections};
use super::{row_words, stick_words};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::mitres::{LeftBecause, LeftForGuides, MitrePlan, StickFigures};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::sheets::measured_figures::measured_section;
use crate::sheets::measured_stock::stock_section;
use crate::units::{Mm, Rad};

/// The sheet for a plan.
pub fn mitre_sheet(plan: &MitrePlan) -> SetupSheet {
    let mut sections = vec![held_section(plan)];
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.extend(measured_section(&plan.measured_figures));
    sections.push(sticks_section(plan));
    sections.push(check_section(plan));
    sections.extend(settings_sections(plan));
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
    let mut blocks = vec![Block::Table(sticks_table(plan))];
    let first = phrase!(
        "Of {} the sled cuts {} in {} through blocks; {} stay for the guides. Kerf {}, measured on a test groove: every stop is reckoned with it.",
        counted(plan.facets_cut + plan.facets_left, "facet"),
        plan.facets_cut,
        counted(plan.block_cuts, "cut"),
        plan.facets_left,
        Mm(plan.kerf_mm)
    );
    let mut remarks = vec![first];
    remarks.extend(blade_words(plan));
    let left = plan.left.iter().map(left_words);
    remarks.extend(left.reduce(|mut all, one| {
        all.append(phrase!(" "));
        all.append(one);
        all
    }));
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
            "Sticks {} thick, {} deep. Length: at least, end to end, both square, all of a kind alike. In each: pieces a stick. At once: sticks in a block. Spare: pieces more than needed. Ends: those that the sled cuts.",
            Mm(plan.thickness_mm),
            Mm(plan.depth_mm)
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
        "{} of {} {} stay, {} {}: ",
        counted(left.facets, "facet"),
        left.piece,
        left.name.as_str(),
        if left.ends.len() == 1 { "end" } else { "ends" },
        ends.as_str()
    );
    words.append(match left.why {
        LeftBecause::NotReached { jig_angle } => phrase!(
            "sticks do not come to lie {} to the blade here.",
            Rad(jig_angle)
        ),
        LeftBecause::LapNotReached { jig_angle } => phrase!(
            "for its half lap sticks would lie {} to the blade, which this fence does not reach.",
            Rad(jig_angle)
        ),
        LeftBecause::Mouth => {
            phrase!("a bird's mouth, and a blade does not stop at its apex.")
        }
        LeftBecause::NoRoom => phrase!("no stick takes one."),
        LeftBecause::TwoAngles => {
            phrase!("its two facets have two angles, and a stick's end is cut with one.")
        }
        LeftBecause::OtherWood => {
            phrase!("its wood is not as thick and as deep as that of most pieces, for which the sled is set.")
        }
        LeftBecause::Folded => {
            phrase!("a folded strip: no sled cuts its V, which ends short of the far side, and its ends are pared before it.")
        }
        LeftBecause::OtherEnd => phrase!("the piece is too short to be held at the saw."),
    });
    words
}
