//! Profiles of routers that notch strips.

use super::common::{
    ABOUT, DEPTH_SPREAD, GRIP, HEIGHT_ERROR, LEAST_SKIN, LONGEST_STICK, SKIN, kind,
};
use super::spread::OF_A_ROUTER;
use crate::reading::reference::field::{Field, Holds, Reference, Rule, Table, When, field, table};
use crate::units::Kind::{Acceleration, Feed, Length, SignedLength, Spin, Time};

/// Routers.
pub(in crate::reading::reference) const ROUTER: Reference = Reference {
    name: "router",
    about: "\
A router with three axes that notches bundles of strips and cuts mortises. Program zero is the datum end of \
the strips (X), the front edge of the bundle (Y) and the top of the stock (Z).",
    tables: &[
        TOP,
        TRAVEL,
        TOOL,
        SPINDLE,
        CUTTING,
        FIXTURE,
        CLAMPS,
        MEASURED,
        CONTROLLER,
        MITRES,
        OF_A_ROUTER,
    ],
};

const TOP: Table = table("", "", &[kind("\"router\""), ABOUT]).needed();

const FEED: Holds = Holds::Within(Feed, "1 mm/min", "100 m/min");
const SPIN: Holds = Holds::Within(Spin, "1 rpm", "200000 rpm");

const TRAVEL: Table = table(
    "travel",
    "How far and how fast the machine moves.",
    &[
        field("x", Holds::AboveZero, "\"280 mm\"", "Travel along X").needed(),
        field("y", Holds::AboveZero, "\"195 mm\"", "Travel along Y").needed(),
        field("z", Holds::AboveZero, "\"50 mm\"", "Travel along Z").needed(),
        field(
            "fastest_feed",
            FEED,
            "\"2500 mm/min\"",
            "Fastest feed that the machine cuts with",
        )
        .needed(),
        field(
            "rapid",
            FEED,
            "\"3000 mm/min\"",
            "Its rapid moves, for the time that is told",
        )
        .needed(),
        field(
            "acceleration",
            Holds::Within(Acceleration, "1 mm/s2", "100000 mm/s2"),
            "\"200 mm/s2\"",
            "For the time that is told",
        )
        .needed(),
    ],
)
.needed();

const TOOL: Table = table(
    "tool",
    "The flat-ended cutter that does all notches.",
    &[
        field(
            "diameter",
            Holds::AboveZero,
            "\"2.000 mm\"",
            "Over the edges, measured",
        )
        .needed(),
        field("flutes", Holds::Count(1, 8), "2", "Number of cutting edges").needed(),
        field(
            "flute_length",
            Holds::AboveZero,
            "\"10 mm\"",
            "Length of the edges: how deep it cuts",
        )
        .needed(),
        field(
            "stick_out",
            Holds::Quantity(Length),
            "\"18 mm\"",
            "From the holder to the cutter's end; it bends the more the longer it is",
        ),
        field(
            "holder_diameter",
            Holds::AboveZero,
            "\"16 mm\"",
            "Over the nut, for clamps that stand near",
        ),
        field(
            "material",
            Holds::Word(&["carbide", "steel"]),
            "\"steel\"",
            "Of the cutter: how much it bends",
        )
        .usual("\"carbide\""),
    ],
)
.needed();

const SPINDLE: Table = table(
    "spindle",
    "The spindle, in whole turns a minute.",
    &[
        field("slowest", SPIN, "\"8000 rpm\"", "Slowest speed").needed(),
        field("fastest", SPIN, "\"24000 rpm\"", "Fastest speed").needed(),
        field("speed", SPIN, "\"16000 rpm\"", "Speed for these notches").needed(),
        field(
            "spin_up",
            Holds::Within(Time, "0.1 s", "60 s"),
            "\"4 s\"",
            "What it takes to reach its speed: programs wait so long",
        )
        .needed(),
    ],
)
.needed();

const CUTTING: Table = table(
    "cutting",
    "How it cuts: to be found by trial.",
    &[
        field(
            "chip_load",
            Holds::AboveZero,
            "\"0.025 mm\"",
            "Feed for each edge and turn",
        )
        .needed(),
        field(
            "plunge_feed",
            FEED,
            "\"300 mm/min\"",
            "Of moves down, which happen in air",
        )
        .needed(),
        field(
            "depth_per_pass",
            Holds::AboveZero,
            "\"1.5 mm\"",
            "Greatest depth of a pass",
        )
        .needed(),
        field(
            "run_out",
            Holds::Within(Length, "0.5 mm", "100 mm"),
            "\"1.5 mm\"",
            "How far the cutter's edge runs beyond the bundle",
        )
        .needed(),
        field(
            "wall_allowance",
            Holds::AboveZero,
            "\"0.2 mm\"",
            "Left on each wall for the wall pass, half the cutter's diameter at most",
        )
        .needed(),
        field(
            "safe_height",
            Holds::AboveZero,
            "\"8 mm\"",
            "Of rapid moves, over the top of the stock; 1 mm over the clamps at least",
        )
        .needed(),
        field(
            "floor_allowance",
            Holds::Quantity(Length),
            "\"0.3 mm\"",
            "Left for a last pass over the floor, the depth of a pass at most",
        )
        .usual("0 mm: no such pass"),
        field(
            "returns",
            Holds::Word(&["cutting", "in-air"]),
            "\"in-air\"",
            "Whether the tool cuts on its way back",
        )
        .usual("\"cutting\""),
        field(
            "spring_pass",
            Holds::Flag,
            "true",
            "Whether the wall passes are made twice",
        )
        .usual("false"),
        field(
            "short_ways",
            Holds::Flag,
            "false",
            "Whether notches begin where the tool is; else each begins in front, at the cost of longer rapids",
        )
        .usual("true"),
        field(
            "chip_thinning",
            Holds::Flag,
            "true",
            "Whether it goes faster along walls, where the cutter takes thin chips",
        )
        .usual("false"),
        field(
            "most_deflection",
            Holds::AboveZero,
            "\"0.02 mm\"",
            "Of the cutter's end, estimated; warned of beyond it",
        )
        .usual("0.02 mm"),
    ],
)
.needed();

const FIXTURE: Table = table(
    "fixture",
    "What holds the bundle, and the room round it.",
    &[
        field(
            "zero_x",
            Holds::Quantity(Length),
            "\"15 mm\"",
            "Datum end of the strips, from the low end of X",
        )
        .needed(),
        field(
            "zero_y",
            Holds::Quantity(Length),
            "\"30 mm\"",
            "Front edge of the bundle, from the low end of Y",
        )
        .needed(),
        field(
            "widest_bundle",
            Holds::AboveZero,
            "\"60 mm\"",
            "Widest bundle that it holds",
        )
        .needed(),
        field(
            "clear_beside",
            Holds::AboveZero,
            "\"8 mm\"",
            "Free room before and behind the bundle at cutting depth",
        )
        .needed(),
        field(
            "clear_ends",
            Holds::Quantity(Length),
            "\"8 mm\"",
            "Free room beyond the strips' ends, beside the end stop",
        )
        .usual("0 mm"),
        field(
            "clamp_height",
            Holds::Quantity(Length),
            "\"4 mm\"",
            "Above the top of the stock",
        )
        .needed(),
        field(
            "single",
            Holds::Flag,
            "true",
            "Whether strips lie one by one, none beside another",
        )
        .usual("false"),
        field(
            "key_x",
            Holds::Quantity(Length),
            "\"45 mm\"",
            "A key for strips longer than the travel, a bar from above into a notch that is cut already: its \
             middle at the bundle's front edge, from the low end of X",
        ),
        field(
            "key_error",
            Holds::Quantity(Length),
            "\"0.03 mm\"",
            "How closely the key holds the notch, plus or minus",
        ),
        field(
            "backer_front",
            Holds::Quantity(Length),
            "\"6 mm\"",
            "Width of a strip of scrap clamped before the bundle, part of its width",
        )
        .usual("0 mm: none"),
        field(
            "backer_back",
            Holds::Quantity(Length),
            "\"6 mm\"",
            "The same behind it",
        )
        .usual("0 mm: none"),
    ],
)
.needed()
.rules(&[Rule::Together(&["key_x", "key_error"])]);

const fn side(key: &'static str, example: &'static str, means: &'static str) -> Field {
    field(key, Holds::Quantity(SignedLength), example, means).needed()
}

const CLAMPS: Table = table(
    "fixture.clamps[]",
    "What stands in the tool's room, from program zero: [[fixture.clamps]], as often as needed.",
    &[
        field(
            "name",
            Holds::Text,
            "\"toggle clamp\"",
            "What messages call it",
        )
        .needed(),
        side("x_from", "\"60 mm\"", "Its end toward low X"),
        side("x_to", "\"75 mm\"", "Its end toward high X"),
        side("y_from", "\"-5 mm\"", "Its end toward low Y"),
        side("y_to", "\"20 mm\"", "Its end toward high Y"),
        side("top", "\"14 mm\"", "Over the top of the stock"),
    ],
);

const MEASURED: Table = table(
    "measured",
    "A test notch that came out too wide or narrow: the cutter is taken for as much wider or narrower.",
    &[
        field(
            "notch_programmed",
            Holds::AboveZero,
            "\"3.05 mm\"",
            "Width that was programmed",
        )
        .needed(),
        field(
            "notch_measured",
            Holds::AboveZero,
            "\"3.11 mm\"",
            "Width that it has",
        )
        .needed(),
    ],
);

const UNNAMED: &[When] = &[When::Lacks("controller.dialect")];
const NAMED: &[When] = &[When::Has("controller.dialect")];

const CONTROLLER: Table = table(
    "controller",
    "What the machine's control takes. A `dialect` names all of it, and lines here go before it; without one \
     the first four have to be there.",
    &[
        field(
            "dialect",
            Holds::Word(&["full", "bare", "numbered"]),
            "\"bare\"",
            "By name: everything; no work zero, no offsets, no cycles; or line numbers and percent signs",
        ),
        DECIMALS.needed().only(UNNAMED),
        DWELL.needed().only(UNNAMED),
        PROGRAM_END.needed().only(UNNAMED),
        LONGEST_LINE.needed().only(UNNAMED),
        DECIMALS.usual("3").only(NAMED),
        DWELL.usual("\"seconds\"").only(NAMED),
        PROGRAM_END.usual("\"M2\" of \"full\", else \"M30\"").only(NAMED),
        LONGEST_LINE.usual("72").only(NAMED),
        field(
            "path_mode",
            Holds::Word(&["exact-path", "continuous", "none"]),
            "\"exact-path\"",
            "What programs ask for at corners: G61, G64, or nothing",
        )
        .usual("\"exact-path\" of \"full\", else \"none\""),
        field(
            "set_ups",
            Holds::Word(&["files", "one-file"]),
            "\"one-file\"",
            "A file for each set-up and run, or all in one program that stops before each",
        )
        .usual("\"files\""),
        field("line_numbers", Holds::Flag, "true", "Whether blocks have N words")
            .usual("true of \"numbered\", else false"),
        field(
            "percent_signs",
            Holds::Flag,
            "true",
            "Whether a line with % stands before and after",
        )
        .usual("true of \"numbered\", else false"),
        field("work_zero", Holds::Flag, "false", "Whether programs say G54")
            .usual("false of \"bare\", else true"),
        field(
            "cancels",
            Holds::Flag,
            "true",
            "Whether programs say G40, G49 and G80 at the head",
        )
        .usual("true of \"full\" and \"numbered\", else false"),
    ],
)
.needed();

const DECIMALS: Field = field(
    "decimals",
    Holds::Count(3, 4),
    "3",
    "Digits after the point",
);
const DWELL: Field = field(
    "dwell",
    Holds::Word(&["seconds", "milliseconds"]),
    "\"seconds\"",
    "Unit of waits",
);
const PROGRAM_END: Field = field(
    "program_end",
    Holds::Word(&["M2", "M30"]),
    "\"M30\"",
    "How programs end",
);
const LONGEST_LINE: Field = field(
    "longest_line",
    Holds::Count(40, 256),
    "72",
    "Most characters in a line",
);

const MITRES: Table = table(
    "mitres",
    "Pieces in rows on long sticks that lie apart on a waste board, taped down all along; left out where none \
     are routed.",
    &[
        SKIN,
        LEAST_SKIN,
        HEIGHT_ERROR,
        DEPTH_SPREAD,
        GRIP,
        LONGEST_STICK,
    ],
);
