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
    remarks.extend(plan.lapped.first().map(square_ends));
    remarks.extend(turned(plan));
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

/// What is still to be pared, the same at all ends.
fn square_ends(blank: &LappedBlank) -> Phrase {
    phrase!(
        "Both ends of every blank are square yet, each {} longer than the piece's point there. Pare them after the sheet for the pieces; the half laps are in already.",
        Mm(blank.rough_end_mm)
    )
}

/// How the finished pieces lie in the panel.
fn turned(plan: &LaserPlan) -> Vec<Phrase> {
    let (over, none): (Vec<_>, Vec<_>) =
        (plan.lapped.iter()).partition(|blank| blank.turned_over > 0);
    let mut told: Vec<Phrase> = over.into_iter().map(turned_over).collect();
    told.extend((!none.is_empty()).then(|| {
        phrase!(
            "{} lie in the panel with their front faces in front.",
            if told.is_empty() { "All" } else { "All others" }
        )
    }));
    told
}

/// How pieces lie of which some are turned over.
fn turned_over(blank: &LappedBlank) -> Phrase {
    let front = blank.count.saturating_sub(blank.turned_over);
    let same_names = (blank.turned_names.iter()).any(|name| blank.as_drawn_names.contains(name));
    let names = |names: &[String]| match same_names || front == 0 {
        true => String::new(),
        false => format!(" ({})", names.join(", ")),
    };
    let mut text = phrase!("{} {}: ", blank.number, blank.name.as_str());
    text.append(match front {
        0 => phrase!("all are turned over in the panel, their back faces in front."),
        _ => phrase!(
            "{} of them{} lie in the panel with their front faces in front; {}{} are the same part turned over, their back faces in front.",
            front,
            names(&blank.as_drawn_names),
            blank.turned_over,
            names(&blank.turned_names)
        ),
    });
    text
}
