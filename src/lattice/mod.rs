//! The lattice: from a panel's design to strips with their notches, and bundles of equal strips.
//!
//! Panel frame: x to the right, y up, seen from the front; z from the front face (0) to the back
//! face. Strip frame: `u` along the strip from its datum end (left or lower end). Millimetres.

mod as_built;
mod assembly;
mod bays;
mod bundle;
mod check;
mod design;
mod direction;
mod fit_wishes;
mod frame;
mod frame_joint;
mod frame_mitres;
mod frame_outlines;
mod frame_recess;
mod grid_types;
mod laps;
mod layout;
mod lines;
mod margins;
mod panel;
mod piece_section;
mod strip;
mod tenons;

pub use assembly::assembly;
pub use bays::{AsBuilt, BuiltBay, MeasuredBays, USUAL_SAME_WITHIN_MM};
pub use bundle::{Bundle, Clamping, Riding, Trim, Turn};
pub use check::{MOST_BAYS, MOST_STRIP_LENGTH_MM, SHARPEST};
pub use design::{
    Bundling, Design, DrawnSection, Infill, Joinery, LapRule, PieceWay, StripSection,
    USUAL_LEAST_FLOOR_MM, Weave,
};
pub use direction::PanelEnd;
pub use fit_wishes::FitWishes;
pub use frame::{ByStrips, Frame, Mortise, Rail, Rails, TrimmedEnds};
pub use frame_joint::{CornerJoint, Recess, RecessKind, TenonWish};
pub use frame_mitres::{Member, MemberWidths, mitre};
pub use frame_outlines::FrameOutlines;
pub use grid_types::{
    CellMeasures, DiamondGrid, DiamondStance, Family, Grid, GridCell, Region, SquareGrid,
    TriangularGrid, TriangularStance,
};
pub use laps::{Face, Lap, Parting};
pub use layout::{Crossing, Lattice};
pub use margins::Margins;
pub use panel::Panel;
pub use piece_section::{PieceSection, USUAL_FOLD_SKIN_MM};
pub use strip::{Notch, NotchMate, Strip, StripId};
pub use tenons::{MortisedStile, TenonedRail, Tenons};
