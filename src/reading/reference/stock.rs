//! What may stand in a job's `[stock]`.

use super::field::{Field, Holds, Table, field, table};
use super::frame::WOOD_DENSITY;
use crate::units::Kind::{Length, Share};

const SPARE: Holds = Holds::Within(Share, "0 %", "200 %");
const PRICE: Holds = Holds::Part("0", "1000000");
const COUNT: Holds = Holds::Count(1, 10_000);

pub(super) const STOCK: Table = table(
    "stock",
    "The wood that `lapwright stock` reckons with: what is bought or at hand, and how it is milled. What stands \
     here where a key is left out is an example (common practice, no source): put your own, and what \
     your machines take from their manuals.",
    &[
        field(
            "aim",
            Holds::Word(&["sticks", "cost"]),
            "\"cost\"",
            "What sticks are cut up for: as few as can be, or as cheap as can be; then each has a price",
        )
        .usual("\"sticks\""),
        field("currency", Holds::Text, "\"EUR\"", "What prices are in"),
        field(
            "kerf",
            Holds::AboveZero,
            "\"1.1 mm\"",
            "Groove of the saw that cuts sticks to length",
        )
        .usual("the sled's blade, else 2 mm"),
        field(
            "trim",
            Holds::Quantity(Length),
            "\"5 mm\"",
            "Lost at each end of a stick, the cut that takes it off included, so that it is square and sound",
        )
        .usual("3 mm"),
        field(
            "least_held",
            Holds::AboveZero,
            "\"120 mm\"",
            "The shortest wood that your saw's set-up holds safely: what is held of a stick while a part comes off \
             it is never shorter",
        )
        .usual("150 mm"),
        field(
            "spare_strips",
            SPARE,
            "\"10 %\"",
            "Strips to be made beyond the count, of each kind; at least one, none at 0 %",
        )
        .usual("10 %"),
        field("spare_pieces", SPARE, "\"15 %\"", "The same of pieces, or of the sticks that they are made on")
            .usual("10 %"),
        field("spare_members", SPARE, "\"50 %\"", "The same of the frame's members").usual("0 %"),
    ],
);

pub(super) const STICKS: Table = table(
    "stock.sticks[]",
    "Sticks at hand or sold with their final section, one table for each length. Without any, sticks are \
     milled from boards.",
    &[
        field(
            "for",
            Holds::Word(&["strips", "pieces", "frame"]),
            "\"pieces\"",
            "What they have the section of: the strips, with pieces of the same section; most pieces where that is \
             another; or the frame's members",
        )
        .usual("\"strips\""),
        field("length", Holds::AboveZero, "\"900 mm\"", "End to end").needed(),
        field("count", COUNT, "12", "How many there are").usual("as many as it takes"),
        field("pack", COUNT, "5", "How many are sold together").usual("1"),
        field("price", PRICE, "2.4", "Of one, or of one pack; your own figure. With `count` and without a price they lie in your shop and are used first"),
    ],
);

pub(super) const WOODS: Table = table(
    "stock.woods[]",
    "Woods that you think of, with figures of your own: `lapwright stock panel.toml --woods` puts them beside the \
     job's wood. What is left out comes from the program's table.",
    &[
        field("name", Holds::Text, "\"basswood\"", "What it is called").needed(),
        field(
            "density",
            WOOD_DENSITY,
            "\"420 kg/m3\"",
            "At 12 % of moisture",
        ),
        field(
            "hardness",
            Holds::Part("0", "100000"),
            "1800",
            "On its side, by Janka, newtons",
        ),
        field("price", PRICE, "1900", "Of a cubic metre; your own figure"),
    ],
);

const BOARD_FIELDS: &[Field] = &[
    field(
        "thickness",
        Holds::AboveZero,
        "\"25 mm\"",
        "Between its faces, as bought",
    )
    .usual("an example that will do for the job"),
    field(
        "width",
        Holds::AboveZero,
        "\"150 mm\"",
        "Edge to edge, as bought",
    )
    .usual("150 mm"),
    field(
        "length",
        Holds::AboveZero,
        "\"1200 mm\"",
        "As it goes through the machines: a long board is crosscut first",
    )
    .usual("an example that will do for the job"),
    field(
        "sawn",
        Holds::Word(&["flat", "quarter"]),
        "\"quarter\"",
        "How growth rings lie on its end: along its width, or square to it",
    )
    .usual("either: both are told"),
    field("price", PRICE, "14.5", "Of one; your own figure"),
    field("count", COUNT, "3", "How many there are").usual("as many as it takes"),
];

pub(super) const BOARD: Table = table(
    "stock.board",
    "The board that strips and pieces are milled from, where there are no sticks for them.",
    BOARD_FIELDS,
);

pub(super) const FRAME_BOARD: Table = table(
    "stock.frame_board",
    "The board that the frame's members are milled from, where there are no sticks for them.",
    BOARD_FIELDS,
);

pub(super) const MILLING: Table = table(
    "stock.milling",
    "How boards become sticks. Allowances for both faces or sides are told together.",
    &[
        field("kerf", Holds::AboveZero, "\"3.2 mm\"", "Groove of the ripping saw").usual("2.4 mm"),
        field(
            "planing",
            Holds::Quantity(Length),
            "\"1 mm\"",
            "What planing or sanding takes off a strip's thickness behind the saw, both sides together",
        )
        .usual("0.8 mm"),
        field(
            "surfacing",
            Holds::Quantity(Length),
            "\"4 mm\"",
            "What planing takes off a rough board, blank or member, both faces together",
        )
        .usual("5 mm"),
        field(
            "straightening",
            Holds::Quantity(Length),
            "\"4 mm\"",
            "What straightening its edges takes off a board's width",
        )
        .usual("3 mm"),
        field(
            "flushing",
            Holds::Quantity(Length),
            "\"0.3 mm\"",
            "What planing the glued panel's faces flush takes off its depth, both together",
        )
        .usual("0.4 mm"),
        field(
            "ends",
            Holds::Quantity(Length),
            "\"60 mm\"",
            "Cut off each end once a board or blank is planed: snipe and checks",
        )
        .usual("75 mm"),
        field(
            "least_rip_width",
            Holds::AboveZero,
            "\"50 mm\"",
            "What is left of a board is not ripped on the saw any more where it is narrower",
        )
        .usual("40 mm"),
        field(
            "least_rip_length",
            Holds::AboveZero,
            "\"300 mm\"",
            "Shorter wood is not ripped on the saw",
        )
        .usual("305 mm"),
        field(
            "from",
            Holds::Word(&["edge", "blanks"]),
            "\"blanks\"",
            "What strips are ripped off: the edge of a board planed to their depth, or blanks ripped from the board \
             as wide as they are deep",
        )
        .usual("\"edge\""),
        field(
            "thin_by",
            Holds::Word(&["carrier-board", "drum-sander", "hand-plane"]),
            "\"drum-sander\"",
            "What brings ripped strips to their thickness: a planer with the strip on a carrier board, a drum \
             sander, or a hand plane between rails",
        )
        .usual("\"carrier-board\""),
    ],
);

pub(super) const PLANER: Table = table(
    "stock.planer",
    "What your thickness planer takes, from its own manual.",
    &[
        field(
            "least_length",
            Holds::AboveZero,
            "\"355 mm\"",
            "Of the shortest wood that may be fed",
        )
        .usual("305 mm"),
        field(
            "least_thickness",
            Holds::AboveZero,
            "\"5 mm\"",
            "Of the thinnest wood that may be fed",
        )
        .usual("6.35 mm"),
        field(
            "roller_spacing",
            Holds::AboveZero,
            "\"225 mm\"",
            "Between its feed rollers: wood is longer by 50.8 mm (2 in) at the least",
        )
        .usual("250 mm"),
    ],
);
