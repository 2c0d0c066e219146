//! What must be known about blanks that are cut with their half laps in them.

use crate::instructions::laser::{LappedBlank, LaserPlan, Ware};
use crate::instructions::sheet::{Block, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// The blanks, lap by lap, how they lie in the drawing and in the panel.
pub(super) fn lapped_section(plan: &LaserPlan) -> Section {
    let rows = plan.lapped.iter().flat_map(|blank| {
        blank.slots.iter().map(|slot| {
            vec![
                TableCell::Text(format!("{} {}", blank.number, blank.name)),
                TableCell::Count(blank.count),
                TableCell::Length(blank.length_mm),
                TableCell::Text(slot.mate.clone()),
                TableCell::Length(slot.centre_mm),
                TableCell::Length(slot.slot_mm),
                TableCell::Length(slot.depth_mm),
                TableCell::Text(slot.face.name().into()),
            ]
        })
    });
    let table = Table {
        caption: "One row for each half lap. Length: from square end to square end. Centre: from the blank's square end A to the middle of the slot; width: as cut, along the blank; deep: from the face named.".into(),
        columns: vec!["piece", "count", "length", "lap for", "centre", "width", "deep", "face"],
        rows: rows.collect(),
    };
    let mut remarks = vec![drawn_so(plan)];
    remarks.extend(plan.lapped.iter().map(square_ends));
    remarks.extend(plan.lapped.iter().map(turned));
    Section {
        heading: "Lapped blanks".into(),
        blocks: vec![Block::Table(table), Block::Remarks(remarks)],
    }
}

/// Which end and which face are which.
fn drawn_so(plan: &LaserPlan) -> Phrase {
    let mut text = phrase!(
        "Each blank lies on the sheet with end A at the left, its front face toward the sheet's far edge and its back face toward the near one; the side that lies up is its right one, as seen from end A to end B."
    );
    let bare = plan
        .unlabelled
        .iter()
        .filter(|part| part.ware == Ware::Lapped);
    let blanks: usize = plan.lapped.iter().map(|blank| blank.count).sum();
    if bare.count() < blanks {
        text.append(phrase!(
            " Its label, the piece's number and A, stands on that side near end A; the letters' heads point to the front face, their feet to the back face."
        ));
    }
    text
}

/// What is still to be pared.
fn square_ends(blank: &LappedBlank) -> Phrase {
    phrase!(
        "{} {}: both ends are square yet, each {} longer than the piece's point there. Pare them after the sheet for the pieces; the half laps are in already.",
        blank.number,
        blank.name.as_str(),
        Mm(blank.rough_end_mm)
    )
}

/// How the finished pieces lie in the panel.
fn turned(blank: &LappedBlank) -> Phrase {
    let names = |names: &[String]| names.join(", ");
    let LappedBlank {
        number,
        count,
        turned_over,
        ..
    } = blank;
    let as_drawn = count.saturating_sub(*turned_over);
    match (as_drawn, turned_over) {
        (_, 0) => phrase!(
            "{} {}: all lie in the panel with their front faces in front.",
            *number,
            blank.name.as_str()
        ),
        (0, _) => phrase!(
            "{} {}: all are turned over in the panel, their back faces in front.",
            *number,
            blank.name.as_str()
        ),
        _ => phrase!(
            "{} {}: one part for both sides of the lap. {} of them ({}) lie in the panel with their front faces in front; {} ({}) are turned over, their back faces in front.",
            *number,
            blank.name.as_str(),
            as_drawn,
            names(&blank.as_drawn_names),
            *turned_over,
            names(&blank.turned_names)
        ),
    }
}
