//! Profiles of what cuts outlines from sheet: lasers and sheet routers.

use super::common::{ABOUT, kind};
use super::spread::FROM_SHEET;
use crate::reading::reference::field::{Field, Holds, Reference, Table, field, table};
use crate::units::Kind::Length;

/// Lasers.
pub(in crate::reading::reference) const LASER: Reference = Reference {
    name: "laser",
    about: "\
A laser that cuts strips, pieces and jigs from sheet. Measure its kerf on a comb of cuts in the very sheet \
that you use: ten parallel cuts, the parts pushed together, the gap divided by ten.",
    tables: &[LASER_TOP, BEAM, SHEET, COLOURS, FIT, FROM_SHEET],
};

/// Routers that cut sheet.
pub(in crate::reading::reference) const SHEET_ROUTER: Reference = Reference {
    name: "sheet-router",
    about: "\
A router that cuts strips, pieces and jigs from sheet, following drawn outlines. The drawings show finished \
outlines: the program that drives the router keeps the cutter outside OUTLINES and inside OPENINGS, and \
leaves a bridge at every stroke of BRIDGES.",
    tables: &[ROUTER_TOP, CUTTER, BRIDGES, SHEET, COLOURS, FIT, FROM_SHEET],
};

const LASER_TOP: Table = table("", "", &[kind("\"laser\""), ABOUT]).needed();
const ROUTER_TOP: Table = table("", "", &[kind("\"sheet-router\""), ABOUT]).needed();

const THICKEST: Field = field(
    "thickest",
    Holds::AboveZero,
    "\"6 mm\"",
    "Thickest sheet that it cuts",
)
.needed();
const LABEL_HEIGHT: Field = field(
    "label_height",
    Holds::Quantity(Length),
    "\"2.5 mm\"",
    "Of the letters of engraved labels; \"0 mm\" for none",
)
.usual("0 mm");

const BEAM: Table = table(
    "laser",
    "The beam.",
    &[
        field(
            "kerf",
            Holds::Quantity(Length),
            "\"0.16 mm\"",
            "Whole width of the groove that the beam leaves",
        )
        .needed(),
        THICKEST,
        LABEL_HEIGHT,
        field(
            "letter_line",
            Holds::AboveZero,
            "\"0.2 mm\"",
            "Width of the line that it engraves: letters are at least six of it high",
        )
        .usual("thinner than matters"),
    ],
)
.needed();

const CUTTER: Table = table(
    "cutter",
    "The cutter.",
    &[
        field(
            "diameter",
            Holds::AboveZero,
            "\"1.5 mm\"",
            "Over the edges, measured",
        )
        .needed(),
        field(
            "relief",
            Holds::Word(&["bone", "tee"]),
            "\"bone\"",
            "Of corners where a square part sits: on the bisector, or into the longer side",
        )
        .needed(),
        THICKEST,
        LABEL_HEIGHT,
        field(
            "letter_line",
            Holds::AboveZero,
            "\"0.3 mm\"",
            "Line of the pointed tool that follows LETTERS: letters are at least six of it high",
        )
        .usual("the cutter's diameter"),
    ],
)
.needed();

const BRIDGES: Table = table(
    "bridges",
    "What holds a part until all is cut; left out where a part needs no holding.",
    &[
        field("count", Holds::Count(1, 20), "2", "Of each part").needed(),
        field(
            "width",
            Holds::AboveZero,
            "\"3 mm\"",
            "Of the drawn stroke, along the outline",
        )
        .needed(),
    ],
);

const SHEET: Table = table(
    "sheet",
    "The sheets that it takes, their grain along the length.",
    &[
        field("length", Holds::AboveZero, "\"640 mm\"", "Along the grain").needed(),
        field("width", Holds::AboveZero, "\"430 mm\"", "Across the grain").needed(),
        field(
            "margin",
            Holds::Quantity(Length),
            "\"6 mm\"",
            "What is left free along every edge",
        )
        .needed(),
        field(
            "gap",
            Holds::Quantity(Length),
            "\"2 mm\"",
            "Between neighbouring parts: two grooves, and half a millimetre of wood",
        )
        .needed(),
    ],
)
.needed();

const COLOURS: Table = table(
    "colours",
    "Numbers of the layers' colours, from the colour index of the drawing format.",
    &[
        field("letters", Holds::Count(1, 255), "150", "Of labels").needed(),
        field(
            "openings",
            Holds::Count(1, 255),
            "200",
            "Of what is cut out of a part",
        )
        .needed(),
        field("outlines", Holds::Count(1, 255), "32", "Of parts").needed(),
    ],
)
.needed();

const FIT: Table = table(
    "fit",
    "The slot of a comb that a strip was pushed into and fitted: notches and key slots follow it.",
    &[
        field(
            "slot",
            Holds::AboveZero,
            "\"2.85 mm\"",
            "Label of the slot that fitted",
        )
        .needed(),
        field(
            "strip",
            Holds::AboveZero,
            "\"2.8 mm\"",
            "What a caliper says of that strip's thickness",
        )
        .needed(),
    ],
);
