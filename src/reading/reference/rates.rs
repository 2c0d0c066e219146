//! What may stand in a job's `[rates]`.

use super::field::{Holds, Table, field, table};
use crate::units::Kind::Time;

const A_DAY: Holds = Holds::Within(Time, "0 s", "1440 min");

pub(super) const RATES: Table = table(
    "rates",
    "How long you take for what plans only count. What stands here where a key is left out is an example \
     (common practice, no source): put your own. Rough times come of it, without breaks.",
    &[
        field(
            "setting",
            A_DAY,
            "\"12 min\"",
            "Setting fence and blade of a sled once, with its test cut",
        )
        .usual("15 min"),
        field(
            "cut",
            A_DAY,
            "\"30 s\"",
            "One pass of the sled through a block of strips or sticks, with moving it to the next place",
        )
        .usual("40 s"),
        field(
            "block",
            A_DAY,
            "\"5 min\"",
            "Fitting one block and its stop to a paring guide",
        )
        .usual("5 min"),
        field("facet", A_DAY, "\"20 s\"", "Paring one facet").usual("30 s"),
        field(
            "piece",
            A_DAY,
            "\"1 min\"",
            "Cutting one piece to its rough length, or parting it from its stick, and fitting it",
        )
        .usual("60 s"),
        field(
            "strip",
            A_DAY,
            "\"2 min\"",
            "Laying one strip into the lattice, gluing it and trimming its ends",
        )
        .usual("2 min"),
        field(
            "load",
            A_DAY,
            "\"4 min\"",
            "Loading and clamping for one run of a router's program, or one sheet for a laser",
        )
        .usual("5 min"),
    ],
);
