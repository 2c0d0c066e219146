//! Pieces for an opening as it was built and measured, beside those of the drawing.

use super::cell::{Cell, CellShape};
use super::figures::Figures;
use super::fill::Infilling;
use super::kinds::{PieceKind, kind_of};
use super::pattern::Pattern;
use super::solve::{SolvedPiece, solve};
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::phrase;
use crate::units::Mm;

/// A clear opening, from strip to strip, as measured. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// Left to right.
    pub width: f64,
    /// Bottom to top.
    pub height: f64,
}

/// The pieces of one measured cell.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredCell {
    /// As measured.
    pub opening: Opening,
    /// The opening of the drawing that it is compared with: the nearest one that is filled.
    pub drawn: Opening,
    /// The distinct pieces, in the pattern's order.
    pub pieces: Vec<MeasuredPiece>,
    /// What looks like a slip.
    pub warnings: Vec<Finding>,
}

/// A distinct piece of a measured cell.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredPiece {
    /// Its name.
    pub name: String,
    /// How many the cell takes.
    pub count: usize,
    /// For the opening as measured.
    pub built: Figures,
    /// Its outline for the opening as measured, in its own frame.
    pub outline: Vec<Point>,
    /// As drawn.
    pub drawn: Figures,
}

impl MeasuredPiece {
    /// Length over points for the opening as built less that of the drawing, mm.
    pub fn difference(&self) -> f64 {
        self.built.length - self.drawn.length
    }
}

/// Works out the pieces of a measured opening; `filled` is the panel as drawn.
///
/// # Errors
/// An opening that is none, or not square where the pattern needs squares (field `opening`); what
/// is wrong with the pattern in it.
pub fn measured(
    filled: &Infilling,
    pattern: &Pattern,
    opening: Opening,
) -> Result<MeasuredCell, Vec<Finding>> {
    let Opening { width, height } = opening;
    let skew = (width - height).abs();
    if pattern.cell == CellShape::Square && !pattern.rectangles && skew > SAME_POSITION_MM {
        let text = phrase!(
            "the opening is {} by {}: the figure of `{}` needs a square",
            Mm(width),
            Mm(height),
            &pattern.name
        );
        return Err(vec![
            Finding::error("opening-not-square", "opening", text)
                .hint("measure again; or give one figure, the mean of both"),
        ]);
    }
    let cell = Cell::rectangle(width, height);
    let Some(cell) = cell.filter(|_| pattern.cell == CellShape::Square) else {
        let text = phrase!("{} by {} is no opening", Mm(width), Mm(height));
        return Err(vec![Finding::error("not-positive", "opening", text)]);
    };
    let solved = solve(pattern, &cell, filled.stock)?;
    let distance = |kind: &PieceKind| (kind.opening.0 - width).hypot(kind.opening.1 - height);
    let nearest = filled
        .kinds
        .iter()
        .map(|kind| (distance(kind), kind.opening))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((off, drawn)) = nearest else {
        let text = "no cell of the panel is filled";
        return Err(vec![Finding::error("no-cell-filled", "opening", text)]);
    };
    let drawn_cell =
        Cell::rectangle(drawn.0, drawn.1).map(|cell| solve(pattern, &cell, filled.stock));
    let drawn_pieces = drawn_cell
        .transpose()?
        .map_or(Vec::new(), |cell| cell.pieces);
    let mut warnings = Vec::new();
    if off > filled.stock.thickness {
        let text = phrase!(
            "the drawing has no opening near this one: the nearest is {} by {}",
            Mm(drawn.0),
            Mm(drawn.1)
        );
        warnings.push(
            Finding::warning("opening-far-off", "opening", text)
                .hint("an opening is measured from strip to strip, not from centre to centre"),
        );
    }
    Ok(MeasuredCell {
        opening,
        drawn: Opening {
            width: drawn.0,
            height: drawn.1,
        },
        pieces: distinct(&solved.pieces, &drawn_pieces),
        warnings,
    })
}

/// Distinct pieces with their like in the drawing. Pieces that are the same part as built and as
/// drawn are counted together.
fn distinct(built: &[SolvedPiece], drawn: &[SolvedPiece]) -> Vec<MeasuredPiece> {
    let mut kinds: Vec<(SolvedPiece, PieceKind)> = Vec::new();
    let mut found: Vec<MeasuredPiece> = Vec::new();
    for (piece, like) in built.iter().zip(drawn) {
        let at = kind_of(piece, (0.0, 0.0), &mut kinds);
        match found.get_mut(at) {
            Some(known) => known.count += 1,
            None => found.push(MeasuredPiece {
                name: piece.name.clone(),
                count: 1,
                built: piece.figures.clone(),
                outline: piece.outline.clone(),
                drawn: like.figures.clone(),
            }),
        }
    }
    found
}
