//! What may stand in a job's `[frame]`.

use super::field::{Field, Holds, Rule, Table, When, field, table};
use crate::units::Kind::{Density, Length};

/// No wood is lighter or heavier. Common knowledge, from memory.
pub(super) const WOOD_DENSITY: Holds = Holds::Within(Density, "50 kg/m3", "1500 kg/m3");

const TENON: &[When] = &[When::Is("frame.joint", &["mortise-and-tenon"])];

pub(super) const FRAME: Table = table(
    "frame",
    "The frame whose mortises take the strips' ends.",
    &[
        field(
            "thickness",
            Holds::Quantity(Length),
            "\"20 mm\"",
            "Of the rails, front to back",
        )
        .needed(),
        field(
            "mortise_depth",
            Holds::Quantity(Length),
            "\"6 mm\"",
            "Of the strips' mortises, from the rails' inner faces",
        )
        .needed(),
        field(
            "width",
            Holds::AboveZero,
            "\"30 mm\"",
            "Of the frame's members, from the front; without it nothing is told of their corners",
        ),
        field(
            "widths",
            Holds::Quantities(Length),
            "[\"40 mm\", \"32 mm\", \"32 mm\", \"32 mm\"]",
            "Instead of `width`, one for each member, counter-clockwise from the edge at the region's first \
             corner: bottom, right, top, left",
        ),
        field(
            "joint",
            Holds::Word(&["mitre", "mortise-and-tenon"]),
            "\"mortise-and-tenon\"",
            "How the members meet at the corners",
        )
        .usual("\"mitre\""),
        field(
            "tenon_thickness",
            Holds::AboveZero,
            "\"8 mm\"",
            "Of the tenon, front to back",
        )
        .usual("a third of the frame's, or a groove's width")
        .only(TENON),
        field(
            "tenon_length",
            Holds::AboveZero,
            "\"20 mm\"",
            "Of the tenon, from its shoulder",
        )
        .usual("two thirds of the stile's width")
        .only(TENON),
        field(
            "haunch",
            Holds::Quantity(Length),
            "\"8 mm\"",
            "Length of the tenon's haunch, from the shoulder; \"0 mm\" for none",
        )
        .usual("a groove's depth, else the tenon's thickness")
        .only(TENON),
        field(
            "clearance",
            Holds::Quantity(Length),
            "\"0.1 mm\"",
            "Strip's mortise less strip",
        )
        .usual("0 mm"),
        field(
            "end_gap",
            Holds::Quantity(Length),
            "\"0.5 mm\"",
            "From a strip's trimmed end to its mortise's floor",
        )
        .usual("0.5 mm"),
        field(
            "margin",
            Holds::Quantity(Length),
            "\"1.5 mm\"",
            "From the region's edge to the rails' inner faces; beside an opening it follows and is left out",
        )
        .usual("half a strip"),
        field(
            "setback",
            Holds::Quantity(Length),
            "\"4 mm\"",
            "From the rails' front faces to that of the strips",
        )
        .usual("the strips in the middle"),
        field("wood", Holds::Text, "\"white oak\"", "Wood of the members").usual("the strips'"),
        field(
            "density",
            WOOD_DENSITY,
            "\"750 kg/m3\"",
            "Mass of the members' wood by its volume, for the panel's weight",
        )
        .usual("that of `wood` here, else the strips'"),
    ],
)
.rules(&[
    Rule::AtMostOne(&["width", "widths"]),
    Rule::AtMostOne(&["rebate", "groove"]),
    Rule::Not(&[When::Has("opening")], &["margin"]),
]);

const RECESS_WIDTH: Field = field(
    "width",
    Holds::AboveZero,
    "\"8 mm\"",
    "From the member's inner face outward, square to it",
)
.needed();

pub(super) const REBATE: Table = table(
    "frame.rebate",
    "A rebate along the members' inner edges, at the back, for paper or glass. Also on a line of its own: \
     rebate = { width = \"8 mm\", depth = \"6 mm\" }.",
    &[
        RECESS_WIDTH,
        field(
            "depth",
            Holds::AboveZero,
            "\"6 mm\"",
            "From the back face to the front",
        )
        .needed(),
    ],
);

pub(super) const GROOVE: Table = table(
    "frame.groove",
    "A groove along the members' inner faces, for paper or glass.",
    &[
        field(
            "width",
            Holds::AboveZero,
            "\"4 mm\"",
            "Of the groove, front to back",
        )
        .needed(),
        field(
            "depth",
            Holds::AboveZero,
            "\"6 mm\"",
            "From the member's inner face",
        )
        .needed(),
        field(
            "from_front",
            Holds::Quantity(Length),
            "\"10 mm\"",
            "From the member's front face to the groove",
        )
        .needed(),
    ],
);
