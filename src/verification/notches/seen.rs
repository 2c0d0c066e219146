//! What one plane shows of one notch.

use crate::verification::simulation::plane::WoodPlane;
use crate::verification::tolerances::Tolerances;
use crate::verification::workpiece::{ExpectedNotch, Workpiece};

/// What one plane shows of one notch, program frame, mm.
#[derive(Debug)]
pub(super) struct Seen {
    pub(super) top: [f64; 2],
    pub(super) floor: Option<[f64; 2]>,
    /// Depth at the deepest place of the cut, and at the shallowest inside the notch.
    pub(super) depths: [f64; 2],
    pub(super) line: usize,
}

/// A notch as it should be on a plane.
pub(super) struct NotchOnPlane<'a> {
    /// Its ends, program frame, mm.
    pub(super) wanted: [f64; 2],
    pub(super) notch: &'a ExpectedNotch,
    /// The notches that cross it here.
    pub(super) others: &'a [CrossingNotch],
    pub(super) tolerances: &'a Tolerances,
}

/// Another notch as it should be on a plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CrossingNotch {
    /// Its ends, program frame, mm.
    pub(super) ends: [f64; 2],
    /// From the top, mm.
    pub(super) depth: f64,
}

/// The middle between two ends.
pub(super) fn middle(ends: [f64; 2]) -> f64 {
    (ends[0] + ends[1]) / 2.0
}

/// The notch's ends on a plane, program frame.
pub(super) fn wanted_ends(
    plane: &WoodPlane,
    workpiece: &Workpiece,
    notch: &ExpectedNotch,
) -> [f64; 2] {
    let across = plane.in_strip - workpiece.thickness_mm / 2.0;
    notch.ends(across).map(|x| x + plane.start)
}

/// A floor that ends farther than this share of the notch's width from where it should is not a
/// floor between walls that are off, but one that is not deep enough in places.
const FLOOR_OFF: f64 = 0.25;

/// A notch's floor on a plane.
pub(super) struct SharedFloor {
    /// Its ends, where there is a floor that is held against the walls wanted.
    pub(super) ends: Option<[f64; 2]>,
    /// Where the wood is held against the depth.
    pub(super) judged: [f64; 2],
}

impl SharedFloor {
    /// The floor between the walls found at the `top` and those wanted. The depth is held against
    /// what is wanted only inside both, so that a wall that is off is no error of the depth: an end
    /// of either that is off by more than the margin shows in width or place.
    pub(super) fn of(
        wanted: [f64; 2],
        top: [f64; 2],
        floor: Option<[f64; 2]>,
        tolerances: &Tolerances,
    ) -> SharedFloor {
        let margin = tolerances.position_mm + tolerances.width_mm;
        let off = FLOOR_OFF * (wanted[1] - wanted[0]);
        let near = |ends: &[f64; 2]| (0..2).all(|side| (ends[side] - wanted[side]).abs() <= off);
        let ends = floor.filter(near);
        let found = ends.unwrap_or(top);
        let judged = [
            wanted[0].max(top[0]).max(found[0]) + margin,
            wanted[1].min(top[1]).min(found[1]) - margin,
        ];
        SharedFloor { ends, judged }
    }
}
