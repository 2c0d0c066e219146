//! Test pieces of lasers and of routers that cut sheet.

use crate::machines::{Laser, Machine};
use crate::measuring::piece::{
    Fills, Given, Holds, Place, READINGS, Series, TestPiece, as_read, mean, nothing_beside,
};
use crate::measuring::statistics::Uncertainty;

fn laser(machine: &Machine) -> bool {
    matches!(machine, Machine::Laser(_))
}

fn sheet_router(machine: &Machine) -> bool {
    matches!(machine, Machine::SheetRouter(_))
}

fn for_sheet(machine: &Machine) -> Option<&Laser> {
    match machine {
        Machine::Laser(laser) | Machine::SheetRouter(laser) => Some(laser),
        _ => None,
    }
}

pub(super) const ALL: &[TestPiece] = &[COMB, SHEET_CUTTER, FIT];

const COMB: TestPiece = TestPiece {
    name: "comb",
    title: "Kerf: parallel cuts",
    suits: laser,
    given: &[Given {
        key: "cuts",
        holds: Holds::Count(1, 100),
        means: "how many cuts there are, the ends of the window counted",
    }],
    series: &[Series {
        key: "gap",
        may_be_none: false,
        means: "what the parts, pushed together, lack of what was drawn",
    }],
    times: 5,
    several: false,
    begun: |_, _| vec![vec![Some(10.0)]],
    of_one: |work, read| as_read(work, read) / work.of("cuts"),
    fills: &[Fills {
        place: Place::Field("laser.kerf"),
        name: "kerf",
        figure: mean,
    }],
    cut: "In a drawing without any kerf allowed for: a window about 100 mm wide and 8 lines across it, from side to side. With the window's own two ends these are 10 cuts. 5 windows, in the very sheet you use.",
    caliper: "Push all parts together to one end of the window. gap: what stays open at the other end, by inside jaws or feeler leaves: all 10 grooves together.",
};

const SHEET_CUTTER: TestPiece = TestPiece {
    name: "cutter",
    title: "Cutter: over its edges",
    suits: sheet_router,
    given: &[],
    series: &[Series {
        key: READINGS,
        may_be_none: false,
        means: "over the cutting edges",
    }],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: &[Fills {
        place: Place::Field("cutter.diameter"),
        name: "cutter over its edges",
        figure: mean,
    }],
    cut: "Nothing to cut: the spindle disconnected, or the cutter out of it.",
    caliper: "Outside jaws over the edges, the cutter turned a little between readings: the greatest each time. Edges cut fingers, and jaws nick edges: no force.",
};

const FIT: TestPiece = TestPiece {
    name: "fit",
    title: "Fit: the slot of a comb that takes a strip",
    suits: |machine| for_sheet(machine).is_some(),
    given: &[Given {
        key: "slot",
        holds: Holds::Length,
        means: "label of the slot that takes the strip as you want it",
    }],
    series: &[Series {
        key: READINGS,
        may_be_none: false,
        means: "thickness of the strip that was tried",
    }],
    times: 5,
    several: false,
    begun: |_, _| vec![vec![None]],
    of_one: as_read,
    fills: &[
        Fills {
            place: Place::Field("fit.strip"),
            name: "strip that fitted",
            figure: mean,
        },
        Fills {
            place: Place::Field("fit.slot"),
            name: "slot that fitted",
            figure: |work, _| {
                (
                    work.of("slot"),
                    Uncertainty {
                        standard: 0.0,
                        freedom: f64::INFINITY,
                    },
                )
            },
        },
    ],
    cut: "Write the kerf into the profile first. Then `lapwright outline JOB --what comb --slots 2.7mm,2.8mm,2.9mm -o comb.dxf` draws slots with their labels; cut them and try a strip in each.",
    caliper: "Outside jaws over that strip, at 5 places where it was tried.",
};
