//! The pieces that a program may be for.

use crate::infill::Infilling;
use crate::instructions::routed_rows::RoutedRow;
use crate::lattice::Panel;
use crate::machines::{Chosen, Router};
use crate::planning::plan_rows;

/// A job's pieces.
#[derive(Debug, Clone, Copy)]
pub struct JobPieces<'a> {
    /// What is built.
    pub panel: &'a Panel,
    /// Its cells with their pieces.
    pub filled: &'a Infilling,
}

impl JobPieces<'_> {
    /// The rows in which a router cuts them; none where it cannot.
    pub(super) fn rows(&self, machine: &str, router: &Router) -> Vec<RoutedRow> {
        let chosen = Chosen {
            name: machine,
            machine: router,
        };
        let planned = plan_rows(self.panel, self.filled, chosen, &|_, _| String::new());
        planned.map_or_else(|_| Vec::new(), |(planned, _)| planned.plan.rows)
    }
}
