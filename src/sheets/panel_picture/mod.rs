//! The assembled panel from the front, and cells of it enlarged, as a drawing to look at.

mod bodies;
mod cell;
mod enlarged;
mod figure;
mod frame;
mod labels;
mod marks;
mod numbers;
mod panel;
mod seen;

pub use cell::pattern_drawing;
pub(super) use enlarged::kinds_drawing;
pub use figure::figure_drawing;
pub(super) use panel::{panel_alone, pieces};
pub use panel::{panel_drawing, panel_outlines};
