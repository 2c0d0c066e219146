//! What may stand in a job's `[grid]`.

use super::field::{Field, Holds, Rule, Table, When, field, table};
use crate::units::Kind::{Angle, Length};

const IS_SQUARE: When = When::Is("grid.kind", &["square"]);
const IS_DIAMOND: When = When::Is("grid.kind", &["diamond"]);
const IS_TRIANGULAR: When = When::Is("grid.kind", &["triangular"]);
const IS_SLANTED: When = When::Is("grid.kind", &["diamond", "triangular"]);
const DRAWN: When = When::Lacks("opening");
const WISHED: When = When::Has("opening");
const IN_RECTANGLE: When = When::Is("grid.region", &["rectangle"]);
const IN_POLYGON: When = When::Is("grid.region", &["polygon"]);

const BAYS: Holds = Holds::Count(1, 500);

const PITCH: Field = field(
    "pitch",
    Holds::Quantity(Length),
    "\"38 mm\"",
    "Between neighbouring centre lines, square to them",
);
const OVERHANG: Field = field(
    "overhang",
    Holds::Quantity(Length),
    "\"15 mm\"",
    "From a strip's end to its first notch's centre, or beyond the region's edge; trimmed off after glue-up",
);
const COLUMNS: Field = field("columns", BAYS, "5", "Cells side by side");
const ROWS: Field = field("rows", BAYS, "7", "Cells above each other");
const PITCHES_X: Field = field(
    "pitches_x",
    Holds::Quantities(Length),
    "[\"31 mm\", \"54 mm\", \"54 mm\", \"31 mm\"]",
    "Between uprights, left to right, one by one",
);
const PITCHES_Y: Field = field(
    "pitches_y",
    Holds::Quantities(Length),
    "[\"31 mm\", \"43 mm\", \"43 mm\", \"31 mm\"]",
    "Between cross strips, bottom to top, one by one",
);
const SIDE: Field = field(
    "side",
    Holds::Quantity(Length),
    "\"60 mm\"",
    "Of a triangle, from node to node",
);
const ANGLE: Field = field(
    "angle",
    Holds::Quantity(Angle),
    "\"60 deg\"",
    "Between the families of strips",
);
const DIAMOND_STANCE: Field = field(
    "stance",
    Holds::Word(&["upright", "on-point"]),
    "\"on-point\"",
    "How diamonds lie: one family stands, or they stand on a corner",
)
.usual("\"upright\"");
const TRIANGULAR_STANCE: Field = field(
    "stance",
    Holds::Word(&["lying", "upright"]),
    "\"upright\"",
    "How triangles lie: one family lies level, or one stands",
)
.usual("\"lying\"");

pub(super) const GRID: Table = table(
    "grid",
    "The lattice. Squares have equal bays (`pitch`, `columns`, `rows`) or lists of pitches. Diamonds and \
     triangles fill a `region`. In a job with [opening] the opening is what the grid fills, and `pitch` or \
     `pitch_about`, `columns` and `rows` say how, as far as they are given. Cells that the edge cuts are \
     left open.",
    &[
        field(
            "kind",
            Holds::Word(&["square", "diamond", "triangular"]),
            "\"square\"",
            "What the cells are",
        )
        .needed(),
        // A grid as drawn.
        PITCH.only(&[IS_SQUARE, DRAWN]),
        COLUMNS
            .needed()
            .only(&[IS_SQUARE, DRAWN, When::Lacks("grid.pitches_x")]),
        ROWS.needed()
            .only(&[IS_SQUARE, DRAWN, When::Lacks("grid.pitches_y")]),
        COLUMNS
            .usual("as many as the list has")
            .only(&[IS_SQUARE, DRAWN, When::Has("grid.pitches_x")]),
        ROWS.usual("as many as the list has")
            .only(&[IS_SQUARE, DRAWN, When::Has("grid.pitches_y")]),
        PITCHES_X.only(&[IS_SQUARE, DRAWN]),
        PITCHES_Y.only(&[IS_SQUARE, DRAWN]),
        PITCH.needed().only(&[IS_DIAMOND, DRAWN]),
        ANGLE.needed().only(&[IS_DIAMOND, DRAWN]),
        SIDE.needed().only(&[IS_TRIANGULAR, DRAWN]),
        DIAMOND_STANCE.only(&[IS_DIAMOND]),
        TRIANGULAR_STANCE.only(&[IS_TRIANGULAR]),
        OVERHANG.needed().only(&[DRAWN]),
        field(
            "region",
            Holds::Word(&["rectangle", "polygon"]),
            "\"rectangle\"",
            "What diamonds fill: a rectangle, or a convex polygon",
        )
        .needed()
        .only(&[IS_DIAMOND, DRAWN]),
        field(
            "region",
            Holds::Word(&["hexagon", "rectangle", "polygon"]),
            "\"hexagon\"",
            "What triangles fill: a hexagon, a rectangle, or a convex polygon",
        )
        .needed()
        .only(&[IS_TRIANGULAR, DRAWN]),
        field("rings", BAYS, "3", "Rings of triangles round the hexagon's middle")
            .needed()
            .only(&[When::Is("grid.region", &["hexagon"]), IS_TRIANGULAR, DRAWN]),
        COLUMNS
            .needed()
            .only(&[IN_RECTANGLE, IS_SLANTED, When::Has("grid.rows"), DRAWN]),
        ROWS.needed()
            .only(&[IN_RECTANGLE, IS_SLANTED, When::Has("grid.columns"), DRAWN]),
        field(
            "width",
            Holds::Quantity(Length),
            "\"300 mm\"",
            "Of the rectangle, instead of `columns` and `rows`; the grid lies in its middle",
        )
        .needed()
        .only(&[
            IN_RECTANGLE,
            IS_SLANTED,
            When::Lacks("grid.columns"),
            When::Lacks("grid.rows"),
            DRAWN,
        ]),
        field(
            "height",
            Holds::Quantity(Length),
            "\"400 mm\"",
            "Of the rectangle, with `width`",
        )
        .needed()
        .only(&[
            IN_RECTANGLE,
            IS_SLANTED,
            When::Lacks("grid.columns"),
            When::Lacks("grid.rows"),
            DRAWN,
        ]),
        field(
            "corners",
            Holds::Points,
            "[[\"0 mm\", \"0 mm\"], [\"300 mm\", \"0 mm\"], [\"150 mm\", \"200 mm\"]]",
            "Of the polygon, one after the other, to the right and up",
        )
        .needed()
        .only(&[IN_POLYGON, IS_SLANTED, DRAWN]),
        field(
            "node",
            Holds::Point,
            "[\"150 mm\", \"0 mm\"]",
            "A point at which a node of the grid lies",
        )
        .usual("the first corner")
        .only(&[IN_POLYGON, IS_SLANTED, DRAWN]),
        // A grid for an opening.
        Field {
            holds: Holds::AboveZero,
            ..PITCH
        }
        .only(&[When::Is("grid.kind", &["square", "diamond"]), WISHED]),
        field(
            "pitch_about",
            Holds::AboveZero,
            "\"40 mm\"",
            "Instead of `pitch`: about this, whole bays decide",
        )
        .only(&[When::Is("grid.kind", &["square", "diamond"]), WISHED]),
        Field {
            holds: Holds::AboveZero,
            ..SIDE
        }
        .only(&[IS_TRIANGULAR, WISHED]),
        field(
            "side_about",
            Holds::AboveZero,
            "\"60 mm\"",
            "Instead of `side`: about this, whole triangles decide",
        )
        .only(&[IS_TRIANGULAR, WISHED]),
        ANGLE
            .usual("what `columns` and `rows` give")
            .only(&[IS_DIAMOND, WISHED]),
        COLUMNS.usual("what fits").only(&[WISHED]),
        ROWS.usual("what fits").only(&[WISHED]),
        PITCHES_X.only(&[IS_SQUARE, WISHED]),
        PITCHES_Y.only(&[IS_SQUARE, WISHED]),
        field(
            "cells",
            Holds::Word(&["square", "fill"]),
            "\"fill\"",
            "Whether cells are kept square, or whole numbers of them fill the opening in each direction",
        )
        .usual("\"square\"")
        .only(&[IS_SQUARE, WISHED]),
        field(
            "rest",
            Holds::Word(&["margins", "even-margins", "border-bays"]),
            "\"even-margins\"",
            "Where goes what square cells leave over: to the margins, left and right alike, below and above \
             alike; to four margins that are alike; or to the first and last bay of each direction",
        )
        .usual("\"margins\"")
        .only(&[IS_SQUARE, WISHED]),
        field(
            "least_border",
            Holds::Quantity(Length),
            "\"20 mm\"",
            "Least width of border bays",
        )
        .usual("half a pitch")
        .only(&[IS_SQUARE, WISHED]),
        field(
            "edge",
            Holds::Word(&["strips", "frame"]),
            "\"frame\"",
            "Whether strips or the frame close the outermost cells",
        )
        .usual("\"strips\"")
        .only(&[IS_SQUARE, WISHED]),
        field(
            "least_margin",
            Holds::Quantity(Length),
            "\"6 mm\"",
            "Least distance from the frame's inner face to the outermost centre line",
        )
        .usual("half a strip")
        .only(&[IS_SQUARE, WISHED]),
        field(
            "rest",
            Holds::Word(&["cut-cells", "margins"]),
            "\"margins\"",
            "Where goes what whole cells leave over: strips lie there too and the edge cuts their cells, or \
             it goes to the margins, left and right alike, below and above alike, where only strips' ends lie",
        )
        .usual("\"cut-cells\"")
        .only(&[IS_SLANTED, WISHED]),
        field(
            "least_margin",
            Holds::Quantity(Length),
            "\"6 mm\"",
            "Least distance from the frame's inner face to the edge of what the cells fill",
        )
        .usual("half a strip beside an edge that strips may lie along, else 0 mm")
        .only(&[IS_SLANTED, WISHED]),
        field(
            "centre",
            Holds::Word(&["node", "corner"]),
            "\"corner\"",
            "Whether a node lies in the middle of the opening or at its lower left corner, less the margins",
        )
        .usual("\"node\"")
        .only(&[IS_SLANTED, WISHED]),
        OVERHANG.usual("what the frame or the flush cut asks for").only(&[WISHED]),
    ],
)
.needed()
.rules(&[
    Rule::AnyOf(&[IS_SQUARE, DRAWN], &["pitch", "pitches_x"]),
    Rule::AnyOf(&[IS_SQUARE, DRAWN], &["pitch", "pitches_y"]),
    Rule::AtMostOne(&["pitch", "pitch_about"]),
    Rule::AtMostOne(&["side", "side_about"]),
    Rule::Not(&[IS_SQUARE, When::Has("grid.pitches_x"), When::Has("grid.pitches_y")], &["pitch"]),
    Rule::Not(&[IS_SQUARE, WISHED, When::Has("grid.pitches_x")], &["columns"]),
    Rule::Not(&[IS_SQUARE, WISHED, When::Has("grid.pitches_y")], &["rows"]),
    Rule::Not(&[When::Is("grid.cells", &["fill"])], &["rest", "least_border"]),
    Rule::Not(&[When::Is("grid.edge", &["frame"])], &["least_margin", "least_border"]),
]);
