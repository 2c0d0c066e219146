//! What is wrong with an input or a file: stable code, field, sentence, remedy.

mod grouped;
mod record;
mod spot;

pub use grouped::grouped;
pub use record::{Finding, Severity};
pub use spot::{Extent, FindingPlace, Spot};
