//! The kinds of machine.

use super::guides::Guides;
use super::laser::Laser;
use super::measured::MeasuredFigure;
use super::router::Router;
use super::sled::Sled;
use super::spread::PlusMinus;

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

/// Where a machine stands in a job: its place in the table `[machines]`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Station {
    /// Strips are notched on a sled.
    Sled,
    /// Outlines are cut by a laser, or by a sheet router.
    Laser,
    /// Bundles of strips are notched by a router, rails get their mortises.
    Router,
    /// Pieces are pared.
    Guides,
}

impl Station {
    /// All of them, in the order in which a job goes through them.
    pub const ALL: [Station; 4] = [
        Station::Sled,
        Station::Laser,
        Station::Router,
        Station::Guides,
    ];

    /// Its key in a job's table `[machines]`.
    pub const fn name(self) -> &'static str {
        match self {
            Station::Sled => "sled",
            Station::Laser => "laser",
            Station::Router => "router",
            Station::Guides => "guides",
        }
    }
}

/// Compiles only where [`Station::ALL`] misses none, as for [`MachineKind::ALL`].
const _: fn(Station) = |station| {
    const A: Station = Station::ALL[0];
    const B: Station = Station::ALL[1];
    const C: Station = Station::ALL[2];
    const D: Station = Station::ALL[3];
    match station {
        A | B | C | D => {}
    }
};

impl MachineKind {
    /// Where a machine of this kind stands in a job.
    pub const fn station(self) -> Station {
        match self {
            MachineKind::Sled => Station::Sled,
            MachineKind::Guides => Station::Guides,
            MachineKind::Router => Station::Router,
            MachineKind::Laser | MachineKind::SheetRouter => Station::Laser,
        }
    }
}

/// What a machine at some station is described by.
pub trait AtStation: Sized {
    /// Where it stands.
    const STATION: Station;

    /// The figures of a machine that stands there; none of any other.
    fn of(machine: &Machine) -> Option<&Self>;
}

impl AtStation for Sled {
    const STATION: Station = Station::Sled;

    fn of(machine: &Machine) -> Option<&Self> {
        match machine {
            Machine::Sled(sled) => Some(sled),
            _ => None,
        }
    }
}

impl AtStation for Guides {
    const STATION: Station = Station::Guides;

    fn of(machine: &Machine) -> Option<&Self> {
        match machine {
            Machine::Guides(guides) => Some(guides),
            _ => None,
        }
    }
}

impl AtStation for Router {
    const STATION: Station = Station::Router;

    fn of(machine: &Machine) -> Option<&Self> {
        match machine {
            Machine::Router(router) => Some(router),
            _ => None,
        }
    }
}

impl AtStation for Laser {
    const STATION: Station = Station::Laser;

    fn of(machine: &Machine) -> Option<&Self> {
        match machine {
            Machine::Laser(laser) | Machine::SheetRouter(laser) => Some(laser),
            _ => None,
        }
    }
}

impl Machine {
    /// Which of its figures were measured, as its profile has it.
    pub fn measured(&self) -> &[MeasuredFigure] {
        match self {
            Machine::Sled(sled) => &sled.measured,
            Machine::Guides(guides) => &guides.measured,
            Machine::Router(router) => &router.measured,
            Machine::Laser(laser) | Machine::SheetRouter(laser) => &laser.measured,
        }
    }

    /// How its profile's figures plus or minus are read.
    pub fn plus_minus(&self) -> PlusMinus {
        match self {
            Machine::Sled(sled) => sled.spread.plus_minus,
            Machine::Router(router) => router.spread.plus_minus,
            Machine::Laser(laser) | Machine::SheetRouter(laser) => laser.spread.plus_minus,
            Machine::Guides(_) => PlusMinus::default(),
        }
    }

    /// The same machine with these figures measured.
    #[must_use]
    pub fn with_measured(mut self, figures: Vec<MeasuredFigure>) -> Machine {
        let kept = match &mut self {
            Machine::Sled(sled) => &mut sled.measured,
            Machine::Guides(guides) => &mut guides.measured,
            Machine::Router(router) => &mut router.measured,
            Machine::Laser(laser) | Machine::SheetRouter(laser) => &mut laser.measured,
        };
        *kept = figures;
        self
    }

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
