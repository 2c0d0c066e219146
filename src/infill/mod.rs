//! The infill: exact mitred pieces in the cells of a lattice, from patterns that are data.
//!
//! A piece is the band of its wood's thickness about its axis, cut by planes square to the panel:
//! the cell's walls, the near sides of the pieces that it stands against, the facet planes that
//! it shares with its neighbours where pieces meet, and the square end of a horn. What is left is a
//! convex polygon, out of which mouths take the corners of other pieces; all figures are read off that
//! polygon. Pieces that are one folded strip are such bands each, and unfolded as one.
//!
//! Cell frame: x to the right, y up, origin at the lower left corner of the clear opening (the
//! left corner of a triangle that stands on its base, the sharp corner of a rhomb). Left and right
//! of a piece are seen from its `from` to its `to`. Millimetres, radians.

mod bar;
mod cell;
mod cell_kinds;
mod cell_shape;
mod checks;
mod clipping;
mod contact;
mod copies;
mod edge;
mod fill;
mod filled;
mod fold;
mod going_in;
mod hints;
mod joint;
mod laps;
mod leaves;
mod lie;
mod measured;
mod mirror;
mod mouth;
mod near_side;
mod open_cells;
mod order;
mod over_strips;
mod pattern;
mod pattern_map;
mod piece_figures;
mod piece_kinds;
mod placing;
mod rules;
mod skeleton;
mod solve;
mod stock;
mod turned_over;
mod unfold;

pub use cell::Cell;
pub use cell_kinds::CellKind;
pub use cell_shape::CellShape;
pub use contact::Contact;
pub use edge::{EdgeCells, TrimCut};
pub use fill::{FillOrder, fill, fill_map};
pub use filled::{FilledCell, Infilling, PieceRun, PlacedPiece};
pub use fold::FoldedArm;
pub use lie::Lie;
pub use measured::{MeasuredCell, MeasuredPiece, Opening, OpeningAsMeasured, measured};
pub use pattern::{
    FoldRule, JunctionRule, LineRule, MirrorRule, Neighbours, Pattern, PatternDesign, PatternGroup,
    PatternLine, PatternPoint, PieceRule, PieceSide, SectionShare, TurnRule,
};
pub use pattern_map::{LegendEntry, MapForm, NamedPattern, PatternMap, Pose};
pub use piece_figures::{End, Facet, FacetSide, Figures, Mouth, PieceFold, PieceLap};
pub use piece_kinds::PieceKind;
pub use rules::CellRule;
pub use solve::{Edge, FoldedPiece, SolvedCell, SolvedPiece, solve};
pub use stock::PieceStock;
pub use turned_over::lies_turned_over;
