//! What profiles of several kinds have.

use crate::reading::reference::field::{Field, Holds, Table, field, table};
use crate::units::Kind::{Length, SignedLength};

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

/// What was measured of a profile's figures.
pub(super) const RECORDS: Table = table(
    "measured.*",
    "How a figure of this profile was measured: a table in one line for each, called as the figure's \
     field in quotes, \"blade.kerf\" or \"rack.measured[0]\". `lapwright machine measure` writes them; sheets \
     tell them beside what they are about.",
    &[
        field("date", Holds::Date, "2026-11-30", "When it was measured").needed(),
        field(
            "readings",
            Holds::Count(2, 10_000),
            "5",
            "From how many readings",
        )
        .needed(),
        field(
            "deviation",
            Holds::Quantity(Length),
            "\"0.012 mm\"",
            "Standard deviation of what the readings gave, one by one",
        )
        .needed(),
        field(
            "uncertainty",
            Holds::Quantity(Length),
            "\"0.015 mm\"",
            "Expanded uncertainty of the figure, coverage 95 %",
        )
        .needed(),
        field(
            "value",
            Holds::Quantity(SignedLength),
            "\"2.613 mm\"",
            "The figure as it was measured: a record of a figure that has changed since is refused",
        ),
    ],
);
