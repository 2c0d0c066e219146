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
    STOP_SCALE,
    LAP,
    BLADE_SQUARE,
    FENCE_SQUARE,
    SAW_SQUARE,
    HOOK_SQUARE,
];

const KERF: &[Fills] = &[Fills {
    place: Place::Field("blade.kerf"),
    name: "kerf",
    figure: mean,
}];

/// Outer wall to outer wall is the pitch and a kerf, the wood between is the pitch less a kerf.
const GROOVES: TestPiece = TestPiece {
    name: "grooves",
    title: "Kerf: two grooves",
    suits: wide_kerf,
    given: &[],
    series: &[ACROSS, BETWEEN],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: |_, read| (sum(read) - 2.0 * read.get(1).copied().unwrap_or(f64::NAN)) / 2.0,
    fills: KERF,
    cut: "Notch 5 scraps at two places each, 30 to 60 mm apart, one pass a notch.",
    caliper: "across: inside jaws, outer wall to outer wall. between: outside jaws over the wood between. Half their difference is the kerf.",
};

const GROOVE: TestPiece = TestPiece {
    name: "groove",
    title: "Kerf: a groove",
    suits: narrow_kerf,
    given: &[],
    series: &[series(READINGS, "width of the groove")],
    times: 5,
    several: false,
    begun: nothing_beside,
    of_one: as_read,
    fills: KERF,
    cut: "Saw a groove into 5 scraps, one pass each.",
    caliper: "Feeler leaves that together just go in without force: the width of the groove.",
};

/// Every step adds the slot once, walls of one side of the kerf apart: the wood between the first
/// notch and the last lacks a notch's width, outer wall to outer wall has one more.
const SLOT: TestPiece = TestPiece {
    name: "slot",
    title: "Slots of the rack: a strip stepped over each",
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
    cut: "Set the key to a slot. Notch a strip near its end, drop that notch over the key, notch again, and so on, as many steps as stand beside the slot: one notch more than steps. 3 strips for each slot, each stepped anew. A strip has two edges and does for two slots.",
    caliper: "First notch and last. across: inside jaws, outer wall to outer wall. between: outside jaws over all the wood between. Together they are twice the slot times the steps, so the caliper's error is divided by these.",
};

fn stepped_slots(machine: &Machine, caliper: f64) -> Vec<Vec<f64>> {
    let rack = sled(machine).and_then(|sled| sled.rack.as_ref());
    let slots = rack.iter().flat_map(|rack| &rack.slots);
    let of_slot = |slot: f64| {
        let room = caliper - BESIDE_STEPS_MM;
        vec![slot, (room / slot).floor().clamp(1.0, MOST_STEPS)]
    };
    slots.map(|slot| of_slot(slot.nominal)).collect()
}

const SEAT: TestPiece = TestPiece {
    name: "seat",
    title: "Seat on the key: steps of one strip",
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
        name: "seat on the key",
        figure: plus_minus,
    }],
    cut: "Step one strip 5 times over the smallest slot (a strip of the step before may have them already).",
    caliper: "Outside jaws over the wood of every bay: what differs is the seat on the key.",
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
    title: "Stop: set anew for every cut",
    suits: with_stop,
    given: &[STOP_SET],
    series: STOP_READ,
    times: 5,
    several: false,
    begun: |machine, _| vec![vec![at_stop(machine, 60.0)]],
    of_one: |work, read| sum(read) - work.of("set"),
    fills: &[
        Fills {
            place: Place::Field("stop.repeatability"),
            name: "stop, set anew",
            figure: plus_minus,
        },
        OFF_SET,
    ],
    cut: "Set the stop, notch a scrap with its clean end against it, move the stop away and set it anew: 5 scraps.",
    caliper: "Outside jaws, from the scrap's end to the near wall of its notch.",
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
    title: "Stop: its scale farther out",
    suits: with_stop,
    given: &[STOP_SET],
    series: STOP_READ,
    times: 2,
    several: true,
    begun: |machine, caliper| {
        let far = caliper - BESIDE_STEPS_MM;
        vec![vec![at_stop(machine, 20.0)], vec![at_stop(machine, far)]]
    },
    of_one: |work, read| sum(read) - work.of("set"),
    fills: &[OFF_SET],
    cut: "Only where the stop has a scale: the same at a near and at a far setting, 2 scraps each.",
    caliper: "As before. Both off alike: move the pointer. Not alike: the scale is long or short, so set by caliper.",
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
    title: "Blade's height: a test lap",
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
    begun: |machine, _| {
        vec![vec![
            sled(machine).map_or(0.0, |sled| sled.height_correction),
        ]]
    },
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
            place: Place::Field("mitres.height_error"),
            name: "height, set anew",
            figure: plus_minus,
        },
    ],
    cut: "Set the height for half of the strip's depth, the profile's correction added. Notch two scraps. Set the height anew for the next two: 5 pairs.",
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
    title: "Blade square to the base: flip test",
    suits: powered,
    given: HEIGHT_OF_CUT,
    series: GAP,
    times: 2,
    several: false,
    begun: |_, _| vec![vec![40.0]],
    of_one: half_gap,
    fills: &[Fills {
        place: Place::Told(
            Unit::Angle,
            "notches lean as much: set the blade square before strips are cut, and measure again",
        ),
        name: "blade off square by",
        figure: angle,
    }],
    cut: "Crosscut a planed batten on edge, 40 mm high, clamped to the fence. It is cut through: riving knife on, guards as the manual has it. Turn the off-cut upside down and butt both ends on a flat board.",
    caliper: "Feeler leaves where the joint gapes, above or below. The gap is twice the error.",
};

/// By hand there is no knife and no guard.
const SAW_SQUARE: TestPiece = TestPiece {
    suits: by_hand,
    cut: "Saw through a planed batten on edge, 40 mm high, clamped against the hook, a scrap under it. Turn the off-cut upside down and butt both ends on a flat board.",
    ..BLADE_SQUARE
};

const HOOK_SQUARE: TestPiece = TestPiece {
    suits: by_hand,
    cut: "Saw through a board with parallel edges, lying flat and clamped, as long a cut as stands beside. Turn the off-cut upside down and butt both ends along a straightedge.",
    ..FENCE_SQUARE
};

const FENCE_SQUARE: TestPiece = TestPiece {
    name: "fence-square",
    title: "Fence square to the blade: flip test",
    suits: powered,
    given: LENGTH_OF_CUT,
    series: GAP,
    times: 2,
    several: false,
    begun: |machine, _| vec![vec![sled(machine).map_or(60.0, |sled| sled.widest_block)]],
    of_one: half_gap,
    fills: &[Fills {
        place: Place::Told(
            Unit::Angle,
            "notches run as slanted: set the fence square before strips are cut, and measure again",
        ),
        name: "fence off square by",
        figure: angle,
    }],
    cut: "Crosscut a board with parallel edges, lying flat and clamped, as long a cut as stands beside: through the wood, as before. Turn the off-cut upside down and butt both ends along a straightedge.",
    caliper: "Feeler leaves where the joint gapes. The gap is twice the error.",
};

/// The tangent of so small an angle as the angle, rad.
fn angle(work: &Work<'_>, told: &Told) -> (f64, Uncertainty) {
    let (tangent, uncertainty) = mean(work, told);
    (tangent.atan(), uncertainty)
}

fn sum(read: &[f64]) -> f64 {
    read.iter().sum()
}
