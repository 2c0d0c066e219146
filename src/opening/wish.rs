//! What a person wants inside an opening: pitches, counts, and what becomes of what is left over.

use crate::lattice::{DiamondStance, TriangularStance};

/// A pitch or a side.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Wanted {
    /// Whatever comes out.
    #[default]
    Free,
    /// This one, mm.
    Exactly(f64),
    /// About this one, mm: whole bays decide.
    About(f64),
}

/// A grid for an opening. Millimetres, radians.
#[derive(Debug, Clone, PartialEq)]
pub enum GridWish {
    /// Uprights and cross strips.
    Square(SquareWish),
    /// Rhombs.
    Diamond(DiamondWish),
    /// Triangles.
    Triangular(TriangularWish),
}

impl GridWish {
    /// From the region's edge to a strip's end, where it is given, mm.
    pub fn overhang(&self) -> Option<f64> {
        match self {
            GridWish::Square(wish) => wish.overhang,
            GridWish::Diamond(wish) => wish.overhang,
            GridWish::Triangular(wish) => wish.overhang,
        }
    }
}

/// Uprights and cross strips for an opening.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SquareWish {
    /// Of both directions.
    pub pitch: Wanted,
    /// Cells side by side.
    pub columns: Option<usize>,
    /// Cells above each other.
    pub rows: Option<usize>,
    /// Pitches between uprights, one by one.
    pub pitches_x: Option<Vec<f64>>,
    /// Pitches between cross strips, one by one.
    pub pitches_y: Option<Vec<f64>>,
    /// What the cells are like.
    pub cells: SquareCells,
    /// Whether the frame closes the outermost cells, and no strip.
    pub frame_closes: bool,
    /// Least margin, frame's inner face to the outermost centre line; half a strip if not given.
    pub least_margin: Option<f64>,
    /// From the region's edge to a strip's end.
    pub overhang: Option<f64>,
}

/// What the cells of a square grid are like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SquareCells {
    /// Square; what is left over goes somewhere.
    Square(Rest),
    /// As wide and as high as whole numbers of them fill the inside.
    Fill,
}

impl Default for SquareCells {
    fn default() -> Self {
        SquareCells::Square(Rest::Margins)
    }
}

/// Where goes what whole square cells leave over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rest {
    /// To the margins: left and right alike, below and above alike.
    Margins,
    /// To the margins, and all four are alike.
    EvenMargins,
    /// To the first and last bay in each direction, which are at least this wide, mm; half a pitch if
    /// not given.
    BorderBays(Option<f64>),
}

/// Where a slanted grid has a node.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum NodePlace {
    /// In the middle of the opening.
    #[default]
    Middle,
    /// At its lower left corner.
    Corner,
}

/// What becomes of what whole cells of a slanted grid leave over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SlantedRest {
    /// Strips lie there too, and the edge cuts their cells.
    #[default]
    CutCells,
    /// It goes to the margins, left and right alike, below and above alike: nothing lies there but the
    /// ends of strips that hold whole cells.
    Margins,
}

/// Rhombs for an opening.
#[derive(Debug, Clone, PartialEq)]
pub struct DiamondWish {
    /// Between neighbouring centre lines.
    pub pitch: Wanted,
    /// Between the families.
    pub angle: Option<f64>,
    /// How they lie.
    pub stance: DiamondStance,
    /// Cells across the width.
    pub columns: Option<usize>,
    /// Cells up the height.
    pub rows: Option<usize>,
    /// Where a node lies: of the opening less its margins.
    pub node: NodePlace,
    /// Where goes what whole cells leave over.
    pub rest: SlantedRest,
    /// Least margin, frame's inner face to the edge of what the cells fill; if not given, half a strip
    /// beside an edge that strips may lie along, and nothing beside others.
    pub least_margin: Option<f64>,
    /// From the region's edge to a strip's end.
    pub overhang: Option<f64>,
}

/// Triangles for an opening.
#[derive(Debug, Clone, PartialEq)]
pub struct TriangularWish {
    /// From node to node.
    pub side: Wanted,
    /// How they lie.
    pub stance: TriangularStance,
    /// Columns across the width: sides of lying triangles, heights of upright ones.
    pub columns: Option<usize>,
    /// Rows up the height: heights of lying triangles, sides of upright ones.
    pub rows: Option<usize>,
    /// Where a node lies: of the opening less its margins.
    pub node: NodePlace,
    /// Where goes what whole cells leave over.
    pub rest: SlantedRest,
    /// Least margin, frame's inner face to the edge of what the cells fill; if not given, half a strip
    /// beside an edge that strips may lie along, and nothing beside others.
    pub least_margin: Option<f64>,
    /// From the region's edge to a strip's end.
    pub overhang: Option<f64>,
}
