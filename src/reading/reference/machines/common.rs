//! What profiles of several kinds have.

use crate::reading::reference::field::{Field, Holds, field};
use crate::units::Kind::Length;

/// One line about the machine.
pub(super) const ABOUT: Field = field(
    "about",
    Holds::Text,
    "\"the machine by the window, with the new blade\"",
    "One line about the machine",
)
.needed();

/// The kind of machine; what may stand beside it depends on it.
pub(super) const fn kind(word: &'static str) -> Field {
    field(
        "kind",
        Holds::Word(&["sled", "guides", "router", "laser", "sheet-router"]),
        word,
        "What kind of machine it is; what else may stand in its profile follows from that",
    )
    .needed()
}

/// What all machines say that cut rows of pieces on long sticks.
pub(super) const SKIN: Field = field(
    "skin",
    Holds::Quantity(Length),
    "\"0.4 mm\"",
    "What stays of a stick's depth under a row, so that no piece comes free",
)
.needed();
pub(super) const LEAST_SKIN: Field = field(
    "least_skin",
    Holds::AboveZero,
    "\"0.2 mm\"",
    "What must stay of it in the worst case",
)
.needed();
pub(super) const HEIGHT_ERROR: Field = field(
    "height_error",
    Holds::Quantity(Length),
    "\"0.1 mm\"",
    "How closely the cut's height comes out, plus or minus",
)
.needed();
pub(super) const DEPTH_SPREAD: Field = field(
    "depth_spread",
    Holds::Quantity(Length),
    "\"0.1 mm\"",
    "How far the sticks' depths differ, plus or minus",
)
.needed();
pub(super) const GRIP: Field = field(
    "grip",
    Holds::AboveZero,
    "\"55 mm\"",
    "What is held at either end of a stick, from its end to the first cut or piece",
)
.needed();
pub(super) const LONGEST_STICK: Field = field(
    "longest_stick",
    Holds::AboveZero,
    "\"440 mm\"",
    "Of a row, or of sticks that are cut on their end",
)
.needed();
