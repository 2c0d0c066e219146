//! Test pieces of a sled or a bench hook.

use crate::machines::{Machine, Sled};
use crate::measuring::piece::{
    Fills, Given, Holds, Place, READINGS, Series, TestPiece, Told, Unit, Work, as_read, mean,
    nothing_beside, plus_minus,
};
use crate::measuring::statistics::Uncertainty;

/// Narrower grooves than this the tips of a caliper do not enter: feeler leaves do. Common practice, no
/// source, mm.
const LEAST_FOR_TIPS_MM: f64 = 1.5;

/// Of the caliper's length, what a stepped strip leaves for its first notch and last. For show, mm.
const BESIDE_STEPS_MM: f64 = 10.0;

/// More steps than this nobody takes on a test strip.
const MOST_STEPS: f64 = 12.0;

fn sled(machine: &Machine) -> Option<&Sled> {
    match machine {
        Machine::Sled(sled) => Some(sled),
        _ => None,
    }
}

fn any_sled(machine: &Machine) -> bool {
    sled(machine).is_some()
}

fn wide_kerf(machine: &Machine) -> bool {
    sled(machine).is_some_and(|sled| sled.blade.kerf >= LEAST_FOR_TIPS_MM)
}

fn narrow_kerf(machine: &Machine) -> bool {
    any_sled(machine) && !wide_kerf(machine)
}

fn powered(machine: &Machine) -> bool {
    sled(machine).is_some_and(|sled| sled.blade.powered.is_some())
}

fn by_hand(machine: &Machine) -> bool {
    any_sled(machine) && !powered(machine)
}

fn with_rack(machine: &Machine) -> bool {
    sled(machine).is_some_and(|sled| sled.rack.is_some())
}

fn with_stop(machine: &Machine) -> bool {
    sled(machine).is_some_and(|sled| sled.stop.is_some())
}

const fn series(key: &'static str, means: &'static str) -> Series {
    Series {
        key,
        may_be_none: false,
        means,
    }
}

const ACROSS: Series = series(
    "across",
    "from the outer wall of the one notch to the outer wall of the other",
);
const BETWEEN: Series = series("between", "over the wood between both notches");

pub(super) const ALL: &[TestPiece] = &[
    GROOVES,
    GROOVE,
    SLOT,
    SEAT,
    STOP,
    STOP_SEAT,
    STOP_SCALE,
    LAP,
    BLADE_SQUARE,
    FENCE_SQUARE,
    SAW_SQUARE,
    HOOK_SQUARE,
];

const KERF: &[Fills] = &[
    Fills {
        place: Place::Field("blade.kerf"),
        name: "kerf",
        figure: mean,
    },
    Fills {
        place: Place::Field("spread.kerf"),
        name: "kerf from cut to cut, plus or minus",
        figure: plus_minus,
    },
];

/// Outer wall to outer wall is the pitch and a kerf, the wood between is the pitch less a kerf.
const GROOVES: TestPiece = TestPiece {
    name: "grooves",
    title: "Kerf",
    suits: wide_kerf,
    given: &[],
    series: &[ACROSS, BETWEEN],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: |_, read| (sum(read) - 2.0 * read.get(1).copied().unwrap_or(f64::NAN)) / 2.0,
    fills: KERF,
    cut: "Two grooves 30 to 60 mm apart in a scrap, one pass each; 5 scraps.",
    caliper: "across: inside jaws, outer wall to outer wall. between: outside jaws over the wood between.",
};

const GROOVE: TestPiece = TestPiece {
    name: "groove",
    title: "Kerf",
    suits: narrow_kerf,
    given: &[],
    series: &[series(READINGS, "width of the groove")],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: KERF,
    cut: "A groove in a scrap, one pass; 5 scraps.",
    caliper: "Feeler leaves that together just go in without force: the groove's width.",
};

/// Every step adds the slot once, walls of one side of the kerf apart: the wood between the first
/// notch and the last lacks a notch's width, outer wall to outer wall has one more.
const SLOT: TestPiece = TestPiece {
    name: "slot",
    title: "Slots of the rack",
    suits: with_rack,
    given: &[
        Given {
            key: "slot",
            holds: Holds::Length,
            means: "what the slot is called in the profile",
        },
        Given {
            key: "steps",
            holds: Holds::Count(1, 100),
            means: "how often the strip was stepped over it",
        },
    ],
    series: &[ACROSS, BETWEEN],
    times: 3,
    several: true,
    begun: stepped_slots,
    of_one: |work, read| sum(read) / (2.0 * work.of("steps")),
    fills: &[Fills {
        place: Place::Slot,
        name: "slot",
        figure: mean,
    }],
    cut: "Key in the slot: notch a strip, drop the notch over the key, notch again, as many steps as stand beside the slot. 3 strips a slot, each stepped anew; a strip's two edges do for two slots.",
    caliper: "across and between as above, from the first notch to the last: together twice the slot times the steps.",
};

fn stepped_slots(machine: &Machine, caliper: f64) -> Vec<Vec<Option<f64>>> {
    let rack = sled(machine).and_then(|sled| sled.rack.as_ref());
    let slots = rack.iter().flat_map(|rack| &rack.slots);
    let of_slot = |slot: f64| {
        let room = caliper - BESIDE_STEPS_MM;
        vec![
            Some(slot),
            Some((room / slot).floor().clamp(1.0, MOST_STEPS)),
        ]
    };
    slots.map(|slot| of_slot(slot.nominal)).collect()
}

const SEAT: TestPiece = TestPiece {
    name: "seat",
    title: "Seat on the key",
    suits: with_rack,
    given: &[],
    series: &[series(
        READINGS,
        "over the wood between neighbouring notches of one strip",
    )],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: &[Fills {
        place: Place::Field("rack.repeatability"),
        name: "seat on the key, plus or minus",
        figure: plus_minus,
    }],
    cut: "A strip stepped 5 times over the smallest slot.",
    caliper: "Outside jaws over the wood of every bay.",
};

const STOP_SET: Given = Given {
    key: "set",
    holds: Holds::Length,
    means: "what the stop was set to: its face to the near side of the kerf",
};

const STOP_READ: &[Series] = &[series(
    READINGS,
    "from the strip's end to the near wall of its notch",
)];

const STOP: TestPiece = TestPiece {
    name: "stop",
    title: "Stop",
    suits: with_stop,
    given: &[STOP_SET],
    series: STOP_READ,
    times: 5,
    several: false,
    begun: |machine, _| vec![vec![Some(at_stop(machine, 60.0))]],
    of_one: |work, read| sum(read) - work.of("set"),
    fills: &[
        Fills {
            place: Place::Field("stop.repeatability"),
            name: "stop set anew, plus or minus",
            figure: plus_minus,
        },
        OFF_SET,
    ],
    cut: "Set it, notch a scrap with its clean end against it, move it away, set it anew; 5 scraps.",
    caliper: "Outside jaws from the end to the near wall of the notch.",
};

/// The stop stays where it is: what differs is how the ends lie against it.
const STOP_SEAT: TestPiece = TestPiece {
    name: "stop-seat",
    title: "Seat on the stop",
    given: &[],
    begun: nothing_beside,
    of_one: as_read,
    fills: &[Fills {
        place: Place::Field("spread.seat"),
        name: "seat on the stop, plus or minus",
        figure: plus_minus,
    }],
    cut: "The stop stays where it is; 5 scraps one after the other.",
    caliper: "Read as above.",
    ..STOP
};

const OFF_SET: Fills = Fills {
    place: Place::Told(
        Unit::Length,
        "further from the stop than it was set where above zero: move the scale's pointer by as much, or set by caliper",
    ),
    name: "stop off its setting by",
    figure: mean,
};

const STOP_SCALE: TestPiece = TestPiece {
    name: "stop-scale",
    title: "Scale of the stop, if it has one",
    suits: with_stop,
    given: &[STOP_SET],
    series: STOP_READ,
    times: 2,
    several: true,
    begun: |machine, caliper| vec![vec![Some(at_stop(machine, caliper - BESIDE_STEPS_MM))]],
    of_one: |work, read| sum(read) - work.of("set"),
    fills: &[OFF_SET],
    cut: "Set it far out; 2 scraps.",
    caliper: "Read as above. Off by as much as at the near setting: move the pointer; else set by caliper.",
};

/// A setting that the stop can have.
fn at_stop(machine: &Machine, wanted: f64) -> f64 {
    let stop = sled(machine).and_then(|sled| sled.stop);
    stop.map_or(wanted, |stop| wanted.clamp(stop.nearest, stop.farthest))
}

fn lacks(_: &Work<'_>, read: &[f64]) -> f64 {
    let both = read.get(1).copied().unwrap_or(f64::NAN) + read.get(2).copied().unwrap_or(f64::NAN);
    (read.first().copied().unwrap_or(f64::NAN) - both) / 2.0
}

/// What the blade lacks at the correction that was in force is added to it.
const LAP: TestPiece = TestPiece {
    name: "lap",
    title: "Height",
    suits: any_sled,
    given: &[Given {
        key: "correction",
        holds: Holds::Signed,
        means: "height_correction of the profile when the laps were cut",
    }],
    series: &[
        series("depth", "the strip's own depth"),
        series("first", "depth of the one notch"),
        series("second", "depth of the other"),
    ],
    times: 5,
    several: false,
    begun: |machine, _| vec![vec![sled(machine).map(|sled| sled.height_correction)]],
    of_one: lacks,
    fills: &[
        Fills {
            place: Place::Field("sled.height_correction"),
            name: "height correction",
            figure: |work, told| {
                let (lacks, uncertainty) = mean(work, told);
                (work.of("correction") + lacks, uncertainty)
            },
        },
        Fills {
            place: Place::Field("spread.height"),
            name: "height set anew, plus or minus",
            figure: plus_minus,
        },
        Fills {
            place: Place::Field("mitres.height_error"),
            name: "height of mitres set anew, plus or minus",
            figure: plus_minus,
        },
    ],
    cut: "Set for half of the strip's depth, the profile's correction added: notch two scraps. Set anew for the next two; 5 pairs.",
    caliper: "depth: outside jaws over the strip. first, second: depth rod into either notch, where its floor is deepest.",
};

/// Both halves of a cut board against each other, one turned over: the gap is twice what the cut is off.
fn half_gap(work: &Work<'_>, read: &[f64]) -> f64 {
    sum(read) / (2.0 * work.of("length"))
}

const GAP: &[Series] = &[Series {
    key: "gap",
    may_be_none: true,
    means: "gap at the open end",
}];

const fn over(means: &'static str) -> [Given; 1] {
    [Given {
        key: "length",
        holds: Holds::Length,
        means,
    }]
}

const HEIGHT_OF_CUT: &[Given] = &over("height of the cut, from the edge that closes to the gap");
const LENGTH_OF_CUT: &[Given] = &over("length of the cut, from the edge that closes to the gap");

const BLADE_SQUARE: TestPiece = TestPiece {
    name: "blade-square",
    title: "Blade square to the base",
    suits: powered,
    given: HEIGHT_OF_CUT,
    series: GAP,
    times: 2,
    several: false,
    begun: |_, _| vec![vec![Some(40.0)]],
    of_one: half_gap,
    fills: &[Fills {
        place: Place::Told(
            Unit::Angle,
            "notches lean as much: set the blade square before strips are cut, and measure again",
        ),
        name: "blade off square by",
        figure: angle,
    }],
    cut: "Crosscut a planed batten on edge, 40 mm high and clamped; it is cut through: riving knife on, guards as the manual has it. Turn the off-cut upside down, butt both ends on a flat board.",
    caliper: "Feeler leaves where they gape: the gap is twice the error.",
};

/// By hand there is no knife and no guard.
const SAW_SQUARE: TestPiece = TestPiece {
    suits: by_hand,
    cut: "Saw through a planed batten on edge, 40 mm high, clamped against the hook over a scrap. Turn the off-cut upside down, butt both ends on a flat board.",
    ..BLADE_SQUARE
};

const HOOK_SQUARE: TestPiece = TestPiece {
    suits: by_hand,
    cut: "The same with a board that has parallel edges, lying flat, as wide as stands beside; both ends along a straightedge.",
    ..FENCE_SQUARE
};

const FENCE_SQUARE: TestPiece = TestPiece {
    name: "fence-square",
    title: "Fence square to the blade",
    suits: powered,
    given: LENGTH_OF_CUT,
    series: GAP,
    times: 2,
    several: false,
    begun: |machine, _| vec![vec![sled(machine).map(|sled| sled.widest_block)]],
    of_one: half_gap,
    fills: &[Fills {
        place: Place::Told(
            Unit::Angle,
            "notches run as slanted: set the fence square before strips are cut, and measure again",
        ),
        name: "fence off square by",
        figure: angle,
    }],
    cut: "The same with a board that has parallel edges, lying flat, as wide as stands beside; both ends along a straightedge.",
    caliper: "Read as above.",
};

/// The tangent of so small an angle as the angle, rad.
fn angle(work: &Work<'_>, told: &Told) -> (f64, Uncertainty) {
    let (tangent, uncertainty) = mean(work, told);
    (tangent.atan(), uncertainty)
}

fn sum(read: &[f64]) -> f64 {
    read.iter().sum()
}
