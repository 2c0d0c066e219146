//! All pieces at the guides on one card: their settings row by row, their steps once.

use super::folds::fold_steps;
use super::steps::{
    first_folded, has_blank, in_working_order, is_square, laps_step, long_stick, mouth_step,
    on_stop, order_step,
};
use super::{lap_remark, lap_sides};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::pare::{EndFigures, FacetFigures, ParePlan, PieceFigures};
use crate::instructions::sheet::{Table, TableCell};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};

/// Pieces that are made here, with the numbers of the list; those that are cut off from others are not.
pub(in crate::sheets) fn whole_pieces(plan: &ParePlan) -> Vec<&PieceFigures> {
    let pieces = plan.pieces.iter();
    pieces
        .filter(|piece| piece.trimmed_from.is_none())
        .collect()
}

/// `2 hinge`.
pub(in crate::sheets) fn numbered(piece: &PieceFigures) -> String {
    format!("{} {}", piece.number, piece.name)
}

/// An end, its figures, and one of its facets.
type Setting<'a> = (EndLetter, &'a EndFigures, &'a FacetFigures);

/// A row for each facet of each piece, in working order.
pub(in crate::sheets) fn settings_table(pieces: &[&PieceFigures]) -> Option<Table> {
    let mut facets: Vec<(String, Setting<'_>)> = Vec::new();
    for piece in pieces {
        let settings = in_working_order(piece).into_iter();
        facets.extend(settings.map(|setting| (numbered(piece), setting)));
    }
    let spacers = facets
        .iter()
        .any(|(_, (_, _, facet))| facet.spacer_mm.is_some());
    let square = facets.iter().any(|(_, (_, _, facet))| is_square(facet));
    let row = |(piece, (letter, end, facet)): (String, Setting<'_>)| {
        let mut row = vec![
            TableCell::Text(piece),
            TableCell::Text(letter.name().into()),
            TableCell::Text(facet.on_fence.name().into()),
            TableCell::Text(on_stop(letter, end)),
            TableCell::Text(if is_square(facet) {
                "none".into()
            } else {
                Rad(facet.block_angle).text()
            }),
            TableCell::Length(facet.stop_mm),
        ];
        if spacers {
            row.push(TableCell::length(facet.spacer_mm));
        }
        row.push(TableCell::Text(facet.cut.name().into()));
        row.push(TableCell::length(end.ridge_offset_mm));
        row
    };
    let mut rows: Vec<Vec<TableCell>> = Vec::new();
    for facet in facets {
        let next = row(facet);
        match rows.last_mut() {
            Some(last) if differ_by_side(last, &next) => {
                if let (Some(TableCell::Text(sides)), Some(TableCell::Text(side))) =
                    (last.get_mut(SIDE), next.get(SIDE))
                {
                    *sides = format!("{sides}, {side}");
                }
            }
            _ => rows.push(next),
        }
    }
    let mut columns = vec!["piece", "end", "on fence", "on stop", "block", "stop"];
    let mut caption = phrase!(
        "In working order; where two sides are named, first the one, then the other. Stop: its face to the block's sharp corner, with the side named on the fence and the end named on the stop. Sides as seen from end A to end B. Ridge: from the centre line to where both facets meet, in a point or in a bird's mouth, to the left positive."
    );
    if spacers {
        columns.push("spacer");
        caption.append(phrase!(
            " Spacer: a block so long between stop and piece, since the stop does not come near enough; the stop's figure includes it."
        ));
    }
    if square {
        caption.append(phrase!(
            " Block none: pare or sand that end square, so far from the stop."
        ));
    }
    columns.extend(["cut", "ridge"]);
    (!rows.is_empty()).then_some(Table {
        caption,
        columns,
        rows,
    })
}

/// Where a row names the side on the fence.
const SIDE: usize = 2;

/// Whether two rows say the same but for the side on the fence.
fn differ_by_side(a: &[TableCell], b: &[TableCell]) -> bool {
    let mut cells = a.iter().zip(b).enumerate();
    cells.all(|(at, (a, b))| at == SIDE || a == b)
}

/// What is to be known of a piece beside its rows: its wood, its laps, what these guides cannot do.
pub(in crate::sheets) fn remarks(piece: &PieceFigures) -> Vec<Phrase> {
    let mut remarks = Vec::new();
    if let Some([thickness, depth]) = piece.wood_mm {
        remarks.push(phrase!(
            "Its wood is {} thick as seen from the front, {} deep: not the wood of the others.",
            Mm(thickness),
            Mm(depth)
        ));
    }
    for (letter, _, facet) in in_working_order(piece) {
        if facet.beyond_stop {
            remarks.push(phrase!(
                "End {}, {} side on the fence: NOT WITH THESE GUIDES, whose stop does not go there.",
                letter.name(),
                facet.on_fence.name()
            ));
        }
    }
    remarks.extend(piece.laps.iter().map(lap_remark));
    if !piece.laps.is_empty() {
        remarks.push(lap_sides());
    }
    remarks
}

/// A piece's steps without what its rows and the list say.
pub(in crate::sheets) fn steps(piece: &PieceFigures) -> Vec<Phrase> {
    let mut steps = vec![rough(piece)];
    let pared = in_working_order(piece);
    if pared.is_empty() {
        steps.extend(fold_steps(piece));
        steps.extend(laps_step(piece));
        steps.push(phrase!("Try one in its cell."));
        return steps;
    }
    steps.extend(order_step(piece));
    steps.extend(long_stick(piece));
    if !piece.folds.is_empty() {
        steps.push(first_folded());
    } else if piece.made > 1 {
        steps.push(phrase!(
            "Take one of a kind through all that follows and try it in its cell. Too long: pare its last end once more, after the last table, and bring the stops of that end nearer by what it came shorter. Then set each stop again and pare the others."
        ));
    }
    for (letter, end, facet) in pared {
        steps.extend(mouth_step(piece, letter, end, facet));
    }
    let mouths = piece.ends.iter().any(|end| end.mouth.is_some());
    steps.push(if mouths {
        phrase!(
            "Row by row of its settings, from the first to the last: set block and stop, lay the piece as the row says, pare it, at a mouth no farther than the apex."
        )
    } else {
        phrase!(
            "Row by row of its settings, from the first to the last: set block and stop, lay the piece as the row says, pare it."
        )
    });
    steps.extend(fold_steps(piece));
    steps.extend(laps_step(piece));
    if piece.made <= 1 && piece.folds.is_empty() {
        steps.push(phrase!(
            "Try it in its cell. Too long: pare its last end once more, after the last table."
        ));
    }
    steps
}

/// Where a piece's wood comes from.
fn rough(piece: &PieceFigures) -> Phrase {
    match piece.machined.as_slice() {
        [] => {}
        [end] => {
            return phrase!(
                "Take them as they come from their sticks, end {} finished by machine.",
                end.name()
            );
        }
        _ => return phrase!("They come from their sticks with both ends finished by machine."),
    }
    let mut step = phrase!("Cut as many as the list says to their rough length, both ends square");
    step.append(match has_blank(piece) {
        false => phrase!("."),
        true => phrase!(
            "; or take the blanks that were cut from sheet as long, with their half laps in them (outline --what lapped): labels, where there is room for them, stand at end A, the letters' heads toward the front face."
        ),
    });
    step
}
