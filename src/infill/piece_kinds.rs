//! Which pieces are the same part: equal polygons and laps, up to turning end for end and turning
//! over.

use super::cell::Cell;
use super::edge::TrimCut;
use super::piece_figures::{Figures, PieceLap};
use super::solve::SolvedPiece;
use super::stock::PieceStock;
use crate::geometry::convex::edges;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::Face;
use float_cmp::ApproxEq;
use std::f64::consts::PI;

/// One distinct piece of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceKind {
    /// Name of the first such piece in its pattern, with the pattern's name where other pieces of another
    /// pattern are called the same.
    pub name: String,
    /// Whether it goes into its cell last and holds the others.
    pub locks: bool,
    /// Indices of the map's patterns in which it occurs.
    pub patterns: Vec<usize>,
    /// How many the panel takes of just this one.
    pub count: usize,
    /// Clear opening of the cells that take it, as it lies in the panel.
    pub cell: Cell,
    /// Indices of the panel's cells that hold one or more.
    pub cells: Vec<usize>,
    /// Its wood.
    pub stock: PieceStock,
    /// Its figures; of a trimmed one those of the whole piece.
    pub figures: Figures,
    /// Where it is cut off at the panel's edge.
    pub trims: Vec<TrimCut>,
    /// Of a trimmed one: index of the piece that it is before.
    pub whole: Option<usize>,
    /// Counter-clockwise in its own frame: axis along x, the first end's extreme point at x = 0, y
    /// to the left.
    pub outline: Vec<Point>,
}

impl PieceKind {
    /// What is measured of the opening, mm: see [`Cell::opening`].
    pub fn opening(&self) -> (f64, f64) {
        self.cell.opening()
    }
}

/// A way to lay a piece on another.
#[derive(Clone, Copy)]
pub(super) struct PieceTurn {
    end_for_end: bool,
    pub(super) over: bool,
}

impl PieceTurn {
    pub(super) const ALL: [PieceTurn; 4] = [
        PieceTurn {
            end_for_end: false,
            over: false,
        },
        PieceTurn {
            end_for_end: true,
            over: false,
        },
        PieceTurn {
            end_for_end: false,
            over: true,
        },
        PieceTurn {
            end_for_end: true,
            over: true,
        },
    ];

    /// Turning end for end in the plane reverses x and y; turning over about the axis reverses y.
    pub(super) fn point(self, p: Point, length: f64) -> Point {
        let x = if self.end_for_end { length - p.x } else { p.x };
        let y = if self.end_for_end == self.over {
            p.y
        } else {
            -p.y
        };
        Point::new(x, y)
    }

    /// Turning over changes faces and the sense of angles.
    pub(super) fn lap(self, lap: &PieceLap, length: f64) -> (f64, f64, Face) {
        let centre = if self.end_for_end {
            length - lap.centre
        } else {
            lap.centre
        };
        match (self.over, lap.face) {
            (false, face) => (centre, lap.angle, face),
            (true, Face::Front) => (centre, PI - lap.angle, Face::Back),
            (true, Face::Back) => (centre, PI - lap.angle, Face::Front),
        }
    }
}

/// Whether two pieces are the same part.
pub(super) fn same_part(one: &SolvedPiece, other: &SolvedPiece) -> bool {
    let length = one.figures.length;
    length.approx_eq(other.figures.length, POSITION)
        && one.stock.depth.approx_eq(other.stock.depth, POSITION)
        && one.outline.len() == other.outline.len()
        && one.figures.laps.len() == other.figures.laps.len()
        && PieceTurn::ALL
            .iter()
            .any(|turn| lies_on(one, other, *turn, length))
}

/// Polygons are the same where their corners are, and the middles of their edges.
fn lies_on(one: &SolvedPiece, other: &SolvedPiece, turn: PieceTurn, length: f64) -> bool {
    let marks = |piece: &SolvedPiece| -> Vec<Point> {
        let middles = edges(&piece.outline).map(|(p, q)| p + p.to(q) * 0.5);
        piece.outline.iter().copied().chain(middles).collect()
    };
    let others = marks(other);
    let has_mark = |p: &Point| {
        let turned = turn.point(*p, length);
        let mut others = others.iter();
        others.any(|q| turned.to(*q).length() < SAME_POSITION_MM)
    };
    let has_lap = |lap: &PieceLap| {
        let (centre, angle, face) = turn.lap(lap, length);
        other.figures.laps.iter().any(|mate| {
            mate.centre.approx_eq(centre, POSITION)
                && mate.width.approx_eq(lap.width, POSITION)
                && mate.angle.approx_eq(angle, DIRECTION)
                && mate.fraction.approx_eq(lap.fraction, DIRECTION)
                && mate.face == face
        })
    };
    marks(one).iter().all(has_mark) && one.figures.laps.iter().all(has_lap)
}

/// The wood that most pieces are made of, of equals the first.
pub(super) fn most_stock(kinds: &[PieceKind]) -> Option<PieceStock> {
    let like = |stock: &PieceStock| {
        let of_it = kinds.iter().filter(|kind| kind.stock.is_like(stock));
        of_it.map(|kind| kind.count).sum::<usize>()
    };
    let most = kinds.iter().map(|kind| like(&kind.stock)).max()?;
    let mut stocks = kinds.iter().map(|kind| kind.stock);
    stocks.find(|stock| like(stock) == most)
}

/// The distinct pieces found so far, each with the first one of its kind.
#[derive(Default)]
pub(super) struct PieceKinds {
    known: Vec<KnownKind>,
}

struct KnownKind {
    first: SolvedPiece,
    kind: PieceKind,
    /// What it is called in each of the kind's patterns.
    names: Vec<String>,
}

impl KnownKind {
    /// It occurs in a pattern too.
    fn occurs(&mut self, pattern: usize, name: &str) {
        if !self.kind.patterns.contains(&pattern) {
            self.kind.patterns.push(pattern);
            self.names.push(name.to_owned());
        }
    }

    /// Its name with those of its patterns.
    fn full_name(&self, patterns: &[&str]) -> String {
        let mut told: Vec<(&str, Vec<&str>)> = Vec::new();
        for (at, name) in self.kind.patterns.iter().zip(&self.names) {
            let pattern = patterns.get(*at).copied().unwrap_or_default();
            match told.iter_mut().find(|(known, _)| known == name) {
                Some((_, among)) => among.push(pattern),
                None => told.push((name, vec![pattern])),
            }
        }
        let told = told.iter();
        let each = told.map(|(name, among)| format!("{name} ({})", among.join(", ")));
        each.collect::<Vec<_>>().join(", ")
    }
}

impl PieceKinds {
    /// The place of the part that `piece` of a pattern is, added if it is new. Parts for different openings
    /// are kept apart.
    pub(super) fn of(&mut self, piece: &SolvedPiece, cell: &Cell, pattern: usize) -> usize {
        self.place((piece, pattern), cell, &[], None)
    }

    /// The same for a part that is made as `whole` and then trimmed.
    pub(super) fn trimmed(
        &mut self,
        piece: (&SolvedPiece, usize),
        cell: &Cell,
        trims: &[TrimCut],
        whole: usize,
    ) -> usize {
        self.place(piece, cell, trims, Some(whole))
    }

    fn place(
        &mut self,
        (piece, pattern): (&SolvedPiece, usize),
        cell: &Cell,
        trims: &[TrimCut],
        whole: Option<usize>,
    ) -> usize {
        let is_same = |known: &KnownKind| {
            known.kind.whole == whole
                && known.kind.cell.is_like(cell)
                && same_part(&known.first, piece)
        };
        if let Some(at) = self.known.iter().position(is_same) {
            if let Some(known) = self.known.get_mut(at) {
                known.occurs(pattern, &piece.name);
            }
            return at;
        }
        let kind = PieceKind {
            name: piece.name.clone(),
            locks: piece.locks,
            patterns: vec![pattern],
            count: 0,
            cell: cell.clone(),
            cells: Vec::new(),
            stock: piece.stock,
            figures: piece.figures.clone(),
            trims: trims.to_vec(),
            whole,
            outline: piece.outline.clone(),
        };
        self.known.push(KnownKind {
            first: piece.clone(),
            kind,
            names: vec![piece.name.clone()],
        });
        self.known.len() - 1
    }

    /// Counts one more, in the cell with that index.
    pub(super) fn count(&mut self, kind: usize, cell: usize) {
        if let Some(KnownKind { kind, .. }) = self.known.get_mut(kind) {
            kind.count += 1;
            if kind.cells.last() != Some(&cell) {
                kind.cells.push(cell);
            }
        }
    }

    /// Counts a part of one in the cell with that index; the `first` of its parts counts it.
    pub(super) fn count_part(&mut self, kind: usize, cell: usize, first: bool) {
        let before = self.known.get(kind).map_or(0, |known| known.kind.count);
        self.count(kind, cell);
        if let Some(KnownKind { kind, .. }) = self.known.get_mut(kind)
            && !first
        {
            kind.count = before;
        }
    }

    /// All of them. A name that pieces of different `patterns` have in common goes with the names of theirs.
    pub(super) fn all(self, patterns: &[&str]) -> Vec<PieceKind> {
        let clashes = |known: &KnownKind| {
            let same_name = |other: &&KnownKind| other.kind.name == known.kind.name;
            let mut others = self.known.iter().filter(same_name);
            others.any(|other| other.kind.patterns != known.kind.patterns)
        };
        let name = |known: &KnownKind| match clashes(known) {
            true => known.full_name(patterns),
            false => known.kind.name.clone(),
        };
        let names: Vec<String> = self.known.iter().map(name).collect();
        let kinds = self.known.into_iter().zip(names);
        kinds
            .map(|(known, name)| PieceKind { name, ..known.kind })
            .collect()
    }
}
