//! Machine profiles.

mod controller;
mod guides;
mod laser;
mod router;
mod sled;

use super::fields::{Fields, with_document};
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::machines::{Machine, MachineKind};
use crate::units::{Kind, parse};

/// A profile that was read.
#[derive(Debug, Clone)]
pub struct MachineProfile {
    /// What jobs call it: the shipped name, or the path.
    pub name: String,
    /// One line about it.
    pub about: String,
    /// The machine.
    pub machine: Machine,
    /// Where findings about it point.
    pub source: Source,
}

/// Reads a profile's text; `name` is what messages call it.
///
/// # Errors
/// All that is wrong with it.
pub fn read_machine(name: &str, text: &str) -> Result<MachineProfile, Unreadable> {
    let (log, read) = with_document(name, text, |top| {
        let about = top.required_text("about");
        let machine = match top.required_choice("kind", MachineKind::ALL) {
            Some(MachineKind::Sled) => sled::read_sled(&top).map(Machine::Sled),
            Some(MachineKind::Guides) => guides::read_guides(&top).map(Machine::Guides),
            Some(MachineKind::Router) => router::read_router(&top).map(Machine::Router),
            Some(MachineKind::Laser) => laser::read_laser(&top).map(Machine::Laser),
            Some(MachineKind::SheetRouter) => {
                laser::read_sheet_router(&top).map(Machine::SheetRouter)
            }
            // Without a kind nobody knows which keys belong here.
            None => {
                top.finish_missing();
                return None;
            }
        };
        top.finish();
        Some((about?, machine?))
    });
    let ((about, machine), source) = log.outcome(read)?;
    Ok(MachineProfile {
        name: name.to_owned(),
        about,
        machine,
        source,
    })
}

/// A length that must be above zero.
fn size(fields: &Fields<'_>, key: &'static str) -> Option<f64> {
    let value = fields.required_quantity(key, Kind::Length)?;
    if value > 0.0 {
        return Some(value);
    }
    fields.report(Finding::error(
        "not-positive",
        fields.path(key),
        "this must be above zero",
    ));
    None
}

/// A quantity between two others, written out with their units: what a machine can have and a
/// controller can read.
fn within(
    fields: &Fields<'_>,
    key: &'static str,
    kind: Kind,
    least: &'static str,
    most: &'static str,
) -> Option<f64> {
    let value = fields.required_quantity(key, kind)?;
    let limit = |text| parse(text, kind).ok().map(|limit| limit.value);
    if limit(least)? <= value && value <= limit(most)? {
        return Some(value);
    }
    let message = format!("this must be {least} to {most}");
    fields.report(Finding::error("out-of-range", fields.path(key), message));
    None
}

/// Reports `low` if it is above `high`.
fn in_order(
    fields: &Fields<'_>,
    low: (&'static str, Option<f64>),
    high: (&'static str, Option<f64>),
) {
    if let (Some(least), Some(most)) = (low.1, high.1)
        && least > most
    {
        let message = format!("`{}` is above `{}`", low.0, high.0);
        fields.report(Finding::error("wrong-order", fields.path(low.0), message));
    }
}

/// A table that may be left out: `Some(None)` then, `None` where it is there and wrong.
fn part<T>(
    top: &Fields<'_>,
    key: &'static str,
    read: impl FnOnce(Fields<'_>) -> Option<T>,
) -> Option<Option<T>> {
    if top.has(key) {
        top.table(key).and_then(read).map(Some)
    } else {
        Some(None)
    }
}
