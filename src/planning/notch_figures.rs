//! What is told of a strip's notches, for all machines.

use crate::instructions::sled::NotchFigures;
use crate::lattice::Notch;

/// The figures of a strip's notches as they are given, from its datum end.
pub(crate) fn notch_figures(notches: &[Notch]) -> Vec<NotchFigures> {
    let mut all = Vec::with_capacity(notches.len());
    for (index, notch) in (1..).zip(notches) {
        all.push(NotchFigures {
            index,
            centre_mm: notch.centre,
            near_edge_mm: notch.near_edge(),
            far_edge_mm: notch.far_edge(),
            width_mm: notch.width,
            drawn_width_mm: None,
            depth_mm: notch.depth,
            face: notch.face,
            angle: notch.angle,
        });
    }
    all
}
