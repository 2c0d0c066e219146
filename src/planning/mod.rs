//! From strips and a machine to what the machine has to do: figures, paths and what programs say at
//! their heads. The sheets tell them to people.

pub(crate) mod as_built;
mod frame_joint;
mod frame_mitres;
mod frame_parts;
pub(crate) mod measured_figures;
pub(crate) mod measured_stock;
pub mod mitres;
mod movement;
mod notch_figures;
mod overview;
pub(crate) mod panel_facts;
mod panel_size;
pub mod paring;
mod pattern_facts;
mod rails;
pub(crate) mod router;
pub mod sheet_cutting;
pub(crate) mod sled;
mod stock;
mod wood_table;

pub use frame_parts::plan_frame_parts;
pub use mitres::{machined_ends, pared_ways, plan_mitres, sawn_ways};
pub use movement::MovementOrder;
pub(crate) use notch_figures::notch_figures;
pub use overview::{OverviewOrder, overview};
pub use panel_size::{SizedPanel, panel_size};
pub use paring::{MachinedEnds, plan_measured, plan_pieces, plan_rest};
pub use pattern_facts::{PatternFigure, ShownSizes, pattern_facts};
pub use rails::{frame_outlines, plan_rails, rail_names};
pub use router::{
    MortisePrograms, PlannedRows, plan_mortises, plan_router, plan_rows, routed_ends, routed_ways,
};
pub use sheet_cutting::{RackOrder, WareBatch, fitted_notch, plan_sheets};
pub use sled::{ThicknessOrder, plan_sled};
pub(crate) use sled::{add_mitre_settings, lap_racking};
pub use stock::{PieceWork, StockOrder, StripWork, TestScraps, TimeOrder, sled_passes};
pub use wood_table::OwnWood;
