//! Which strips suit a blade, in words.

use super::overview::OverviewLine;
use crate::instructions::thickness::{InHand, Joint, Shimmed, ThicknessPlan};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Brief, Mm};

/// All that is told, in the order in which it is asked for.
pub fn thickness_lines(plan: &ThicknessPlan) -> Vec<OverviewLine> {
    let mut lines = vec![
        OverviewLine::new(
            "blade",
            phrase!("leaves a groove {} wide in one pass", Mm(plan.kerf_mm)),
        ),
        OverviewLine::new("plane to", plane_words(plan)),
    ];
    if let Some(most) = plan.thickest_two_passes_mm {
        lines.push(OverviewLine::new(
            "two passes",
            phrase!("make that joint for strips of {} at most", Mm(most)),
        ));
    }
    if let Some(in_hand) = &plan.in_hand {
        lines.push(OverviewLine::new("in hand", in_hand_words(plan, in_hand)));
    }
    lines.push(OverviewLine::new("spreads", spread_words(plan)));
    lines
}

fn plane_words(plan: &ThicknessPlan) -> Phrase {
    let mut words = phrase!(
        "{}, for one pass with notches {} wider than the strips; ",
        Mm(plan.one_pass.thickness_mm),
        Brief(plan.clearance_mm)
    );
    words.append(range_words(&plan.one_pass));
    words
}

/// Below zero the notch squeezes its strip.
fn range_words(joint: &Joint) -> Phrase {
    phrase!(
        "95 of 100 joints from {} to {} (notch less strip; below zero it squeezes)",
        Brief(joint.tightest_mm),
        Brief(joint.loosest_mm)
    )
}

fn in_hand_words(plan: &ThicknessPlan, in_hand: &InHand) -> Phrase {
    let once = &in_hand.one_pass;
    let mut words = phrase!(
        "strips of {}: one pass is {} {} than they are; ",
        Mm(once.thickness_mm),
        Brief(once.clearance_mm.abs()),
        if once.clearance_mm < 0.0 {
            "narrower"
        } else {
            "wider"
        }
    );
    match &in_hand.with_shim {
        Some(shimmed) => {
            words.append(shim_words(shimmed));
            let off = once.thickness_mm - plan.one_pass.thickness_mm;
            words.append(phrase!(". Or plane {} off them", Mm(off)));
        }
        None if once.clearance_mm > plan.clearance_mm => {
            words.append(range_words(once));
            words.append(
                ". No shim makes a groove narrower: a thinner blade, or thicker strips".into(),
            );
        }
        None => words.append(range_words(once)),
    }
    words
}

fn shim_words(shimmed: &Shimmed) -> Phrase {
    let mut words = if shimmed.passes == 2 {
        phrase!(
            "cut a second pass with a shim of {} between the strip's end and the stop: ",
            Mm(shimmed.shim_mm)
        )
    } else {
        phrase!(
            "cut {} passes, each with one shim of {} more between the strip's end and the stop: ",
            shimmed.passes,
            Mm(shimmed.shim_mm)
        )
    };
    words.append(range_words(&shimmed.joint));
    words
}

fn spread_words(plan: &ThicknessPlan) -> Phrase {
    let mut words: Phrase = "plus or minus ".into();
    for (at, spread) in plan.spreads.iter().enumerate() {
        let comma = if at > 0 { ", " } else { "" };
        let assumed = if spread.is_assumed { " (assumed)" } else { "" };
        words.append(phrase!(
            "{}{} {}{}",
            comma,
            spread.what,
            Brief(spread.half_mm),
            assumed
        ));
    }
    words
}
