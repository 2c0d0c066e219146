//! The kinds of machine.

use super::guides::Guides;
use super::laser::Laser;
use super::router::Router;
use super::sled::Sled;

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
    /// Every kind, in the order in which messages list them.
    pub const ALL: [MachineKind; 5] = [
        MachineKind::Sled,
        MachineKind::Guides,
        MachineKind::Router,
        MachineKind::Laser,
        MachineKind::SheetRouter,
    ];

    /// Its name in files.
    pub const fn name(self) -> &'static str {
        match self {
            MachineKind::Sled => "sled",
            MachineKind::Guides => "guides",
            MachineKind::Router => "router",
            MachineKind::Laser => "laser",
            MachineKind::SheetRouter => "sheet-router",
        }
    }
}

/// Compiles only where [`MachineKind::ALL`] misses no kind and has none twice: its entries are the
/// patterns of this match, and a match has to cover every variant.
const _: fn(MachineKind) = |kind| {
    const A: MachineKind = MachineKind::ALL[0];
    const B: MachineKind = MachineKind::ALL[1];
    const C: MachineKind = MachineKind::ALL[2];
    const D: MachineKind = MachineKind::ALL[3];
    const E: MachineKind = MachineKind::ALL[4];
    match kind {
        A | B | C | D | E => {}
    }
};

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
