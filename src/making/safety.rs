//! The cautions of every kind of machine.

use crate::instructions::safety::SafetyNotes;
use crate::machines::Machine;

/// What is to be minded at a machine.
pub fn safety_at(machine: &Machine) -> SafetyNotes {
    match machine {
        Machine::Sled(sled) => SafetyNotes::for_sled(sled.blade.powered.is_some()),
        Machine::Router(_) => SafetyNotes::for_router(),
        Machine::Laser(laser) | Machine::SheetRouter(laser) => {
            SafetyNotes::for_sheet(laser.cutter.is_some())
        }
        Machine::Guides(_) => SafetyNotes::for_guides(),
    }
}
