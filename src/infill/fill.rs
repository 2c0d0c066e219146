//! A pattern in all cells of a panel.

use super::cell::{Cell, CellShape};
use super::figures::PieceLap;
use super::kinds::{PieceKind, kind_of};
use super::pattern::{Neighbours, Pattern};
use super::solve::{SolvedCell, SolvedPiece, Stock, solve};
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{Grid, Panel};
use crate::phrase;
use std::f64::consts::PI;

/// A panel's cells and the pieces in them.
#[derive(Debug, Clone, PartialEq)]
pub struct Infilling {
    /// Name of the pattern.
    pub pattern: String,
    /// The wood that was reckoned with.
    pub stock: Stock,
    /// Row by row from the bottom, each from the left.
    pub cells: Vec<FilledCell>,
    /// The distinct pieces, in the order of the cells and of the pattern.
    pub kinds: Vec<PieceKind>,
    /// What is unusual, such as cells that are left open.
    pub warnings: Vec<Finding>,
}

/// A cell of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct FilledCell {
    /// From 1, from the left.
    pub column: usize,
    /// From 1, from the bottom.
    pub row: usize,
    /// The clear opening, counter-clockwise, panel frame.
    pub outline: Vec<Point>,
    /// How the pattern lies in it.
    pub orientation: Orientation,
    /// The pattern's pieces; none where the cell is left open.
    pub pieces: Vec<PlacedPiece>,
}

impl FilledCell {
    /// Clear width and height, mm.
    pub fn opening(&self) -> (f64, f64) {
        crate::geometry::bounds(self.outline.iter().copied())
            .map_or((0.0, 0.0), |(low, high)| (high.x - low.x, high.y - low.y))
    }
}

/// A piece in its cell.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPiece {
    /// Its name in the pattern.
    pub name: String,
    /// Index of the distinct piece that it is a copy of.
    pub kind: usize,
    /// Counter-clockwise, panel frame.
    pub outline: Vec<Point>,
    /// Points of its axis that the pattern names, `from` and `to`, panel frame.
    pub axis: (Point, Point),
    /// Its laps as it lies in the panel, from its `from` end.
    pub laps: Vec<PieceLap>,
}

/// How a pattern lies in a cell: first turned, then mirrored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Orientation {
    /// By a quarter turn counter-clockwise.
    pub turned: bool,
    /// Left and right changed.
    pub left_right: bool,
    /// Top and bottom changed.
    pub top_bottom: bool,
}

impl Orientation {
    /// That of the cell in a column and row, both from 0.
    pub fn of(neighbours: Neighbours, column: usize, row: usize) -> Orientation {
        match neighbours {
            Neighbours::Same => Orientation::default(),
            Neighbours::Mirror => Orientation {
                turned: false,
                left_right: column % 2 == 1,
                top_bottom: row % 2 == 1,
            },
            Neighbours::Turn => Orientation {
                turned: (column + row) % 2 == 1,
                ..Orientation::default()
            },
        }
    }

    /// Whether left becomes right.
    pub fn mirrors(self) -> bool {
        self.left_right != self.top_bottom
    }

    /// A point of the pattern's own cell in a cell of `width` and `height` at the origin.
    fn place(self, p: Point, width: f64, height: f64) -> Point {
        let p = if self.turned {
            Point::new(width - p.y, p.x)
        } else {
            p
        };
        Point::new(
            if self.left_right { width - p.x } else { p.x },
            if self.top_bottom { height - p.y } else { p.y },
        )
    }
}

/// Fills a panel's cells.
///
/// A pattern for squares is used in cells whose clear width and height agree within
/// [`SAME_POSITION_MM`], and in longer ones where it says that its figure holds there; other cells
/// are left open, with a warning. Pieces of cells of different size are different pieces.
///
/// # Errors
/// A pattern for triangles, or one that fits no cell of the panel (field `infill.pattern`); what is
/// wrong with the pattern in a cell of this panel (fields of the pattern).
pub fn fill(panel: &Panel, pattern: &Pattern) -> Result<Infilling, Vec<Finding>> {
    let stock = Stock {
        thickness: panel.strip.thickness,
        clearance: panel.strip.clearance,
    };
    if pattern.cell != CellShape::Square {
        let text = format!("`{}` is drawn for triangular cells", pattern.name);
        return Err(vec![
            Finding::error("pattern-for-triangles", PATTERN_FIELD, text)
                .hint("the cells of this grid have four walls: choose a pattern for squares"),
        ]);
    }
    let mut filling = Filling {
        pattern,
        stock,
        sizes: Vec::new(),
        kinds: Vec::new(),
        cells: Vec::new(),
    };
    for (column, row, corner, opening) in openings(panel) {
        filling.add(column, row, corner, opening)?;
    }
    let (cells, kinds) = (filling.cells, filling.kinds);
    let open = cells.iter().filter(|cell| cell.pieces.is_empty()).count();
    let left_open = phrase!(
        "{} of {} cells are longer than wide and are left open: the figure of `{}` needs squares",
        open,
        cells.len(),
        &pattern.name
    );
    let hint = "make the pitches of both directions the same, or choose a pattern that also \
                holds in rectangles";
    if open == cells.len() {
        let fault = Finding::error("no-cell-filled", PATTERN_FIELD, left_open);
        return Err(vec![fault.hint(hint)]);
    }
    let warning = Finding::warning("cells-left-open", PATTERN_FIELD, left_open).hint(hint);
    Ok(Infilling {
        pattern: pattern.name.clone(),
        stock,
        cells,
        kinds: kinds.into_iter().map(|(_, kind)| kind).collect(),
        warnings: (open > 0).then_some(warning).into_iter().collect(),
    })
}

const PATTERN_FIELD: &str = "infill.pattern";

/// Column and row from 0, lower left corner and clear width and height of all cells, row by row.
fn openings(panel: &Panel) -> Vec<(usize, usize, Point, (f64, f64))> {
    let Grid::Square(grid) = &panel.grid else {
        return Vec::new();
    };
    let t = panel.strip.thickness;
    // Gaps between neighbouring strips: where each starts, and how wide it is. The width does not
    // depend on where the gap lies, so that equal pitches make equal openings, bit by bit.
    let gaps = |pitches: &[f64]| -> Vec<(f64, f64)> {
        let starts = pitches.iter().scan(grid.overhang, |at, pitch| {
            let start = *at + t / 2.0;
            *at += pitch;
            Some(start)
        });
        starts.zip(pitches.iter().map(|pitch| pitch - t)).collect()
    };
    let (across, up) = (gaps(&grid.pitches_x), gaps(&grid.pitches_y));
    let mut all = Vec::with_capacity(across.len() * up.len());
    for (row, (y, height)) in up.iter().enumerate() {
        for (column, (x, width)) in across.iter().enumerate() {
            all.push((column, row, Point::new(*x, *y), (*width, *height)));
        }
    }
    all
}

/// The pattern worked out for one size of cell; `None` where it does not hold there.
struct Sized {
    opening: (f64, f64),
    /// Lying as drawn, and turned by a quarter.
    solved: [Option<(SolvedCell, Vec<usize>)>; 2],
}

struct Filling<'a> {
    pattern: &'a Pattern,
    stock: Stock,
    sizes: Vec<Sized>,
    kinds: Vec<(SolvedPiece, PieceKind)>,
    cells: Vec<FilledCell>,
}

impl Filling<'_> {
    fn add(
        &mut self,
        column: usize,
        row: usize,
        corner: Point,
        opening: (f64, f64),
    ) -> Result<(), Vec<Finding>> {
        let (width, height) = opening;
        let orientation = Orientation::of(self.pattern.neighbours, column, row);
        let to_panel = |p: Point| {
            let p = orientation.place(p, width, height);
            Point::new(corner.x + p.x, corner.y + p.y)
        };
        let outline = Cell::rectangle(width, height).map(|cell| {
            let moved = |p: &Point| Point::new(corner.x + p.x, corner.y + p.y);
            cell.corners().iter().map(moved).collect()
        });
        let mut pieces = Vec::new();
        let is_square = (width - height).abs() <= SAME_POSITION_MM;
        if is_square || self.pattern.rectangles {
            let at = self.solve(opening, orientation.turned)?;
            let cell = self
                .sizes
                .get(at)
                .and_then(|size| size.solved.get(usize::from(orientation.turned))?.as_ref());
            for (piece, kind) in cell
                .into_iter()
                .flat_map(|(cell, kinds)| cell.pieces.iter().zip(kinds))
            {
                pieces.push(placed(piece, *kind, orientation, to_panel));
            }
        }
        let index = self.cells.len();
        for piece in &pieces {
            if let Some((_, kind)) = self.kinds.get_mut(piece.kind) {
                kind.count += 1;
                if kind.cells.last() != Some(&index) {
                    kind.cells.push(index);
                }
            }
        }
        self.cells.push(FilledCell {
            column: column + 1,
            row: row + 1,
            outline: outline.unwrap_or_default(),
            orientation,
            pieces,
        });
        Ok(())
    }

    /// Works the pattern out for a size of cell, once; gives the place of the size.
    fn solve(&mut self, opening: (f64, f64), turned: bool) -> Result<usize, Vec<Finding>> {
        let near = |a: f64, b: f64| (a - b).abs() <= SAME_POSITION_MM;
        let known = self
            .sizes
            .iter()
            .position(|size| near(size.opening.0, opening.0) && near(size.opening.1, opening.1));
        let at = known.unwrap_or(self.sizes.len());
        if known.is_none() {
            self.sizes.push(Sized {
                opening,
                solved: [None, None],
            });
        }
        let Some(size) = self.sizes.get_mut(at) else {
            return Ok(at);
        };
        let Some(slot) = size.solved.get_mut(usize::from(turned)) else {
            return Ok(at);
        };
        if slot.is_some() {
            return Ok(at);
        }
        // What lies turned in the cell was drawn for the cell lying on its side.
        let (width, height) = if turned {
            (opening.1, opening.0)
        } else {
            opening
        };
        if let Some(cell) = Cell::rectangle(width, height) {
            let solved = solve(self.pattern, &cell, self.stock)?;
            let kinds = solved
                .pieces
                .iter()
                .map(|piece| kind_of(piece, size.opening, &mut self.kinds))
                .collect();
            *slot = Some((solved, kinds));
        }
        Ok(at)
    }
}

fn placed(
    piece: &SolvedPiece,
    kind: usize,
    orientation: Orientation,
    to_panel: impl Fn(Point) -> Point,
) -> PlacedPiece {
    let mut outline: Vec<Point> = piece.polygon().into_iter().map(&to_panel).collect();
    let mut laps = piece.figures.laps.clone();
    if orientation.mirrors() {
        outline.reverse();
        for lap in &mut laps {
            lap.angle = PI - lap.angle;
        }
    }
    PlacedPiece {
        name: piece.name.clone(),
        kind,
        outline,
        axis: (to_panel(piece.axis.0), to_panel(piece.axis.1)),
        laps,
    }
}
