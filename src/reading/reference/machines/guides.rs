//! Profiles of paring guides.

use super::common::{ABOUT, RECORDS, kind};
use crate::reading::reference::field::{Holds, Reference, Table, field, table};
use crate::units::Kind::{Angle, Length};

/// Paring guides.
pub(in crate::reading::reference) const GUIDES: Reference = Reference {
    name: "guides",
    about: "Guide blocks with a stop, for paring mitred pieces with a chisel or a plane.",
    tables: &[TOP, BLOCKS, RECORDS],
};

const TOP: Table = table("", "", &[kind("\"guides\""), ABOUT]).needed();

const BLOCKS: Table = table(
    "guides",
    "The blocks that there are, and their stop.",
    &[
        field(
            "angles",
            Holds::Quantities(Angle),
            "[\"22.5 deg\", \"45 deg\", \"67.5 deg\"]",
            "Between a guide's face and the piece's axis, each between 0 and 90 deg; of blocks with a blunt corner, for birds' mouths, between 90 and 180 deg",
        )
        .needed(),
        field(
            "stop_nearest",
            Holds::Quantity(Length),
            "\"8 mm\"",
            "Least distance from the stop to where the guide's plane meets the fence",
        )
        .needed(),
        field(
            "stop_farthest",
            Holds::AboveZero,
            "\"160 mm\"",
            "Greatest distance, measured alike",
        )
        .needed(),
        field(
            "block_length",
            Holds::AboveZero,
            "\"120 mm\"",
            "Along the fence, from the square end to the sharp corner; guides are drawn by it",
        )
        .needed(),
    ],
)
.needed();
