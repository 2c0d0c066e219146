//! From strips and a machine to what the machine has to do.

mod blade;
mod notch_path;
mod route;
mod router;
mod router_sheet;
mod sled;
mod sled_sheet;

pub use router::plan_router;
pub use router_sheet::router_sheet;
pub use sled::plan_sled;
pub use sled_sheet::sled_sheet;

pub mod nesting;
pub mod outlines;
