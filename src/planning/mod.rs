//! From strips and a machine to what the machine has to do.

pub mod bridges;
mod laser;
mod mind;
pub mod nesting;
pub mod outlines;
mod page;
mod panel_facts;
mod panel_view;
mod pare;
pub mod pieces;
mod rails;
pub mod relief;
mod router;
mod sled;
mod stock;
pub mod travel;

use crate::instructions::sled::NotchFigures;
use crate::lattice::Notch;

pub use laser::{Batch, RackOrder, laser_sheet, plan_sheets, safety_for, safety_of};
pub use mind::{mind_in, mind_section, missing_first, missing_section};
pub use page::{Work, booklet};
pub use panel_view::{cell_drawing, panel_drawing, panel_outlines};
pub use pare::{pare_sheet, piece_list, plan_measured, plan_pieces};
pub use rails::{plan_rails, rail_names, rail_sheet};
pub use router::{MortisePrograms, plan_mortises, plan_router, router_sheet};
pub use sled::{plan_sled, sled_answer, sled_sheet};

/// A number and what is counted: one strip is one strip.
fn counted(count: usize, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// The figures of a strip's notches as they are given, from its datum end.
fn notch_figures(notches: &[Notch]) -> Vec<NotchFigures> {
    let figures = |(at, notch): (usize, &Notch)| NotchFigures {
        index: at + 1,
        centre_mm: notch.centre,
        near_edge_mm: notch.near_edge(),
        far_edge_mm: notch.far_edge(),
        width_mm: notch.width,
        drawn_width_mm: None,
        depth_mm: notch.depth,
        face: notch.face.name(),
        angle: notch.angle,
    };
    notches.iter().enumerate().map(figures).collect()
}
