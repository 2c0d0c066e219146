//! The steps by which a piece is pared, in working order.

use super::folds::fold_steps;
use crate::instructions::end_letter::EndLetter;
use crate::instructions::pare::{Cut, EndFigures, FacetFigures, OnStop, PieceFigures};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use std::f64::consts::FRAC_PI_2;

/// What stands on the stop while an end is pared.
pub(super) fn on_stop(letter: EndLetter, end: &EndFigures) -> String {
    let other = letter.other().name();
    match end.on_stop {
        OnStop::SquareEnd => format!("square end {other}"),
        OnStop::Point => format!("point {other}"),
    }
}

/// First one piece by itself, then the stop is left and the rest follow.
pub(super) fn steps(piece: &PieceFigures) -> Vec<Phrase> {
    let mut steps = vec![rough_step(piece)];
    if in_working_order(piece).is_empty() {
        steps.extend(fold_steps(piece));
        steps.extend(laps_step(piece));
        steps.push(phrase!("Try one in its cell."));
        return steps;
    }
    steps.extend(order_step(piece));
    steps.extend(long_stick(piece));
    // Whether a piece is too long shows in its cell, once both its ends are pared.
    if !piece.folds.is_empty() {
        steps.push(first_folded());
    } else if piece.made > 1 {
        steps.push(phrase!(
            "Take one of them through all that follows and try it in its cell. Too long: pare its last end once more, after the last table, and bring the stops of that end nearer by what it came shorter. Then set each stop again and pare the other {}.",
            piece.made - 1
        ));
    }
    for (letter, end, facet) in in_working_order(piece) {
        steps.extend(mouth_step(piece, letter, end, facet));
        steps.push(facet_step(letter, end, facet));
    }
    steps.extend(fold_steps(piece));
    steps.extend(laps_step(piece));
    if piece.made <= 1 && piece.folds.is_empty() {
        steps.push(phrase!(
            "Try it in its cell. Too long: pare its last end once more, after the last table."
        ));
    }
    steps
}

/// A bent piece lies on no guide any more.
pub(super) fn first_folded() -> Phrase {
    phrase!(
        "Take one of them through all that follows, and try it in its cell, bent, before it is glued. A leg that is too long is pared there by hand; then measure the cell and work out the pieces for it (pare --cell-opening)."
    )
}

/// How one facet is pared.
fn facet_step(letter: EndLetter, end: &EndFigures, facet: &FacetFigures) -> Phrase {
    let on_stop = on_stop(letter, end);
    let mut step = match is_square(facet) {
        true => phrase!("End {}, {} on the stop", letter.name(), on_stop),
        false => phrase!(
            "End {}, {} side on the fence, {} on the stop",
            letter.name(),
            facet.on_fence.name(),
            on_stop
        ),
    };
    if let Some(spacer) = facet.spacer_mm {
        step.append(phrase!(" with a spacer of {} between them", Mm(spacer)));
    }
    step.append(match is_square(facet) {
        true => phrase!(
            ": no block, pare or sand it square, {} from the stop.",
            Mm(facet.stop_mm)
        ),
        false => phrase!(
            ": block of {}, stop at {}{}{}{}.",
            Rad(facet.block_angle),
            Mm(facet.stop_mm),
            match end.mouth {
                Some(_) => ", no farther than the apex",
                None => "",
            },
            match facet.cut {
                Cut::Even => "",
                Cut::Heavy => " (the heavier cut)",
                Cut::Light => " (the lighter cut)",
            },
            if facet.beyond_stop {
                "; NOT WITH THESE GUIDES, whose stop does not go there"
            } else {
                ""
            }
        ),
    });
    step
}

/// A short piece with a square end can be pared on the end of a longer stick and sawn off last: the stick is
/// longer by the spacer, so that the stop stays where it is.
pub(super) fn long_stick(piece: &PieceFigures) -> Option<Phrase> {
    let is_square_end = |end: &EndFigures| end.facets.iter().all(is_square);
    let [a, b] = piece.ends.as_slice() else {
        return None;
    };
    let (square, other, end) = match (is_square_end(a), is_square_end(b)) {
        (true, false) => (EndLetter::A, EndLetter::B, b),
        (false, true) => (EndLetter::B, EndLetter::A, a),
        _ => return None,
    };
    let spacer = end.facets.iter().find_map(|facet| facet.spacer_mm)?;
    Some(phrase!(
        "So short a piece is easier to hold as the end of a longer stick: cut sticks to {}, both ends square; pare end {} as below, the stick's far end on the stop without a spacer; saw end {} off square last, {} from point {}.",
        Mm(piece.length_over_points_mm + spacer),
        other.name(),
        square.name(),
        Mm(piece.length_over_points_mm),
        other.name()
    ))
}

/// What a mouth's apex is marked by, before the first of its facets is pared.
pub(super) fn mouth_step(
    piece: &PieceFigures,
    letter: EndLetter,
    end: &EndFigures,
    facet: &FacetFigures,
) -> Option<Phrase> {
    let mouth = end.mouth.as_ref()?;
    let (_, _, first) = in_working_order(piece)
        .into_iter()
        .find(|(other, ..)| *other == letter)?;
    if first != facet {
        return None;
    }
    let mut step = phrase!(
        "End {} is a bird's mouth of {}. Mark its apex on both faces, {} from the {} and ",
        letter.name(),
        Rad(mouth.angle),
        Mm(mouth.from_stop_mm),
        on_stop(letter, end)
    );
    let offset = end.ridge_offset_mm.unwrap_or_default();
    step.append(match offset.abs() < CENTRED_MM {
        true => phrase!("on the centre line"),
        false => {
            let side = if offset > 0.0 { "left" } else { "right" };
            phrase!("{} to the {} of the centre line", Mm(offset.abs()), side)
        }
    });
    step.append(phrase!(
        ". Take a bevel-edged chisel, its side at the mark: pare one side in thin shavings, which split off along the grain there, then the other side; clean the apex with the chisel's corner."
    ));
    Some(step)
}

/// An apex nearer to the centre line than this is on it, mm: no pencil shows it.
const CENTRED_MM: f64 = 5e-3;

/// Whether a piece may be pared from a blank that was cut from sheet with its half laps in it. For an
/// opening as measured there is none as long.
pub(super) fn has_blank(piece: &PieceFigures) -> bool {
    !piece.laps.is_empty() && piece.drawn_length_mm.is_none() && piece.machined.is_empty()
}

/// Where a piece's wood comes from.
fn rough_step(piece: &PieceFigures) -> Phrase {
    match piece.machined.as_slice() {
        [] => {}
        [end] => {
            return phrase!(
                "Take {} as they come from their sticks, end {} finished by machine.",
                piece.made,
                end.name()
            );
        }
        _ => {
            return phrase!(
                "{} come from their sticks with both ends finished by machine.",
                piece.made
            );
        }
    }
    let mut step = phrase!(
        "Cut {} to {}, both ends square",
        piece.made,
        Mm(piece.rough_length_mm)
    );
    step.append(match has_blank(piece) {
        false => phrase!("."),
        true => phrase!(
            "; or take the blanks that were cut from sheet as long, with their half laps in them (outline --what lapped): labels, where there is room for them, stand at end A, the letters' heads toward the front face."
        ),
    });
    step
}

/// Laps are counted from a finished point.
pub(super) fn laps_step(piece: &PieceFigures) -> Option<Phrase> {
    let mut step = match piece.laps.len() {
        0 => return None,
        _ if piece.laps_machined => return None,
        1 => phrase!("Cut its half lap, as it is said above"),
        laps => phrase!("Cut its {} half laps, as they are said above", laps),
    };
    step.append(match has_blank(piece) {
        false => phrase!("."),
        true => phrase!("; a blank that was cut from sheet for it has that already."),
    });
    Some(step)
}

/// Facets nearer to square than this are square, rad.
const SQUARE: f64 = 1e-9;

/// Whether a facet is square to the piece, and needs no block.
pub(in crate::sheets) fn is_square(facet: &FacetFigures) -> bool {
    (facet.block_angle - FRAC_PI_2).abs() < SQUARE
}

/// Points as sharp as this are easily blunted, rad: 60 degrees, two facets of 30. Common practice, no
/// source.
const SHARP: f64 = 1.0473;

/// Why one end is pared before the other, where a point is sharp.
pub(super) fn order_step(piece: &PieceFigures) -> Option<Phrase> {
    let [a, b] = piece.ends.as_slice() else {
        return None;
    };
    let (first, last) = match piece.first_end {
        EndLetter::A => (a, b),
        EndLetter::B => (b, a),
    };
    let letter = piece.first_end.name();
    let other = piece.first_end.other().name();
    if first.tip_angle <= SHARP {
        Some(phrase!(
            "Point {} of {} will stand on the stop while end {} is pared: push it up lightly, a blunted point makes the piece short.",
            letter,
            Rad(first.tip_angle),
            other
        ))
    } else if last.tip_angle <= SHARP {
        Some(phrase!(
            "End {} first, end {} last: point {} of {} would be blunted on the stop.",
            letter,
            other,
            other,
            Rad(last.tip_angle)
        ))
    } else {
        None
    }
}

/// What is pared: the end that is pared first before the other; of each the heavier cut first, so that the lighter
/// one meets it at the ridge.
pub(in crate::sheets) fn in_working_order(
    piece: &PieceFigures,
) -> Vec<(EndLetter, &EndFigures, &FacetFigures)> {
    let mut ends: Vec<_> = EndLetter::BOTH.into_iter().zip(&piece.ends).collect();
    ends.sort_by_key(|(letter, _)| *letter != piece.first_end);
    let mut all = Vec::new();
    for (letter, end) in ends {
        if !piece.is_pared(letter) {
            continue;
        }
        let mut facets: Vec<&FacetFigures> = end.facets.iter().collect();
        facets.sort_by_key(|facet| facet.cut != Cut::Heavy);
        all.extend(facets.into_iter().map(|facet| (letter, end, facet)));
    }
    all
}
