//! What a machine is, what it can do and what was measured on it. Millimetres, radians.

mod guides;
mod laser;
mod router;
mod sled;

pub use guides::Guides;
pub use laser::{Bridges, Colours, Cutter, Fit, Laser, Relief, Sheet};
pub use router::{Clamp, Cutting, Fixture, Key, Router, Spindle, Tool, Travel};
pub use sled::{Blade, Powered, Rack, Sled, Slot, Spacers, Stop, Tooth};

/// A machine of any kind.
#[derive(Debug, Clone, PartialEq)]
pub enum Machine {
    /// Table saw with a crosscut sled, or a bench hook with a hand saw.
    Sled(Sled),
    /// Paring guide blocks.
    Guides(Guides),
    /// Three-axis router.
    Router(Router),
    /// Laser cutter.
    Laser(Laser),
    /// Three-axis router that cuts outlines from sheet.
    SheetRouter(Laser),
}

/// The kinds of machine a profile can describe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MachineKind {
    /// See [`Machine::Sled`].
    Sled,
    /// See [`Machine::Guides`].
    Guides,
    /// See [`Machine::Router`].
    Router,
    /// See [`Machine::Laser`].
    Laser,
    /// See [`Machine::SheetRouter`].
    SheetRouter,
}

impl MachineKind {
    /// Every kind, under the name it has in files.
    pub const ALL: &'static [(&'static str, MachineKind)] = &[
        ("sled", MachineKind::Sled),
        ("guides", MachineKind::Guides),
        ("router", MachineKind::Router),
        ("laser", MachineKind::Laser),
        ("sheet-router", MachineKind::SheetRouter),
    ];

    /// Its name in files.
    pub fn name(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(_, kind)| *kind == self)
            .map_or("machine", |(name, _)| name)
    }
}

impl Machine {
    /// Its kind.
    pub fn kind(&self) -> MachineKind {
        match self {
            Machine::Sled(_) => MachineKind::Sled,
            Machine::Guides(_) => MachineKind::Guides,
            Machine::Router(_) => MachineKind::Router,
            Machine::Laser(_) => MachineKind::Laser,
            Machine::SheetRouter(_) => MachineKind::SheetRouter,
        }
    }
}
