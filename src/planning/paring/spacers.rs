//! What stands between the guides' stop and pieces that are too short for it.

use crate::geometry::SAME_POSITION_MM;
use crate::infill::FacetSide;
use crate::instructions::pare::PieceFigures;
use crate::machines::Guides;

/// Lengths of spacers go in such steps, mm: off-cuts that a person has or makes. Common practice, no source.
const SPACER_STEP_MM: f64 = 5.0;

/// A stick so long is held without fingers near the edge, mm. Common practice, no source.
const HELD_MM: f64 = 60.0;

/// Puts what a V's walls need before the stop.
pub(super) fn put_to_walls(piece: &mut PieceFigures, guides: &Guides) {
    for wall in piece.folds.iter_mut().flat_map(|fold| &mut fold.walls) {
        let lacks = guides.stop_nearest - wall.stop_mm;
        let spacer = (lacks / SPACER_STEP_MM - SAME_POSITION_MM).ceil() * SPACER_STEP_MM;
        wall.spacer_mm = (lacks > 0.0).then_some(spacer);
        wall.stop_mm += wall.spacer_mm.unwrap_or(0.0);
        wall.beyond_stop = !guides.stop_goes_to(wall.stop_mm);
    }
}

/// Puts one spacer for all of a piece's facets where the stop does not come near enough, and tells what the
/// stop does not reach even so.
pub(super) fn put(piece: &mut PieceFigures, guides: &Guides) {
    let stops = piece.pared().map(|facet| facet.stop_mm);
    let nearest = stops.fold(f64::INFINITY, f64::min);
    // With a square end the spacer may as well be wood of the piece: then as long as hands can hold.
    let square = piece.ends.iter().any(|end| {
        let mut facets = end.facets.iter();
        facets.all(|facet| facet.side == FacetSide::Across)
    });
    let held = if square {
        HELD_MM - piece.length_over_points_mm
    } else {
        0.0
    };
    let lacks = (guides.stop_nearest - nearest).max(held);
    let spacer = (lacks / SPACER_STEP_MM - SAME_POSITION_MM).ceil() * SPACER_STEP_MM;
    for facet in piece.pared_mut() {
        let near = facet.stop_mm < guides.stop_nearest;
        facet.spacer_mm = near.then_some(spacer);
        facet.stop_mm += facet.spacer_mm.unwrap_or(0.0);
        facet.beyond_stop = !guides.stop_goes_to(facet.stop_mm);
    }
}
