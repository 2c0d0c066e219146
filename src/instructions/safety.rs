//! The usual cautions for each kind of machine.
//!
//! Common practice unless a source stands beside it. Every set ends with the note that manuals,
//! local codes and licensed practice come first.

use serde::Serialize;

/// Cautions for one machine; never empty.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct SafetyNotes(Vec<&'static str>);

/// Comes last in every set.
const DEFER: &str = "These notes do not replace the machine's manual, local codes or the advice of a licensed or trained professional: where they differ, those come first.";

const EYES_EARS_DUST: &str =
    "Wear eye and ear protection, and a mask against fine dust; run the dust extraction.";

/// Table saw with a sled.
const SAW: &[&str] = &[
    "A notch is a cut that does not go through: guard and riving knife come down or off for it. Put a sled cover, tunnel guard or crown guard and an exit block in their place, and refit both directly after.", // 29 CFR 1910.213(c); HSE information sheet WIS16
    "Where local codes forbid grooving on a saw bench without a special guard, do not do it there: a router or a hand saw makes the same notch.", // HSE L114, 2nd ed. 2014
    "Cut a bundle only as one rigid block, clamped or taped and held in the sled. Never loose strips side by side or stacked: then cut strip by strip.", // table saw warnings after EN/IEC 62841-3-1, number from memory
    "Never use the rip fence as a length stop for a part that comes free. For cut-offs the stop block ends well ahead of the blade.",
    "Do not cut strips shorter than the sled's stated minimum; notch a longer blank and cut it up afterwards.",
    "Hands stay on the sled's fence, clear of the blade's exit. Switch off and wait for the blade to stop before you reach for the work.",
    "Disconnect the saw before you change or measure the blade. Cut a test lap in scrap first.",
];

/// Bench hook with a hand saw.
const HAND_SAW: &[&str] = &[
    "Hold the block of strips firmly against the hook; saw away from the hand that holds.",
    "A bundle is sawn only as one rigid block, clamped or taped; else strip by strip.",
    "Keep both hands behind the edge of a chisel when you clear the waste.",
];

/// Of a bundle on a router.
const CLAMP_BUNDLE: &str = "Clamp the bundle as one rigid block, so that no strip can lift or creep. Check that no clamp stands in the tool's way.";

/// Three-axis router.
const ROUTER: &[&str] = &[
    "Run the program once in the air with the tool a safe height above the stock before the first cut; keep a hand at the stop button, and make sure that it can be reached.",
    CLAMP_BUNDLE,
    "Check zero, tool, units and spindle speed against this sheet before you start. See the spindle up to speed before the tool enters the wood.",
    "Keep hands out while the spindle turns; close the enclosure if there is one. Never leave it running alone.", // HSE information sheet WIS22
    "Disconnect the spindle before you change the tool.",
];

/// Laser cutter.
const LASER: &[&str] = &[
    "Never leave a running laser alone; have an extinguisher for it at hand.",
    "Never cut PVC or vinyl (it gives off hydrogen chloride), nor ABS, polycarbonate, PTFE, artificial leather, carbon fibre or a sheet of unknown make.",
    "Run exhaust or extraction during the cut and until the smoke is gone.",
    "Keep the enclosure closed and its interlocks working; at an open beam wear glasses made for its wavelength, and keep others out.",
    "Cut a small test first: focus, speed and power as the maker says, for this sheet.",
];

/// Router that cuts sheet.
const SHEET_ROUTER: &[&str] = &[
    "Run the program once in the air with the tool a safe height above the sheet before the first cut; keep a hand at the stop button, and make sure that it can be reached.",
    "Fasten the sheet flat on a board that may be cut into. Leave the bridges standing until the spindle is still: a part that comes free is thrown.",
    "Check zero, tool, units, depth and spindle speed before you start, and on which side of each line the tool will run.",
    "Keep hands out while the spindle turns; close the enclosure if there is one. Never leave it running alone.", // HSE information sheet WIS22
    "Disconnect the spindle before you change the tool.",
];

/// Mortises in rails, by drill, mortiser, router or chisel.
const MORTISES: &[&str] = &[
    "Clamp the rail against fence and stop; never hold it by hand under a drill, mortiser or router.",
    "Let the tool stop before you clear chips or move the rail. Disconnect it before you change the bit.",
    "Keep both hands behind the edge of a chisel when you square the corners.",
];

/// Paring guides.
const GUIDES: &[&str] = &[
    "Clamp the guide block; keep both hands behind the chisel's edge and out of its path.",
    "A sharp chisel needs less force: hone before a batch. Take thin shavings.",
];

/// Putting a panel together at the bench.
const ASSEMBLY: &[&str] = &[
    "Read the glue's label: air the room, and keep what it asks you to keep off skin and eyes.",
    "Trim overhangs with a fine saw or a sharp chisel, the panel clamped, both hands behind the edge.",
];

/// What a machine cannot make, and somebody makes all the same.
const OTHER_WAY: &[&str] = &[
    "Do not force on a machine what it cannot do: no work past its stops, its travel, its clamps or the least length that it holds.",
    "Whoever makes these parts another way, by hand or at another machine, reads the manual and the cautions for that way first.",
];

impl SafetyNotes {
    fn of(notes: &[&'static str], more: &[&'static str]) -> Self {
        SafetyNotes(notes.iter().chain(more).chain(&[DEFER]).copied().collect())
    }

    /// For a sled on a table saw, or on the bench if it has no motor.
    pub fn for_sled(powered: bool) -> Self {
        if powered {
            Self::of(SAW, &[EYES_EARS_DUST])
        } else {
            Self::of(HAND_SAW, &[])
        }
    }

    /// For a router.
    pub fn for_router() -> Self {
        Self::of(ROUTER, &[EYES_EARS_DUST])
    }

    /// For a laser.
    pub fn for_laser() -> Self {
        Self::of(LASER, &[])
    }

    /// For a router that cuts sheet.
    pub fn for_sheet_router() -> Self {
        Self::of(SHEET_ROUTER, &[EYES_EARS_DUST])
    }

    /// For mortises in a frame's rails, and for the router whose programs cut them, if any do.
    pub fn for_mortises(by_program: bool) -> Self {
        let router = if by_program { ROUTER } else { &[] };
        let notes = router.iter().filter(|note| **note != CLAMP_BUNDLE);
        let notes: Vec<&'static str> = notes.chain(MORTISES).copied().collect();
        Self::of(&notes, &[EYES_EARS_DUST])
    }

    /// For paring guides.
    pub fn for_guides() -> Self {
        Self::of(GUIDES, &[])
    }

    /// For putting a panel together.
    pub fn for_assembly() -> Self {
        Self::of(ASSEMBLY, &[])
    }

    /// For parts that are not made here.
    pub fn for_other_ways() -> Self {
        Self::of(OTHER_WAY, &[])
    }

    /// The notes in order.
    pub fn notes(&self) -> &[&'static str] {
        &self.0
    }
}
