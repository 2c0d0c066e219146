//! Profiles of sleds and bench hooks.

use super::common::{
    ABOUT, DEPTH_SPREAD, GRIP, HEIGHT_ERROR, LEAST_SKIN, LONGEST_STICK, SKIN, kind,
};
use super::spread::OF_A_SLED;
use crate::reading::reference::field::{Holds, Reference, Table, When, field, table};
use crate::units::Kind::{Angle, Length, SignedLength};

/// Sleds.
pub(in crate::reading::reference) const SLED: Reference = Reference {
    name: "sled",
    about: "\
A crosscut sled on a table saw, or a bench hook with a hand saw and a depth stop. It needs a stop at least.",
    tables: &[
        TOP, BLADE, BASE, FENCE, STOP, SPACERS, RACK, MITRES, OF_A_SLED,
    ],
};

const TOP: Table = table("", "", &[kind("\"sled\""), ABOUT]).needed();

const POWERED: &[When] = &[When::True("blade.powered")];

const BLADE: Table = table(
    "blade",
    "The blade.",
    &[
        field(
            "powered",
            Holds::Flag,
            "true",
            "Whether a motor drives it; false for a hand saw",
        )
        .needed(),
        field(
            "kerf",
            Holds::AboveZero,
            "\"2.6 mm\"",
            "Width of a test groove, not of the tooth: runout widens it",
        )
        .needed(),
        field(
            "tooth",
            Holds::Word(&["flat-top", "alternate-bevel"]),
            "\"flat-top\"",
            "Form of the teeth: what the floor of a notch looks like",
        )
        .needed(),
        field(
            "bevel",
            Holds::Quantity(Angle),
            "\"15 deg\"",
            "Of the teeth's tops, below 45 deg",
        )
        .needed()
        .only(&[When::Is("blade.tooth", &["alternate-bevel"])]),
        field("diameter", Holds::AboveZero, "\"254 mm\"", "Over the teeth")
            .needed()
            .only(POWERED),
        field(
            "highest",
            Holds::AboveZero,
            "\"75 mm\"",
            "Greatest height of the blade over the table, less than half its diameter",
        )
        .needed()
        .only(POWERED),
        field(
            "travel",
            Holds::AboveZero,
            "\"330 mm\"",
            "How far the sled moves along the cut",
        )
        .needed()
        .only(POWERED),
        field(
            "overlap",
            Holds::AboveZero,
            "\"0.3 mm\"",
            "Least overlap where a notch takes more than one pass, less than the kerf",
        )
        .needed()
        .only(POWERED),
    ],
)
.needed();

const BASE: Table = table(
    "sled",
    "What strips lie on, and which of them fit.",
    &[
        field(
            "base_thickness",
            Holds::AboveZero,
            "\"12 mm\"",
            "Of the base, from table to strips",
        )
        .needed(),
        field(
            "widest_block",
            Holds::AboveZero,
            "\"60 mm\"",
            "Widest block of strips that is held as one clamped piece",
        )
        .needed(),
        field(
            "shortest_strip",
            Holds::AboveZero,
            "\"80 mm\"",
            "Shortest strip that it holds",
        )
        .needed(),
        field(
            "longest_strip",
            Holds::AboveZero,
            "\"900 mm\"",
            "Longest strip that it holds",
        )
        .needed(),
        field(
            "height_correction",
            Holds::Quantity(SignedLength),
            "\"0.1 mm\"",
            "Added to the blade's height; after a test lap add to what stands here (strip's depth less the \
             sum of both notches' depths) / 2",
        )
        .usual("0 mm"),
    ],
)
.needed();

const FENCE: Table = table(
    "fence",
    "The fence.",
    &[field(
        "swing",
        Holds::Quantity(Angle),
        "\"45 deg\"",
        "How far it turns from square to the blade, either way, less than 90 deg; where it does not turn, \
         slanted notches take a wedge",
    )
    .usual("0 deg: it is fixed")],
);

const STOP: Table = table(
    "stop",
    "The block on the sled's fence, or the fence's scale: from the stop's face to the near side of the kerf.",
    &[
        field(
            "nearest",
            Holds::Quantity(Length),
            "\"5 mm\"",
            "Least distance",
        )
        .needed(),
        field(
            "farthest",
            Holds::AboveZero,
            "\"850 mm\"",
            "Greatest distance",
        )
        .needed(),
        field(
            "repeatability",
            Holds::Quantity(Length),
            "\"0.1 mm\"",
            "How closely it comes back to a place, plus or minus",
        )
        .needed(),
    ],
)
.needed();

const SPACERS: Table = table(
    "spacers",
    "Blocks between the stop and the strips' ends; left out where none are used.",
    &[field(
        "tolerance",
        Holds::Quantity(Length),
        "\"0.03 mm\"",
        "How closely a spacer is made, plus or minus",
    )
    .needed()],
);

const RACK: Table = table(
    "rack",
    "Slots for a key that a notch just cut drops over: from the key's centre to the kerf's centre, slot by \
     slot. Left out where the sled has none.",
    &[
        field(
            "slots",
            Holds::Quantities(Length),
            "[\"23 mm\", \"31 mm\", \"38 mm\"]",
            "What the slots are called",
        )
        .needed(),
        field(
            "measured",
            Holds::Quantities(Length),
            "[\"23.03 mm\", \"30.98 mm\", \"38.02 mm\"]",
            "What they measure, in the same order: that is what counts",
        )
        .usual("as they are called"),
        field(
            "repeatability",
            Holds::Quantity(Length),
            "\"0.03 mm\"",
            "How closely a notch comes to lie over the key, plus or minus",
        )
        .needed(),
        field(
            "greatest_misfit",
            Holds::Quantity(Length),
            "\"0.15 mm\"",
            "A slot serves a step if it measures within this of it",
        )
        .needed(),
    ],
);

const MITRES: Table = table(
    "mitres",
    "Mitres of pieces that are sawn on long sticks; left out where none are.",
    &[
        SKIN,
        LEAST_SKIN,
        HEIGHT_ERROR,
        DEPTH_SPREAD,
        GRIP,
        LONGEST_STICK,
        field(
            "stop_board",
            Holds::Flag,
            "true",
            "Whether a board parallel to the blade can be the stop: it steps blocks by itself",
        )
        .usual("false"),
        field(
            "cross_board",
            Holds::Flag,
            "true",
            "Whether a straight board can be fixed to the fence, square to it",
        )
        .usual("false"),
        field(
            "wedge",
            Holds::Quantity(Angle),
            "\"45 deg\"",
            "Steepest wedge that you would put between fence and sticks, less than 90 deg",
        )
        .usual("0 deg: none"),
    ],
);
