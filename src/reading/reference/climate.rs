//! What may stand in a job's `[climate]`.

use super::field::{Holds, Rule, Table, field, table};
use crate::units::Kind::Share;

const HUMIDITY: Holds = Holds::Within(Share, "5 %", "95 %");
const COEFFICIENT: Holds = Holds::Within(Share, "0.01 %", "1 %");

pub(super) const CLIMATE: Table = table(
    "climate",
    "The air where the strips are cut and where the panel hangs, for `movement`. What stands here where a \
     humidity is left out is an example (common practice, no source): put your own.",
    &[
        field("bench", HUMIDITY, "\"45 %\"", "Relative humidity where the strips lie before they are cut")
            .usual("50 %"),
        field(
            "bench_moisture",
            Holds::Within(Share, "2 %", "24 %"),
            "\"9 %\"",
            "What a meter says of the strips, instead of `bench`",
        ),
        field("driest", HUMIDITY, "\"28 %\"", "Of the room where the panel hangs, in the driest weeks of the year")
            .usual("30 %"),
        field("dampest", HUMIDITY, "\"70 %\"", "The same in the dampest").usual("65 %"),
        field(
            "rings",
            Holds::Word(&["across-thickness", "along-thickness"]),
            "\"across-thickness\"",
            "How the growth rings lie on a strip's end: crossed by its thickness, so that it moves least, or \
             running along it",
        )
        .usual("either: both are told"),
        field(
            "radial",
            COEFFICIENT,
            "\"0.12 %\"",
            "How much of its width the strips' wood moves square to the rings, for each percent of moisture",
        )
        .usual("the wood's in the table that `movement` names"),
        field("tangential", COEFFICIENT, "\"0.23 %\"", "The same along the rings")
            .usual("the wood's in the table that `movement` names"),
    ],
)
.rules(&[
    Rule::AtMostOne(&["bench", "bench_moisture"]),
    Rule::Together(&["radial", "tangential"]),
]);
