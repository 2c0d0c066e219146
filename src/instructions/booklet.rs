//! The set-up sheets of a job as they hang beside the machines, whether they are read on a screen or on
//! paper. Every figure on them is one of a plan's.

use super::drawing::Drawing;
use super::safety::SafetyNotes;
use super::sheet::{Section, SetupSheet};

/// Everything for one job.
#[derive(Debug, Clone, PartialEq)]
pub struct Booklet {
    /// What is made.
    pub title: String,
    /// The first page: the whole, and the way through the cards. Nothing where one card is all.
    pub front: Vec<Section>,
    /// The cards, one for each machine and for the bench, in working order.
    pub sheets: Vec<SetupSheet>,
    /// Drawings to be laid on wood, printed at true size only.
    pub templates: Vec<Drawing>,
    /// What is to be minded with them, on every one of their pages.
    pub templates_safety: SafetyNotes,
}
