//! A pattern as it is written.

use crate::infill::cell_shape::CellShape;

/// A pattern as written; not yet known to hang together. See [`super::Pattern::new`].
#[derive(Debug, Clone, PartialEq)]
pub struct PatternDesign {
    /// What jobs call it.
    pub name: String,
    /// One line about it.
    pub about: String,
    /// The cells that it is drawn for.
    pub cell: CellShape,
    /// How neighbouring cells repeat it.
    pub neighbours: Neighbours,
    /// Whether its figure also holds in a cell that is longer than wide.
    pub rectangles: bool,
    /// Whether a figure for squares also holds in a rhomb, sharp or blunt at its first corner.
    pub rhombs: bool,
    /// The wood of its pieces as parts of the strips', where a job gives no section of its own.
    pub section: SectionShare,
    /// The corner of its cell that lies at the panel's middle; else it follows from how the cells lie.
    pub middle: Option<String>,
    /// Greatest thickness of its pieces, as a share of the pitch, where it says one: see
    /// [`super::Pattern::thickness_at`].
    pub greatest: Option<f64>,
    /// Pieces that go in last and hold the others; their copies do as well.
    pub locks: Vec<String>,
    /// Named lines, besides walls and what belongs to pieces.
    pub lines: Vec<(String, LineRule)>,
    /// Named points, besides the cell's corners.
    pub points: Vec<(String, PatternPoint)>,
    /// The pieces that are described one by one.
    pub pieces: Vec<PieceRule>,
    /// Where ends of pieces meet.
    pub junctions: Vec<JunctionRule>,
    /// Pieces that are one strip, folded where they meet.
    pub folds: Vec<FoldRule>,
    /// Which pieces have mirrored copies.
    pub mirrors: Vec<MirrorRule>,
    /// Which pieces have turned copies; made after those that are mirrored.
    pub turns: Vec<TurnRule>,
}

/// A section as parts of another one's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionShare {
    /// Of the thickness.
    pub thickness: f64,
    /// Of the depth.
    pub depth: f64,
}

impl SectionShare {
    /// The same section.
    pub const WHOLE: SectionShare = SectionShare {
        thickness: 1.0,
        depth: 1.0,
    };
}

/// How the pattern lies in the cell beside another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Neighbours {
    /// The same in all cells.
    Same,
    /// Mirrored, so that like corners of all cells meet: left-right in every second column,
    /// top-bottom in every second row; of triangles, in the wall between two. A square's figure
    /// in a rhomb is worked out anew in the mirrored rhomb. A rhomb's own figure cannot be.
    Mirror,
    /// Turned in every second cell, as on a chessboard: by a quarter turn, in rhombs by half a
    /// turn. Triangles beside each other lie turned by half a turn in any case.
    Turn,
}

/// Where a named point lies.
#[derive(Debug, Clone, PartialEq)]
pub enum PatternPoint {
    /// Fractions of the clear opening's width and height, from its lower left.
    Fraction {
        /// Of the width.
        x: f64,
        /// Of the height.
        y: f64,
    },
    /// Where two lines meet.
    Meet([PatternLine; 2]),
    /// Centre of the circle that touches three lines from inside the triangle that they form.
    Incentre([PatternLine; 3]),
}

/// Where a named line runs.
#[derive(Debug, Clone, PartialEq)]
pub enum LineRule {
    /// Through two points.
    Through([String; 2]),
    /// From a point, at an angle to a wall.
    Slanted {
        /// The point.
        from: String,
        /// Counter-clockwise from the wall, which is walked counter-clockwise round the cell; rad.
        angle: f64,
        /// The wall; the first one where there is none.
        off: Option<String>,
    },
}

/// A straight line in a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PatternLine {
    /// A wall, or a line of the pattern.
    Named(String),
    /// A piece's axis.
    Axis {
        /// The piece's name.
        piece: String,
    },
    /// A long side of a piece.
    Side {
        /// Its name.
        piece: String,
        /// Which side.
        side: PieceSide,
    },
}

/// Sides of a piece, seen from its `from` to its `to`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PieceSide {
    /// To the left.
    Left,
    /// To the right.
    Right,
}

impl PieceSide {
    /// `left` or `right`.
    pub fn name(self) -> &'static str {
        match self {
            PieceSide::Left => "left",
            PieceSide::Right => "right",
        }
    }

    /// The other one.
    pub(in crate::infill) fn other(self) -> PieceSide {
        match self {
            PieceSide::Left => PieceSide::Right,
            PieceSide::Right => PieceSide::Left,
        }
    }
}

/// One piece.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceRule {
    /// Unique in the pattern.
    pub name: String,
    /// Point at which its axis starts.
    pub from: String,
    /// Point at which its axis ends.
    pub to: String,
    /// Pieces on whose near side it ends.
    pub against: Vec<String>,
    /// Pieces that it crosses in a half lap: it is notched from the front, they from the back.
    pub laps: Vec<String>,
    /// How far it runs on as a horn beyond its `from` and its `to`, in thicknesses of its own: such
    /// an end is cut square there and touches nothing; a lap holds the piece.
    pub horns: [Option<f64>; 2],
    /// The two pieces in whose corner its `from` and its `to` sit as a bird's mouth.
    pub mouths: [Option<[String; 2]>; 2],
    /// Whether it runs on over the strip at its `from` and its `to` to its like in the next cell.
    pub over: [bool; 2],
    /// Its wood as parts of that of the pattern's pieces.
    pub section: SectionShare,
}

/// A point where ends of pieces meet and share facet planes.
#[derive(Debug, Clone, PartialEq)]
pub struct JunctionRule {
    /// Name of the point.
    pub at: String,
    /// Jig angles that are given, rad: piece, then left and right of it. Where there are none,
    /// every plane bisects the angle between its two pieces.
    pub jig: Vec<(String, [f64; 2])>,
}

/// Pieces that are one strip, cut nearly through by a V and bent where one's end meets the next one's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoldRule {
    /// Two or more, in the order along the strip.
    pub pieces: Vec<String>,
}

/// Copies of pieces on the other side of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MirrorRule {
    /// Two points on the line.
    pub across: [String; 2],
    /// Piece, and name of its copy.
    pub copies: Vec<(String, String)>,
}

/// Copies of pieces in equal steps of a full turn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurnRule {
    /// The point about which they are turned.
    pub round: String,
    /// Equal steps of a full turn, counter-clockwise.
    pub steps: u32,
    /// Piece, and names of its copies: one step on, two steps on, and so forth.
    pub copies: Vec<(String, Vec<String>)>,
}
