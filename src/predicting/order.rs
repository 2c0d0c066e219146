//! What is to be predicted, and the machine that is to make it.

use super::joints::Predicted;
use super::router::strips_off_the_router;
use super::sheet::strips_off_the_sheet;
use super::sled::strips_off_the_sled;
use crate::finding::Finding;
use crate::infill::{Infilling, Pattern};
use crate::lattice::{FitWishes, Frame, Lattice, Panel};
use crate::machines::{Chosen, Laser, Router, Sled, SledWork, Spread};
use crate::planning::{plan_router, plan_sled};

/// A machine that notches strips.
#[derive(Debug, Clone, Copy)]
pub enum Notcher<'a> {
    /// A sled, and how the job wants the work done on it.
    Sled(Chosen<'a, Sled>, SledWork),
    /// A router with bundles.
    Router(Chosen<'a, Router>),
    /// A laser or sheet router.
    Sheet(Chosen<'a, Laser>),
}

/// What is to be predicted.
#[derive(Debug, Clone, Copy)]
pub struct FitOrder<'a> {
    /// The panel.
    pub panel: &'a Panel,
    /// Its frame, if it has one.
    pub frame: Option<&'a Frame>,
    /// Its cells with their pieces, and the patterns of these.
    pub pieces: Option<(&'a Infilling, &'a [Pattern])>,
    /// What the job asks for.
    pub wishes: FitWishes,
    /// How many panels; as many as take about two seconds where nobody says.
    pub draws: Option<usize>,
    /// Of the random numbers.
    pub seed: u64,
}

/// The seed where nobody gives one.
pub const USUAL_SEED: u64 = 1;

impl Notcher<'_> {
    /// Its name.
    pub fn name(&self) -> &str {
        match self {
            Notcher::Sled(chosen, _) => chosen.name,
            Notcher::Router(chosen) => chosen.name,
            Notcher::Sheet(chosen) => chosen.name,
        }
    }

    /// The way of working.
    pub fn way(&self) -> &'static str {
        match self {
            Notcher::Sled(..) => "sled",
            Notcher::Router(_) => "router",
            Notcher::Sheet(_) => "laser",
        }
    }

    /// How far its work scatters.
    pub fn spread(&self) -> &Spread {
        match self {
            Notcher::Sled(chosen, _) => &chosen.machine.spread,
            Notcher::Router(chosen) => &chosen.machine.spread,
            Notcher::Sheet(chosen) => &chosen.machine.spread,
        }
    }

    /// The strips of a lattice as this machine makes them.
    ///
    /// # Errors
    /// What it cannot do, at the fields of its profile.
    pub fn predicted<'l>(&self, lattice: &'l Lattice) -> Result<Predicted<'l>, Vec<Finding>> {
        let made = match self {
            Notcher::Sled(chosen, work) => {
                let (plan, _) = plan_sled(lattice, chosen.name, chosen.machine, *work)?;
                strips_off_the_sled(lattice, &plan, chosen.machine)
            }
            Notcher::Router(chosen) => {
                let named = |at: usize, _: usize| format!("{at}.nc");
                let (plan, _) = plan_router(lattice, chosen.name, chosen.machine, &named)?;
                strips_off_the_router(lattice, &plan, chosen.machine)
            }
            Notcher::Sheet(chosen) => strips_off_the_sheet(lattice, chosen.machine),
        };
        Ok(Predicted::of(lattice, made))
    }
}
