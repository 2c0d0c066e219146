//! A job's panel as one machine would make it.

use super::answer::{Answer, answer};
use super::draws::{Draws, Tally, Watched, draw_panels};
use super::joints::Predicted;
use super::order::{FitOrder, Notcher};
use crate::finding::Finding;
use crate::instructions::fit::WayFit;

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
