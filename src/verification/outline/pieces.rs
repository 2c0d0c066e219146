//! The pieces that a panel takes, and the guide blocks that pare them.

use super::wanted_part::{WantedPart, alike_together};
use crate::infill::Infilling;
use crate::lattice::Panel;
use std::f64::consts::{FRAC_PI_2, PI};

/// Thickness and depth of the wood that a panel's pieces are made of, mm: what the job says of them,
/// else the strips'.
pub fn wood_of_pieces(panel: &Panel) -> (f64, f64) {
    let design = panel.design();
    let own = design.infill.as_ref().and_then(|infill| infill.section);
    match own {
        Some(own) => (own.thickness, own.depth),
        None => (design.strip.thickness, design.strip.depth),
    }
}

/// Angles closer than this are one, rad.
const SAME_ANGLE: f64 = 1e-9;

/// All pieces of a panel as plan polygons, equal outlines counted together.
pub fn pieces_wanted(filled: &Infilling) -> Vec<WantedPart> {
    let kinds = filled.kinds.iter();
    alike_together(
        kinds.map(|kind| WantedPart::plain(&kind.name, kind.outline.clone(), kind.count)),
    )
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
    angles.sort_by(f64::total_cmp);
    angles
}
