//! A panel's cells with their pieces.

use super::cell_shape::CellShape;
use super::fold::FoldedArm;
use super::lie::Lie;
use super::pattern::Pattern;
use super::pattern_map::PatternMap;
use super::piece_figures::PieceLap;
use super::piece_kinds::PieceKind;
use super::stock::PieceStock;
use crate::finding::Finding;
use crate::geometry::Point;
use crate::geometry::tolerance::POSITION;
use crate::lattice::{Notch, StripId};
use float_cmp::ApproxEq;

/// A panel's cells and the pieces in them.
#[derive(Debug, Clone, PartialEq)]
pub struct Infilling {
    /// Names of the patterns whose pieces it holds, in the order of the job.
    pub patterns: Vec<String>,
    /// The wood that pieces are shares of: that of the job, or of the strips.
    pub stock: PieceStock,
    /// Whether that is the job's: then no pattern has a say in it.
    pub own_stock: bool,
    /// The wood that most pieces are made of.
    pub most_stock: PieceStock,
    /// What the openings that pieces are made for are wider than those that the strips leave, mm.
    pub fit: f64,
    /// Which cells were to take which pattern.
    pub map: PatternMap,
    /// Row by row from the bottom, each from the left.
    pub cells: Vec<FilledCell>,
    /// The distinct pieces, in the order of the cells and of the pattern; those that are trimmed at
    /// the panel's edge last.
    pub kinds: Vec<PieceKind>,
    /// Pieces at the panel's edge of which too little is left to be held, and which are left out.
    pub left_out: usize,
    /// Notches that strips get for pieces that run over them; a panel has them once it
    /// [has its crossing pieces](crate::lattice::Panel::with_crossing_pieces).
    pub crossed: Vec<(StripId, Notch)>,
    /// The kinds of the pieces that run over strips, in the order in which they go in from the front.
    pub going_in: Vec<Vec<usize>>,
    /// What is unusual, such as cells that are left open.
    pub warnings: Vec<Finding>,
}

impl Infilling {
    /// Names of the patterns, as sheets tell them.
    pub fn pattern_names(&self) -> String {
        self.patterns.join(", ")
    }

    /// The wood that a pattern's pieces are shares of.
    pub(super) fn stock_for(&self, pattern: &Pattern) -> PieceStock {
        match self.own_stock {
            true => self.stock,
            false => self.stock.share(pattern.section),
        }
    }

    /// Whether pieces of it run over strips.
    pub fn runs_over(&self) -> bool {
        !self.crossed.is_empty()
    }

    /// The wood of a piece.
    pub fn stock_of(&self, piece: &PlacedPiece) -> PieceStock {
        (self.kinds.get(piece.kind)).map_or(self.stock, |kind| kind.stock)
    }

    /// The depths of its pieces, each once, the most frequent wood's first.
    pub fn depths(&self) -> Vec<f64> {
        self.each_once(|stock| stock.depth)
    }

    /// The thicknesses of its pieces, each once, the most frequent wood's first.
    pub fn thicknesses(&self) -> Vec<f64> {
        self.each_once(|stock| stock.thickness)
    }

    fn each_once(&self, figure: fn(&PieceStock) -> f64) -> Vec<f64> {
        let mut found = vec![figure(&self.most_stock)];
        for kind in &self.kinds {
            let own = figure(&kind.stock);
            if !found.iter().any(|known| known.approx_eq(own, POSITION)) {
                found.push(own);
            }
        }
        found
    }

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
    /// What is measured of the opening: see [`Cell::opening`](super::Cell::opening).
    pub opening: (f64, f64),
    /// The same of the opening that its pieces are made for, without the fit: another one where leaves of
    /// cells as built are made alike.
    pub made_for: (f64, f64),
    /// What the opening is.
    pub shape: CellShape,
    /// Index of its entry in the map; nothing where it is to stay open.
    pub entry: Option<usize>,
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
    /// Its laps as it lies in the panel, from its `from` end; of the first part of one that runs over
    /// strips those of the whole piece.
    pub laps: Vec<PieceLap>,
    /// Where it is a part of a piece that runs over strips: its outline then reaches to the next cell.
    pub run: Option<PieceRun>,
    /// Where it is a part of a folded strip: its kind is then that of the whole strip.
    pub arm: Option<FoldedArm>,
}

impl PlacedPiece {
    /// Whether it counts as a piece: of one that runs over strips the first part does, of a folded one too.
    pub fn counts(&self) -> bool {
        self.run.is_none_or(|run| run.first) && !self.is_further_arm()
    }

    /// Whether it is a part of a folded strip, and not the first one in its cell.
    pub fn is_further_arm(&self) -> bool {
        self.arm.is_some_and(|arm| !arm.first)
    }
}

/// A part of a piece that runs over strips.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PieceRun {
    /// Which piece, from 0: its parts have the same number.
    pub piece: usize,
    /// Whether it is the first part of its piece.
    pub first: bool,
    /// Whether it runs over a strip at its `from` and at its `to`.
    pub over: [bool; 2],
}
