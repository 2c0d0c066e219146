//! The set-up sheets of a job as they hang beside the machines, whether they are read on a screen or on
//! paper. Every figure on them is one of a plan's.

use super::drawing::Drawing;
use super::safety::SafetyNotes;
use super::sheet::{Section, SetupSheet, SheetPart};

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

/// What of a booklet may be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BookletPart {
    /// The first page: the panel, the order of the work, what has to lie ready.
    Whole,
    /// All cards.
    Cards,
    /// One of them.
    Card(SheetPart),
    /// Drawings at true size.
    Templates,
}

impl Booklet {
    /// Leaves out all but some parts; what is not made is told in any case.
    pub fn keep(&mut self, parts: &[BookletPart]) {
        let asked = |part: BookletPart| parts.contains(&part);
        if !asked(BookletPart::Whole) {
            self.front.clear();
        }
        if !asked(BookletPart::Templates) {
            self.templates.clear();
        }
        self.sheets.retain(|sheet| {
            sheet.part == SheetPart::Missing
                || asked(BookletPart::Cards)
                || asked(BookletPart::Card(sheet.part))
        });
    }

    /// Whether it has a part.
    pub fn has(&self, part: BookletPart) -> bool {
        match part {
            BookletPart::Whole => !self.front.is_empty(),
            BookletPart::Cards => !self.sheets.is_empty(),
            BookletPart::Card(part) => self.sheets.iter().any(|sheet| sheet.part == part),
            BookletPart::Templates => !self.templates.is_empty(),
        }
    }
}
