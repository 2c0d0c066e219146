//! Why a slanted candidate stands where it stands, in words.

use crate::lattice::DiamondStance;
use crate::machines::Rack;
use crate::opening::{
    Filled, NodePlace, Slanted, SlantedBayWish, SlantedCandidate, SlantedRest, SlantedRuling,
};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};

/// What differs by less is the same to the eye, mm.
const SEEN_MM: f64 = 0.005;

/// The reason of a slanted candidate.
pub(super) fn slanted_reason(
    candidate: &SlantedCandidate,
    wish: &SlantedBayWish,
    rack: Option<&Rack>,
) -> Phrase {
    let mut text = by_what(candidate, rack);
    if let Slanted::Diamond { angle: None, .. } = candidate.grid {
        text.append(phrase!("; families at {}", Rad(candidate.angle)));
    }
    if let Some(wanted) = wish.bays.pitch {
        let off = candidate.off_pitch(Some(wanted));
        text.append(match off > SEEN_MM {
            true => phrase!("; pitch {} off the {} that is wanted", Mm(off), Mm(wanted)),
            false => phrase!("; the pitch that is wanted"),
        });
    }
    text.append(left_over(candidate));
    text.append(match candidate.node {
        NodePlace::Middle => phrase!("; a node in the middle"),
        NodePlace::Corner => phrase!("; a node at the lower left corner of the cells"),
    });
    text
}

fn by_what(candidate: &SlantedCandidate, rack: Option<&Rack>) -> Phrase {
    let (columns, rows) = (candidate.columns, candidate.rows);
    let by_stop = if rack.is_some() { ": by the stop" } else { "" };
    match candidate.ruling {
        SlantedRuling::Slot { slot, fills } => {
            let slot = rack.and_then(|rack| rack.slots.get(slot)).copied();
            let mut text = match slot {
                Some(slot) => phrase!(
                    "drawn to the rack's slot {}, which measures {}: one slot for every step",
                    Mm(slot.nominal),
                    Mm(slot.measured)
                ),
                None => phrase!("drawn to a slot"),
            };
            match fills {
                Some(Filled::Width) => {
                    text.append(phrase!("; at its angle {} columns fill the width", columns));
                }
                Some(Filled::Height) => {
                    text.append(phrase!("; at its angle {} rows fill the height", rows));
                }
                None => {}
            }
            text
        }
        SlantedRuling::Pitch => phrase!("a pitch that is kept{}", by_stop),
        SlantedRuling::Fills(Filled::Width) => {
            phrase!("{} columns fill the width{}", columns, by_stop)
        }
        SlantedRuling::Fills(Filled::Height) => {
            phrase!("{} rows fill the height{}", rows, by_stop)
        }
        SlantedRuling::FillsBoth => phrase!(
            "{} columns and {} rows fill width and height{}",
            columns,
            rows,
            by_stop
        ),
    }
}

/// What whole cells leave over, and what becomes of it.
fn left_over(candidate: &SlantedCandidate) -> Phrase {
    let [beside, above] = candidate.left_over;
    let mut text = match (beside > SEEN_MM, above > SEEN_MM) {
        (false, false) => return ends(candidate),
        (true, true) => phrase!(
            "; whole cells leave {} over at the left and right, {} below and above",
            Mm(beside),
            Mm(above)
        ),
        (true, false) => phrase!(
            "; whole cells leave {} over at the left and right",
            Mm(beside)
        ),
        (false, true) => phrase!("; whole cells leave {} over below and above", Mm(above)),
    };
    text.append(match candidate.rest {
        SlantedRest::CutCells => phrase!(", where the edge cuts more"),
        SlantedRest::Margins => phrase!(", where only strips' ends lie"),
    });
    text
}

/// Upright rhombs never end at a level edge.
fn ends(candidate: &SlantedCandidate) -> Phrase {
    match candidate.grid {
        Slanted::Diamond {
            stance: DiamondStance::Upright,
            ..
        } => phrase!("; below and above the edge cuts cells in any case"),
        _ => phrase!("; whole cells leave nothing over"),
    }
}
