//! Test pieces of a router.

use crate::machines::{Machine, Router};
use crate::measuring::piece::{
    Fills, Given, Holds, Place, READINGS, Series, TestPiece, Unit, as_read, mean, nothing_beside,
    plus_minus,
};
use crate::measuring::statistics::Uncertainty;

fn router(machine: &Machine) -> Option<&Router> {
    match machine {
        Machine::Router(router) => Some(router),
        _ => None,
    }
}

fn any_router(machine: &Machine) -> bool {
    router(machine).is_some()
}

const fn series(key: &'static str, means: &'static str) -> Series {
    Series {
        key,
        may_be_none: false,
        means,
    }
}

const AXES: Given = Given {
    key: "axis",
    holds: Holds::Word(&["x", "y", "z"]),
    means: "which axis",
};

pub(super) const ALL: &[TestPiece] = &[CUTTER, NOTCH, DEPTH_OF_CUT, AXIS, BACKLASH];

const CUTTER: TestPiece = TestPiece {
    name: "cutter",
    title: "Cutter: over its edges",
    suits: any_router,
    given: &[],
    series: &[series(READINGS, "over the cutting edges")],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: &[Fills {
        place: Place::Field("tool.diameter"),
        name: "cutter over its edges",
        figure: mean,
    }],
    cut: "Nothing to cut: the spindle disconnected, or the cutter out of it.",
    caliper: "Outside jaws over the edges, the cutter turned a little between readings: the greatest each time. Edges cut fingers, and jaws nick edges: no force.",
};

/// The program was written for the cutter with the trim of the profile: for the cutter alone the notch
/// was programmed as much narrower.
const NOTCH: TestPiece = TestPiece {
    name: "notch",
    title: "Width of a notch as cut",
    suits: any_router,
    given: &[
        Given {
            key: "programmed",
            holds: Holds::Length,
            means: "width of the notches on the sheet or in the program's remarks",
        },
        Given {
            key: "trim",
            holds: Holds::Signed,
            means: "notch_measured less notch_programmed in the profile when the program was written",
        },
    ],
    series: &[
        series(
            "across",
            "from the outer wall of the one notch to the outer wall of the other",
        ),
        series("between", "over the wood between both notches"),
    ],
    times: 5,
    several: false,
    begun: |machine, _| {
        let trim = router(machine).map(|router| router.tool.diameter - router.tool.over_edges);
        vec![vec![None, trim]]
    },
    of_one: |_, read| {
        let [across, between] = [0, 1].map(|at| read.get(at).copied().unwrap_or(f64::NAN));
        (across - between) / 2.0
    },
    fills: &[
        Fills {
            place: Place::Field("measured.notch_measured"),
            name: "test notch as cut",
            figure: mean,
        },
        Fills {
            place: Place::Field("spread.kerf"),
            name: "width from notch to notch, plus or minus",
            figure: plus_minus,
        },
        Fills {
            place: Place::Field("measured.notch_programmed"),
            name: "test notch as programmed",
            figure: |work, _| {
                let programmed = work.of("programmed") - work.of("trim");
                (
                    programmed,
                    Uncertainty {
                        standard: 0.0,
                        freedom: f64::INFINITY,
                    },
                )
            },
        },
    ],
    cut: "Cut a bundle of scraps with a program of a small job: 5 pairs of neighbouring notches of one width.",
    caliper: "across: inside jaws, from the outer wall of one notch to the outer wall of the next. between: outside jaws over the wood between them.",
};

const DEPTH_OF_CUT: TestPiece = TestPiece {
    name: "cut-depth",
    title: "Depth of cut, zero set anew",
    suits: any_router,
    given: &[Given {
        key: "programmed",
        holds: Holds::Length,
        means: "depth of the notches in the program",
    }],
    series: &[series(READINGS, "depth of a notch")],
    times: 5,
    several: false,
    begun: |_, _| vec![vec![None]],
    of_one: |work, read| as_read(work, read) - work.of("programmed"),
    fills: &[
        Fills {
            place: Place::Field("spread.height"),
            name: "depth with zero set anew, plus or minus",
            figure: plus_minus,
        },
        Fills {
            place: Place::Field("mitres.height_error"),
            name: "depth of mitres with zero set anew, plus or minus",
            figure: plus_minus,
        },
        Fills {
            place: Place::Told(
                Unit::Length,
                "too deep where above zero: set the zero of Z as much higher",
            ),
            name: "cuts deeper than programmed by",
            figure: mean,
        },
    ],
    cut: "Notch a scrap at one place, set the zero of Z anew and notch the next: 5 scraps.",
    caliper: "Depth rod into the notch, its foot on both sides of it.",
};

const AXIS: TestPiece = TestPiece {
    name: "axis",
    title: "Scale of an axis",
    suits: any_router,
    given: &[
        AXES,
        Given {
            key: "programmed",
            holds: Holds::Length,
            means: "how far apart the walls are in the program",
        },
    ],
    series: &[series(
        READINGS,
        "from a wall of the first notch to the like wall of the last",
    )],
    times: 3,
    several: true,
    begun: |_, caliper| {
        [0.0, 1.0]
            .map(|axis| vec![Some(axis), Some(caliper - 10.0)])
            .into()
    },
    of_one: |work, read| as_read(work, read) / work.of("programmed"),
    fills: &[Fills {
        place: Place::Told(
            Unit::Share,
            "of what was programmed: divide the controller's steps per millimetre by it",
        ),
        name: "axis goes",
        figure: mean,
    }],
    cut: "Along X: two notches of one program far apart. Along Y: the same program, the strip laid along Y. All cuts reached from one side, else backlash is in them.",
    caliper: "Like walls: the mean of inside jaws over both outer walls and outside jaws over the wood between.",
};

const BACKLASH: TestPiece = TestPiece {
    name: "backlash",
    title: "Backlash of an axis",
    suits: any_router,
    given: &[AXES],
    series: &[Series {
        key: READINGS,
        may_be_none: true,
        means: "what a move back falls short of the move out",
    }],
    times: 3,
    several: true,
    begun: |_, _| vec![vec![Some(0.0)], vec![Some(1.0)]],
    of_one: as_read,
    fills: &[Fills {
        place: Place::Told(
            Unit::Length,
            "of play: tighten nut or belt, or enter it in the controller where that has a setting for it",
        ),
        name: "backlash",
        figure: mean,
    }],
    cut: "Nothing to cut, spindle off: a caliper's depth rod, or a dial, between frame and carriage. Move the axis out by 10 mm, set the caliper to zero, move on by 5 mm and back by 5 mm.",
    caliper: "What it lacks of zero, X and Y each.",
};
