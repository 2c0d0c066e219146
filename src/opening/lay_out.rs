//! From an opening and a wish to the grid of a design.

use super::ruled_slanted::{rule_diamond, rule_triangular};
use super::ruled_square::rule_square;
use super::sizes::{Framing, Opening, Sizes};
use super::wish::GridWish;
use crate::finding::Finding;
use crate::geometry::PARALLEL_SINE;
use crate::lattice::{DiamondStance, Grid, Margins, SquareGrid};
use crate::phrase;
use crate::units::{AtLeast, Mm};

/// Where a job gives no overhang, strips are longer at each end than what is kept of them: enough for
/// a saw and for a hand to hold. Common practice, no source, mm.
const SPARE_MM: f64 = 10.0;

/// A grid that goes into an opening.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// Of the design.
    pub grid: Grid,
    /// From the region's edge to the frame's inner faces, or to where the ends are cut off flush.
    pub margins: Margins,
    /// Opening, panel and inside.
    pub sizes: Sizes,
    /// What was measured.
    pub opening: Opening,
    /// What was wished for.
    pub wish: GridWish,
}

/// Diagonals that disagree with the sides by less than this are as good as a tape. Common practice, no
/// source, mm.
const DISAGREES_MM: f64 = 1.0;

impl Fitted {
    /// What is to be minded about the opening.
    pub fn warnings(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        let rectangle = &self.sizes.rectangle;
        if rectangle.skew_is_guessed {
            let text = "widths or heights differ and no diagonals are given, so nobody knows how far the opening leans: both sides are taken to lean alike";
            let hint =
                "measure both diagonals and add `diagonals = [from lower left, from lower right]`";
            found.push(Finding::warning("skew-unknown", "opening", text).hint(hint));
        }
        if rectangle.disagreement.abs() > DISAGREES_MM {
            let text = phrase!(
                "with these sides and the diagonal from the lower right, that from the lower left would be {} {}: the panel fits both",
                Mm(rectangle.disagreement.abs()),
                if rectangle.disagreement > 0.0 {
                    "longer"
                } else {
                    "shorter"
                }
            );
            let hint = "measure again: a panel that fits both is smaller than it need be";
            found
                .push(Finding::warning("diagonals-disagree", "opening.diagonals", text).hint(hint));
        }
        found
    }
}

/// What a grid has to fit besides the opening. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surroundings {
    /// Of a strip, seen from the front, as the stock has it: what is chosen for an opening has to fit it.
    pub thickness: f64,
    /// What goes round the strips.
    pub framing: Framing,
    /// How far the ends are let into the frame; zero without one.
    pub let_in: f64,
}

/// The grid that is wished for, in the opening.
///
/// # Errors
/// All that does not fit, with what would.
pub fn fit(
    opening: &Opening,
    wish: &GridWish,
    around: Surroundings,
) -> Result<Fitted, Vec<Finding>> {
    let sizes = opening.sizes(around.framing)?;
    let (mut grid, margins) = match wish {
        GridWish::Square(wish) => {
            let ruled = rule_square(sizes.inside, wish, around.thickness)?;
            let grid = SquareGrid {
                pitches_x: ruled.pitches_x,
                pitches_y: ruled.pitches_y,
                overhang: 0.0,
            };
            (Grid::Square(grid), ruled.margins)
        }
        GridWish::Diamond(wish) => {
            let (grid, margins) = rule_diamond(sizes.inside, wish, around.thickness)?;
            (Grid::Diamond(grid), margins)
        }
        GridWish::Triangular(wish) => {
            let (grid, margins) = rule_triangular(sizes.inside, wish, around.thickness)?;
            (Grid::Triangular(grid), margins)
        }
    };
    // Square to the edge; along a strip that leaves at an angle it is longer.
    let kept = (margins.x.max(margins.y) + around.let_in) / sharpest_entry(&grid);
    let overhang = match wish.overhang() {
        Some(overhang) if overhang < kept => return Err(vec![too_short(overhang, kept)]),
        Some(overhang) => overhang,
        None => kept + SPARE_MM,
    };
    match &mut grid {
        Grid::Square(grid) => grid.overhang = overhang,
        Grid::Diamond(grid) => grid.overhang = overhang,
        Grid::Triangular(grid) => grid.overhang = overhang,
    }
    Ok(Fitted {
        grid,
        margins,
        sizes,
        opening: opening.clone(),
        wish: wish.clone(),
    })
}

/// Sine of the sharpest angle at which a strip comes out of an upright rectangle.
fn sharpest_entry(grid: &Grid) -> f64 {
    let inclinations = match grid {
        Grid::Square(_) => return 1.0,
        Grid::Triangular(_) => return 0.5,
        Grid::Diamond(grid) => match grid.stance {
            DiamondStance::OnPoint => grid.angle / 2.0,
            DiamondStance::Upright => grid.angle,
        },
    };
    let (sine, cosine) = inclinations.sin_cos();
    let apart = |value: f64| if value > PARALLEL_SINE { value } else { 1.0 };
    apart(sine.abs()).min(apart(cosine.abs()))
}

fn too_short(overhang: f64, kept: f64) -> Finding {
    let text = phrase!(
        "an overhang of {} does not reach from the outermost crossing to where strips end in this opening, {} away",
        Mm(overhang),
        Mm(kept)
    );
    let hint = phrase!(
        "make it {} or more; or leave it out: it is then {} longer than what is kept",
        AtLeast(kept),
        Mm(SPARE_MM)
    );
    Finding::error("overhang-too-short", "grid.overhang", text).hint(hint)
}
