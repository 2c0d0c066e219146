//! From strips and a machine to what the machine has to do: figures, paths and what programs say at
//! their heads. The sheets tell them to people.

pub(crate) mod measured_stock;
pub(crate) mod panel_facts;
pub mod paring;
mod rails;
pub(crate) mod router;
pub mod sheet_cutting;
pub(crate) mod sled;

use crate::instructions::sled::NotchFigures;
use crate::lattice::Notch;

pub use paring::{plan_measured, plan_pieces};
pub use rails::{plan_rails, rail_names};
pub use router::{MortisePrograms, plan_mortises, plan_router};
pub use sheet_cutting::{Batch, RackOrder, plan_sheets};
pub use sled::plan_sled;

/// The figures of a strip's notches as they are given, from its datum end.
pub(crate) fn notch_figures(notches: &[Notch]) -> Vec<NotchFigures> {
    let figures = |(at, notch): (usize, &Notch)| NotchFigures {
        index: at + 1,
        centre_mm: notch.centre,
        near_edge_mm: notch.near_edge(),
        far_edge_mm: notch.far_edge(),
        width_mm: notch.width,
        drawn_width_mm: None,
        depth_mm: notch.depth,
        face: notch.face,
        angle: notch.angle,
    };
    notches.iter().enumerate().map(figures).collect()
}
