//! A machine's profile, whatever its kind.

use super::guides::read_guides;
use super::laser::{read_laser, read_sheet_router};
use super::records::read_records;
use super::router::read_router;
use super::sled::read_sled;
use crate::machines::{Machine, MachineKind, Station};
use crate::measuring::Before;
use crate::reading::fields::{Fields, with_document};
use crate::reading::reference::Reference;
use crate::reading::source::{Source, Unreadable};
use crate::units::{Quantity, UnitSystem};
use toml::de::{DeTable, DeValue};

/// A length of a profile with its field.
#[derive(Debug, Clone)]
pub struct WrittenLength {
    /// From the top of the file: `rack.slots[2]`.
    pub field: String,
    /// As it was written.
    pub length: Quantity,
}

/// A profile that was read.
#[derive(Debug, Clone)]
pub struct MachineProfile {
    /// What jobs call it: the shipped name, or the path.
    pub name: String,
    /// One line about it.
    pub about: String,
    /// The machine.
    pub machine: Machine,
    /// Every length that it says.
    pub lengths: Vec<WrittenLength>,
    /// Where findings about it point.
    pub source: Source,
}

impl MachineProfile {
    /// Where the machine stands in a job.
    pub fn station(&self) -> Station {
        self.machine.kind().station()
    }
}

impl Before for MachineProfile {
    fn length(&self, field: &str) -> Option<(f64, UnitSystem)> {
        let found = self
            .lengths
            .iter()
            .rev()
            .find(|known| known.field == field)?;
        let units = if found.length.imperial {
            UnitSystem::Inches
        } else {
            UnitSystem::Millimetres
        };
        Some((found.length.value, units))
    }

    fn has_table(&self, table: &str) -> bool {
        let text: toml::Table = self.source.text.parse().unwrap_or_default();
        text.get(table).is_some_and(toml::Value::is_table)
    }
}

/// Reads the text of a machine's profile; `name` is what jobs and messages call it: the shipped name,
/// or the path.
///
/// # Errors
/// All that is wrong with it. Whether the machine can make a certain panel shows when that is planned;
/// findings of planners are about the fields of the same source.
pub fn read_machine(name: &str, text: &str) -> Result<MachineProfile, Unreadable> {
    let (log, read) = with_document(name, text, reference_of, |top| {
        let about = top.required_text("about");
        let kinds = MachineKind::ALL.map(|kind| (kind.name(), kind));
        let Some(kind) = top.required_choice("kind", &kinds) else {
            // Without a kind nobody knows which keys belong here.
            top.finish_missing();
            return None;
        };
        // Records are about figures that are there: without these only their keys can be known.
        let machine = read_kind(kind, &top).and_then(|machine| {
            let measured = read_records(&top, &machine)?;
            Some(machine.with_measured(measured))
        });
        top.has("measured");
        top.finish();
        Some((about?, machine?))
    });
    let lengths = log.lengths.iter().map(|read| WrittenLength {
        field: read.field.clone(),
        length: read.length,
    });
    let lengths = lengths.collect();
    let ((about, machine), source) = log.outcome(read)?;
    Ok(MachineProfile {
        name: name.to_owned(),
        about,
        machine,
        lengths,
        source,
    })
}

/// What may stand in a profile that says its kind.
fn reference_of(top: &DeTable<'_>) -> Option<&'static Reference> {
    let DeValue::String(name) = top.get("kind")?.get_ref() else {
        return None;
    };
    let mut kinds = MachineKind::ALL.into_iter();
    kinds
        .find(|kind| kind.name() == name)
        .map(Reference::of_machine)
}

/// Reads the tables that a kind of machine has.
fn read_kind(kind: MachineKind, top: &Fields<'_>) -> Option<Machine> {
    match kind {
        MachineKind::Sled => read_sled(top).map(Machine::Sled),
        MachineKind::Guides => read_guides(top).map(Machine::Guides),
        MachineKind::Router => read_router(top).map(Machine::Router),
        MachineKind::Laser => read_laser(top).map(Machine::Laser),
        MachineKind::SheetRouter => read_sheet_router(top).map(Machine::SheetRouter),
    }
}
