//! The lattice: from a panel's design to strips with their notches, and bundles of equal strips.
//!
//! Panel frame: x to the right, y up, seen from the front; z from the front face (0) to the back
//! face. Strip frame: `u` along the strip from its datum end (left or lower end). Millimetres.

mod bundle;
mod check;
mod grid_types;
mod laps;
mod layout;
mod panel;

pub use bundle::{Bundle, bundles};
pub use check::{MOST_BAYS, MOST_STRIP_LENGTH_MM};
pub use grid_types::SquareGrid;
pub use laps::{Face, Lap, lap};
pub use layout::{Crossing, Lattice, Notch, Strip, StripId};
pub use panel::{Design, Family, Grid, GridLine, Infill, Panel, StripSection};
