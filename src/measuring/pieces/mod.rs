//! Every kind of test piece.

mod common;
mod router;
mod sheets;
mod sled;

use super::piece::{Place, TestPiece};
use crate::machines::Machine;
use crate::units::exact_mm;

const ALL: [&[TestPiece]; 4] = [sled::ALL, router::ALL, sheets::ALL, common::ALL];

/// The kinds of test piece by which a machine can be measured, in the order in which they are best cut.
pub fn pieces_of(machine: &Machine) -> Vec<&'static TestPiece> {
    let all = ALL.iter().flat_map(|pieces| pieces.iter());
    all.filter(|piece| (piece.suits)(machine)).collect()
}

/// What a field of a profile is called on sheets: `kerf`, `slot 46 mm`. The field itself where no test
/// piece gives it.
pub fn name_of(machine: &Machine, field: &str) -> String {
    if let Some(slot) = slot_name(machine, field) {
        return slot;
    }
    let pieces = pieces_of(machine);
    let mut fills = pieces.iter().flat_map(|piece| piece.fills);
    let named = fills.find(|fills| matches!(fills.place, Place::Field(known) if known == field));
    named.map_or_else(|| field.to_owned(), |fills| fills.name.to_owned())
}

fn slot_name(machine: &Machine, field: &str) -> Option<String> {
    let Machine::Sled(sled) = machine else {
        return None;
    };
    let number = field.strip_prefix("rack.measured[")?.strip_suffix(']')?;
    let slot = sled
        .rack
        .as_ref()?
        .slots
        .get(number.parse::<usize>().ok()?)?;
    Some(format!("slot {}", exact_mm(slot.nominal)))
}
