//! From strips and a machine to what the machine has to do.

mod blade;
mod route;
mod sled;
mod sled_sheet;

pub use sled::plan_sled;
pub use sled_sheet::sled_sheet;

pub mod nesting;
pub mod outlines;
