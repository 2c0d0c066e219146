//! Parts on sheets for a laser.

mod base_inserts;
mod batch;
mod bridges;
mod comb;
mod fitted_notches;
mod guide;
mod labels;
mod lapped;
mod lay_out;
mod nearest_start;
pub mod nesting;
pub mod outlines;
mod pieces;
pub(crate) mod relief;
mod reliefs_and_bridges;
mod sheet_faults;
mod side_profile;
mod story_sticks;
mod strips;
mod travel;
mod turned_over;

pub use base_inserts::RackOrder;
pub use batch::{WareBatch, plan_sheets};
pub use fitted_notches::fitted as fitted_notch;
pub(crate) use guide::{GuidePlan, guide_plan, template_parts};
