//! What keeps the pieces' own section from being made, and what their fit does to the grid.

use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::lattice::design::Design;
use crate::lattice::layout::Lattice;
use crate::lattice::piece_section::{PieceSection, USUAL_FOLD_SKIN_MM};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;

/// Pieces that press by more than this are seldom meant so. Common practice, no source, mm.
const MOST_USUAL_FIT_MM: f64 = 0.2;

/// What cannot be: no wood, pieces that stand out of the panel, a fit larger than the wood.
pub(super) fn faults(design: &Design) -> Vec<Finding> {
    let mut found: Vec<Finding> = no_skin(design).into_iter().collect();
    let Some(section) = design.infill.as_ref().and_then(|infill| infill.section) else {
        return found;
    };
    let sizes = [
        ("infill.thickness", section.thickness),
        ("infill.depth", section.depth),
    ];
    found.extend(sizes.into_iter().filter_map(no_wood));
    found.extend(stands_out(&section, design.strip.depth));
    if section.fit.abs() >= design.strip.thickness / 2.0 {
        let text = phrase!(
            "a fit of {} is half the strips' thickness of {} or more",
            Mm(section.fit),
            Mm(design.strip.thickness)
        );
        let hint = "fit is what pieces are longer from wall to wall than their opening, some \
                    hundredths of a millimetre; below zero they are loose";
        found.push(Finding::error("fit-too-large", "infill.fit", text).hint(hint));
    }
    found
}

/// A skin that holds nothing where a piece is folded.
fn no_skin(design: &Design) -> Option<Finding> {
    let skin = design.infill.as_ref()?.fold_skin;
    (skin <= 0.0).then(|| {
        let text = phrase!(
            "a skin of {} holds nothing: the V of a fold would cut the piece through",
            Mm(skin)
        );
        let hint = phrase!(
            "leave some tenths of a millimetre; without this key {} are left",
            Mm(USUAL_FOLD_SKIN_MM)
        );
        Finding::error("fold-cut-through", "infill.fold_skin", text).hint(hint)
    })
}

fn no_wood((field, size): (&'static str, f64)) -> Option<Finding> {
    (size <= 0.0).then(|| {
        let text = phrase!("{} leaves no wood", Mm(size));
        Finding::error("not-positive", field, text).hint("give a size above zero")
    })
}

/// Pieces deeper than the strips, or set back so far that they stand out behind.
fn stands_out(section: &PieceSection, strips: f64) -> Option<Finding> {
    let behind = section.setback + section.depth;
    if behind <= strips || behind.approx_eq(strips, POSITION) {
        return None;
    }
    if section.depth > strips {
        let text = phrase!(
            "pieces {} deep stand out of strips {} deep",
            Mm(section.depth),
            Mm(strips)
        );
        let hint = phrase!("depth is front to back: at most {} here", Mm(strips));
        return Some(Finding::error("pieces-too-deep", "infill.depth", text).hint(hint));
    }
    let text = phrase!(
        "pieces {} deep, set back by {}, stand {} out of the back of strips {} deep",
        Mm(section.depth),
        Mm(section.setback),
        Mm(behind - strips),
        Mm(strips)
    );
    let hint = phrase!(
        "set them back by {} at most, or make them {} deep at most",
        Mm(strips - section.depth),
        Mm((strips - section.setback).max(0.0))
    );
    Some(Finding::error("pieces-stand-out", "infill.setback", text).hint(hint))
}

/// What a fit adds up to across the panel.
///
/// Pieces longer than their openings push the strips beside them apart: every bay of a family grows by the
/// fit, on triangular grids by one and a half of it, since a triangle's height is three inradii and each of
/// its walls moves out by half the fit. The outermost strips of a family lie in notches that are wider than
/// they are by the clearance, so that each gives way by half of that before wood is pressed.
pub(super) fn warnings(design: &Design, lattice: &Lattice) -> Vec<Finding> {
    let section = design.infill.as_ref().and_then(|infill| infill.section);
    let Some(PieceSection { fit, .. }) = section.filter(|section| section.fit != 0.0) else {
        return Vec::new();
    };
    let families = 0..design.grid.families().len();
    let strips = |family| {
        let of_it = lattice.strips.iter();
        of_it.filter(|strip| strip.id.family == family).count()
    };
    let bays = families.map(strips).max().unwrap_or(0).saturating_sub(1);
    let a_bay = if design.grid.families().len() == 3 {
        1.5 * fit
    } else {
        fit
    };
    if fit < 0.0 {
        let text = phrase!(
            "pieces are {} shorter from wall to wall than their openings: loose, without any push on the strips",
            Mm(-fit)
        );
        return vec![Finding::warning("fit-loose", "infill.fit", text)];
    }
    let text = phrase!(
        "pieces {} longer than their openings from wall to wall push the outermost strips {} apart where all {} bays are filled; their notches give {}, the rest is taken up by wood that is pressed, or the panel grows",
        Mm(fit),
        Mm(a_bay * bays as f64),
        bays,
        Mm(design.strip.clearance.max(0.0))
    );
    let mut found = vec![Finding::warning("fit-adds-up", "infill.fit", text).hint(
        "try one cell in scrap first; let the frame or the first and last row wait until the cells between are filled",
    )];
    if fit > MOST_USUAL_FIT_MM {
        let text = phrase!("a fit of {} is more than wood gives as a rule", Mm(fit));
        found.push(Finding::warning("fit-unusual", "infill.fit", text));
    }
    found
}
