//! A job's panel as one machine would make it.

use super::answer::{Answer, answer};
use super::draws::{Draws, Tally, Watched, draw_panels};
use super::joints::Predicted;
use super::router::strips_off_the_router;
use super::sheet::strips_off_the_sheet;
use super::sled::strips_off_the_sled;
use crate::finding::Finding;
use crate::infill::{Infilling, Pattern};
use crate::instructions::fit::WayFit;
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

/// Draws that take about two seconds on two cores, a whole number of hundreds; the same on every machine.
pub fn usual_draws(predicted: &Predicted<'_>) -> usize {
    let parts: usize = (predicted.cuts.iter())
        .map(|cut| cut.near.parts.len() + cut.far.parts.len())
        .sum();
    let work = 4 * predicted.joints.len() + parts + 8 * predicted.sources.0.len();
    (MOST_DRAW_WORK / work.max(1)).clamp(500, 20_000) / 100 * 100
}

/// In steps of about a nanosecond.
const MOST_DRAW_WORK: usize = 400_000_000;

/// The prediction of a panel as a machine makes it, without advice.
///
/// # Errors
/// What the machine cannot do, at the fields of its profile.
pub fn predict_way(order: &FitOrder<'_>, notcher: Notcher<'_>) -> Result<WayFit, Vec<Finding>> {
    let lattice = order.panel.lattice();
    let predicted = notcher.predicted(lattice)?;
    let draws = Draws {
        count: order.draws.unwrap_or_else(|| usual_draws(&predicted)),
        seed: order.seed,
    };
    Ok(answer(&Answer {
        order,
        notcher,
        predicted: &predicted,
        draws,
    }))
}

/// The share of draws that go together, nothing more; nothing where that is not predicted.
///
/// # Errors
/// What the machine cannot do, at the fields of its profile.
pub fn closing_chance(
    order: &FitOrder<'_>,
    notcher: Notcher<'_>,
    count: usize,
) -> Result<Option<f64>, Vec<Finding>> {
    let predicted = notcher.predicted(order.panel.lattice())?;
    let Some(directions) = predicted.directions() else {
        return Ok(None);
    };
    let watched = Watched {
        figures: Vec::new(),
        kept: 0,
        directions: Some(&directions),
        crush: order.wishes.crush,
        ends: Vec::new(),
    };
    let draws = Draws {
        count,
        seed: order.seed,
    };
    let tally: Tally = draw_panels(&predicted, &watched, draws);
    Ok(Some(tally.closing().0))
}
