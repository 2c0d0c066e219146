//! Pieces for an opening as it was built and measured, beside those of the drawing.

use super::cell::Cell;
use super::cell_shape::CellShape;
use super::fill::Infilling;
use super::lie::Lie;
use super::pattern::{Neighbours, Pattern};
use super::piece_figures::Figures;
use super::piece_kinds::PieceKinds;
use super::solve::{SolvedPiece, solve};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::geometry::tolerance::POSITION;
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;
use std::f64::consts::FRAC_PI_2;

/// A clear opening, from strip to strip, as measured. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opening {
    /// Left to right; of a triangle or a rhomb its side.
    pub width: f64,
    /// Bottom to top; of a triangle or a rhomb square to that side.
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
    let distance = |cell: &Cell| {
        let (wide, high) = cell.opening();
        match cell.shape() {
            CellShape::Square => (wide - width).hypot(high - height),
            // One figure is measured: the clear side.
            CellShape::Triangle | CellShape::Rhomb => (wide - width).abs(),
        }
    };
    let nearest = filled
        .kinds
        .iter()
        .map(|kind| (distance(&kind.cell), &kind.cell))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((off, drawn)) = nearest else {
        let text = "no cell of the panel is filled";
        return Err(vec![Finding::error("no-cell-filled", "opening", text)]);
    };
    let cell = built_cell(pattern, drawn, opening)?;
    let mut warnings = Vec::new();
    let mut pieces = Vec::new();
    let lies = lies(pattern, drawn);
    for lie in &lies {
        if let Some((built, drawn)) = cell.seen(*lie).zip(drawn.seen(*lie)) {
            let [built, drawn] = [built, drawn].map(|cell| solve(pattern, &cell, filled.stock));
            pieces.extend(built?.pieces.into_iter().zip(drawn?.pieces));
        }
    }
    if lies.len() > 1 {
        let text = "cells beside each other differ: the counts are for one of each";
        warnings.push(Finding::warning("counts-of-two-cells", "opening", text));
    }
    let pair = |(width, height)| Opening { width, height };
    if off > filled.stock.thickness {
        let (wide, high) = drawn.opening();
        let text = phrase!(
            "the drawing has no opening near this one: the nearest is {} by {}",
            Mm(wide),
            Mm(high)
        );
        warnings.push(
            Finding::warning("opening-far-off", "opening", text)
                .hint("an opening is measured from strip to strip, not from centre to centre"),
        );
    }
    Ok(MeasuredCell {
        opening: pair(cell.opening()),
        drawn: pair(drawn.opening()),
        pieces: distinct(&cell, &pieces),
        warnings,
    })
}

/// The ways to lie in a cell that give different pieces.
fn lies(pattern: &Pattern, cell: &Cell) -> Vec<Lie> {
    let turned = Lie {
        first: 1,
        mirrored: false,
    };
    match (cell.shape(), pattern.cell) {
        (CellShape::Rhomb, CellShape::Rhomb) if cell.angle() > FRAC_PI_2 => vec![turned],
        (CellShape::Rhomb, CellShape::Square) if pattern.neighbours != Neighbours::Same => {
            vec![Lie::default(), turned]
        }
        (CellShape::Square | CellShape::Triangle | CellShape::Rhomb, _) => vec![Lie::default()],
    }
}

/// The cell as measured; of a triangle or a rhomb one figure is measured, the clear side, and the
/// angles are those of the drawing.
fn built_cell(pattern: &Pattern, drawn: &Cell, opening: Opening) -> Result<Cell, Vec<Finding>> {
    let Opening { width, height } = opening;
    let skew = width.approx_ne(height, POSITION);
    let is_slanted = drawn.shape() != CellShape::Square;
    if skew && (is_slanted || !pattern.rectangles) {
        let needs = if is_slanted {
            "cells of this grid have one size, their clear side from corner to corner".to_owned()
        } else {
            format!("the figure of `{}` needs a square", pattern.name)
        };
        let text = phrase!("the opening is {} by {}: {}", Mm(width), Mm(height), needs);
        return Err(vec![
            Finding::error("opening-not-square", "opening", text)
                .hint("measure again; or give one figure, the mean of both"),
        ]);
    }
    let cell = if is_slanted {
        drawn.resized(width)
    } else {
        Cell::rectangle(width, height)
    };
    cell.ok_or_else(|| {
        let text = phrase!("{} by {} is no opening", Mm(width), Mm(height));
        let hint = "measure from strip to strip; it must be above zero";
        vec![Finding::error("not-positive", "opening", text).hint(hint)]
    })
}

/// Distinct pieces with their like in the drawing. Pieces that are the same part as built and as
/// drawn are counted together.
fn distinct(cell: &Cell, pieces: &[(SolvedPiece, SolvedPiece)]) -> Vec<MeasuredPiece> {
    let mut kinds = PieceKinds::default();
    let mut found: Vec<MeasuredPiece> = Vec::new();
    for (piece, like) in pieces {
        let at = kinds.of(piece, cell);
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
