//! Pieces for an opening as it was built and measured, beside those of the drawing.

use super::cell::Cell;
use super::cell_shape::CellShape;
use super::filled::Infilling;
use super::lie::Lie;
use super::pattern::{Neighbours, Pattern};
use super::piece_figures::Figures;
use super::piece_kinds::PieceKinds;
use super::solve::{SolvedPiece, solve};
use super::stock::PieceStock;
use crate::finding::{Document, Finding, all_in_document};
use crate::geometry::Point;
use crate::geometry::tolerance::POSITION;
use crate::phrase;
use crate::units::{Mm, Rad};
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

/// What was measured of a cell's clear opening. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OpeningAsMeasured {
    /// From wall to wall, with the diagonal from corner to corner where that was measured too.
    Walls {
        /// See [`Opening`].
        opening: Opening,
        /// The longer one of a rhomb; either one of a rectangle.
        diagonal: Option<f64>,
    },
    /// From corner to corner alone; the longer one of a rhomb.
    Diagonal(f64),
}

impl From<Opening> for OpeningAsMeasured {
    fn from(opening: Opening) -> Self {
        OpeningAsMeasured::Walls {
            opening,
            diagonal: None,
        }
    }
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
    /// Whether it goes in last and holds the others.
    pub locks: bool,
    /// How many the cell takes.
    pub count: usize,
    /// For the opening as measured.
    pub built: Figures,
    /// Its outline for the opening as measured, in its own frame.
    pub outline: Vec<Point>,
    /// As drawn.
    pub drawn: Figures,
    /// Its wood.
    pub stock: PieceStock,
}

impl MeasuredPiece {
    /// Length over points for the opening as built less that of the drawing, mm.
    pub fn difference(&self) -> f64 {
        self.built.length - self.drawn.length
    }
}

/// Corners that are farther off than this were hardly built so: it was measured wrong. From memory, rad:
/// 2 degrees.
const MOST_SKEW: f64 = 0.035;

/// Diagonals closer than this to those of a true cell are told as true, mm.
const SAME_DIAGONAL_MM: f64 = 0.005;

/// Works out the pieces of a measured opening; `filled` is the panel as drawn, `patterns` are those of its
/// map. Of the cells that are filled those are meant whose kind is named ([`Infilling::cell_kinds`]), else
/// all whose opening as drawn is the nearest.
///
/// # Errors
/// An opening that is none, or not square where a pattern needs squares, a diagonal that cannot be its
/// own (field `cell-opening`); a kind that is none (field `cell-kind`); what is wrong with a pattern in it.
pub fn measured(
    filled: &Infilling,
    patterns: &[Pattern],
    asked: impl Into<OpeningAsMeasured>,
    kind: Option<&str>,
) -> Result<MeasuredCell, Vec<Finding>> {
    let asked = asked.into();
    let meant = meant(filled, asked, kind)?;
    let (opening, mut warnings) = squared(&meant.drawn, asked)?;
    let mut pieces = Vec::new();
    let mut cell = meant.drawn.clone();
    let mut lies_seen = 0;
    for (at, parities) in &meant.patterns {
        let Some(pattern) = patterns.get(*at) else {
            continue;
        };
        if pattern.runs_over() {
            return Err(vec![over_strips(pattern)]);
        }
        cell = built_cell(pattern, &meant.drawn, opening)?;
        let lies = lies(pattern, &meant.drawn, &cell, parities);
        lies_seen = lies_seen.max(lies.len());
        for lie in &lies {
            let wide = |cell: &Cell| cell.widened(filled.fit)?.seen(*lie);
            if let Some((built, drawn)) = wide(&cell).zip(wide(&meant.drawn)) {
                let solved = |cell: &Cell| {
                    solve(pattern, cell, filled.stock_for(pattern))
                        .map_err(|faults| all_in_document(faults, Document::pattern(*at)))
                };
                let (built, drawn) = (solved(&built)?, solved(&drawn)?);
                let both = built.all_made().into_iter().zip(drawn.all_made());
                pieces.extend(both.map(|(built, drawn)| Pair {
                    pattern: *at,
                    built: built.clone(),
                    drawn: drawn.clone(),
                }));
            }
        }
    }
    if lies_seen > 1 || meant.patterns.len() > 1 {
        let text = if meant.patterns.len() > 1 {
            "cells with this opening take several patterns: the counts are for one of each; --cell-kind tells of one kind"
        } else {
            "cells beside each other differ: the counts are for one of each"
        };
        warnings.push(Finding::warning("counts-of-two-cells", FIELD, text));
    }
    warnings.extend(far_off(filled, &meant.drawn, &cell));
    let pair = |(width, height)| Opening { width, height };
    Ok(MeasuredCell {
        opening: pair(cell.opening()),
        drawn: pair(meant.drawn.opening()),
        pieces: distinct(&cell, &pieces, filled),
        warnings,
    })
}

fn over_strips(pattern: &Pattern) -> Finding {
    let text = format!(
        "pieces of `{}` run over the strips from cell to cell: one cell's opening does not say how long they are",
        pattern.name
    );
    let hint =
        "mark them on the panel itself, or draw the pitches as they were measured into the job";
    Finding::error("runs-over-strips", FIELD, text).hint(hint)
}

const FIELD: &str = "cell-opening";

/// The cells that a measured opening is of.
struct Meant {
    /// Their opening as drawn.
    drawn: Cell,
    /// Indices of their patterns, each with the ways in which it lies there: whether a quarter turned.
    patterns: Vec<(usize, Vec<bool>)>,
}

fn meant(
    filled: &Infilling,
    asked: OpeningAsMeasured,
    kind: Option<&str>,
) -> Result<Meant, Vec<Finding>> {
    let of_kind = kind.map(|name| of_kind(filled, name)).transpose()?;
    let is_meant = |at: &usize| match &of_kind {
        Some(cells) => cells.contains(at),
        None => true,
    };
    let kinds = filled.kinds.iter();
    let kinds = kinds.filter(|kind| kind.cells.iter().any(&is_meant));
    let nearest = kinds
        .map(|kind| (distance(&kind.cell, asked), &kind.cell))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, drawn)) = nearest else {
        let text = "no cell of the panel is filled";
        return Err(vec![Finding::error("no-cell-filled", FIELD, text)]);
    };
    let mut patterns: Vec<(usize, Vec<bool>)> = Vec::new();
    for kind in filled.kinds.iter().filter(|kind| kind.cell.is_like(drawn)) {
        for cell in kind.cells.iter().filter(|at| is_meant(at)) {
            let cell = filled.cells.get(*cell);
            let entry = cell.and_then(|cell| filled.map.entries.get(cell.entry?));
            let Some((entry, cell)) = entry.zip(cell) else {
                continue;
            };
            let quarter = (cell.lie.first + usize::from(cell.lie.mirrored)) % 2 == 1;
            match patterns
                .iter_mut()
                .find(|(known, _)| *known == entry.pattern)
            {
                Some((_, ways)) if ways.contains(&quarter) => {}
                Some((_, ways)) => ways.push(quarter),
                None => patterns.push((entry.pattern, vec![quarter])),
            }
        }
    }
    Ok(Meant {
        drawn: drawn.clone(),
        patterns,
    })
}

/// Indices of the cells of a kind.
fn of_kind(filled: &Infilling, name: &str) -> Result<Vec<usize>, Vec<Finding>> {
    let kinds = filled.cell_kinds();
    let found = kinds
        .iter()
        .find(|kind| kind.name.eq_ignore_ascii_case(name));
    let Some(kind) = found else {
        let names: Vec<&str> = kinds.iter().map(|kind| kind.name.as_str()).collect();
        let text = format!("no kind of cell is called `{name}`");
        let hint = format!(
            "kinds of this panel, as its picture names them: {}",
            names.join(", ")
        );
        return Err(vec![
            Finding::error("no-such-kind", "cell-kind", text).hint(hint),
        ]);
    };
    let cells = kind.cells.iter().filter_map(|at| filled.cells.get(*at));
    if cells.into_iter().all(|cell| !cell.whole) {
        let text = format!("cells of kind {} are cut at the panel's edge", kind.name);
        let hint = "measure a whole cell: what lies at the edge is made from the same pieces";
        return Err(vec![
            Finding::error("kind-is-cut", "cell-kind", text).hint(hint),
        ]);
    }
    Ok(kind.cells.clone())
}

/// How far a drawn opening is from what was measured, mm.
fn distance(cell: &Cell, asked: OpeningAsMeasured) -> f64 {
    let (wide, high) = cell.opening();
    match asked {
        OpeningAsMeasured::Diagonal(diagonal) => {
            longer_diagonal(cell).map_or(0.0, |drawn| (drawn - diagonal).abs())
        }
        OpeningAsMeasured::Walls { opening, .. } => match cell.shape() {
            CellShape::Square => (wide - opening.width).hypot(high - opening.height),
            // One figure is measured: the clear side.
            CellShape::Triangle | CellShape::Rhomb => (wide - opening.width).abs(),
        },
    }
}

/// From corner to corner, the longer way, mm; a triangle has none.
fn longer_diagonal(cell: &Cell) -> Option<f64> {
    match cell.corners() {
        [a, b, c, d] => Some(a.to(*c).length().max(b.to(*d).length())),
        _ => None,
    }
}

/// The opening that pieces are made for, and what its diagonal says of its corners.
fn squared(
    drawn: &Cell,
    asked: OpeningAsMeasured,
) -> Result<(Opening, Vec<Finding>), Vec<Finding>> {
    match asked {
        OpeningAsMeasured::Walls { opening, diagonal } => {
            let told = diagonal.map(|diagonal| out_of_true(drawn, opening, diagonal));
            let told = told.transpose().map_err(|fault| vec![*fault])?;
            Ok((opening, told.flatten().into_iter().collect()))
        }
        OpeningAsMeasured::Diagonal(diagonal) => {
            let side = side_of(drawn, diagonal).map_err(|fault| vec![*fault])?;
            let opening = Opening {
                width: side,
                height: side,
            };
            Ok((opening, Vec::new()))
        }
    }
}

fn no_diagonal() -> Box<Finding> {
    let hint = "measure its clear side, from corner to corner";
    Box::new(Finding::error("no-diagonal", FIELD, "a triangle has no diagonal").hint(hint))
}

/// The walls of a cell with the angles of a drawn one and that longer diagonal, mm: sides grow as the
/// diagonal does where the angles stay.
fn side_of(drawn: &Cell, diagonal: f64) -> Result<f64, Box<Finding>> {
    let long = longer_diagonal(drawn).ok_or_else(no_diagonal)?;
    if drawn.shape() == CellShape::Square && !drawn.is_square() {
        let text = "these cells are longer than wide: a diagonal alone says nothing of their sides";
        let hint = "give width, height and diagonal: --cell-opening 35.6mm,30.2mm,46.7mm";
        let fault = Finding::error("sides-not-known", FIELD, text);
        return Err(Box::new(fault.hint(hint)));
    }
    Ok(drawn.opening().0 * diagonal / long)
}

/// What a diagonal says of a cell's corners where they are not those of the drawing.
fn out_of_true(
    drawn: &Cell,
    opening: Opening,
    diagonal: f64,
) -> Result<Option<Finding>, Box<Finding>> {
    let true_cell = match drawn.shape() {
        CellShape::Square => Cell::rectangle(opening.width, opening.height),
        CellShape::Rhomb => drawn.resized(opening.width),
        CellShape::Triangle => return Err(no_diagonal()),
    };
    // An opening that is none is told with its pattern.
    let Some(true_cell) = true_cell else {
        return Ok(None);
    };
    let long = longer_diagonal(&true_cell).ok_or_else(no_diagonal)?;
    let [a, b] = match true_cell.shape() {
        CellShape::Rhomb => [opening.width; 2],
        CellShape::Square | CellShape::Triangle => [opening.width, opening.height],
    };
    let skew = corner(a, b, diagonal) - corner(a, b, long);
    if skew.is_nan() || skew.abs() > MOST_SKEW {
        let text = phrase!(
            "a diagonal of {} does not go with walls of {} and {}: it would be {} in a true cell",
            Mm(diagonal),
            Mm(a),
            Mm(b),
            Mm(long)
        );
        let hint =
            "measure again, from corner to corner of the clear opening; the longer way in a rhomb";
        let fault = Finding::error("diagonal-does-not-fit", FIELD, text);
        return Err(Box::new(fault.hint(hint)));
    }
    if (diagonal - long).abs() <= SAME_DIAGONAL_MM {
        return Ok(None);
    }
    // Of a parallelogram: the squares of both diagonals are twice those of its sides.
    let squares = 2.0 * (a * a + b * b);
    let other = |diagonal: f64| (squares - diagonal * diagonal).max(0.0).sqrt();
    let text = phrase!(
        "the cell is out of true by {}: its diagonals are {} and {}, those of a true cell {} and {}",
        Rad(skew.abs()),
        Mm(diagonal),
        Mm(other(diagonal)),
        Mm(long),
        Mm(other(long))
    );
    let hint = phrase!(
        "pieces are worked out for a true cell with these walls: push it true before they go in; one from corner to corner along the measured diagonal would have to be {} {}",
        Mm((diagonal - long).abs()),
        if diagonal > long { "longer" } else { "shorter" }
    );
    let warning = Finding::warning("cell-out-of-true", FIELD, text);
    Ok(Some(warning.hint(hint)))
}

/// Angle between two sides of which the ends are `diagonal` apart, rad (law of cosines).
fn corner(a: f64, b: f64, diagonal: f64) -> f64 {
    ((a * a + b * b - diagonal * diagonal) / (2.0 * a * b)).acos()
}

fn far_off(filled: &Infilling, drawn: &Cell, built: &Cell) -> Option<Finding> {
    let (wide, high) = drawn.opening();
    let (width, height) = built.opening();
    let opening = Opening { width, height };
    let off = distance(drawn, opening.into());
    (off > filled.stock.thickness).then(|| {
        let text = phrase!(
            "the drawing has no opening near this one: the nearest is {} by {}",
            Mm(wide),
            Mm(high)
        );
        Finding::warning("opening-far-off", FIELD, text)
            .hint("an opening is measured from strip to strip, not from centre to centre")
    })
}

/// The ways to lie in a cell that give different pieces; `quarters`: whether it lies a quarter turned.
fn lies(pattern: &Pattern, drawn: &Cell, built: &Cell, quarters: &[bool]) -> Vec<Lie> {
    let turned = Lie {
        first: 1,
        mirrored: false,
    };
    match (drawn.shape(), pattern.cell) {
        (CellShape::Rhomb, CellShape::Rhomb) if drawn.angle() > FRAC_PI_2 => vec![turned],
        (CellShape::Rhomb, CellShape::Square) if pattern.neighbours != Neighbours::Same => {
            vec![Lie::default(), turned]
        }
        (CellShape::Square, _) if !built.is_square() => {
            let lie = |quarter: &bool| if *quarter { turned } else { Lie::default() };
            quarters.iter().map(lie).collect()
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
            Finding::error("opening-not-square", FIELD, text)
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
        vec![Finding::error("not-positive", FIELD, text).hint(hint)]
    })
}

/// A piece as built with its like in the drawing.
struct Pair {
    pattern: usize,
    built: SolvedPiece,
    drawn: SolvedPiece,
}

/// Distinct pieces with their like in the drawing. Pieces that are the same part as built and as
/// drawn are counted together.
fn distinct(cell: &Cell, pieces: &[Pair], filled: &Infilling) -> Vec<MeasuredPiece> {
    let mut kinds = PieceKinds::default();
    let mut found: Vec<MeasuredPiece> = Vec::new();
    for pair in pieces {
        let at = kinds.of(&pair.built, cell, pair.pattern);
        match found.get_mut(at) {
            Some(known) => known.count += 1,
            None => found.push(MeasuredPiece {
                name: String::new(),
                locks: pair.built.locks,
                count: 1,
                built: pair.built.figures.clone(),
                outline: pair.built.outline.clone(),
                drawn: pair.drawn.figures.clone(),
                stock: pair.built.stock,
            }),
        }
    }
    let names = filled.map.patterns.iter();
    let names: Vec<&str> = names.map(|named| named.name.as_str()).collect();
    for (piece, kind) in found.iter_mut().zip(kinds.all(&names)) {
        piece.name = kind.name;
    }
    found
}
