//! From strips and a machine to what the machine has to do.

mod blade;
mod laser;
mod laser_sheet;
pub mod nesting;
mod notch_path;
pub mod outlines;
mod route;
mod router;
mod router_sheet;
mod sled;
mod sled_sheet;

pub use laser::plan_strips;
pub use laser_sheet::laser_sheet;
pub use router::plan_router;
pub use router_sheet::router_sheet;
pub use sled::plan_sled;
pub use sled_sheet::sled_sheet;
