//! What may stand in a job's `[fit]`.

use super::field::{Holds, Table, field, table};
use crate::units::Kind::{Length, Share};

pub(super) const FIT: Table = table(
    "fit",
    "What `lapwright fit` holds its prediction against. What stands here where a key is left out is assumed \
     (common practice, no source).",
    &[
        field(
            "crush",
            Holds::Within(Length, "0 mm", "2 mm"),
            "\"0.03 mm\"",
            "What the wood gives at a joint before it binds: so far a press fit still goes together",
        )
        .usual("0.03 mm, assumed"),
        field(
            "least_chance",
            Holds::Within(Share, "0 %", "100 %"),
            "\"90 %\"",
            "How likely the strips have to go together; below it the answer is no",
        )
        .usual("95 %"),
        field(
            "batch",
            Holds::Within(Length, "0 mm", "2 mm"),
            "\"0.15 mm\"",
            "How far the pieces of a bay may differ from the mean of all before they are made for that bay alone",
        )
        .usual("0.1 mm"),
    ],
);
