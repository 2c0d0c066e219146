//! What comes after the saw, and what is checked before it.

use crate::instructions::mitres::{MitreErrors, MitrePlan};
use crate::instructions::sheet::{Block, Section};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::{Mm, Rad};

/// How pieces come apart, and what is still to be done to them.
pub(super) fn after_steps(plan: &MitrePlan) -> Vec<Phrase> {
    let mut steps = Vec::new();
    if plan.in_rows() {
        let mut words = phrase!(
            "Saw off, blade down. Pull the battens off along the sticks, cut the skins with a knife along the facets, and pare what is left of them flush; the facets stay as they were sawn."
        );
        let rough = plan.sticks.iter();
        let rough =
            rough.filter_map(|sticks| Some((sticks.number, sticks.rough_end_from_point_mm?)));
        for (sticks, from_point) in rough {
            words.append(phrase!(
                " Sticks {}: saw through by hand, square, {} from every sawn point.",
                sticks,
                Mm(from_point)
            ));
        }
        steps.push(words);
    }
    steps.push(match plan.facets_left {
        0 => phrase!("Try one of each kind in its cell; then the rest."),
        left => phrase!(
            "Pare the {} on the guides, the sawn end on the stop; then try one in its cell.",
            counted(left, "facet")
        ),
    });
    steps
}

/// A joint in scrap, and what shows there.
pub(super) fn check_section(plan: &MitrePlan) -> Section {
    let mut remark = Phrase::default();
    if plan.in_rows() {
        remark.append(kerf_words(&plan.errors));
    }
    remark.append(phrase!(
        "Stops of two facets that are off as they repeat, one each way, move the ridge by half their difference times tan J"
    ));
    for (at, errors) in plan.errors.iter().enumerate() {
        remark.append(if at == 0 {
            phrase!(": ")
        } else {
            phrase!(", ")
        });
        let moved = Mm(errors.ridge_by_stops_mm);
        remark.append(phrase!("{} at {}", moved, Rad(errors.jig_angle)));
    }
    remark.append(phrase!(
        ". For ridges off the middle one stop, the others by spacers before it: all are off alike, as the test shows."
    ));
    let mut check = if plan.in_rows() {
        phrase!("Cut one joint in scrap by both hands, and measure facets and length.")
    } else {
        phrase!("Cut one end in scrap, and measure its facets.")
    };
    check.append(phrase!(
        " Ridge off: move one stop by twice that over tan J. Angle off: the fence."
    ));
    if plan.in_rows() {
        check.append(phrase!(
            " Length off with the right ridge: the kerf, measured again."
        ));
    }
    Section {
        heading: "Check first".into(),
        blocks: vec![Block::Steps(vec![check]), Block::Remarks(vec![remark])],
    }
}

/// What a wider kerf takes off the pieces on its right side.
fn kerf_words(errors: &[MitreErrors]) -> Phrase {
    let mut words = phrase!("A kerf 0.1 mm wider makes a piece shorter by 0.1 / sin J");
    for (at, errors) in errors.iter().enumerate() {
        words.append(if at == 0 {
            phrase!(": ")
        } else {
            phrase!(", ")
        });
        let shorter = Mm(errors.shorter_by_kerf_mm);
        words.append(phrase!("{} at {}", shorter, Rad(errors.jig_angle)));
    }
    words.append(phrase!(". "));
    words
}
