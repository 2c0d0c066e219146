//! Sizes of the guide that a panel's pieces are pared on.

use crate::instructions::pare::{BlockFigures, GuideFigures, PieceFigures};
use crate::machines::Guides;
use std::f64::consts::FRAC_PI_2;

/// Breadth of the fence, and greatest breadth of a block, mm.
const BREADTH_MM: f64 = 40.0;

/// Least length of a block's far edge, for its label and a clamp, mm.
const FAR_EDGE_MM: f64 = 20.0;

/// Stop, along the fence and square to it, mm.
const STOP_MM: [f64; 2] = [40.0, 30.0];

/// Base before the stop, and to the right of the blocks' corner, mm.
const BEFORE_MM: f64 = 10.0;
const BEYOND_MM: f64 = 40.0;

/// Least length of the fence, mm.
const SHORTEST_FENCE_MM: f64 = 40.0;

/// Square hole for a bolt M6, mm: the clearance hole of ISO 273, medium series.
const HOLE_MM: f64 = 6.6;

/// Wood around the middle of a hole: to the block's square end, its front edge where the block is
/// broad, its other edges at the least; common practice, no source, mm.
const FROM_END_MM: f64 = 12.0;
const FROM_FRONT_MM: f64 = 15.0;
const FROM_EDGE_MM: f64 = 9.0;

/// Least and greatest distance of a block's holes, mm.
const APART_MM: [f64; 2] = [20.0, 70.0];

/// How broad a block is, square to the fence: the face of a sharp one leaves it a far edge, that of a blunt
/// one leans out from the corner.
pub(crate) fn block_breadth(length: f64, angle: f64) -> f64 {
    if angle > FRAC_PI_2 {
        return BREADTH_MM;
    }
    BREADTH_MM.min((length - FAR_EDGE_MM) * angle.tan())
}

/// The guide for some pieces: its blocks as long as the profile says, longer where the sharpest has
/// no room for two bolts else; its stop reaches every setting, none of which is greater than a
/// rough piece is long.
pub(crate) fn guide_figures(
    blocks: &[BlockFigures],
    pieces: &[PieceFigures],
    guides: &Guides,
    depth: f64,
) -> GuideFigures {
    let angles: Vec<f64> = blocks.iter().map(|block| block.jig_angle).collect();
    let least = angles.iter().copied().map(least_length);
    let length = least.fold(guides.block_length.max(2.0 * SHORTEST_FENCE_MM), f64::max);
    let breadths = angles.iter().map(|angle| block_breadth(length, *angle));
    let bolts_in = breadths.fold(FROM_FRONT_MM, |at, breadth| at.min(breadth / 2.0));
    let second = angles.iter().map(|angle| {
        // Where the face is at the holes' distance from the front edge, less the wood before it.
        length - bolts_in / angle.tan() - FROM_EDGE_MM / angle.sin()
    });
    let second = second.fold(FROM_END_MM + APART_MM[1], f64::min);
    let reach = pieces
        .iter()
        .map(|piece| piece.rough_length_mm)
        .fold(guides.stop_farthest, f64::max);
    // The stop's bolt is half its length behind its face, and stays as far from the base's end.
    let fence = (reach + STOP_MM[0] - length).max(SHORTEST_FENCE_MM);
    GuideFigures {
        base_mm: [
            fence + length + BEYOND_MM,
            BREADTH_MM + STOP_MM[1] + BEFORE_MM,
        ],
        fence_mm: [fence, BREADTH_MM],
        block_length_mm: length,
        height_mm: depth,
        bolts_mm: [FROM_END_MM, second],
        bolts_in_mm: bolts_in,
        stop_mm: STOP_MM,
        reach_mm: reach,
        hole_mm: HOLE_MM,
    }
}

/// The least length of a block with room for two bolts.
///
/// With the holes `q` from the front edge, the second one's middle lies at
/// `length - q / tan a - FROM_EDGE / sin a` from the square end. On a narrow block `q` is half its
/// breadth, `(length - FAR_EDGE) tan a / 2`, and that comes to
/// `(length + FAR_EDGE) / 2 - FROM_EDGE / sin a`; the breadth itself is twice `FROM_EDGE` at the
/// least.
fn least_length(angle: f64) -> f64 {
    let second = FROM_END_MM + APART_MM[0] + FROM_EDGE_MM / angle.sin();
    let narrow = 2.0 * second - FAR_EDGE_MM;
    let broad = second + FROM_FRONT_MM / angle.tan();
    let for_breadth = FAR_EDGE_MM + 2.0 * FROM_EDGE_MM / angle.tan();
    // Half the breadth is never more than the holes of a broad block are in.
    narrow.min(broad).max(for_breadth)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Distance of each hole's middle from the block's edges, by plane geometry of its own.
    #[test]
    fn bolts_have_wood_around_them_at_every_angle() {
        for tenths in 40..900 {
            let angle = (f64::from(tenths) / 10.0).to_radians();
            let blocks = [BlockFigures {
                jig_angle: angle,
                at_hand: None,
            }];
            let guide = guide_figures(&blocks, &[], &Guides::usual(), 8.0);
            let length = guide.block_length_mm;
            let breadth = block_breadth(length, angle);
            let [first, second] = guide.bolts_mm;
            assert!(second - first >= APART_MM[0] - 1e-9, "{tenths}");
            let from_face = ((length - second) * angle.tan() - guide.bolts_in_mm) * angle.cos();
            let edges = [guide.bolts_in_mm, breadth - guide.bolts_in_mm, from_face];
            assert!(
                edges.iter().all(|wood| *wood >= FROM_EDGE_MM - 1e-9),
                "{tenths}: {edges:?}"
            );
            let far_edge = length - breadth / angle.tan();
            assert!(far_edge >= FAR_EDGE_MM - 1e-9);
        }
    }
}
