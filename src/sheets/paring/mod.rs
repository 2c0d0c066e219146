//! The set-up sheet for paring guides, and the list of pieces.

mod card;
mod cells;
mod folds;
mod list;
mod piece_table;
mod steps;
mod take_off;
mod ways;
mod wood;

use super::measured_stock::stock_section;
use crate::instructions::pare::{BlockFigures, LapFigures, ParePlan, PieceFigures, TrimFigures};
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Block, Figure, Section, SetupSheet, SheetPart, Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use folds::folds_section;
use piece_table::list_section;
use std::f64::consts::FRAC_PI_2;
use steps::{on_stop, steps};
use take_off::take_off_section;
use ways::ways_section;

pub(super) use card::{
    numbered, remarks as card_remarks, settings_table, steps as card_steps, whole_pieces,
};
pub(super) use cells::cells_section;
pub use list::piece_list;
pub(super) use steps::{in_working_order, is_square};

/// The sections of a plan, by what they are about.
pub(in crate::sheets) struct PareSections<'a> {
    pub(in crate::sheets) stock: Option<Section>,
    pub(in crate::sheets) list: Section,
    /// The ways to make the mitres, where there are several.
    pub(in crate::sheets) ways: Option<Section>,
    /// Which cells take which pieces, where they do not all take the same.
    pub(in crate::sheets) cells: Option<Section>,
    /// Strips that are bent, where there are any.
    pub(in crate::sheets) folds: Option<Section>,
    pub(in crate::sheets) blocks: Section,
    /// What is pared, piece by piece.
    pub(in crate::sheets) pieces: Vec<(&'a PieceFigures, Section)>,
    /// Pieces that are cut off after that.
    pub(in crate::sheets) trims: Option<Section>,
    pub(in crate::sheets) take_off: Section,
}

/// The sections of a plan.
pub(in crate::sheets) fn pare_sections(plan: &ParePlan) -> PareSections<'_> {
    let (trimmed, whole): (Vec<_>, Vec<_>) = (1..)
        .zip(&plan.pieces)
        .partition(|(_, piece)| piece.trimmed_from.is_some());
    let pieces = whole.into_iter();
    PareSections {
        stock: stock_section(plan.measured_stock.as_ref()),
        list: list_section(plan),
        ways: ways_section(plan),
        cells: cells_section(plan),
        folds: folds_section(plan),
        blocks: blocks_section(plan),
        pieces: pieces
            .map(|(number, piece)| (piece, piece_section(number, piece)))
            .collect(),
        trims: (!trimmed.is_empty()).then(|| trims_section(plan, &trimmed)),
        take_off: take_off_section(plan),
    }
}

/// The sheet for a plan.
pub fn pare_sheet(plan: &ParePlan) -> SetupSheet {
    let told = pare_sections(plan);
    let mut sections = Vec::from_iter(told.stock);
    sections.push(told.list);
    sections.extend(told.ways);
    sections.extend(told.cells);
    sections.extend(told.folds);
    sections.push(told.blocks);
    sections.extend(told.pieces.into_iter().map(|(_, section)| section));
    sections.extend(told.trims);
    sections.push(told.take_off);
    SetupSheet {
        sections,
        ..blank_sheet(plan)
    }
}

/// A plan's sheet with nothing on it yet.
pub(in crate::sheets) fn blank_sheet(plan: &ParePlan) -> SetupSheet {
    let machine = plan.machine.as_deref();
    SetupSheet {
        part: SheetPart::Pieces,
        title: format!("{} - {}", plan.title, machine.unwrap_or("paring guides")),
        heading: match machine {
            Some(machine) => format!("Pieces: {machine}"),
            None => "Pieces".into(),
        },
        safety: SafetyNotes::for_guides(),
        sections: Vec::new(),
    }
}

fn blocks_section(plan: &ParePlan) -> Section {
    let figure = |block: &BlockFigures| {
        let words = match block.at_hand {
            Some(true) => phrase!("guide face to fence: at hand"),
            Some(false) => phrase!("guide face to fence: MAKE THIS ONE"),
            None => phrase!("guide face to fence"),
        };
        Figure::new("guide block", Rad(block.jig_angle), words)
    };
    let mut figures: Vec<Figure> = plan.blocks.iter().map(figure).collect();
    figures.push(Figure::new(
        "height",
        Mm(plan.guide.height_mm),
        match plan.wood {
            None => "of blocks, fence and stop over the base at least: the strips' depth",
            Some(_) => "of blocks, fence and stop over the base at least: the pieces' depth",
        },
    ));
    Section {
        heading: "Guide blocks".into(),
        blocks: vec![
            Block::Figures(figures),
            Block::Remarks(arrangement(&plan.blocks)),
        ],
    }
}

/// Where everything lies, in words: pictures, stop settings and drawings are of this one.
fn arrangement(blocks: &[BlockFigures]) -> Vec<Phrase> {
    let mut remarks = vec![
        phrase!(
            "Seen from above, the fence runs along the far edge of the base. The guide block butts against its right end, their front edges in line, its sharp corner away from the fence. The piece lies on the base before both and against both. The stop stands at its left end."
        ),
        phrase!(
            "So the block is beside the wood that is kept: its sharp corner is at the shoulder, its face carries on the facet. What stands out past the face to the right is pared off."
        ),
        phrase!(
            "Stop figures: from the stop's face to the block's sharp corner. Turn the piece until the side that is named lies against fence and block and the end that is named points to the right."
        ),
        phrase!(
            "Hold the piece down and against the fence with a stick, not with the fingers. Back of the chisel flat on the block's face, edge over block and piece: pare straight down to the base, thin shavings, until it takes no more."
        ),
    ];
    if blocks.iter().any(|block| block.jig_angle > FRAC_PI_2) {
        remarks.push(phrase!(
            "A block above 90 deg is for birds' mouths: its corner is blunt and stands at the mouth's point, its face leans away over the waste. Each side is pared from its own side of the piece, and only as far as the apex: beyond it lies wood that stays."
        ));
    }
    remarks
}

fn piece_section(number: usize, piece: &PieceFigures) -> Section {
    let mut rows = Vec::new();
    let mut facets = piece.ends.iter().flat_map(|end| &end.facets);
    let spacers = facets.any(|facet| facet.spacer_mm.is_some());
    for (letter, end, facet) in in_working_order(piece) {
        rows.push(vec![
            TableCell::Text(letter.name().into()),
            TableCell::Text(facet.on_fence.name().into()),
            TableCell::Text(on_stop(letter, end)),
            TableCell::Text(if !is_square(facet) {
                Rad(facet.block_angle).text()
            } else {
                "none".into()
            }),
            TableCell::Length(facet.stop_mm),
            TableCell::Text(facet.cut.name().into()),
            TableCell::length(end.ridge_offset_mm),
        ]);
        if let (true, Some(row)) = (spacers, rows.last_mut()) {
            row.push(TableCell::length(facet.spacer_mm));
        }
    }
    let mut table = Table {
        caption: "In working order. Stop: its face to the block's sharp corner, with the side named on the fence and the end named on the stop. Sides as seen from end A to end B. Ridge: from the centre line to where both facets meet, in a point or in a bird's mouth, to the left positive.".into(),
        columns: vec!["end", "on fence", "on stop", "block", "stop", "cut", "ridge"],
        rows,
    };
    if spacers {
        table.columns.push("spacer");
        table.caption.append(phrase!(
            " Spacer: a block so long between stop and piece, since the stop does not come near enough; the stop's figure includes it."
        ));
    }
    let mut figures = vec![Figure::new(
        "over points",
        Mm(piece.length_over_points_mm),
        "along the axis, when both ends are finished",
    )];
    if piece.machined.is_empty() {
        let rough = Mm(piece.rough_length_mm);
        figures.insert(0, Figure::new("rough length", rough, "both ends square"));
    }
    if let Some([thickness, depth]) = piece.wood_mm {
        let words = phrase!(
            "thick as seen from the front, {} deep: not the wood of the others",
            Mm(depth)
        );
        figures.insert(0, Figure::new("wood", Mm(thickness), words));
    }
    let mut blocks = vec![Block::Figures(figures)];
    if !table.rows.is_empty() {
        blocks.push(Block::Table(table));
    }
    blocks.extend(lap_remarks(piece));
    blocks.push(Block::Steps(steps(piece)));
    Section {
        // Names are the patterns' own and have plurals of their own.
        heading: format!("{number}. {}, {} to make", piece.name, piece.made),
        blocks,
    }
}

fn lap_remarks(piece: &PieceFigures) -> Option<Block> {
    let mut remarks: Vec<Phrase> = piece.laps.iter().map(lap_remark).collect();
    if remarks.is_empty() {
        return None;
    }
    remarks.push(lap_sides());
    Some(Block::Remarks(remarks))
}

fn lap_remark(lap: &LapFigures) -> Phrase {
    phrase!(
        "Half lap for the {}: centre {} from end A's point, {} wide along the piece, {} deep from the {} face, at {}.",
        lap.mate.as_str(),
        Mm(lap.centre_mm),
        Mm(lap.width_mm),
        Mm(lap.depth_mm),
        lap.face.name(),
        Rad(lap.angle)
    )
}

fn lap_sides() -> Phrase {
    phrase!(
        "Sides are named with the front face up: a half lap from the front is seen then, one from the back lies underneath."
    )
}

/// How finished pieces are cut off at the panel's edge, one row for each cut.
fn trims_section(plan: &ParePlan, pieces: &[(usize, &PieceFigures)]) -> Section {
    let made_of = |piece: &PieceFigures| {
        let number = piece.trimmed_from.unwrap_or_default();
        let whole = plan.pieces.get(number.saturating_sub(1));
        let name = whole.map_or("", |whole| whole.name.as_str());
        format!("{number} {name}")
    };
    let row = |number: usize, piece: &PieceFigures, trim: &TrimFigures| {
        let lean = trim.angle - FRAC_PI_2;
        vec![
            TableCell::Text(number.to_string()),
            TableCell::Text(made_of(piece)),
            TableCell::Count(piece.count),
            TableCell::Text(trim.keeps.name().into()),
            TableCell::length(trim.left_mm),
            TableCell::length(trim.right_mm),
            TableCell::Text(Rad(FRAC_PI_2 - lean.abs()).text()),
        ]
    };
    let rows = pieces.iter().flat_map(|(number, piece)| {
        let trims = piece.trims.iter();
        trims.map(|trim| row(*number, piece, trim))
    });
    let table = Table {
        caption: "Numbers as in the panel's picture. Made of: the piece that is pared first, among its count above. Left, right: what is kept, from the point of the end that stays, along the piece, to where the cut leaves its left and its right side, seen from end A to end B; nothing where it leaves through a facet. Angle: from cut to axis.".into(),
        columns: vec!["number", "made of", "count", "end", "left", "right", "angle"],
        rows: rows.collect(),
    };
    let steps = vec![phrase!(
        "Glue these in whole and trim them with the overhangs; or saw each off before, as the table says, and try it in its place."
    )];
    Section {
        heading: "Cut off at the panel's edge".into(),
        blocks: vec![Block::Table(table), Block::Steps(steps)],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::infill::{CellShape, End, Facet, FacetSide};
    use crate::instructions::end_letter::EndLetter;
    use crate::machines::Guides;
    use crate::planning::paring::{end_figures, guide_figures};
    use crate::units::UnitSystem;

    #[test]
    fn a_facet_that_leans_past_square_names_a_block_that_exists() {
        let facet = |side, degrees: f64| Facet {
            side,
            jig_angle: degrees.to_radians(),
            shoulder: 30.0,
            length: 1.5,
            width: 1.4,
            touches: crate::infill::Contact::Wall(0),
        };
        let leaning = End {
            facets: vec![facet(FacetSide::Left, 112.5), facet(FacetSide::Right, 45.0)],
            ridge_offset: Some(0.0),
        };
        let piece = PieceFigures {
            wood_mm: None,
            number: 1,
            name: "bar".into(),
            locks: false,
            count: 2,
            opening_mm: [47.0; 2],
            length_over_points_mm: 40.0,
            rough_length_mm: 44.0,
            drawn_length_mm: None,
            machined: Vec::new(),
            laps_machined: false,
            first_end: EndLetter::A,
            ends: vec![
                end_figures(&leaning, 0.0, 2.8),
                end_figures(&leaning, 0.0, 2.8),
            ],
            laps: Vec::new(),
            folds: Vec::new(),
            made: 2,
            trimmed_from: None,
            trims: Vec::new(),
            outline_mm: Vec::new(),
        };
        let plan = ParePlan {
            guide: guide_figures(&[], &[], &Guides::usual(), 8.0),
            title: String::new(),
            pattern: String::new(),
            machine: None,
            measured_stock: None,
            as_built: None,
            cells_filled: 1,
            cells_open: 0,
            cell: CellShape::Square,
            cells_cut: 0,
            cells_trimmed: 0,
            pieces_left_out: 0,
            pieces: vec![piece],
            wood: None,
            cell_kinds: Vec::new(),
            way: crate::lattice::PieceWay::Guides,
            ways: Vec::new(),
            mitres: None,
            routed: None,
            blocks: Vec::new(),
        };
        let sheet = pare_sheet(&plan);
        let steps = sheet.sections.iter().flat_map(|section| &section.blocks);
        let steps = steps.filter_map(|block| match block {
            Block::Steps(steps) => Some(steps),
            _ => None,
        });
        let told: String = steps
            .flatten()
            .map(|step| step.text(UnitSystem::Millimetres))
            .collect();
        assert_eq!(told.matches("block of 67.5 deg").count(), 2, "{told}");
        assert!(!told.contains("112.5"), "{told}");
        let shown = format!("{sheet:?}");
        let rows = piece_list(&plan).unwrap().concat().join(" ");
        let table = shown.matches("\"67.5 deg\"").count();
        assert_eq!(table, 2, "one row of the table for each end");
        assert!(
            !shown.contains("112.5 deg") && !rows.contains("112.5"),
            "{rows}"
        );
    }
}
