//! What is checked in scrap and on the first strips.

use super::plain::is_slanted;
use crate::geometry::tolerance::POSITION;
use crate::instructions::sheet::{Block, Section};
use crate::instructions::sled::{LapFit, PlusMinusRead, SledPlan};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::sled::blade::PRINTED_MM;
use crate::units::{Brief, Mm, Rad};
use float_cmp::ApproxEq;

/// How far the blade of the worked line stands too low. For show, mm.
const SHOWN_MM: f64 = 0.1;

pub(super) fn check_section(plan: &SledPlan, powered: bool) -> Section {
    let mut remarks = match heights(plan).as_slice() {
        [(depth, correction)] => vec![
            test_lap(2.0 * depth, *correction, powered),
            worked_lap(2.0 * depth, *correction, powered),
        ],
        heights => test_notches(heights, powered),
    };
    remarks.push(phrase!(
        "After the first two notches: measure from near edge to near edge of both before you cut the rest."
    ));
    if is_slanted(plan) {
        remarks.push(phrase!(
            "After every change of the fence: notch a scrap and lay a strip in the slot. Measure the angle between them, or hold the board against both, before you cut the first block."
        ));
    }
    remarks.push(error_words(plan));
    remarks.push(fit_words(&plan.fit, is_slanted(plan)));
    Section {
        heading: "Check".into(),
        blocks: vec![Block::Remarks(remarks)],
    }
}

/// Depths of notches, each once, and the correction that is in the height that makes them.
fn heights(plan: &SledPlan) -> Vec<(f64, f64)> {
    let mut heights: Vec<(f64, f64)> = Vec::new();
    for setting in &plan.settings {
        let depth = setting.depth_mm;
        let known = |(other, _): &(f64, f64)| other.approx_eq(depth, POSITION);
        if !heights.iter().any(known) {
            heights.push((depth, setting.height_above_base_mm - depth));
        }
    }
    heights
}

/// How a height is made greater and smaller.
fn up_and_down(powered: bool) -> [&'static str; 2] {
    if powered {
        ["raise the blade", "lower it"]
    } else {
        [
            "set the saw's depth stop for a deeper cut",
            "for a shallower one",
        ]
    }
}

/// How the height is checked by a lap of two notches that are `both` deep together. The blade is set
/// to `depth + correction`; where it cuts d1 and d2 instead of twice the depth, the correction
/// lacks the mean of what they lack: `(both - (d1 + d2)) / 2`.
fn test_lap(both: f64, correction: f64, powered: bool) -> Phrase {
    let [up, down] = up_and_down(powered);
    let mut words = phrase!(
        "Before the first bundle: notch two scraps and lap them. Both depths together should be {}. Where they are less, {} by half of what is missing; where they are more, {} by half of what is too much.",
        Mm(both),
        up,
        down
    );
    words.append(kept_words(correction));
    words
}

/// Where the profile keeps it.
fn kept_words(correction: f64) -> Phrase {
    phrase!(
        " Write it into the profile too: to height_correction, {} on this sheet, add what the cut has to go deeper, or take off what it has to go less deep.",
        Brief(correction)
    )
}

/// The same in figures. The second notch takes what rounding the first one left over.
fn worked_lap(both: f64, correction: f64, powered: bool) -> Phrase {
    let first = ((both / 2.0 - SHOWN_MM) * 100.0).round() / 100.0;
    let together = both - 2.0 * SHOWN_MM;
    phrase!(
        "Say, notches of {} and {} in strips {} deep: {} together, so {} by {} and write height_correction = \"{}\".",
        Brief(first),
        Brief(together - first),
        Brief(both),
        Brief(together),
        up_and_down(powered)[0],
        Brief(SHOWN_MM),
        Brief(correction + SHOWN_MM)
    )
}

/// How several heights are checked, each by the depth of its notch.
fn test_notches(heights: &[(f64, f64)], powered: bool) -> Vec<Phrase> {
    let [up, down] = up_and_down(powered);
    let mut words = phrase!("Before the first bundle: notch a scrap at every height (notches ");
    for (at, (depth, _)) in heights.iter().enumerate() {
        words.append(phrase!("{}{}", if at == 0 { "" } else { ", " }, Mm(*depth)));
    }
    words.append(phrase!(
        " deep) and measure its depth. Where it is less, {} by what is missing; where it is more, {} by what is too much; at every height alike.",
        up,
        down
    ));
    let (depth, correction) = heights.first().copied().unwrap_or_default();
    words.append(kept_words(correction));
    words.append(phrase!(
        " Lap two scraps whose depths add up to the strip's own: their faces should be flush."
    ));
    let worked = phrase!(
        "Say, a notch of {} that should be {} deep: {} by {} and write height_correction = \"{}\".",
        Brief(depth - SHOWN_MM),
        Brief(depth),
        up,
        Brief(SHOWN_MM),
        Brief(correction + SHOWN_MM)
    );
    vec![words, worked]
}

/// How errors of the tables are to be read.
fn error_words(plan: &SledPlan) -> Phrase {
    let mut words = phrase!(
        "Errors in the tables are expanded uncertainties: at least {} of 100 strips keep within. ",
        format!("{:.0}", 100.0 * plan.uncertainty.coverage)
    );
    if plan.key.is_some() {
        words.append(phrase!(
            "What a slot is known to be off its step adds up hop by hop; what scatters adds in squares. "
        ));
    }
    words.append(match plan.uncertainty.plus_minus {
        PlusMinusRead::Limits => {
            phrase!("Plus-minus figures of the profile are read as limits of a uniform spread.")
        }
        PlusMinusRead::Twice => phrase!(
            "Plus-minus figures of the profile are read as twice the standard deviation of a normal spread, as it says."
        ),
        PlusMinusRead::Once => phrase!(
            "Plus-minus figures of the profile are read as the standard deviation of a normal spread, as it says."
        ),
    });
    words
}

/// How the laps will be.
fn fit_words(fit: &LapFit, slanted: bool) -> Phrase {
    let loose = fit.clearance_mm;
    if loose <= -PRINTED_MM {
        return phrase!(
            "Notches come out {} narrower than the strips: a press fit.",
            Mm(-loose)
        );
    }
    if loose < PRINTED_MM {
        return phrase!("Notches come out as wide as the strips: a push fit.");
    }
    if fit.racking <= 0.0 {
        return phrase!(
            "Notches come out {} wider than the strips; the triangles hold the grid's angles.",
            Mm(loose)
        );
    }
    let racking = Rad(fit.racking).text_within(fit.racking_within);
    if slanted {
        phrase!(
            "Notches come out {} wider than the strips, square to them: the bare grid's acute angles can open by {} and close by less. Check the cells' diagonals before the glue sets.",
            Mm(loose),
            racking
        )
    } else {
        phrase!(
            "Notches come out {} wider than the strips: the bare grid can rack by {}. Square it by its diagonals before the glue sets.",
            Mm(loose),
            racking
        )
    }
}
