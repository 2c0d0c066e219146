//! The pieces that a panel takes, and the guide blocks that pare them.

use super::folded::{laid_straight, leg_angles};
use super::wanted_part::{WantedPart, alike_together};
use crate::infill::Infilling;
use std::f64::consts::{FRAC_PI_2, PI};

/// Wood that differs by less is the same, mm.
pub(super) const SAME_SIZE_MM: f64 = 1e-9;

/// As deep as the deepest of a panel's pieces, mm.
pub fn deepest_piece(filled: &Infilling) -> f64 {
    let depths = filled.kinds.iter().map(|kind| kind.stock.depth);
    depths.fold(0.0, f64::max)
}

/// Angles closer than this are one, rad.
const SAME_ANGLE: f64 = 1e-9;

/// All pieces of a panel that are as deep as most as plan polygons, equal outlines counted together: one
/// sheet is of one thickness. Folded ones as they are laid straight, their outlines from the legs as they lie
/// in the panel; none of them where a round cutter cuts (`routed`): it leaves no V.
pub fn pieces_wanted(filled: &Infilling, routed: bool) -> Vec<WantedPart> {
    let most = filled.most_stock.depth;
    let kinds = filled.kinds.iter().enumerate();
    let kinds = kinds.filter(|(_, kind)| (kind.stock.depth - most).abs() < SAME_SIZE_MM);
    let wanted = kinds.filter_map(|(at, kind)| match laid_straight(filled, at) {
        Some(_) if routed => None,
        Some(ring) => Some(WantedPart::plain(&kind.name, ring, kind.count)),
        None => Some(WantedPart::plain(
            &kind.name,
            kind.outline.clone(),
            kind.count,
        )),
    });
    alike_together(wanted)
}

/// Angles of the guide blocks that a panel's pieces need, each once, rising, rad: the sharp angle
/// between a facet and the piece's axis; of a mouth, whose facets lie in the inside of each other's, what
/// that is less than half a turn. Square ends need none.
pub(super) fn block_angles(filled: &Infilling) -> Vec<f64> {
    let mut angles: Vec<f64> = Vec::new();
    for end in filled.kinds.iter().flat_map(|kind| kind.figures.ends()) {
        let together: f64 = end.facets.iter().map(|facet| facet.jig_angle).sum();
        let hollow = together > PI + SAME_ANGLE;
        for facet in &end.facets {
            let angle = match facet.jig_angle > FRAC_PI_2 && !hollow {
                true => PI - facet.jig_angle,
                false => facet.jig_angle,
            };
            let same = |known: &f64| (known - angle).abs() < SAME_ANGLE;
            if (FRAC_PI_2 - angle).abs() > SAME_ANGLE && !angles.iter().any(same) {
                angles.push(angle);
            }
        }
    }
    for angle in filled.cells.iter().flat_map(leg_angles) {
        // Along either wall of a V stands a block, half of what the legs enclose from the piece's side.
        let same = |known: &f64| (known - angle / 2.0).abs() < SAME_ANGLE;
        if !angles.iter().any(same) {
            angles.push(angle / 2.0);
        }
    }
    angles.sort_by(f64::total_cmp);
    angles
}
