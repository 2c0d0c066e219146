//! What a job asks for and is not made, beside all that is.

use super::sheet::SheetPart;
use crate::finding::Finding;

/// Something that a machine cannot make, or that its proof did not find right.
#[derive(Debug, Clone, PartialEq)]
pub struct Missing {
    /// The part of the sheet that it belongs to.
    pub part: SheetPart,
    /// What: `notching programs`.
    pub what: String,
    /// The profile that was to make it.
    pub machine: String,
    /// Why; never empty.
    pub why: Vec<Finding>,
}

impl Missing {
    /// `notching programs (small-router)`; without a machine what is missing alone.
    pub fn name(&self) -> String {
        if self.machine.is_empty() {
            return self.what.clone();
        }
        format!("{} ({})", self.what, self.machine)
    }
}
