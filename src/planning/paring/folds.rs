//! The V's of folded pieces, and the blocks along which their walls are pared.
//!
//! A wall stands half the V's angle from square, so it is a facet whose jig angle is a right angle less that:
//! half the angle between the legs. It leaves the inner side half the V's width before its point.

use crate::infill::{FacetSide, Figures, PieceFold, PieceSide};
use crate::instructions::end_letter::EndLetter;
use crate::instructions::folds::{FoldFigures, WallFigures};
use std::f64::consts::PI;

/// The bends of a piece whose ends are finished.
pub(super) fn fold_figures(figures: &Figures) -> Vec<FoldFigures> {
    let fold = |fold: &PieceFold| {
        let (inner, outer) = match fold.inner {
            PieceSide::Left => (FacetSide::Left, FacetSide::Right),
            PieceSide::Right => (FacetSide::Right, FacetSide::Left),
        };
        let wall = |on_stop, stop_mm| WallFigures {
            on_stop,
            stop_mm,
            spacer_mm: None,
            beyond_stop: false,
        };
        let half = fold.half_width();
        let [from_a_mm, from_b_mm] = fold.outer;
        FoldFigures {
            v_angle: fold.angle,
            legs_angle: PI - fold.angle,
            inner,
            outer,
            depth_mm: fold.depth,
            skin_mm: fold.skin,
            width_mm: 2.0 * half,
            from_a_mm,
            from_b_mm,
            at_mm: fold.at,
            short_of_corner_mm: fold.short_of_corner(),
            block_angle: fold.wall_angle(),
            walls: [
                wall(EndLetter::A, fold.at - half),
                wall(EndLetter::B, figures.length - fold.at - half),
            ],
        }
    };
    figures.folds.iter().map(fold).collect()
}
