//! Panels whose strips are cut: nothing is made for these any more.

use super::not_made::NotMade;
use crate::finding::{Document, Finding};
use crate::lattice::Lattice;

/// Why nothing is planned for strips that are cut.
pub(super) fn strips_are_cut() -> Finding {
    let text = "the strips are cut: the job has their bays as built";
    let hint = "leave [as_built] out for settings, programs and outlines of the strips as drawn";
    Finding::error("strips-are-cut", "as_built", text)
        .hint(hint)
        .in_document(Document::Job)
}

/// Goes on where the strips are still to be cut.
pub(super) fn still_to_be_cut(lattice: &Lattice) -> Result<(), NotMade> {
    match lattice.strips_are_cut {
        true => Err(NotMade::Cannot(vec![strips_are_cut()])),
        false => Ok(()),
    }
}
