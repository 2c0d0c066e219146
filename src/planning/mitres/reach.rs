//! How sticks come to lie at an angle to the blade.

use crate::geometry::PARALLEL_SINE;
use crate::instructions::mitres::{CrossBoard, MitreFence, Reach};
use crate::instructions::saw::Hand;
use crate::machines::{Sled, SledMitres};
use crate::planning::sled::settings::{lifted, wedge_of};
use crate::planning::sled::slant::Slant;

/// The way in which a sled brings sticks to a slant; nothing where it does not.
///
/// A fence that is turned so far does it alone. A board square to a fence that is turned by the
/// angle between sticks and blade lies along them: turned 22.5 degrees, the fence itself serves
/// facets of 67.5, the board those of 22.5. Else a wedge makes up for what the fence lacks.
pub(super) fn reach(slant: Slant, sled: &Sled, mitres: &SledMitres) -> Option<Reach> {
    let turn = slant.turn();
    let goes = |angle: f64| sled.swing >= angle - PARALLEL_SINE;
    if goes(turn) {
        return Some(Reach::Fence);
    }
    if mitres.cross_board && goes(slant.to_blade()) {
        return Some(cross_board(slant));
    }
    let rest = turn - sled.swing;
    if mitres.steepest_wedge < rest - PARALLEL_SINE {
        return None;
    }
    Some(Reach::Wedge {
        fence_from_square: sled.swing,
        wedge: wedge_of(rest, lifted(slant)),
    })
}

/// The sticks' direction, datum end to far end, lies pi/2 less the slant above the operator's own
/// left to right. The fence lies pi/2 below that for acute slants: its right end comes toward the
/// operator by the slant, its left end goes away; the sticks run away from the operator, the
/// board on the side of them that the fence would have, which is their right. For obtuse ones all
/// is mirrored, and the datum end is the far one.
fn cross_board(slant: Slant) -> Reach {
    Reach::CrossBoard(CrossBoard {
        fence_from_square: slant.to_blade(),
        fence_end_away: lifted(slant).other(),
        sticks_on: lifted(slant).other(),
    })
}

/// The fence for a slant that is reached.
pub(super) fn fence(slant: Slant, reach: Reach, thickness: f64, kerf: f64) -> MitreFence {
    let step = slant.step_back(thickness);
    MitreFence {
        cut_angle: slant.0,
        from_square: slant.turn(),
        to_blade: slant.to_blade(),
        end_away: (!slant.is_square()).then(|| lifted(slant)),
        kerf_along_fence_mm: slant.along(kerf),
        step_mm: step.abs(),
        step_toward: if step > 0.0 { Hand::Right } else { Hand::Left },
        reach,
    }
}
