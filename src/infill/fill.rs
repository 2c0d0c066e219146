//! A pattern in all cells of a panel.

use super::cell::Cell;
use super::cell_shape::CellShape;
use super::edge::{EdgeCells, PlacedPart, parts};
use super::lie::Lie;
use super::pattern::Pattern;
use super::piece_figures::PieceLap;
use super::piece_kinds::{PieceKind, PieceKinds};
use super::placing::{CellFrame, Lies};
use super::solve::{SolvedCell, SolvedPiece, solve};
use super::stock::PieceStock;
use crate::finding::{Document, Finding};
use crate::geometry::convex::{chord, edges};
use crate::geometry::offset::offset;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{CellMeasures, GridCell, Panel, Strip};
use crate::phrase;
use crate::phrase::Phrase;
use std::f64::consts::PI;

/// A panel's cells and the pieces in them.
#[derive(Debug, Clone, PartialEq)]
pub struct Infilling {
    /// Name of the pattern.
    pub pattern: String,
    /// The wood that was reckoned with.
    pub stock: PieceStock,
    /// Row by row from the bottom, each from the left.
    pub cells: Vec<FilledCell>,
    /// The distinct pieces, in the order of the cells and of the pattern; those that are trimmed at
    /// the panel's edge last.
    pub kinds: Vec<PieceKind>,
    /// Pieces at the panel's edge of which too little is left to be held, and which are left out.
    pub left_out: usize,
    /// What is unusual, such as cells that are left open.
    pub warnings: Vec<Finding>,
}

impl Infilling {
    /// Whether a piece is cut off at the panel's edge.
    pub fn is_trimmed(&self, piece: &PlacedPiece) -> bool {
        (self.kinds.get(piece.kind)).is_some_and(|kind| !kind.trims.is_empty())
    }
}

/// A cell of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct FilledCell {
    /// From 1, from the left.
    pub column: usize,
    /// From 1, from the bottom.
    pub row: usize,
    /// Whether the panel's edge leaves it whole.
    pub whole: bool,
    /// The clear opening, counter-clockwise, panel frame; of a cut cell as if it were whole.
    pub outline: Vec<Point>,
    /// What is measured of the opening: see [`Cell::opening`].
    pub opening: (f64, f64),
    /// What the opening is.
    pub shape: CellShape,
    /// How the pattern lies in it.
    pub lie: Lie,
    /// The pattern's pieces; none where the cell is left open.
    pub pieces: Vec<PlacedPiece>,
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

const PATTERN_FIELD: &str = "infill.pattern";

/// Fills a panel's cells.
///
/// A pattern is used in the cells in which its figure holds ([`Pattern::holds_in`]); other cells
/// are left open, with a warning. It is worked out once for each size of cell and laid into the
/// cells by rigid motions. Pieces of cells of different size are different pieces. Cells that the
/// panel's edge cuts stay open, or take what of the pieces lies in the panel; without a strip on
/// each of their walls they stay open in any case.
///
/// # Errors
/// A pattern for cells of another shape, or one that fits no cell of the panel (field
/// `infill.pattern`); what is wrong with the pattern in a cell of this panel (fields of the
/// pattern).
pub fn fill(panel: &Panel, pattern: &Pattern, edge: EdgeCells) -> Result<Infilling, Vec<Finding>> {
    fill_to(panel, pattern, edge, 0.0)
}

/// The same where a frame's rails stand `margin` mm outside the region: pieces of cut cells reach
/// to them.
///
/// # Errors
/// As for [`fill`].
pub fn fill_to(
    panel: &Panel,
    pattern: &Pattern,
    edge: EdgeCells,
    margin: f64,
) -> Result<Infilling, Vec<Finding>> {
    let region = panel.design().grid.region();
    let region = offset(&region, margin).unwrap_or(region);
    let cells = panel.design().grid.cells();
    if let Some(fault) = other_walls(pattern, &cells) {
        return Err(vec![fault]);
    }
    let is_cut = |cell: &GridCell| !cell.whole;
    let mut filling = Filling {
        panel,
        region,
        pattern,
        edge,
        stock: PieceStock {
            thickness: panel.design().strip.thickness,
            clearance: panel.design().strip.clearance,
        },
        lies: Lies::of(&cells, pattern.cell, pattern.neighbours),
        sizes: Vec::new(),
        kinds: PieceKinds::default(),
        cells: Vec::new(),
        left_out: 0,
        unheld: 0,
    };
    // Whole cells first, so that whole pieces are the first of the kinds.
    let mut in_order: Vec<(usize, &GridCell)> = cells.iter().enumerate().collect();
    in_order.sort_by_key(|(_, cell)| is_cut(cell));
    for (index, cell) in in_order {
        filling.add(index, cell)?;
    }
    filling.finish()
}

fn other_walls(pattern: &Pattern, cells: &[GridCell]) -> Option<Finding> {
    let walls = cells.first()?.corners.len();
    let drawn = pattern.cell.walls().len();
    let (code, hint) = match drawn {
        _ if drawn == walls => return None,
        3 => (
            "pattern-for-triangles",
            "the cells of this grid have four walls: choose a pattern for those",
        ),
        _ => (
            "pattern-for-squares",
            "the cells of this grid are triangles: choose a pattern for those",
        ),
    };
    let text = format!("`{}` is drawn for cells with {drawn} walls", pattern.name);
    let fault = Finding::error(code, PATTERN_FIELD, text);
    Some(fault.hint(hint).in_document(Document::Job))
}

/// The pattern worked out for one kind of cell.
struct Sized {
    /// The cell as it lies in the panel.
    cell: Cell,
    /// As the pattern sees it.
    seen: Cell,
    solved: SolvedCell,
    /// The distinct piece that each whole one is a copy of, once there is one.
    kinds: Vec<Option<usize>>,
}

struct Filling<'a> {
    panel: &'a Panel,
    region: Vec<Point>,
    pattern: &'a Pattern,
    edge: EdgeCells,
    stock: PieceStock,
    lies: Lies,
    sizes: Vec<Sized>,
    kinds: PieceKinds,
    /// With their places among the grid's cells.
    cells: Vec<(usize, FilledCell)>,
    left_out: usize,
    /// Cut cells that lack a strip.
    unheld: usize,
}

impl Filling<'_> {
    fn add(&mut self, index: usize, cell: &GridCell) -> Result<(), Vec<Finding>> {
        let Some(clear) = opening(cell, self.stock.thickness) else {
            return Ok(());
        };
        let lie = self.lies.lie(cell);
        let mut pieces = Vec::new();
        if self.pattern.holds_in(&clear)
            && self.is_filled(cell)
            && let Some(seen) = clear.seen(lie)
        {
            let at = self.solve(&clear, seen)?;
            pieces = self.pieces(
                at,
                &CellFrame::of(cell, lie, self.stock.thickness),
                cell.whole,
            );
        }
        for piece in &pieces {
            self.kinds.count(piece.kind, index);
        }
        let as_it_lies = CellFrame::of(cell, Lie::default(), self.stock.thickness);
        let corners = clear.corners().iter();
        let filled = FilledCell {
            column: cell.column,
            row: cell.row,
            whole: cell.whole,
            outline: corners.map(|p| as_it_lies.place(*p)).collect(),
            opening: clear.opening(),
            shape: clear.shape(),
            lie,
            pieces,
        };
        self.cells.push((index, filled));
        Ok(())
    }

    fn is_filled(&mut self, cell: &GridCell) -> bool {
        if cell.whole || self.edge == EdgeCells::Leave {
            return cell.whole;
        }
        let held = self.has_all_strips(cell);
        self.unheld += usize::from(!held);
        held
    }

    /// Whether a strip runs along every wall of a cut cell as far as that lies in the panel, where
    /// that is as much as a thickness: short grid lines at the edge have none.
    fn has_all_strips(&self, cell: &GridCell) -> bool {
        let strips = &self.panel.lattice().strips;
        edges(&cell.corners).all(|(p, q)| {
            let Some(along) = p.to(q).unit() else {
                return true;
            };
            let inside = chord(&self.region, p, along, SAME_POSITION_MM);
            let Some([from, to]) = inside else {
                return true;
            };
            let from = from.max(0.0);
            let to = to.min(p.to(q).length());
            let middle = p + along * f64::midpoint(from, to);
            let lies_on = |strip: &Strip| {
                let way = strip.start.to(strip.end).unit().unwrap_or_default();
                let to_middle = strip.start.to(middle);
                way.cross(to_middle).abs() < SAME_POSITION_MM
                    && way.cross(along).abs() < SAME_POSITION_MM
                    && (0.0..=strip.length).contains(&way.dot(to_middle))
            };
            to - from < self.stock.thickness || strips.iter().any(lies_on)
        })
    }

    /// Works the pattern out for a kind of cell, once; gives its place.
    fn solve(&mut self, cell: &Cell, seen: Cell) -> Result<usize, Vec<Finding>> {
        let known = |size: &Sized| size.cell.is_like(cell) && size.seen.is_like(&seen);
        if let Some(at) = self.sizes.iter().position(known) {
            return Ok(at);
        }
        let solved = solve(self.pattern, &seen, self.stock)?;
        self.sizes.push(Sized {
            cell: cell.clone(),
            seen,
            kinds: vec![None; solved.pieces.len()],
            solved,
        });
        Ok(self.sizes.len() - 1)
    }

    /// The pieces of a kind of cell where they lie.
    fn pieces(&mut self, at: usize, frame: &CellFrame, whole: bool) -> Vec<PlacedPiece> {
        let Some(size) = self.sizes.get_mut(at) else {
            return Vec::new();
        };
        if whole {
            let pieces = size.solved.pieces.iter().zip(&mut size.kinds);
            let at_home = pieces.map(|(piece, kind)| {
                let kinds = &mut self.kinds;
                let kind = *kind.get_or_insert_with(|| kinds.of(piece, &size.cell));
                placed(piece, kind, frame)
            });
            return at_home.collect();
        }
        let thickness = self.stock.thickness;
        let (parts, left_out) = parts(&size.solved.pieces, frame, &self.region, thickness);
        self.left_out += left_out;
        let part = |part: PlacedPart| {
            let mut kind = self.kinds.of(&part.whole, &size.cell);
            if !part.cuts.is_empty() {
                let trimmed = SolvedPiece {
                    outline: part.outline,
                    ..part.whole.clone()
                };
                let kinds = &mut self.kinds;
                kind = kinds.trimmed(&trimmed, &size.cell, &part.cuts, kind);
            }
            PlacedPiece {
                outline: part.placed,
                ..placed(&part.whole, kind, frame)
            }
        };
        parts.into_iter().map(part).collect()
    }

    fn finish(mut self) -> Result<Infilling, Vec<Finding>> {
        self.cells.sort_by_key(|(index, _)| *index);
        let cells: Vec<FilledCell> = self.cells.into_iter().map(|(_, cell)| cell).collect();
        let open = |cell: &&FilledCell| cell.whole && cell.pieces.is_empty();
        let unfilled = cells.iter().find(open);
        let mut warnings = Vec::new();
        let mut faults = Vec::new();
        if let Some(shape) = unfilled.map(|cell| cell.shape) {
            let whole = cells.iter().filter(|cell| cell.whole).count();
            let open = cells.iter().filter(open).count();
            let (text, hint) = left_open(shape, open, whole, &self.pattern.name);
            if open == whole {
                let fault = Finding::error("no-cell-filled", PATTERN_FIELD, text).hint(hint);
                faults.push(fault.in_document(Document::Job));
            } else {
                let warning = Finding::warning("cells-left-open", PATTERN_FIELD, text);
                warnings.push(warning.hint(hint));
            }
        } else if cells.iter().all(|cell| cell.pieces.is_empty()) {
            let text = "no cell of this panel is whole, and none is filled";
            let hint = "make the panel larger; or write edge = \"fill\" for trimmed pieces";
            let fault = Finding::error("no-cell-filled", PATTERN_FIELD, text).hint(hint);
            faults.push(fault.in_document(Document::Job));
        }
        if self.unheld > 0 {
            let text = format!(
                "{} cells at the edge stay open: a strip is missing on one of their walls",
                self.unheld
            );
            warnings.push(Finding::warning("edge-cells-left-open", EDGE_FIELD, text));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        Ok(Infilling {
            pattern: self.pattern.name.clone(),
            stock: self.stock,
            cells,
            kinds: self.kinds.all(),
            left_out: self.left_out,
            warnings,
        })
    }
}

const EDGE_FIELD: &str = "infill.edge";

/// Why whole cells are left open, and what would fill them.
fn left_open(shape: CellShape, open: usize, whole: usize, pattern: &str) -> (Phrase, &'static str) {
    let (what, hint) = match shape {
        CellShape::Rhomb => ("rhombs", "choose a pattern that holds in rhombs"),
        CellShape::Square | CellShape::Triangle => (
            "longer than wide",
            "make the pitches of both directions the same, or choose a pattern that also holds in \
             rectangles",
        ),
    };
    let text = phrase!(
        "{} of {} cells are {} and are left open: the figure of `{}` needs squares",
        open,
        whole,
        what,
        pattern
    );
    (text, hint)
}

/// A cell's clear opening as it lies, its first corner at the origin, its first wall along x.
fn opening(cell: &GridCell, thickness: f64) -> Option<Cell> {
    match cell.measures {
        CellMeasures::Rectangle { width, height } => {
            Cell::rectangle(width - thickness, height - thickness)
        }
        CellMeasures::Rhomb { pitch, angle } => Cell::rhomb_of_grid(pitch, angle, thickness),
        CellMeasures::Triangle { side } => Cell::triangle_of_grid(side, thickness),
    }
}

fn placed(piece: &SolvedPiece, kind: usize, frame: &CellFrame) -> PlacedPiece {
    let polygon = piece.polygon();
    let mut outline: Vec<Point> = polygon.into_iter().map(|p| frame.place(p)).collect();
    let mut laps = piece.figures.laps.clone();
    if frame.mirrors() {
        outline.reverse();
        for lap in &mut laps {
            lap.angle = PI - lap.angle;
        }
    }
    PlacedPiece {
        name: piece.name.clone(),
        kind,
        outline,
        axis: (frame.place(piece.axis.0), frame.place(piece.axis.1)),
        laps,
    }
}
