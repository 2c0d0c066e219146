//! What is measured for machines of several kinds.

use crate::machines::Machine;
use crate::measuring::piece::{
    Fills, Given, Holds, Place, READINGS, Series, TestPiece, Unit, as_read, mean, nothing_beside,
    plus_minus,
};

pub(super) const ALL: &[TestPiece] = &[STRIP, DEPTH, BLOCK];

fn takes_strips(machine: &Machine) -> bool {
    !matches!(machine, Machine::Guides(_))
}

fn with_rows(machine: &Machine) -> bool {
    match machine {
        Machine::Sled(sled) => sled.mitres.is_some(),
        Machine::Router(router) => router.mitres.is_some(),
        Machine::Guides(_) | Machine::Laser(_) | Machine::SheetRouter(_) => false,
    }
}

const fn readings(means: &'static str) -> [Series; 1] {
    [Series {
        key: READINGS,
        may_be_none: false,
        means,
    }]
}

const THICKNESS: &[Series] = &readings("thickness of a strip");
const DEPTHS: &[Series] = &readings("depth of a strip");

const STRIP: TestPiece = TestPiece {
    name: "strip",
    title: "Thickness of strips",
    suits: takes_strips,
    given: &[],
    series: THICKNESS,
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: &[
        Fills {
            place: Place::Told(
                Unit::Length,
                "for the job: `measured_thickness` of its [strip]",
            ),
            name: "thickness of the strips",
            figure: mean,
        },
        Fills {
            place: Place::Field("spread.strip_thickness"),
            name: "thickness from strip to strip, plus or minus",
            figure: plus_minus,
        },
    ],
    cut: "5 strips of the batch, planed as they will be used; more are better.",
    caliper: "Outside jaws, once in the middle of each.",
};

const DEPTH: TestPiece = TestPiece {
    name: "depth",
    title: "Depth of strips",
    suits: with_rows,
    given: &[],
    series: DEPTHS,
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: &[
        Fills {
            place: Place::Field("mitres.depth_spread"),
            name: "depth from stick to stick, plus or minus",
            figure: plus_minus,
        },
        Fills {
            place: Place::Told(Unit::Length, "for the job: `measured_depth` of its [strip]"),
            name: "depth of the strips",
            figure: mean,
        },
    ],
    cut: "The same strips.",
    caliper: "Outside jaws front to back, once in the middle of each.",
};

const BLOCK: TestPiece = TestPiece {
    name: "mitre",
    title: "Guide blocks of 45 deg: two pared ends against a square",
    suits: |machine| matches!(machine, Machine::Guides(_)),
    given: &[Given {
        key: "length",
        holds: Holds::Length,
        means: "length of the square's blade from the corner to the gap",
    }],
    series: &[Series {
        key: "gap",
        may_be_none: true,
        means: "gap between square and wood at that end",
    }],
    times: 3,
    several: false,
    begun: |_, _| vec![vec![Some(60.0)]],
    of_one: |work, read| as_read(work, read) / (2.0 * work.of("length")),
    fills: &[Fills {
        place: Place::Told(
            Unit::Angle,
            "a block is right or is trued: a profile lists the angles that blocks are meant to have",
        ),
        name: "block off its angle by",
        figure: |work, told| {
            let (tangent, uncertainty) = mean(work, told);
            (tangent.atan(), uncertainty)
        },
    }],
    cut: "Pare two scraps on the block of 45 deg and hold both ends together: they make a corner. 3 pairs. Other blocks: a bevel gauge set by protractor.",
    caliper: "A square you trust into the corner; feeler leaves at the end of the blade that gapes. Two facets: the gap is twice the error.",
};
