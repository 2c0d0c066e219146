//! What may stand in a pattern file.

use super::field::{Holds, Reference, Rule, Table, field, table};
use crate::units::Kind::Angle;

/// Patterns.
pub const PATTERN: Reference = Reference {
    name: "pattern",
    about: "\
A pattern is a text file of rules for the pieces of a cell; there is no table of lengths in it. The \
cell's corners have names: south-west, south-east, north-east, north-west of squares and rhombs; \
bottom-left, bottom-right, top of triangles, which lie with their base down. A line is a wall (south, east, north, west; \
base, right, left), one of [lines], or of a piece a side, seen from its `from` to its `to`, or the axis: \
diagonal.left, diagonal.right, diagonal.axis. Pieces go in as they are written, but those notched from the \
front before what lies over them, and those that lock last. `lapwright pattern learn` teaches it on one figure, `lapwright pattern show NAME` prints one to begin with.",
    tables: &[
        TOP, LINES, POINTS, PIECE, HORN, MOUTH, JUNCTION, JIG, FOLD, MIRROR, COPIES, TURN, TURNED,
    ],
};

const TOP: Table = table(
    "",
    "",
    &[
        field(
            "about",
            Holds::Text,
            "\"hemp leaf for square cells\"",
            "One line about it",
        )
        .needed(),
        field(
            "cell",
            Holds::Word(&["square", "triangle", "rhomb"]),
            "\"square\"",
            "The cells that it is drawn for: squares, triangles with their base down, or rhombs with a sharp \
             corner at the south-west",
        )
        .needed(),
        field(
            "neighbours",
            Holds::Word(&["same", "mirror", "turn"]),
            "\"mirror\"",
            "How it lies in the next cell: the same; mirrored, so that like corners meet; or turned, as on a \
             chessboard",
        )
        .needed(),
        field(
            "rectangles",
            Holds::Flag,
            "true",
            "Whether the figure also holds in oblong cells",
        )
        .usual("false"),
        field(
            "rhombs",
            Holds::Flag,
            "true",
            "Whether a figure for squares also holds in rhombs",
        )
        .usual("false"),
        field(
            "thickness",
            Holds::Part("0.1", "1"),
            "0.8",
            "How thick its pieces are as a part of the strips' thickness, where the job says nothing of it",
        )
        .usual("1"),
        field(
            "depth",
            Holds::Part("0.1", "1"),
            "\"3/4\"",
            "How deep its pieces are as a part of the strips' depth, where the job says nothing of it; flush in \
             front",
        )
        .usual("1"),
        field(
            "middle",
            Holds::Text,
            "\"top\"",
            "The corner of the cell that lies at the node nearest to the panel's middle, where cells are mirrored: so \
             that a figure of several cells has its own middle there, whatever the panel's size",
        )
        .usual("as the first cell lies"),
        field(
            "greatest",
            Holds::Part("0.001", "1"),
            "0.15",
            "Greatest thickness of its pieces as a share of the pitch, which is the distance of the grid's centre \
             lines, square to them, of oblong cells the lesser one. Thicker pieces are refused",
        )
        .usual("as far as the pieces' shapes allow"),
        field(
            "locks",
            Holds::Names(0, 100),
            "\"lock\"",
            "Pieces that go in last and hold the others; their copies as well",
        ),
    ],
)
.needed();

const LINES: Table = table(
    "lines.*",
    "Lines under names of their own: through two points (upright = { through = [\"low\", \"high\"] }), or from \
     one at an angle (slope = { from = \"south-west\", angle = \"22.5 deg\" }).",
    &[
        field(
            "through",
            Holds::Names(2, 2),
            "[\"low\", \"high\"]",
            "Two points on it",
        ),
        field(
            "from",
            Holds::Text,
            "\"south-west\"",
            "The point or corner from which it runs, on both sides",
        ),
        field(
            "angle",
            Holds::Quantity(Angle),
            "\"22.5 deg\"",
            "Its angle to a wall, counter-clockwise, less than 180 deg; walls run counter-clockwise round the \
             cell. From south-west \"22.5 deg\" rises, from south-east \"157.5 deg\" rises as much",
        ),
        field("off", Holds::Text, "\"south\"", "That wall").usual("south or base"),
    ],
)
.rules(&[
    Rule::OneOf(&["through", "from"]),
    Rule::Together(&["from", "angle"]),
    Rule::Takes("off", "from"),
]);

const POINTS: Table = table(
    "points.*",
    "Points under names of their own, besides the cell's corners: fractions of the clear opening's width and \
     height from its lower left, in a rhomb along its walls (low = [0.25, 0], or \"1/3\"); or a table.",
    &[
        field(
            "meet",
            Holds::Names(2, 2),
            "[\"south\", \"diagonal.right\"]",
            "Where two lines meet; those of pieces stand before the piece that ends there",
        ),
        field(
            "incentre",
            Holds::Names(3, 3),
            "[\"south\", \"east\", \"diagonal.right\"]",
            "The centre of the circle that touches three lines from inside",
        ),
    ],
)
.or(Holds::Fractions)
.rules(&[Rule::OneOf(&["meet", "incentre"])]);

const PIECE: Table = table(
    "piece[]",
    "A piece: [[piece]], as often as needed.",
    &[
        field(
            "name",
            Holds::Text,
            "\"diagonal\"",
            "What the rest calls it",
        )
        .needed(),
        field(
            "from",
            Holds::Text,
            "\"south-west\"",
            "The point or corner at which it begins",
        )
        .needed(),
        field(
            "to",
            Holds::Text,
            "\"north-east\"",
            "The point or corner at which it ends",
        )
        .needed(),
        field(
            "against",
            Holds::Names(0, 100),
            "\"diagonal\"",
            "Pieces before it that it ends against",
        ),
        field(
            "lap",
            Holds::Names(0, 100),
            "\"rising\"",
            "Pieces before it that it crosses in a half lap: it is notched from the front, they from the back",
        ),
        field(
            "over",
            Holds::Names(0, 2),
            "[\"from\", \"to\"]",
            "Ends, from or to, at which it runs on over the strip to its like in the next cell, half-lapped with \
             the strip, which is notched from the front",
        ),
        field(
            "thickness",
            Holds::Part("0.1", "1"),
            "0.8",
            "How thick it is as a part of the thickness of the pattern's pieces",
        )
        .usual("1"),
        field(
            "depth",
            Holds::Part("0.1", "1"),
            "\"3/4\"",
            "How deep it is as a part of the depth of the pattern's pieces; flush with them in front",
        )
        .usual("1"),
    ],
);

const HORN: Table = table(
    "piece[].horn",
    "Ends that stand free, cut square: a lap holds the piece. horn = { from = 1.5, to = 1.5 }",
    &[
        field(
            "from",
            Holds::Part("0", "20"),
            "1.5",
            "How far the piece runs on beyond `from`, in thicknesses of its own",
        ),
        field(
            "to",
            Holds::Part("0", "20"),
            "1.5",
            "How far the piece runs on beyond `to`, in thicknesses of its own",
        ),
    ],
);

const MOUTH: Table = table(
    "piece[].mouth",
    "Ends cut as a bird's mouth over a corner that two other pieces form toward this one, joined in a \
     [[junction]]. mouth = { to = [\"bar\", \"bar-2\"] }",
    &[
        field(
            "from",
            Holds::Names(2, 2),
            "[\"bar\", \"bar-2\"]",
            "The two pieces whose corner the `from` end takes; nothing else cuts that end",
        ),
        field(
            "to",
            Holds::Names(2, 2),
            "[\"bar\", \"bar-2\"]",
            "The two pieces whose corner the `to` end takes; nothing else cuts that end",
        ),
    ],
);

const JUNCTION: Table = table(
    "junction[]",
    "A point at which ends of pieces meet: [[junction]].",
    &[field("at", Holds::Text, "\"centre\"", "The point").needed()],
);

const JIG: Table = table(
    "junction[].jig",
    "Angles of the guides that pieces keep there, under the piece's name; those of the others follow, and so \
     does the place of the junction. jig = { hinge = \"67.5 deg\" }",
    &[field(
        "*",
        Holds::OneOrTwo(Angle),
        "\"67.5 deg\"",
        "One angle for both sides of the end, or a list of left and right, seen from `from` to `to`",
    )],
);

const FOLD: Table = table(
    "fold[]",
    "Pieces that are one strip: [[fold]]. It is cut by a V, nearly through, where the end of one meets the next \
     one's, and bent there; a skin holds on the outer side (`fold_skin` in the job's [infill]). They meet in a \
     mitre without a [[junction]]; where all of them are copied, so is the fold.",
    &[field(
        "pieces",
        Holds::Names(2, 100),
        "[\"bar\", \"bar-2\"]",
        "Two pieces or more, in the order along the strip",
    )
    .needed()],
);

const MIRROR: Table = table(
    "mirror[]",
    "Mirrored copies of pieces: [[mirror]], one after the other; a copy can be copied again.",
    &[field(
        "across",
        Holds::Names(2, 2),
        "[\"south-east\", \"north-west\"]",
        "Two points on the mirror's line",
    )
    .needed()],
);

const COPIES: Table = table(
    "mirror[].copies",
    "Names of the copies, under the names of what they are copies of. copies = { hinge = \"hinge-2\" }",
    &[field("*", Holds::Text, "\"hinge-2\"", "The copy's name")],
);

const TURN: Table = table(
    "turn[]",
    "Copies of pieces in equal steps of a full turn: [[turn]], all of them after all mirrors.",
    &[
        field(
            "round",
            Holds::Text,
            "\"centre\"",
            "The point about which they are turned, counter-clockwise",
        )
        .needed(),
        field(
            "steps",
            Holds::Count(2, 12),
            "3",
            "Equal steps of a full turn: 2 are half turns, 3 a triangle's thirds, 4 a square's quarters",
        )
        .needed(),
    ],
);

const TURNED: Table = table(
    "turn[].copies",
    "Names of the copies, one step on, two steps on and so forth, under the names of what they are copies \
     of. copies = { leaf = [\"leaf-2\", \"leaf-3\"] }",
    &[field(
        "*",
        Holds::Names(1, 11),
        "[\"leaf-2\", \"leaf-3\"]",
        "The names: one less than there are steps",
    )],
);
