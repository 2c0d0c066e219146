//! What may stand in a job file.

use super::climate::CLIMATE;
use super::field::{Field, Holds, Reference, Rule, Shipped, Table, When, field, table};
use super::fit::FIT;
use super::frame::{FRAME, GROOVE, REBATE, WOOD_DENSITY};
use super::grid::GRID;
use super::rates::RATES;
use super::stock::{BOARD, FRAME_BOARD, MILLING, PLANER, STICKS, STOCK, WOODS};
use crate::units::Kind::{Angle, Length, SignedLength};

/// Jobs.
pub const JOB: Reference = Reference {
    name: "job",
    about: "\
A job is a text file that describes one panel and names the machines that make it. It is TOML: a line \
in brackets begins a table, its keys stand below it, `#` begins a remark. Lengths carry their unit, in \
quotes: \"38 mm\", \"3.8 cm\", \"2 in\", \"1 3/8 in\", \"1-3/8\\\"\", \"0.110 in\".",
    tables: &[
        TOP,
        GRID,
        STRIP,
        OPENING,
        FRAME,
        REBATE,
        GROOVE,
        INFILL,
        LEGEND,
        RULE_PATTERNS,
        AS_BUILT,
        MACHINES,
        SLED_WORK,
        RATES,
        FIT,
        CLIMATE,
        STOCK,
        STICKS,
        WOODS,
        BOARD,
        FRAME_BOARD,
        MILLING,
        PLANER,
    ],
};

const TOP: Table = table(
    "",
    "",
    &[field(
        "title",
        Holds::Text,
        "\"Reading lamp, side panel\"",
        "What sheets and drawings call the panel",
    )
    .needed()],
)
.needed();

const STRIP: Table = table(
    "strip",
    "The strips' section, and how they lap.",
    &[
        field(
            "thickness",
            Holds::Quantity(Length),
            "\"3 mm\"",
            "Of a strip, as seen from the front",
        )
        .needed(),
        field("depth", Holds::Quantity(Length), "\"12 mm\"", "Front to back").needed(),
        field(
            "measured_thickness",
            Holds::Quantity(Length),
            "\"3.12 mm\"",
            "What a caliper says of the stock at hand: what fits wood to wood follows it, while centre \
             lines stay where they are drawn",
        )
        .usual("as drawn"),
        field(
            "measured_depth",
            Holds::Quantity(Length),
            "\"11.8 mm\"",
            "What a caliper says of the depth; `keeps` keeps its proportions",
        )
        .usual("as drawn"),
        field(
            "clearance",
            Holds::Quantity(SignedLength),
            "\"0.05 mm\"",
            "Notch width less strip thickness; negative for a press fit",
        )
        .usual("0 mm"),
        field(
            "least_web",
            Holds::Quantity(Length),
            "\"2 mm\"",
            "Least wood between two notches",
        )
        .usual("2 mm"),
        field("wood", Holds::Text, "\"basswood\"", "What sheets call the wood"),
        field(
            "density",
            WOOD_DENSITY,
            "\"450 kg/m3\"",
            "Mass of the wood by its volume, for the panel's weight",
        )
        .usual("the wood's in the table that `show` names"),
        field(
            "keeps",
            Holds::Quantities(Length),
            "[\"4 mm\", \"7 mm\", \"4 mm\"]",
            "What each layer keeps at a node, front to back; adds up to the drawn depth",
        )
        .usual("even shares"),
        field(
            "least_floor",
            Holds::Quantity(Length),
            "\"1 mm\"",
            "Least depth that a strip may keep at a node",
        )
        .usual("1 mm"),
        field(
            "lap",
            Holds::Word(&["least-cut", "same-depth"]),
            "\"same-depth\"",
            "On triangular grids: cut no deeper than needed, or front and back strips to the middle one's \
             share at both mates, so that they are the same part turned over",
        )
        .usual("\"least-cut\""),
        field(
            "weave",
            Holds::Word(&["one-face", "alternate"]),
            "\"alternate\"",
            "Whether every other strip of one family lies in front, the rest behind, so that the panel does \
             not bow",
        )
        .usual("\"one-face\""),
        field(
            "bundling",
            Holds::Word(&["equal", "runs"]),
            "\"runs\"",
            "Only strips that are alike are notched together, or shorter ones whose notches are a run of a \
             longer one's with it, and trimmed: fewer set-ups, more wood",
        )
        .usual("\"equal\""),
    ],
)
.needed();

const AS_BUILT: Table = table(
    "as_built",
    "What was measured once the strips were cut and put together, of square grids. Pieces, frame and story \
     sticks follow the bays as built; nothing is planned for the strips any more.",
    &[
        field(
            "openings_x",
            Holds::Quantities(Length),
            "[\"35.62 mm\", \"35.41 mm\"]",
            "Clear openings of the columns from strip to strip, from the left, one for each",
        )
        .usual("as drawn"),
        field(
            "openings_y",
            Holds::Quantities(Length),
            "[\"35.55 mm\", \"35.48 mm\"]",
            "The same of the rows, from the bottom",
        )
        .usual("as drawn"),
        field(
            "same_within",
            Holds::Within(Length, "0 mm", "1 mm"),
            "\"0.1 mm\"",
            "Leaves of bays that differ by no more than this are made alike, for the middle of them",
        )
        .usual("0.1 mm"),
    ],
);

const OPENING: Table = table(
    "opening",
    "The opening that the job starts from; the grid then follows from it. An opening that is out of square \
     is measured at three places each way and along both diagonals: the largest upright rectangle that fits \
     is taken.",
    &[
        field(
            "measured",
            Holds::Word(&["hole", "inside", "panel"]),
            "\"hole\"",
            "What was measured: the hole that the panel goes into, with its frame where it has one; between \
             the frame's inner faces; or the finished panel over all",
        )
        .needed(),
        field(
            "width",
            Holds::AboveZero,
            "\"612 mm\"",
            "Of the opening",
        )
        .needed()
        .only(&[When::Lacks("opening.widths")]),
        field("height", Holds::AboveZero, "\"388 mm\"", "Of the opening")
            .needed()
            .only(&[When::Lacks("opening.heights")]),
        field(
            "widths",
            Holds::Quantities(Length),
            "[\"613 mm\", \"612.5 mm\", \"614 mm\"]",
            "Instead of `width`: at the bottom, in the middle, at the top",
        ),
        field(
            "heights",
            Holds::Quantities(Length),
            "[\"388 mm\", \"389 mm\", \"390 mm\"]",
            "Instead of `height`: at the left, in the middle, at the right",
        ),
        field(
            "diagonals",
            Holds::Quantities(Length),
            "[\"728 mm\", \"724 mm\"]",
            "From the lower left corner, from the lower right one",
        ),
        field(
            "play",
            Holds::Quantity(Length),
            "\"1.5 mm\"",
            "Between what is made and the hole, at every side",
        )
        .usual("0 mm"),
    ],
)
.rules(&[
    Rule::Not(
        &[When::Is("opening.measured", &["panel"])],
        &["widths", "heights", "diagonals", "play"],
    ),
]);

const INFILL: Table = table(
    "infill",
    "The mitred pieces in the cells.",
    &[
        field(
            "pattern",
            Holds::Named(Shipped::Pattern),
            "\"square-hemp-leaf\"",
            "The pattern of all cells: one that comes with the program, or a pattern file",
        )
        .needed()
        .only(&[When::Lacks("infill.map"), When::Lacks("infill.rule")]),
        field(
            "map",
            Holds::Texts,
            "[\"AAB\", \".CA\"]",
            "Which cell takes which pattern: rows of letters as the panel is seen from the front, the top \
             one first; a dot stays open, spaces do not count",
        ),
        field(
            "rule",
            Holds::Word(&["border", "checker", "rings", "by-size"]),
            "\"checker\"",
            "Instead of a map: the cells at the edge and those within, a chessboard, rings from the innermost \
             outward, or sizes of cells from the smallest up",
        ),
        field(
            "allowance",
            Holds::Quantity(Length),
            "\"5 mm\"",
            "What rough pieces are longer than finished ones",
        )
        .usual("3.5 mm"),
        field(
            "fold_skin",
            Holds::Quantity(Length),
            "\"0.4 mm\"",
            "What the V leaves of a piece's thickness, on the outer side, where a pattern folds it",
        )
        .usual("0.5 mm"),
        field(
            "edge",
            Holds::Word(&["leave", "fill"]),
            "\"fill\"",
            "Whether cells that the panel's edge cuts stay open or take the same pieces, cut off at the edge",
        )
        .usual("\"leave\""),
        field(
            "way",
            Holds::Word(&["guides", "rows", "stick-ends", "routed-rows"]),
            "\"rows\"",
            "How the pieces' mitres are made: pared on guides, sawn in rows on long sticks, sawn on the end \
             of a stick, or routed in rows",
        )
        .usual("\"guides\""),
        field(
            "thickness",
            Holds::Quantity(Length),
            "\"2.4 mm\"",
            "Of the pieces' wood, as seen from the front",
        )
        .usual("that of the strips"),
        field(
            "depth",
            Holds::Quantity(Length),
            "\"9 mm\"",
            "Of the pieces, front to back",
        )
        .usual("that of the strips"),
        field(
            "setback",
            Holds::Quantity(Length),
            "\"1.5 mm\"",
            "From the strips' front face to the pieces'",
        )
        .usual("0 mm"),
        field(
            "fit",
            Holds::Quantity(SignedLength),
            "\"0.05 mm\"",
            "What the opening that pieces are made for is wider, from wall to wall, than the one that the strips \
             leave: above zero they press, below zero they are loose",
        )
        .usual("0 mm"),
    ],
)
.rules(&[
    Rule::AtMostOne(&["map", "rule"]),
    Rule::Takes("map", "legend"),
    Rule::Takes("legend", "map"),
    Rule::Takes("rule", "patterns"),
    Rule::Takes("patterns", "rule"),
]);

const POSE: &[Field] = &[
    field(
        "pattern",
        Holds::Named(Shipped::Pattern),
        "\"single-diagonal\"",
        "The pattern's name or file",
    )
    .needed(),
    field(
        "turn",
        Holds::Quantity(Angle),
        "\"90 deg\"",
        "Counter-clockwise, by a turn that the cell allows",
    )
    .usual("0 deg"),
    field(
        "mirror",
        Holds::Flag,
        "true",
        "Whether it is mirrored first",
    )
    .usual("false"),
];

const LEGEND: Table = table(
    "infill.legend.*",
    "What a letter of the map stands for, under the letter: a pattern's name, or a table where it lies \
     turned or mirrored. legend.V = { pattern = \"single-diagonal\", turn = \"90 deg\" }",
    POSE,
)
.or(Holds::Named(Shipped::Pattern));

const RULE_PATTERNS: Table = table(
    "infill.patterns[]",
    "The patterns that a rule chooses from, a list: names, \".\" for cells that stay open, or tables. Of \
     `border` that of the edge first, of `checker` that of the lower left cell, of `rings` the innermost, of \
     `by-size` the smallest. patterns = [\"square-hemp-leaf\", \".\"]",
    POSE,
)
.or(Holds::Named(Shipped::Pattern));

const MACHINES: Table = table(
    "machines",
    "The machines that make it: names of profiles that come with the program, or files beside the job. Each \
     may be left out.",
    &[
        field(
            "sled",
            Holds::Named(Shipped::Machine),
            "\"key-sled\"",
            "Notches the strips on a saw",
        ),
        field(
            "laser",
            Holds::Named(Shipped::Machine),
            "\"tube-laser\"",
            "Cuts outlines: a laser or a sheet router",
        ),
        field(
            "router",
            Holds::Named(Shipped::Machine),
            "\"small-router\"",
            "Notches bundles of strips and cuts the rails' mortises",
        ),
        field(
            "guides",
            Holds::Named(Shipped::Machine),
            "\"paring-guides\"",
            "Guides on which pieces are pared",
        ),
    ],
);

const SLED_WORK: Table = table(
    "sled",
    "How strips are notched on a sled.",
    &[
        field(
            "aim",
            Holds::Word(&["places", "bays"]),
            "\"bays\"",
            "What the way over a rack of key slots is chosen for: every notch as near as can be to its place, \
             counted from the first that is cut; or like steps over like slots, so that bays drawn equal come \
             out as equal as can be and pieces for them can be made in batches",
        )
        .usual("\"bays\" with [infill], else \"places\""),
        field(
            "order",
            Holds::Word(&["stops", "bundles"]),
            "\"bundles\"",
            "The order of the steps at one setting of the saw: by stops, each set once for all bundles, which \
             share its error and so go together; or bundle by bundle, each with stops of its own",
        )
        .usual("\"stops\""),
    ],
);
