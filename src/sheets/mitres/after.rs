//! What comes after the saw, and what is checked before it.

use super::in_rows;
use crate::instructions::mitres::{MitreErrors, MitrePlan};
use crate::instructions::sheet::{Block, Check, Section, Table, TableCell};
use crate::phrase;
use crate::phrase::counted;
use crate::units::{Mm, Rad};

/// How pieces come apart, and what is still to be done to them.
pub(super) fn after_section(plan: &MitrePlan) -> Section {
    let mut steps = Vec::new();
    if in_rows(plan) {
        steps.push(phrase!(
            "Saw off, blade down. Pull the battens off along the sticks, cut the skins with a knife from the side of the cuts, along the facets, and pare what is left of them flush: the facets themselves are as they were sawn. Between ends that are still square saw through by hand."
        ));
    }
    steps.push(match plan.facets_left {
        0 => phrase!("Try one in its cell; then the rest."),
        left => phrase!(
            "Pare the {} on the guides, the sawn end on the stop; then try one in its cell.",
            counted(left, "facet")
        ),
    });
    Section {
        heading: "After the saw".into(),
        blocks: vec![Block::Steps(steps)],
    }
}

/// A joint in scrap, and what shows there.
pub(super) fn check_section(plan: &MitrePlan) -> Section {
    let row = |errors: &MitreErrors| {
        vec![
            TableCell::Text(Rad(errors.jig_angle).text()),
            TableCell::Length(errors.shorter_by_kerf_mm),
            TableCell::Length(errors.ridge_by_stops_mm),
        ]
    };
    let table = Table {
        caption: phrase!(
            "Shorter: a piece, where the kerf is 0.1 mm wider than {}: 0.1 / sin J. Ridge: how far it moves across where the stops of its two facets are off by what the stop repeats to, one each way: half their difference times tan J. For ridges off the middle set one stop and make the others by spacers before it: then all are off alike, and the test shows by how much.",
            Mm(plan.kerf_mm)
        ),
        columns: vec!["angle", "shorter", "ridge"],
        rows: plan.errors.iter().map(row).collect(),
    };
    let check = Check {
        what: phrase!(
            "One joint in scrap, before the first block: both facets of an end, the ridge from the side on the fence, and the angle between facet and side"
        ),
        should: "as drawn".into(),
        otherwise: phrase!(
            "ridge off: move one stop by twice that over tan J; angle off: the fence; length off with the right ridge: the kerf, measured again"
        ),
    };
    Section {
        heading: "Check first".into(),
        blocks: vec![Block::Checks(vec![check]), Block::Table(table)],
    }
}
