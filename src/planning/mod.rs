//! From strips and a machine to what the machine has to do: figures, paths and what programs say at
//! their heads. The sheets tell them to people.

pub(crate) mod measured_stock;
mod mitres;
mod notch_figures;
pub(crate) mod panel_facts;
pub mod paring;
mod rails;
pub(crate) mod router;
pub mod sheet_cutting;
pub(crate) mod sled;

pub(crate) use notch_figures::notch_figures;
pub use paring::{plan_measured, plan_pieces};
pub use rails::{plan_rails, rail_names};
pub use router::{MortisePrograms, plan_mortises, plan_router};
pub use sheet_cutting::{RackOrder, WareBatch, plan_sheets};
pub(crate) use sled::add_mitre_settings;
pub use sled::plan_sled;
