//! The usual cautions for each kind of machine, in full and in short.
//!
//! Common practice unless a source stands beside it. Every set, in full and in short, ends with the
//! note that manuals, local codes and licensed practice come first. Sheets, programs and JSON carry
//! the full set; drawings, pages to be laid on wood and answers of a line or two carry the short one.
//! Whatever writes one of these takes the notes with it: none can be made without.

use crate::lattice::PieceWay;

/// Cautions for one machine; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SafetyNotes {
    all: Vec<&'static str>,
    short: &'static str,
}

/// Comes last in every set.
const DEFER: &str = "These notes do not replace the machine's manual, local codes or the advice of a licensed or trained professional: where they differ, those come first.";

/// Comes last in every short set.
const SHORT_DEFER: &str = "The machine's manual, local codes and licensed practice come first; the set-up sheet has all notes.";

const EYES_EARS_DUST: &str =
    "Wear eye and ear protection, and a mask against fine dust; run the dust extraction.";

/// Table saw with a sled.
const SAW: &[&str] = &[
    "A notch is a cut that does not go through: guard and riving knife come down or off for it. Put a sled cover, tunnel guard or crown guard and an exit block in their place, and refit both directly after.", // 29 CFR 1910.213(c); HSE information sheet WIS16
    "Where local codes forbid grooving on a saw bench without a special guard, do not do it there: a router or a hand saw makes the same notch.", // HSE L114, 2nd ed. 2014
    "Cut a bundle only as one rigid block, clamped or taped and held in the sled. Never notch loose strips side by side or stacked; what cannot be clamped is cut one strip at a time.", // table saw warnings after EN/IEC 62841-3-1, number from memory
    "Never use the rip fence as a length stop for a part that comes free. For cut-offs the stop block ends well ahead of the blade.",
    "Do not cut strips shorter than the sled's stated minimum; notch a longer blank and cut it up afterwards.",
    "Hands stay on the sled's fence, clear of the blade's exit. Switch off and wait for the blade to stop before you reach for the work.",
    "Disconnect the saw before you change or measure the blade. Cut a test lap in scrap first.",
];

const SAW_SHORT: &str = "Saw bundles only as one rigid block, hands clear of the blade; refit the guards after notching; wear eye, ear and dust protection.";

/// Mitres in rows on long sticks at a table saw: cuts that do not go through.
const ROW_MITRES: &[&str] = &[
    "A cut that leaves a skin is grooving: guard and riving knife come down or off for it. Put a sled cover, tunnel guard or crown guard and an exit block in their place, and refit both directly after. Where local codes forbid grooving on a saw bench, do not do it there.", // 29 CFR 1910.213(c); HSE information sheet WIS16; HSE L114, 2nd ed. 2014
    "A bare skin does not hold: only sticks taped to their battens, clamped as one rigid block. Never cut a piece out of the stick with the blade; if one comes loose, switch off and wait.",
    "Hands stay on the sled, 300 mm from the blade; clamps, fence and sticks clear of it over all of the travel, at every angle of the fence. Clear slivers with a stick, when the blade stands.", // HSE web page on cross-cut saws, 2019
    "Disconnect the saw before you change or measure the blade, or turn the fence past it. Cut a test joint in scrap first.",
];

const ROW_MITRES_SHORT: &str = "Mitre rows only taped to their battens and clamped; hands 300 mm from the blade, off until it stands; refit the guards after grooving; wear eye, ear and dust protection.";

/// Mitres on the end of a stick at a table saw: cuts that go through.
const END_MITRES: &[&str] = &[
    "A mitre on a stick's end goes through the wood: riving knife on, and the guard as the machine's manual allows, or the sled's own cover and exit block.", // table saw warnings after EN/IEC 62841-3-1, number from memory
    "Only the long part of the stick is held, clamped to the fence. The stop at the right is taken away before the cut: nothing may lie between stop and blade.",
    "Pointing makes small sharp off-cuts that jam or fly: leave them until the blade stands, then clear them with a stick.", // HSE web page on cross-cut saws, 2019
    "Hands stay on the sled, 300 mm from the blade. Do not cut a stick that is shorter than the sled's stated minimum, and cut no piece off with the blade: that is done by hand.", // HSE web page on cross-cut saws, 2019
    "Disconnect the saw before you change or measure the blade, or turn the fence past it. Cut a test end in scrap first.",
];

const END_MITRES_SHORT: &str = "Through cuts on clamped sticks only, riving knife on; hands 300 mm from the blade, off-cuts left until it stands; wear eye, ear and dust protection.";

/// Bench hook with a hand saw.
const HAND_SAW: &[&str] = &[
    "Hold the block of strips firmly against the hook; saw away from the hand that holds.",
    "A bundle is sawn only as one rigid block, clamped or taped; else strip by strip.",
    "Keep both hands behind the edge of a chisel when you clear the waste.",
];

/// The worst of a table saw's and of a hand saw's dangers, worst first, each in one line of a text.
const WORST_AT_SAW: &[&str] = &[
    "Cut only one strip, or one rigid clamped block; hands on the sled's fence, clear of the blade.",
    "Guard and riving knife are off for a notch: sled cover or tunnel guard on, exit block behind.",
];
const WORST_AT_HAND_SAW: &[&str] = &[
    "Saw away from the hand that holds; one strip, or one rigid clamped block, against the hook.",
    "Both hands behind the chisel's edge when you clear the waste.",
];
const HAND_SAW_SHORT: &str =
    "Hold the block firmly, saw away from the hand that holds; both hands behind a chisel's edge.";

/// Of a bundle on a router.
const CLAMP_BUNDLE: &str = "Clamp the bundle as one rigid block, so that no strip can lift or creep. Check that no clamp stands in the tool's way.";

/// Three-axis router.
const ROUTER: &[&str] = &[
    "Run the program once in the air with the tool a safe height above the stock before the first cut; keep a hand at the stop button, and make sure that it can be reached.",
    CLAMP_BUNDLE,
    "Check zero, tool, units and spindle speed against the set-up sheet before you start. See the spindle up to speed before the tool enters the wood.",
    "Keep hands out while the spindle turns; close the enclosure if there is one. Never leave it running alone.", // HSE information sheet WIS22
    "Disconnect the spindle before you change the tool.",
];

const ROUTER_SHORT: &str = "Run the program in the air first, a hand at the stop; hands out while the spindle turns; wear eye, ear and dust protection.";

/// Rows of pieces on long sticks under a router: common practice, no source.
const ROUTED_ROWS: &[&str] = &[
    "A bare skin does not hold a piece: tape every stick to the waste board with double-sided tape over its full length, and clamp both its ends, before the first cut. A piece that comes free is thrown.",
    "No clamp, screw or hand stands between the grips: the tool goes there. Leave chips and off-cuts until the spindle is still.",
    "Slit the skins with a knife at the bench, the pieces still taped down: cut away from the hand that holds.",
];

const ROUTED_ROWS_SHORT: &str = "Tape sticks down over their full length and clamp both ends; run the program in the air first; hands out while the spindle turns; wear eye, ear and dust protection.";

/// Laser cutter.
const LASER: &[&str] = &[
    "Never leave a running laser alone; have an extinguisher for it at hand.",
    "Never cut PVC or vinyl (it gives off hydrogen chloride), nor ABS, polycarbonate, PTFE, artificial leather, carbon fibre or a sheet of unknown make.",
    "Run exhaust or extraction during the cut and until the smoke is gone.",
    "Keep the enclosure closed and its interlocks working; at an open beam wear glasses made for its wavelength, and keep others out.",
    "Cut a small test first: focus, speed and power as the maker says, for this sheet.",
];

const LASER_SHORT: &str = "Never leave the laser running alone, extinguisher at hand; exhaust on; never cut PVC, vinyl or a sheet of unknown make.";

/// Router that cuts sheet.
const SHEET_ROUTER: &[&str] = &[
    "Run the program once in the air with the tool a safe height above the sheet before the first cut; keep a hand at the stop button, and make sure that it can be reached.",
    "Fasten the sheet flat on a board that may be cut into. Leave the bridges standing until the spindle is still: a part that comes free is thrown.",
    "Check zero, tool, units, depth and spindle speed before you start, and on which side of each line the tool will run.",
    "Keep hands out while the spindle turns; close the enclosure if there is one. Never leave it running alone.", // HSE information sheet WIS22
    "Disconnect the spindle before you change the tool.",
];

const SHEET_ROUTER_SHORT: &str = "Run the program in the air first, a hand at the stop; leave the bridges until the spindle is still; wear eye, ear and dust protection.";

/// Mortises in rails, by drill, mortiser, router or chisel.
const MORTISES: &[&str] = &[
    "Clamp the rail against fence and stop; never hold it by hand under a drill, mortiser or router.",
    "Let the tool stop before you clear chips or move the rail. Disconnect it before you change the bit.",
    "Keep both hands behind the edge of a chisel when you square the corners.",
];

const MORTISES_SHORT: &str = "Clamp the rail, never hold it by hand; let the tool stop before you reach in; wear eye, ear and dust protection.";

/// Mitres at a table saw's sled: unlike a notch they go through. The saw's notes on notches do not
/// stand beside them.
const MITRES: &[&str] = &[
    "A mitre goes through the wood: riving knife on, and the guard as the machine's manual allows; where it comes off for a sled, a sled cover or tunnel guard and an exit block in its place. They were off for notches: refit them first.", // table saw warnings after EN/IEC 62841-3-1, number from memory
    "Clamp the member to the sled's fence: at a turned fence the blade pulls it along. Never cut what is too small to be clamped.", // after AS/NZS 62841.3.9:2020, for mitre saws
    "Hands stay on the sled's fence, 300 mm from the blade and out of its line.", // HSE web page "Cross-cut saw", 2019; OSHA Woodworking eTool, table saws (29 CFR 1910.213(s)(9))
    "Only the kept part stands on a stop. The off-cut lies free: nothing between it and a stop or fence end, or it is caught and thrown. Never use the rip fence as a length stop.", // common practice, no source
    "Mitres make small sharp off-cuts that jam or fly: leave them until the blade stands, then push them off with a stick.", // HSE web page "Cross-cut saw", 2019
    "Disconnect the saw before you change or measure the blade. Cut a pair of mitres in scrap first.",
];

const MITRES_SHORT: &str = "Clamp members and rails; a mitre goes through: riving knife on, off-cut free, hands 300 mm from the blade; wear eye, ear and dust protection.";

/// Mitres with a hand saw on a bench hook.
const MITRES_BY_HAND: &[&str] = &[
    "Clamp the member against the hook's fence, a scrap board under it; saw away from the hand that holds.",
];

const MITRES_BY_HAND_SHORT: &str = "Clamp members and rails, never hold them by hand under a machine; saw away from the hand that holds.";

/// Tenons on rails and their mortises in stiles, by saw, mortiser, drill or chisel. Common practice where
/// nothing stands beside it.
const TENONS: &[&str] = &[
    "Cheeks and shoulders of a tenon are cuts that do not go through: guard and riving knife come down or off for them. Put a sled cover, tunnel guard or crown guard in their place, and refit both directly after. Where local codes forbid tenons on a saw bench without a special guard, saw them by hand or rout them.", // HSE L114, 2nd ed. 2014; 29 CFR 1910.213(c)
    "Shoulders: the rail lies flat on a sled or mitre gauge, against a stop that ends well ahead of the blade. Never set the rip fence as a length stop for a shoulder: the waste is caught and thrown.",
    "Cheeks: never stand a rail on its end freehand. Clamp it upright in a tenoning jig that runs along the fence, the waste on the side away from it; what is too short or too light for the jig is sawn by hand.",
    "Hands stay 300 mm from the blade and out of its line; leave the waste until the blade stands, then push it off with a stick. Disconnect the saw before you change or measure the blade, and saw a test tenon in scrap first.", // HSE web page "Cross-cut saw", 2019
    "Saw by hand: the rail upright in a vise, low in its jaws; begin on the far corner, away from the hand that holds.",
    "Mortises for tenons are deep: clamp the stile, take them in several goes, and clear chips with a brush when the tool stands. Take the chuck key out before you switch on.",
    "With chisel and mallet: the stile clamped over the bench's leg, eyes covered, nobody in front of the edge; leave the horns on until the joint is glued, so that the stile's end does not split.",
];

const TENONS_SHORT: &str = "Clamp rails and stiles; cheeks only in a tenoning jig or by hand, no rip fence as a stop, guards back on after; hands 300 mm from the blade; wear eye, ear and dust protection.";

/// Paring guides.
const GUIDES: &[&str] = &[
    "Clamp the guide block; keep both hands behind the chisel's edge and out of its path.",
    "A sharp chisel needs less force: hone before a batch. Take thin shavings.",
];

const GUIDES_SHORT: &str =
    "Clamp the guide block; both hands behind the chisel's edge and out of its path.";

/// Putting a panel together at the bench.
const ASSEMBLY: &[&str] = &[
    "Read the glue's label: air the room, and keep what it asks you to keep off skin and eyes.",
    "Trim overhangs with a fine saw or a sharp chisel, the panel clamped, both hands behind the edge.",
];

const ASSEMBLY_SHORT: &str =
    "Clamp the work; both hands behind a sharp edge; read the glue's label and air the room.";

const CROSSCUT: &str = "Crosscut sticks against a fence or on a bench hook, the long part held, the short one free: no stop where it could jam. Do not cut on when what you hold is too short for it.";

/// Boards to thin strips: saw, jointer, planer, sander. Common practice where nothing stands beside it.
const MILLING: &[&str] = &[
    "Rip with guard and riving knife on and the fence true to the blade; push the last of it through with a stick or block. Hands stay 150 mm from the blade, never in its line and never over it.", // 29 CFR 1910.213(c), from memory
    "Thin strips: never between fence and blade, where they jam and are thrown. They come off on the free side, past a guide that ends ahead of the blade, over an insert without a gap. Wait until the blade stands before you pick them up.",
    "What is shorter or narrower than the saw's manual allows is not ripped on it: saw thin parts while they are still part of a large one, and finish the rest by band saw or hand saw.",
    "Planer: only what is as long and as thick as its manual asks for, one piece at a time. Side by side the thinner piece is not held and comes back at you. Stand aside of the feed, hands off the tables' rollers; never look or reach in.", // after planer manuals
    "On a carrier board the work lies against a cleat and is fixed so that it cannot lift; light cuts, with the grain. Where a strip chatters, stop: a drum sander or a hand plane is the safer way.",
    "Jointer: guard over the knives, push blocks over short or thin wood, nothing shorter than the manual allows.",
    CROSSCUT,
    "Look for nails and stones in bought boards. Disconnect a machine before you change or measure its blade or knives.",
];

/// Sticks cut to length.
const CROSSCUTS: &[&str] = &[
    CROSSCUT,
    "Hands stay on fence or sled, 150 mm from the blade and out of its line. Leave off-cuts until the blade stands, then push them off with a stick; with a hand saw, saw away from the hand that holds.",
    "Disconnect a saw before you change or measure its blade.",
];

const CROSSCUTS_SHORT: &str = "Cut sticks on a fence, sled or bench hook, the long part held, the short one free; hands 150 mm from the blade; wear eye, ear and dust protection.";

const MILLING_SHORT: &str = "Rip thin strips on the free side of the blade, guard and knife on; planer: one piece at a time, never too short or too thin for it; wear eye, ear and dust protection.";

/// The worst of it, each in one line of a text.
const WORST_IN_MILLING: &[&str] = &[
    "Thin strips come off on the free side of the blade, never between fence and blade.",
    "Planer: one piece at a time, never shorter or thinner than its manual allows.",
];

/// What a machine cannot make, and somebody makes all the same.
const OTHER_WAY: &[&str] = &[
    "Do not force on a machine what it cannot do: no work past its stops, its travel, its clamps or the least length that it holds.",
    "Whoever makes these parts another way, by hand or at another machine, reads the manual and the cautions for that way first.",
];

const OTHER_WAY_SHORT: &str =
    "Do not force on a machine what it cannot do; read the cautions for the other way first.";

/// What saws mitres; where that is not known, as at a table saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MitreSaw {
    /// A table saw with a sled.
    Table,
    /// A hand saw.
    Hand,
}

impl SafetyNotes {
    fn of(notes: &[&'static str], more: &[&'static str], short: &'static str) -> Self {
        SafetyNotes {
            all: notes.iter().chain(more).chain(&[DEFER]).copied().collect(),
            short,
        }
    }

    /// For a sled on a table saw, or on the bench if it has no motor.
    pub fn for_sled(powered: bool) -> Self {
        if powered {
            Self::of(SAW, &[EYES_EARS_DUST], SAW_SHORT)
        } else {
            Self::of(HAND_SAW, &[], HAND_SAW_SHORT)
        }
    }

    /// For mitres of pieces at a table saw, in rows or on sticks' ends.
    pub fn for_piece_mitres(way: PieceWay) -> Self {
        match way {
            PieceWay::StickEnds => Self::of(END_MITRES, &[EYES_EARS_DUST], END_MITRES_SHORT),
            PieceWay::Rows | PieceWay::Guides | PieceWay::RoutedRows => {
                Self::of(ROW_MITRES, &[EYES_EARS_DUST], ROW_MITRES_SHORT)
            }
        }
    }

    /// The worst dangers at a sled in a line each, for where all notes stand at the end.
    pub fn worst_at_sled(powered: bool) -> &'static [&'static str] {
        if powered {
            WORST_AT_SAW
        } else {
            WORST_AT_HAND_SAW
        }
    }

    /// For a router.
    pub fn for_router() -> Self {
        Self::of(ROUTER, &[EYES_EARS_DUST], ROUTER_SHORT)
    }

    /// For pieces that a router cuts in rows on long sticks: how they are held comes first.
    pub fn for_routed_rows() -> Self {
        let router = ROUTER.iter().filter(|note| **note != CLAMP_BUNDLE);
        let notes: Vec<&'static str> = ROUTED_ROWS.iter().chain(router).copied().collect();
        Self::of(&notes, &[EYES_EARS_DUST], ROUTED_ROWS_SHORT)
    }

    /// For what cuts sheet: a laser, or a router where there is a cutter.
    pub fn for_sheet(with_cutter: bool) -> Self {
        if with_cutter {
            Self::for_sheet_router()
        } else {
            Self::for_laser()
        }
    }

    /// For a laser.
    pub fn for_laser() -> Self {
        Self::of(LASER, &[], LASER_SHORT)
    }

    /// For a router that cuts sheet.
    pub fn for_sheet_router() -> Self {
        Self::of(SHEET_ROUTER, &[EYES_EARS_DUST], SHEET_ROUTER_SHORT)
    }

    /// For mortises in a frame's rails, and for the router whose programs cut them, if any do.
    pub fn for_mortises(by_program: bool) -> Self {
        let router = if by_program { ROUTER } else { &[] };
        let notes = router.iter().filter(|note| **note != CLAMP_BUNDLE);
        let notes: Vec<&'static str> = notes.chain(MORTISES).copied().collect();
        Self::of(&notes, &[EYES_EARS_DUST], MORTISES_SHORT)
    }

    /// For the rails of a frame with mitres: their mortises, as [`SafetyNotes::for_mortises`] has
    /// them, and the saw.
    pub fn for_mitred_rails(by_program: bool, saw: MitreSaw) -> Self {
        let mut notes = Self::for_mortises(by_program);
        let (more, short) = match saw {
            MitreSaw::Table => (MITRES, MITRES_SHORT),
            MitreSaw::Hand => (MITRES_BY_HAND, MITRES_BY_HAND_SHORT),
        };
        let last = notes.all.len() - 1;
        notes.all.splice(last..last, more.iter().copied());
        SafetyNotes { short, ..notes }
    }

    /// For a frame with tenons: the strips' mortises, as [`SafetyNotes::for_mortises`] has them, then the
    /// corners.
    pub fn for_tenoned_rails(by_program: bool) -> Self {
        let mut notes = Self::for_mortises(by_program);
        let last = notes.all.len() - 1;
        notes.all.splice(last..last, TENONS.iter().copied());
        SafetyNotes {
            short: TENONS_SHORT,
            ..notes
        }
    }

    /// For paring guides.
    pub fn for_guides() -> Self {
        Self::of(GUIDES, &[], GUIDES_SHORT)
    }

    /// For putting a panel together, and for whatever is laid on wood at the bench.
    pub fn for_assembly() -> Self {
        Self::of(ASSEMBLY, &[], ASSEMBLY_SHORT)
    }

    /// For boards that become sticks, and sticks that are cut up.
    pub fn for_milling() -> Self {
        Self::of(MILLING, &[EYES_EARS_DUST], MILLING_SHORT)
    }

    /// For sticks that are cut to length.
    pub fn for_crosscuts() -> Self {
        Self::of(CROSSCUTS, &[EYES_EARS_DUST], CROSSCUTS_SHORT)
    }

    /// The worst dangers of milling in a line each, for where all notes stand at the end.
    pub fn worst_in_milling() -> &'static [&'static str] {
        WORST_IN_MILLING
    }

    /// For parts that are not made here.
    pub fn for_other_ways() -> Self {
        Self::of(OTHER_WAY, &[], OTHER_WAY_SHORT)
    }

    /// The notes in order.
    pub fn notes(&self) -> &[&'static str] {
        &self.all
    }

    /// The main cautions in a line, and what comes first. Plain ASCII, each short enough for a
    /// comment of any drawing format (255 characters in DXF R12).
    pub fn short(&self) -> [&'static str; 2] {
        [self.short, SHORT_DEFER]
    }

    /// Several machines' short notes: what comes first is said once.
    pub fn short_of(machines: &[SafetyNotes]) -> Vec<&'static str> {
        let mut lines: Vec<&'static str> = Vec::new();
        for notes in machines {
            if !lines.contains(&notes.short) {
                lines.push(notes.short);
            }
        }
        lines.push(SHORT_DEFER);
        lines
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_notes_go_into_any_comment() {
        let all = [
            SafetyNotes::for_sled(true),
            SafetyNotes::for_sled(false),
            SafetyNotes::for_router(),
            SafetyNotes::for_laser(),
            SafetyNotes::for_sheet_router(),
            SafetyNotes::for_mortises(true),
            SafetyNotes::for_mitred_rails(true, MitreSaw::Table),
            SafetyNotes::for_mitred_rails(false, MitreSaw::Hand),
            SafetyNotes::for_tenoned_rails(true),
            SafetyNotes::for_routed_rows(),
            SafetyNotes::for_guides(),
            SafetyNotes::for_assembly(),
            SafetyNotes::for_milling(),
            SafetyNotes::for_crosscuts(),
            SafetyNotes::for_other_ways(),
        ];
        for notes in &all {
            for line in notes.short() {
                assert!(line.is_ascii() && line.len() < 200, "{line}");
                assert!(!line.contains(['<', '>', '&', '"', '\n']), "{line}");
            }
        }
        let lines = SafetyNotes::short_of(&all);
        assert_eq!(lines.len(), all.len() + 1);
        assert_eq!(
            SafetyNotes::short_of(&[all[2].clone(), all[2].clone()]),
            all[2].short()
        );
    }
}
