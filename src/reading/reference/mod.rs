//! The one table of fields: what may stand in jobs, profiles and patterns, what each key means, and an
//! example of it. Reference texts and schemas are made from it; a test holds it against what the readers
//! ask for.

mod climate;
mod field;
mod fit;
mod frame;
mod grid;
mod job;
mod machines;
mod pattern;
mod rates;
mod row;
mod schema;
mod stock;
mod text;

pub use field::{Field, Holds, Needed, Reference, Rule, Shipped, Table, When};
pub use job::JOB;
pub use pattern::PATTERN;

use crate::machines::MachineKind;
use machines::{GUIDES, LASER, ROUTER, SHEET_ROUTER, SLED};

impl Reference {
    /// What may stand in the profile of a machine of that kind.
    pub const fn of_machine(kind: MachineKind) -> &'static Reference {
        match kind {
            MachineKind::Sled => &SLED,
            MachineKind::Guides => &GUIDES,
            MachineKind::Router => &ROUTER,
            MachineKind::Laser => &LASER,
            MachineKind::SheetRouter => &SHEET_ROUTER,
        }
    }
}

#[cfg(test)]
mod tests;
