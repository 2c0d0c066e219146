//! From a pattern and a cell to its pieces.

use super::cell::Cell;
use super::checks;
use super::clipping::{HalfPlane, cut};
use super::contact::{Contact, Polygon};
use super::fold::{Chain, FoldedArm, chains};
use super::hints;
use super::joint::{Facing, facings};
use super::laps::{laps, laps_of};
use super::mouth::with_mouths;
use super::near_side;
use super::pattern::{Pattern, PieceSide};
use super::piece_figures::{Figures, figures, own_frame};
use super::skeleton::{Bar, Skeleton, skeleton};
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::Point;
use crate::phrase;
use crate::units::Mm;

/// An edge of a piece's polygon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// Where it starts; it ends where the next one starts.
    pub start: Point,
    /// What it is.
    pub contact: Contact,
}

/// A piece of a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct SolvedPiece {
    /// Its name in the pattern.
    pub name: String,
    /// Whether it goes in last and holds the others.
    pub locks: bool,
    /// Counter-clockwise, cell frame.
    pub edges: Vec<Edge>,
    /// Points of its axis that the pattern names, `from` and `to`, cell frame.
    pub axis: (Point, Point),
    /// Counter-clockwise in its own frame: axis along x, the first end's extreme point at x = 0, y
    /// to the left.
    pub outline: Vec<Point>,
    /// Read off the polygon.
    pub figures: Figures,
    /// Its own wood.
    pub stock: PieceStock,
    /// Whether it runs on over the strip at its `from` and its `to`.
    pub over: [bool; 2],
}

impl SolvedPiece {
    /// Corners of the polygon, counter-clockwise, cell frame.
    pub fn polygon(&self) -> Vec<Point> {
        self.edges.iter().map(|edge| edge.start).collect()
    }
}

/// All pieces of a cell, in the order in which they go in.
#[derive(Debug, Clone, PartialEq)]
pub struct SolvedCell {
    /// The clear opening that they fill.
    pub cell: Cell,
    /// As the pattern has them, but what lies below what it laps first, and what locks last.
    pub pieces: Vec<SolvedPiece>,
    /// Which of them are one strip, folded where they meet.
    pub folded: Vec<FoldedPiece>,
}

/// Pieces that are one strip.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedPiece {
    /// Their indices, in the order along the strip.
    pub arms: Vec<usize>,
    /// The strip before it is bent, by the name of its first piece; its V's are cut in its outline.
    pub whole: SolvedPiece,
}

impl SolvedCell {
    /// Where a piece is a part of a folded strip: the one that stands first in the list bears its number.
    pub fn arm(&self, piece: usize) -> Option<FoldedArm> {
        let mut folded = self.folded.iter().enumerate();
        folded.find_map(|(strip, fold)| {
            let nth = fold.arms.iter().position(|arm| *arm == piece)?;
            let first = fold.arms.iter().min() == Some(&piece);
            Some(FoldedArm { strip, nth, first })
        })
    }

    /// What a piece is made as: itself, or the unfolded strip that it is a part of.
    pub fn whole(&self, piece: usize) -> Option<&SolvedPiece> {
        match self.arm(piece) {
            None => self.pieces.get(piece),
            Some(arm) => self.folded.get(arm.strip).map(|fold| &fold.whole),
        }
    }

    /// What is made, each once.
    pub fn all_made(&self) -> Vec<&SolvedPiece> {
        let counts = |piece: &usize| self.arm(*piece).is_none_or(|arm| arm.first);
        let counted = (0..self.pieces.len()).filter(counts);
        counted.filter_map(|piece| self.whole(piece)).collect()
    }
}

/// Works out the pieces of a cell.
///
/// # Errors
/// Why the pattern does not fit this cell with this wood: each with the field of the pattern, the
/// piece and the reason.
pub fn solve(
    pattern: &Pattern,
    cell: &Cell,
    stock: PieceStock,
) -> Result<SolvedCell, Vec<Finding>> {
    let t = stock.thickness;
    if !(t.is_finite() && t > 0.0) {
        let text = phrase!("{} leaves no wood", Mm(t));
        let hint = "give a thickness above zero";
        return Err(vec![Finding::error("not-positive", "", text).hint(hint)]);
    }
    if cell.shape().corners() != pattern.cell.corners() {
        let text = "the pattern is drawn for cells of another shape";
        let hint = "choose a pattern for cells of this shape";
        return Err(vec![Finding::error("wrong-cell", "cell", text).hint(hint)]);
    }
    let skeleton = skeleton(pattern, cell, stock)?;
    let solved = pieces_of(pattern, cell, &skeleton);
    solved.map_err(|faults| hints::nearer(faults, pattern, &skeleton))
}

/// The pieces of a cell whose axes are known.
fn pieces_of(
    pattern: &Pattern,
    cell: &Cell,
    skeleton: &Skeleton,
) -> Result<SolvedCell, Vec<Finding>> {
    let chains = chains(skeleton)?;
    let facings = all_facings(skeleton)?;
    let mut found = Vec::new();
    let mut polygons = Vec::new();
    for (index, bar) in skeleton.bars.iter().enumerate() {
        match polygon(index, &skeleton.bars, cell, &facings) {
            Ok(polygon) => {
                found.extend(checks::shape_fault(bar, &polygon));
                polygons.push(polygon);
            }
            Err(fault) => found.push(fault),
        }
    }
    if !found.is_empty() {
        return Err(found);
    }
    let laps = laps(&skeleton.bars, &polygons)?;
    found.extend(checks::faults(skeleton, &polygons, &facings, &laps));
    if !found.is_empty() {
        return Err(found);
    }
    let piece = |(index, (bar, polygon)): (usize, (&Bar, &Polygon))| {
        let (outline, start) = own_frame(bar.from, bar.along, polygon);
        let mut figures = figures(&outline)?;
        figures.laps = laps_of(index, &laps, &skeleton.bars, start);
        Some(SolvedPiece {
            name: bar.name.clone(),
            locks: pattern.locks(&bar.name),
            edges: polygon
                .iter()
                .map(|&(start, contact)| Edge { start, contact })
                .collect(),
            axis: (bar.from, bar.to),
            outline: outline.iter().map(|(p, _)| *p).collect(),
            figures,
            stock: bar.stock,
            over: bar.over,
        })
    };
    let pieces = skeleton.bars.iter().zip(&polygons).enumerate();
    let pieces: Vec<SolvedPiece> = pieces.filter_map(piece).collect();
    Ok(SolvedCell {
        cell: cell.clone(),
        folded: folded(&chains, &pieces, &skeleton.bars, &polygons)?,
        pieces,
    })
}

/// The strips that are folded, unfolded.
fn folded(
    chains: &[Chain],
    pieces: &[SolvedPiece],
    bars: &[Bar],
    polygons: &[Polygon],
) -> Result<Vec<FoldedPiece>, Vec<Finding>> {
    let mut all = Vec::new();
    let mut found = Vec::new();
    for chain in chains {
        let arms = chain.bars();
        let first = arms.first().and_then(|at| pieces.get(*at));
        match (chain.unfolded(bars, polygons), first) {
            (Ok(unfolded), Some(first)) => all.push(FoldedPiece {
                whole: SolvedPiece {
                    outline: unfolded.outline,
                    figures: unfolded.figures,
                    edges: Vec::new(),
                    ..first.clone()
                },
                arms,
            }),
            (Ok(_), None) => {}
            (Err(fault), _) => found.push(fault),
        }
    }
    found.dedup();
    if found.is_empty() {
        Ok(all)
    } else {
        Err(found)
    }
}

fn all_facings(skeleton: &Skeleton) -> Result<Vec<Facing>, Vec<Finding>> {
    let mut all = Vec::new();
    let mut found = Vec::new();
    for joint in &skeleton.joints {
        match facings(joint, &skeleton.bars) {
            Ok(facings) => all.extend(facings),
            Err(faults) => found.extend(faults),
        }
    }
    if found.is_empty() {
        Ok(all)
    } else {
        Err(found)
    }
}

/// A bar cut by the cell's walls, by what it stands against, by its junctions' planes and by the corners in its
/// mouths.
fn polygon(
    index: usize,
    bars: &[Bar],
    cell: &Cell,
    facings: &[Facing],
) -> Result<Polygon, Finding> {
    let vanishes = || Finding::error("piece-vanishes", "", "nothing is left of the piece");
    let bar = bars.get(index).ok_or_else(vanishes)?;
    let mut polygon = band(bar, cell);
    for (at, (p, q)) in cell.walls().enumerate() {
        let along = p.to(q).unit().ok_or_else(vanishes)?;
        let wall = HalfPlane::left_of(p, along);
        polygon = cut(&polygon, wall, Contact::Wall(at));
    }
    for end in bar.horn_ends() {
        polygon = cut(&polygon, end, Contact::Free);
    }
    for name in &bar.against {
        let Some((at, mate)) = bars.iter().enumerate().find(|(_, bar)| bar.name == *name) else {
            continue;
        };
        polygon = cut(&polygon, near_side::before(bar, mate)?, Contact::SideOf(at));
    }
    for facing in facings.iter().filter(|facing| facing.bar == index) {
        polygon = cut(&polygon, facing.keeps, Contact::FacetOf(facing.mate));
    }
    with_mouths(bar, bars, polygon)
}

/// The bar as a rectangle that reaches beyond the cell at both ends.
fn band(bar: &Bar, cell: &Cell) -> Polygon {
    let (width, height) = cell.size();
    let beyond = bar.along * (2.0 * (width + height) + bar.stock.thickness);
    let out = bar.left() * bar.half();
    let start = bar.from - beyond;
    let end = bar.to + beyond;
    // The ends of the rectangle lie outside the cell: its walls cut them off.
    vec![
        (start - out, Contact::OwnSide(PieceSide::Right)),
        (end - out, Contact::Wall(usize::MAX)),
        (end + out, Contact::OwnSide(PieceSide::Left)),
        (start + out, Contact::Wall(usize::MAX)),
    ]
}
