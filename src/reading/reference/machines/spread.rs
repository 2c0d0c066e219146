//! How far a machine's work scatters: the table `[spread]` of profiles.

use crate::reading::reference::field::{Field, Holds, Table, field, table};
use crate::units::Kind::Length;

const FIGURE: Holds = Holds::Within(Length, "0 mm", "2 mm");

const PLUS_MINUS: Field = field(
    "plus_minus",
    Holds::Word(&["limits", "twice", "once"]),
    "\"twice\"",
    "What this profile means by plus or minus: limits that no error passes, twice or once the standard \
     deviation",
)
.usual("\"limits\"");

const fn seat(usual: &'static str) -> Field {
    field(
        "seat",
        FIGURE,
        "\"0.02 mm\"",
        "Of the end of a strip or block on its stop, from push to push",
    )
    .usual(usual)
}

const fn kerf(usual: &'static str) -> Field {
    field(
        "kerf",
        FIGURE,
        "\"0.03 mm\"",
        "Of the width of what is cut, from cut to cut",
    )
    .usual(usual)
}

const fn strip_thickness(usual: &'static str) -> Field {
    field(
        "strip_thickness",
        FIGURE,
        "\"0.04 mm\"",
        "Of the strips' thickness, from strip to strip",
    )
    .usual(usual)
}

const HEIGHT: Field = field(
    "height",
    FIGURE,
    "\"0.06 mm\"",
    "Of the cut's height, from setting to setting",
)
.usual("0.05 mm, assumed");

const PLACE: Field = field(
    "place",
    FIGURE,
    "\"0.03 mm\"",
    "Of where its axes go, from cut to cut",
)
.usual("0.02 mm, assumed");

const ABOUT: &str = "\
How far its work scatters, plus or minus, for the prediction of how a panel fits. What stands here where a key is \
left out is assumed (common practice, no source) and marked so in every answer: measure your own.";

pub(super) const OF_A_SLED: Table = table(
    "spread",
    ABOUT,
    &[
        PLUS_MINUS,
        kerf("0.02 mm, assumed"),
        strip_thickness("0.03 mm, assumed"),
        HEIGHT,
        seat("0.01 mm, assumed"),
        field(
            "key",
            FIGURE,
            "\"0.02 mm\"",
            "How much thicker or thinner than the kerf the key is: notches made by two passes over it take that over from step to step",
        )
        .usual("0.01 mm, assumed"),
    ],
);

pub(super) const OF_A_ROUTER: Table = table(
    "spread",
    ABOUT,
    &[
        PLUS_MINUS,
        kerf("0.02 mm, assumed"),
        strip_thickness("0.03 mm, assumed"),
        HEIGHT,
        seat("0.02 mm, assumed"),
        PLACE,
    ],
);

pub(super) const FROM_SHEET: Table = table(
    "spread",
    ABOUT,
    &[
        PLUS_MINUS,
        kerf("0.03 mm, assumed"),
        strip_thickness("0.05 mm, assumed"),
        PLACE,
    ],
);
