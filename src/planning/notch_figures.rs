//! What is told of a strip's notches, for all machines.

use crate::instructions::sled::NotchFigures;
use crate::lattice::Notch;

/// The figures of a strip's notches as they are given, from its datum end.
pub(crate) fn notch_figures(notches: &[Notch]) -> Vec<NotchFigures> {
    let figures = |(at, notch): (usize, &Notch)| NotchFigures {
        index: at + 1,
        centre_mm: notch.centre,
        near_edge_mm: notch.near_edge(),
        far_edge_mm: notch.far_edge(),
        width_mm: notch.width,
        drawn_width_mm: None,
        depth_mm: notch.depth,
        face: notch.face,
        angle: notch.angle,
    };
    notches.iter().enumerate().map(figures).collect()
}
