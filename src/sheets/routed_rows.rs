//! The set-up sheet for pieces that a router cuts in rows on long sticks.

use super::measured_figures::measured_section;
use super::measured_stock::stock_section;
use super::router::{fit_tool, program_words, tool_words};
use crate::instructions::routed_rows::{RoutedRow, RoutedRows, RowPlace};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::router::remarks::{clamp_words, row_face, row_runs, whole};
use crate::units::{Feed, Mm, decimal};

/// The sheet for a plan.
pub fn routed_rows_sheet(plan: &RoutedRows) -> SetupSheet {
    sheet_with(plan, plan.rows.iter().map(row_section).collect())
}

/// The sheet with these sections for its rows.
pub(super) fn sheet_with(plan: &RoutedRows, rows: Vec<Section>) -> SetupSheet {
    let mut sections = Vec::new();
    let first = plan.rows.first();
    sections.extend(first.map(held_section));
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.extend(measured_section(&plan.measured_figures));
    sections.push(sticks_section(plan));
    sections.extend(first.map(|row| common_section(row, plan)));
    sections.extend(rows);
    sections.push(after_section(plan));
    SetupSheet {
        part: SheetPart::Mitres,
        title: format!("{} - pieces, {}", plan.title, plan.machine),
        heading: format!("Pieces in rows: {}", plan.machine),
        safety: SafetyNotes::for_routed_rows(),
        sections,
    }
}

/// What holds the pieces, before anything else.
fn held_section(row: &RoutedRow) -> Section {
    let remarks = vec![
        phrase!(
            "After the first cuts only a skin of {} joins the pieces. A bare skin does not count as held: stick every stick with its back to the waste board, with double-sided tape over its full length, before the first cut.",
            Mm(row.skin_mm)
        ),
        phrase!(
            "Clamp both ends of every stick as well, on the first and the last {} and nowhere else. A waste board of which a strip came loose is changed, not pressed down again.",
            Mm(row.grip_mm)
        ),
        phrase!(
            "The skin comes out {} to {} thick with all that can be off. Where the cutter marks the tape or the board, stop: the skin is gone and nothing but the tape holds.",
            Mm(row.thinnest_skin_mm),
            Mm(row.thickest_skin_mm)
        ),
    ];
    Section {
        heading: "First: what holds the pieces".into(),
        blocks: vec![Block::Remarks(remarks)],
    }
}

fn sticks_section(plan: &RoutedRows) -> Section {
    let row = |row: &RoutedRow| {
        vec![
            TableCell::Text(format!("{} {}", row.number, row.piece)),
            TableCell::Count(row.sticks()),
            TableCell::Length(row.stick_mm),
            TableCell::Count(row.pieces_a_stick),
            TableCell::Count(row.sticks_a_run),
            TableCell::Count(row.runs),
            TableCell::Count(row.wanted),
            TableCell::Count(row.spare),
        ]
    };
    let table = Table {
        caption: "Sticks as thick and as deep as the pieces. Piece: number and name as in the list of pieces. Length: end to end, at least, the datum end square. In each: pieces a stick. At once: sticks that lie on the router in a run. Spare: pieces more than the panel takes.".into(),
        columns: vec![
            "piece", "sticks", "length", "in each", "at once", "runs", "wanted", "spare",
        ],
        rows: plan.rows.iter().map(row).collect(),
    };
    let mut blocks = vec![Block::Table(table)];
    if !plan.left_out.is_empty() {
        let names = plan.left_out.iter();
        let names: Vec<String> = names
            .map(|one| format!("{} {}", one.number, one.name))
            .collect();
        blocks.push(Block::Remarks(vec![phrase!(
            "Not cut by this router, so pared at the bench: {}.",
            names.join(", ")
        )]));
    }
    Section {
        heading: "Sticks".into(),
        blocks,
    }
}

/// What is the same for all rows.
fn common_section(row: &RoutedRow, plan: &RoutedRows) -> Section {
    let figures = vec![
        Figure::new("tool", Mm(row.tool.measured_mm()), tool_words(&row.tool)),
        Figure::new(
            "mitres, depth",
            Mm(row.depth_mm - row.skin_mm),
            phrase!(
                "from the top of a stick {} deep; {} stay over the waste board",
                Mm(row.depth_mm),
                Mm(row.skin_mm)
            ),
        ),
        Figure::new(
            "spacer",
            Mm(row.apart_mm),
            "its width: between neighbouring sticks, at both grips; the tool turns round between the sticks",
        ),
        Figure::new(
            "run-out",
            Mm(row.run_out_mm),
            "from a stick's side to the tool's edge before and after every cut, square to the stick",
        ),
        Figure::new(
            "grip",
            Mm(row.grip_mm),
            "from either end of a stick: clamps stand here, the tool does not come here",
        ),
        Figure::new(
            "safe height",
            Mm(row.safe_height_mm),
            "above the top of the sticks",
        ),
        Figure::new(
            "depth per pass",
            Mm(row.depth_per_pass_mm),
            phrase!(
                "deeper each time, a mitre in {}; the tool fills its slot, so which way it goes does not matter",
                row.passes.depths
            ),
        ),
        Figure::new(
            "spindle",
            format!("{} rpm", whole(row.spindle_rpm)),
            "clockwise seen from above",
        ),
        Figure::new("feed", Feed(row.feed_mm_per_min), "cutting"),
    ];
    let mut blocks = vec![Block::Figures(figures)];
    if !plan.clamps.is_empty() {
        blocks.push(Block::Remarks(
            plan.clamps.iter().map(clamp_words).collect(),
        ));
    }
    blocks.push(Block::Steps(steps(row)));
    Section {
        heading: "Every row".into(),
        blocks,
    }
}

fn steps(row: &RoutedRow) -> Vec<Phrase> {
    let mut steps = vec![
        phrase!(
            "Measure the sticks: {} thick, {} deep. A stick that is deeper leaves less skin.",
            Mm(row.thickness_mm),
            Mm(row.depth_mm)
        ),
        phrase!("Fasten a flat waste board, and mark a line along Y for the sticks' datum ends."),
        phrase!(
            "Tape the sticks down on edge along X, over their full length, datum ends on the line, a spacer of {} between neighbours at both grips. A stick that lies aside by some amount has all its ridges off by as much.",
            Mm(row.apart_mm)
        ),
        phrase!("Clamp both ends of every stick inside the grips."),
        fit_tool(&row.tool),
        phrase!(
            "Set zero{}: X at the sticks' datum ends, Y at the front edge of the first stick, Z at the top of the sticks.",
            row.tool
                .work_zero
                .map_or(String::new(), |zero| format!(" ({zero})"))
        ),
        phrase!(
            "Run the program in the air first, zero raised well above sticks and clamps; watch that it keeps out of the grips."
        ),
        phrase!("Set zero down again, close the enclosure, start; see the spindle up to speed."),
        phrase!(
            "Before you take anything up, measure a piece in place, from point to point, and the depth of a cut beside a stick."
        ),
    ];
    if row.after_stop.is_some() {
        steps.push(phrase!(
            "The program stops before every run and tells which sticks are next: put them where the last ones lay; hands away, then let it go on. The spindle starts again by itself."
        ));
    }
    steps
}

/// What is told of a row.
pub(super) fn row_section(row: &RoutedRow) -> Section {
    let minutes = decimal(row.time_s / 60.0, 1).unwrap_or_default();
    let figures = vec![
        Figure::new(
            "program",
            row.file.as_str(),
            program_words(row.after_stop, row.runs).unwrap_or_else(|| row_runs(row)),
        ),
        Figure::new("face up", row_face(row), face_words(row)),
        Figure::new(
            "length over points",
            Mm(row.length_over_points_mm),
            "of a piece, along its axis",
        ),
        Figure::new(
            "time",
            format!("{minutes} min"),
            "each run, estimated from the profile's feeds and acceleration",
        ),
    ];
    let sticks = Table {
        caption:
            "Where the sticks lie: front edges along Y from program zero, all datum ends at X zero."
                .into(),
        columns: vec!["stick", "front edge"],
        rows: (1..)
            .zip(&row.front_edges_mm)
            .map(|(stick, front)| vec![TableCell::Count(stick), TableCell::Length(*front)])
            .collect(),
    };
    let piece = |(number, piece): (usize, &RowPlace)| {
        let first = if piece.turned { "B" } else { "A" };
        let side = if piece.left_in_front { "left" } else { "right" };
        vec![
            TableCell::Count(number),
            TableCell::Length(piece.from_mm),
            TableCell::Length(piece.to_mm),
            TableCell::Text(first.into()),
            TableCell::Text(side.into()),
        ]
    };
    let pieces = Table {
        caption: "Where the pieces lie in every stick: from its datum end to both their points; the end toward the datum end, and the side at the front edge, as the list of pieces names them.".into(),
        columns: vec!["piece", "from", "to", "end", "side in front"],
        rows: (1..).zip(&row.pieces).map(piece).collect(),
    };
    let mut blocks = vec![
        Block::Figures(figures),
        Block::Table(sticks),
        Block::Table(pieces),
    ];
    if let Some(lap) = row.laps.first() {
        blocks.push(Block::Remarks(vec![phrase!(
            "Laps, {} on a stick, {} deep, are cut before the stick's mitres: afterwards a skin alone would hold the pieces.",
            row.laps.len(),
            Mm(lap.depth_mm)
        )]));
    }
    Section {
        heading: format!("Row: {} {}", row.number, row.piece),
        blocks,
    }
}

fn face_words(row: &RoutedRow) -> &'static str {
    match row.face_up {
        Some(_) => "its laps lie up; all pieces lie alike",
        None => {
            "every other piece is the mirror image of its neighbour: the same piece, turned over"
        }
    }
}

fn after_section(plan: &RoutedRows) -> Section {
    let mut steps = vec![
        phrase!(
            "With the spindle still, take the clamps off and lift the board with the sticks on it."
        ),
        phrase!(
            "Slit the skin along both sides of every facet with a knife, cutting away from the hand that holds, then lift the pieces off the tape."
        ),
        phrase!(
            "Scrape the rest of the skin flush with the facets. Nothing is pared: the facets are finished, and of their full size."
        ),
        phrase!("Try a piece of each kind in a cell before you slit the others."),
    ];
    if plan.rows.iter().any(|row| row.spare > 0) {
        steps.push(phrase!(
            "Keep the spare pieces until the panel is together."
        ));
    }
    Section {
        heading: "Afterwards, at the bench".into(),
        blocks: vec![Block::Steps(steps)],
    }
}
