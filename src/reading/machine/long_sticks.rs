//! What profiles say of mitres that are cut on long sticks.

use crate::finding::Finding;
use crate::machines::{LongSticks, SledMitres};
use crate::phrase;
use crate::reading::fields::Fields;
use crate::units::{AtLeast, Kind, Mm, Rad};
use std::f64::consts::FRAC_PI_2;

/// The table `[mitres]` of a sled.
pub(super) fn read_sled_mitres(fields: Fields<'_>) -> Option<SledMitres> {
    let sticks = read_sticks(&fields);
    let stop_board = fields.flag_or("stop_board", false);
    let cross_board = fields.flag_or("cross_board", false);
    let wedge = fields.quantity_or("wedge", Kind::Angle, 0.0);
    if let Some(steep) = wedge.filter(|wedge| *wedge >= FRAC_PI_2) {
        let message = phrase!("no wedge is as steep as {}", Rad(steep));
        let fault = Finding::error("wedge-too-steep", fields.path("wedge"), message);
        fields.report(fault.hint("the steepest that you would use: less than 90 deg"));
    }
    fields.finish();
    Some(SledMitres {
        sticks: sticks?,
        stop_board: stop_board?,
        cross_board: cross_board?,
        steepest_wedge: wedge.filter(|wedge| *wedge < FRAC_PI_2)?,
    })
}

/// What all machines say that cut rows on long sticks; a skin that could be cut through is refused.
pub(super) fn read_sticks(fields: &Fields<'_>) -> Option<LongSticks> {
    let skin = fields.required_quantity("skin", Kind::Length);
    let least_skin = fields.positive_length("least_skin");
    let height_error = fields.required_quantity("height_error", Kind::Length);
    let depth_spread = fields.required_quantity("depth_spread", Kind::Length);
    let grip = fields.positive_length("grip");
    let longest = fields.positive_length("longest_stick");
    let sticks = LongSticks {
        skin: skin?,
        least_skin: least_skin?,
        height_error: height_error?,
        depth_spread: depth_spread?,
        grip: grip?,
        longest: longest?,
    };
    // Figures are written in decimals: what is meant to be just enough must not fail by rounding.
    let rounding = 1e-9;
    if sticks.thinnest_skin() < sticks.least_skin - rounding {
        let message = phrase!(
            "a skin of {} can come out as thin as {}, with the cut's height off by {} and sticks by {}; {} is the least",
            Mm(sticks.skin),
            Mm(sticks.thinnest_skin()),
            Mm(sticks.height_error),
            Mm(sticks.depth_spread),
            Mm(sticks.least_skin)
        );
        let needed = sticks.least_skin + sticks.height_error + sticks.depth_spread;
        let fault = Finding::error("skin-too-thin", fields.path("skin"), message);
        fields.report(fault.hint(phrase!("make it {} or more", AtLeast(needed))));
        return None;
    }
    if sticks.longest <= 2.0 * sticks.grip {
        let message = phrase!(
            "sticks of {} are all grip: {} at either end",
            Mm(sticks.longest),
            Mm(sticks.grip)
        );
        let fault = Finding::error("nothing-between", fields.path("longest_stick"), message);
        fields.report(fault.hint("pieces lie between the grips: take longer sticks"));
        return None;
    }
    Some(sticks)
}
