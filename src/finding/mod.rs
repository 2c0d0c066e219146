//! What is wrong with an input or a file: stable code, field, sentence, remedy.

mod document;
mod grouped;
mod record;
mod spot;

pub use document::{Document, PatternNumber};
pub use grouped::grouped;
pub use record::{Finding, Severity, all_in_document};
pub use spot::{Extent, FindingPlace, Spot};
