//! Patterns in the cells of a panel.

use super::cell::Cell;
use super::edge::{EdgeCells, PlacedPart, parts};
use super::filled::{FilledCell, Infilling, PlacedPiece};
use super::going_in::{going_in, hold_each_other};
use super::leaves::{cells_made_for, clear_opening};
use super::lie::Lie;
use super::open_cells;
use super::over_strips::{self, RunningPart};
use super::pattern::Pattern;
use super::pattern_map::{LegendEntry, PatternMap};
use super::piece_kinds::{PieceKinds, most_stock};
use super::placing::{CellFrame, Lies};
use super::solve::{SolvedCell, SolvedPiece, solve};
use super::stock::PieceStock;
use crate::finding::{Document, Finding, all_in_document};
use crate::geometry::convex::{chord, depth, edges};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{GridCell, Margins, Panel, Strip};
use std::f64::consts::PI;

/// Fills all cells of a panel with one pattern; see [`fill_map`].
///
/// # Errors
/// As for [`fill_map`].
pub fn fill(panel: &Panel, pattern: &Pattern, edge: EdgeCells) -> Result<Infilling, Vec<Finding>> {
    let map = PatternMap::everywhere(&pattern.name, panel.design().grid.cells().len());
    fill_map(panel, &FillOrder::new(&map, &[pattern], edge))
}

/// The kind of a part whose piece is not put together yet.
const NOT_YET: usize = usize::MAX;

/// What fills a panel's cells.
#[derive(Debug, Clone, Copy)]
pub struct FillOrder<'a> {
    /// Which cell takes which pattern.
    pub map: &'a PatternMap,
    /// The map's patterns, in its order.
    pub patterns: &'a [&'a Pattern],
    /// What becomes of cells that the panel's edge cuts.
    pub edge: EdgeCells,
    /// From the region's edge to a frame's rails, or to where ends are cut off flush: pieces of cut cells
    /// reach to there.
    pub margins: Margins,
}

impl<'a> FillOrder<'a> {
    /// Without a frame.
    pub fn new(map: &'a PatternMap, patterns: &'a [&'a Pattern], edge: EdgeCells) -> Self {
        FillOrder {
            map,
            patterns,
            edge,
            margins: Margins::even(0.0),
        }
    }
}

/// Fills a panel's cells with the patterns of a map.
///
/// A pattern is used in the cells in which its figure holds ([`Pattern::holds_in`]); other cells
/// are left open, with a warning. It is worked out once for each size of cell and laid into the
/// cells by rigid motions. Pieces of cells of different size are different pieces; equal pieces of
/// two patterns are one. Cells that the panel's edge cuts stay open, or take what of the pieces lies in
/// the panel; without a strip on each of their walls they stay open in any case.
///
/// Where the panel is known as built, leaves of openings that differ little are made alike
/// ([`AsBuilt::same_within`](crate::lattice::AsBuilt::same_within)), each laid into the middle of its cell.
///
/// Pieces are worked out for openings that are wider by the fit of [`Panel::piece_section`], and laid
/// into those that the strips leave.
///
/// # Errors
/// A pattern for cells of another shape, a turn that a cell does not allow, or patterns that fit no
/// cell of the panel (fields of the job); what is wrong with a pattern in a cell of this panel (fields
/// of that pattern).
pub fn fill_map(panel: &Panel, order: &FillOrder<'_>) -> Result<Infilling, Vec<Finding>> {
    let region = panel.design().grid.region();
    let region = order.margins.around(&region).unwrap_or(region);
    let cells = panel.design().grid.cells();
    let entries = chosen(order, &cells, middle_of(&panel.design().grid.region()))?;
    let needs_square = |at: usize| {
        let (entry, _) = order.map.entry(at)?;
        Some(entries.get(entry)?.pattern.needs_square())
    };
    let made = cells_made_for(panel, &cells, needs_square);
    let section = panel.piece_section();
    let is_cut = |cell: &GridCell| !cell.whole;
    let mut filling = Filling {
        panel,
        region,
        map: order.map,
        entries,
        edge: order.edge,
        stock: PieceStock::of(&section).with_skin(panel.fold_skin()),
        own_section: panel
            .design()
            .infill
            .as_ref()
            .is_some_and(|infill| infill.section.is_some()),
        fit: section.fit,
        sizes: Vec::new(),
        running: Vec::new(),
        kinds: PieceKinds::default(),
        cells: Vec::new(),
        left_out: 0,
        unheld: 0,
    };
    // Whole cells first, so that whole pieces are the first of the kinds.
    let mut in_order: Vec<_> = cells.iter().zip(&made).enumerate().collect();
    in_order.sort_by_key(|(_, (cell, _))| is_cut(cell));
    for (index, (cell, made)) in in_order {
        filling.add(index, cell, made)?;
    }
    filling.finish(&cells)
}

/// The middle of a region's corners.
fn middle_of(region: &[Point]) -> Point {
    let count = region.len().max(1) as f64;
    let sum = region
        .iter()
        .fold((0.0, 0.0), |(x, y), p| (x + p.x, y + p.y));
    Point::new(sum.0 / count, sum.1 / count)
}

/// The entries of a map with their patterns, as they lie in a grid whose `middle` some of them ask for.
fn chosen<'a>(
    order: &FillOrder<'a>,
    cells: &[GridCell],
    middle: Point,
) -> Result<Vec<ChosenPattern<'a>>, Vec<Finding>> {
    let mut chosen = Vec::with_capacity(order.map.entries.len());
    let mut faults = Vec::new();
    for entry in &order.map.entries {
        let Some(pattern) = order.patterns.get(entry.pattern).copied() else {
            let text = "the job has pieces, and their pattern was not handed over with it";
            let fault = Finding::error("no-pattern", entry.field.as_str(), text);
            faults.push(fault.hint("read the pattern that this field names, and fill with it"));
            continue;
        };
        faults.extend(open_cells::other_walls(pattern, cells, &entry.field));
        let lies = Lies::of(cells, pattern.cell, pattern.neighbours);
        chosen.push(ChosenPattern {
            entry,
            pattern,
            lies: match pattern.middle_corner() {
                Some(corner) => lies.with_middle(cells, corner, middle),
                None => lies,
            },
        });
    }
    if faults.is_empty() {
        Ok(chosen)
    } else {
        Err(all_in_document(faults, Document::Job))
    }
}

/// An entry of the map with its pattern.
struct ChosenPattern<'a> {
    entry: &'a LegendEntry,
    pattern: &'a Pattern,
    lies: Lies,
}

impl ChosenPattern<'_> {
    /// How it lies in a cell.
    fn lie(&self, cell: &GridCell) -> Result<Lie, Vec<Finding>> {
        let by_rule = self.lies.lie(cell);
        match self.entry.pose.lie(cell.measures) {
            Some(own) => Ok(by_rule.after(own, cell.corners.len())),
            None => Err(vec![self.entry.cannot_lie(cell)]),
        }
    }
}

/// A pattern worked out for one kind of cell.
struct Sized {
    /// Index of the pattern.
    pattern: usize,
    /// The cell as it lies in the panel.
    cell: Cell,
    /// As the pattern sees it.
    seen: Cell,
    solved: SolvedCell,
    /// The distinct piece that each whole one is a copy of, once there is one: where the pattern lies as it is
    /// written, and where it lies mirrored.
    kinds: Vec<[Option<usize>; 2]>,
}

/// A cell that takes a pattern: what is solved, and for what.
struct Wanted {
    /// Index of the entry.
    entry: usize,
    /// The clear opening as it lies.
    cell: Cell,
    /// As the pattern sees it.
    seen: Cell,
    /// The same, as wide as pieces are made for.
    made_for: Cell,
}

struct Filling<'a> {
    panel: &'a Panel,
    region: Vec<Point>,
    map: &'a PatternMap,
    entries: Vec<ChosenPattern<'a>>,
    edge: EdgeCells,
    stock: PieceStock,
    /// Whether the job says how thick and deep pieces are: then no pattern does.
    own_section: bool,
    fit: f64,
    sizes: Vec<Sized>,
    /// Parts of pieces that run over strips.
    running: Vec<RunningPart>,
    kinds: PieceKinds,
    /// With their places among the grid's cells.
    cells: Vec<(usize, FilledCell)>,
    left_out: usize,
    /// Cut cells that lack a strip.
    unheld: usize,
}

impl Filling<'_> {
    /// Thickness of the strips, mm.
    fn strip(&self) -> f64 {
        self.panel.design().strip.thickness
    }

    /// `made`: the cell as its leaf is made for it.
    fn add(&mut self, index: usize, cell: &GridCell, made: &GridCell) -> Result<(), Vec<Finding>> {
        let clear = |cell| clear_opening(cell, self.strip());
        let openings = clear(cell).zip(clear(made));
        let Some((clear, leaf)) = openings else {
            return Ok(());
        };
        let entry = self.map.entry(index).map(|(at, _)| at);
        let lie = match entry.and_then(|at| self.entries.get(at)) {
            Some(chosen) => chosen.lie(cell)?,
            None => Lie::default(),
        };
        let mut pieces = Vec::new();
        if let Some(wanted) = self.wanted(index, &leaf, lie)
            && self.is_filled(cell)
        {
            let at = self.solve(wanted)?;
            self.keeps_folds(at, cell)?;
            let frame = CellFrame::of(made, lie, self.strip() - self.fit);
            pieces = self.pieces((at, index), &frame, cell.whole);
        }
        for piece in pieces
            .iter()
            .filter(|piece| piece.kind != NOT_YET && piece.counts())
        {
            self.kinds.count(piece.kind, index);
        }
        let as_it_lies = CellFrame::of(cell, Lie::default(), self.strip());
        let corners = clear.corners().iter();
        let filled = FilledCell {
            column: cell.column,
            row: cell.row,
            whole: cell.whole,
            outline: corners.map(|p| as_it_lies.place(*p)).collect(),
            opening: clear.opening(),
            made_for: leaf.opening(),
            shape: clear.shape(),
            entry,
            lie,
            pieces,
        };
        self.cells.push((index, filled));
        Ok(())
    }

    /// What a cell is to take; nothing where it is to stay open or the figure does not hold in it.
    fn wanted(&self, index: usize, clear: &Cell, lie: Lie) -> Option<Wanted> {
        let (entry, _) = self.map.entry(index)?;
        let holds = self.entries.get(entry)?.pattern.holds_in(clear);
        let made_for = clear.widened(self.fit)?;
        (holds).then_some(Wanted {
            entry,
            cell: clear.clone(),
            seen: clear.seen(lie)?,
            made_for: made_for.seen(lie)?,
        })
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
            to - from < self.strip() || strips.iter().any(lies_on)
        })
    }

    /// Works a pattern out for a kind of cell, once; gives its place.
    fn solve(&mut self, wanted: Wanted) -> Result<usize, Vec<Finding>> {
        let Some(chosen) = self.entries.get(wanted.entry) else {
            return Ok(self.sizes.len());
        };
        let pattern = chosen.entry.pattern;
        let known = |size: &Sized| {
            size.pattern == pattern
                && size.cell.is_like(&wanted.cell)
                && size.seen.is_like(&wanted.seen)
        };
        if let Some(at) = self.sizes.iter().position(known) {
            return Ok(at);
        }
        let stock = match self.own_section {
            true => self.stock,
            false => self.stock.share(chosen.pattern.section),
        };
        let solved = solve(chosen.pattern, &wanted.made_for, stock)
            .map_err(|faults| all_in_document(faults, Document::pattern(pattern)))?;
        self.sizes.push(Sized {
            pattern,
            cell: wanted.cell,
            seen: wanted.seen,
            kinds: vec![[None; 2]; solved.pieces.len()],
            solved,
        });
        Ok(self.sizes.len() - 1)
    }

    /// Whether the panel's edge leaves the folded pieces of a kind of cell whole.
    fn keeps_folds(&self, at: usize, cell: &GridCell) -> Result<(), Vec<Finding>> {
        let size = self
            .sizes
            .get(at)
            .filter(|size| !size.solved.folded.is_empty());
        let name = size.and_then(|size| self.map.patterns.get(size.pattern));
        match name {
            Some(named) if !cell.whole => Err(vec![open_cells::folded_at_edge(&named.name)]),
            _ => Ok(()),
        }
    }

    /// The pieces of a kind of cell where they lie.
    fn pieces(
        &mut self,
        (at, index): (usize, usize),
        frame: &CellFrame,
        whole: bool,
    ) -> Vec<PlacedPiece> {
        let Some(size) = self.sizes.get_mut(at) else {
            return Vec::new();
        };
        if whole {
            let pieces = size.solved.pieces.iter().zip(&mut size.kinds).enumerate();
            let at_home = pieces.map(|(nth, (piece, kind))| {
                if piece.over.contains(&true) {
                    let part = placed(piece, NOT_YET, frame);
                    let of = (piece, size.pattern);
                    let running = RunningPart::of(of, &size.cell, &part, frame, (index, nth));
                    self.running.push(running);
                    return part;
                }
                let kinds = &mut self.kinds;
                let made = size.solved.whole(nth).unwrap_or(piece);
                let made = made.as_laid(frame.mirrors());
                let kind = &mut kind[usize::from(frame.mirrors())];
                let kind = *kind.get_or_insert_with(|| kinds.of(&made, &size.cell, size.pattern));
                PlacedPiece {
                    arm: size.solved.arm(nth),
                    ..placed(piece, kind, frame)
                }
            });
            return at_home.collect();
        }
        let (parts, left_out) = parts(&size.solved.pieces, frame, &self.region);
        self.left_out += left_out;
        let part = |part: PlacedPart| {
            let made = part.whole.as_laid(frame.mirrors());
            let mut kind = self.kinds.of(&made, &size.cell, size.pattern);
            if !part.cuts.is_empty() {
                let (outline, cuts) = part.as_made(frame.mirrors());
                let trimmed = SolvedPiece {
                    outline,
                    ..made.into_owned()
                };
                let kinds = &mut self.kinds;
                kind = kinds.trimmed((&trimmed, size.pattern), &size.cell, &cuts, kind);
            }
            PlacedPiece {
                outline: part.placed,
                ..placed(&part.whole, kind, frame)
            }
        };
        parts.into_iter().map(part).collect()
    }

    fn finish(mut self, grid: &[GridCell]) -> Result<Infilling, Vec<Finding>> {
        self.cells.sort_by_key(|(index, _)| *index);
        let is_in = |p: Point| grid.iter().any(|cell| depth(&cell.corners, p) > 0.0);
        let joined = over_strips::join(
            self.panel,
            &self.running,
            &mut self.cells,
            &mut self.kinds,
            is_in,
        );
        let going_in = going_in(&self.cells, &self.running);
        let going_in = going_in.map_err(|name| vec![hold_each_other(&name)])?;
        let cells: Vec<FilledCell> = self.cells.into_iter().map(|(_, cell)| cell).collect();
        let names: Vec<&str> = (self.map.patterns.iter())
            .map(|named| named.name.as_str())
            .collect();
        let kinds = self.kinds.all(&names);
        let used = |at: &usize| kinds.iter().any(|kind| kind.patterns.contains(at));
        let mut infilling = Infilling {
            patterns: (0..names.len())
                .filter(used)
                .filter_map(|at| names.get(at).map(|name| (*name).to_owned()))
                .collect(),
            most_stock: most_stock(&kinds).unwrap_or(self.stock),
            stock: self.stock,
            own_stock: self.own_section,
            fit: self.fit,
            map: self.map.clone(),
            cells,
            kinds,
            left_out: self.left_out,
            crossed: joined.notches,
            going_in,
            warnings: Vec::new(),
        };
        let figures: Vec<&Pattern> = self.entries.iter().map(|chosen| chosen.pattern).collect();
        let as_built = self.panel.known_as_built();
        let same_within = as_built.map(|as_built| as_built.same_within);
        infilling.warnings =
            open_cells::told(&infilling, grid, &figures, self.unheld, same_within)?;
        let alone = joined.alone.iter();
        (infilling.warnings).extend(alone.filter_map(|(pattern, ends)| {
            let entry = infilling
                .map
                .entries
                .iter()
                .find(|entry| entry.pattern == *pattern)?;
            Some(open_cells::without_mate(entry, names.get(*pattern)?, *ends))
        }));
        Ok(infilling)
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
        run: None,
        arm: None,
    }
}
