//! What would help a panel that goes together too seldom: each by drawing it again with the change.

use super::order::{FitOrder, Notcher};
use super::way::closing_chance;
use crate::instructions::fit::{Advice, WayFit};
use crate::lattice::{NotchMate, Panel};
use crate::machines::{Chosen, Rack, Sled, Spread, SpreadFigure, Stop};

/// A field that may be changed.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Change {
    /// Of the job.
    Clearance(f64),
    /// Of a sled.
    WidestBlock(f64),
    /// See there.
    StopRepeats(f64),
    /// See there.
    RackRepeats(f64),
    /// Of any machine's spread.
    StripThickness(f64),
}

/// The steps in which clearances are tried, mm, and how many: half a millimetre at most.
const STEP_MM: f64 = 0.01;
const MOST_STEPS: usize = 50;

/// What does not make it enough by itself is told where it buys so much.
const WORTH_TELLING: f64 = 0.1;

/// Figures plus or minus are tried at so many values below what they are.
const MOST_VALUES: usize = 8;

/// Values of whole steps, as they are printed, above `from`, mm: what is told is what was tried.
fn steps_above(from: f64) -> impl Iterator<Item = f64> {
    let first = (from / STEP_MM + 1e-6).floor() + 1.0;
    (0..MOST_STEPS).map(move |at| hundredths(first + at as f64))
}

/// The same below, above zero, the nearest first: all of them, or as many spread evenly.
fn steps_below(from: f64) -> Vec<f64> {
    let most = (from / STEP_MM - 1e-6).ceil() - 1.0;
    let apart = (most / MOST_VALUES as f64).ceil().max(1.0);
    let values = (0..MOST_VALUES).map(|at| most - at as f64 * apart);
    values
        .filter(|value| *value >= 1.0)
        .map(hundredths)
        .collect()
}

fn hundredths(count: f64) -> f64 {
    count / 100.0
}

/// Adds advice to a prediction that is not as the job asks, cheapest first: nothing but figures, then an hour with
/// the caliper, a jig, better settings. Every chance comes from the same draws with that one change, all else as it is.
pub fn advise(order: &FitOrder<'_>, notcher: Notcher<'_>, way: &mut WayFit) {
    let Some(closes) = way.closes.as_ref().filter(|_| !way.ok) else {
        return;
    };
    let asked = Asked {
        order,
        notcher,
        draws: way.draws,
        chance: closes.chance,
    };
    let found = [
        asked.clearance(),
        asked.sorted_strips(),
        asked.one_block(),
        asked.repeats(|sled| {
            let stop = sled.stop?;
            Some((
                stop.repeatability,
                "stop.repeatability",
                Change::StopRepeats as fn(f64) -> Change,
            ))
        }),
        asked.repeats(|sled| {
            let rack = sled.rack.as_ref()?;
            Some((
                rack.repeatability,
                "rack.repeatability",
                Change::RackRepeats as fn(f64) -> Change,
            ))
        }),
    ];
    way.advice = found.into_iter().flatten().collect();
}

struct Asked<'a> {
    order: &'a FitOrder<'a>,
    notcher: Notcher<'a>,
    draws: usize,
    chance: f64,
}

impl Asked<'_> {
    /// The chance with a change; nothing where it cannot be made then.
    fn with(&self, change: Change, draws: usize) -> Option<f64> {
        match (change, self.notcher) {
            (Change::Clearance(clearance), _) => {
                let mut design = self.order.panel.design().clone();
                design.strip.clearance = clearance;
                let panel = Panel::new(design).ok()?;
                let order = FitOrder {
                    panel: &panel,
                    ..*self.order
                };
                closing_chance(&order, self.notcher, draws).ok()?
            }
            (_, Notcher::Sled(chosen, work)) => {
                let sled = changed(chosen.machine, change);
                let chosen = Chosen {
                    name: chosen.name,
                    machine: &sled,
                };
                let notcher = Notcher::Sled(chosen, work);
                closing_chance(self.order, notcher, draws).ok()?
            }
            (change, Notcher::Router(chosen)) => {
                let mut router = chosen.machine.clone();
                spread_changed(&mut router.spread, change);
                let machine = &router;
                let notcher = Notcher::Router(Chosen { machine, ..chosen });
                closing_chance(self.order, notcher, draws).ok()?
            }
            (change, Notcher::Sheet(chosen)) => {
                let mut laser = chosen.machine.clone();
                spread_changed(&mut laser.spread, change);
                let machine = &laser;
                let notcher = Notcher::Sheet(Chosen { machine, ..chosen });
                closing_chance(self.order, notcher, draws).ok()?
            }
        }
    }

    fn is_enough(&self, chance: f64) -> bool {
        chance >= self.order.wishes.least_chance
    }

    /// Some of the draws find what is enough, all of them make sure.
    fn least(&self, changes: &[Change]) -> Option<(Change, f64)> {
        let few = (self.draws / 8).clamp(200, 2000).min(self.draws);
        let enough = |change: &Change| {
            self.with(*change, few)
                .is_some_and(|chance| self.is_enough(chance))
        };
        let from = changes.partition_point(|change| !enough(change));
        let rest = changes.iter().skip(from.saturating_sub(1)).take(4);
        let mut sure = rest.filter_map(|change| Some((*change, self.with(*change, self.draws)?)));
        sure.find(|(_, chance)| self.is_enough(*chance))
    }

    /// More clearance, the least that is enough. Pieces that run over strips would be laid out anew: of
    /// these nothing is promised.
    fn clearance(&self) -> Option<Advice> {
        let mut notches = self
            .order
            .panel
            .lattice()
            .strips
            .iter()
            .flat_map(|strip| &strip.notches);
        if notches.any(|notch| notch.mate == NotchMate::Piece) {
            return None;
        }
        let from = self.order.panel.design().strip.clearance;
        let changes: Vec<Change> = steps_above(from).map(Change::Clearance).collect();
        let (change, gain) = self.least(&changes)?;
        Some(advice("strip.clearance", "job", from, change, gain))
    }

    /// All strips of a bundle in one block, if more than one is needed now.
    fn one_block(&self) -> Option<Advice> {
        let Notcher::Sled(chosen, _) = self.notcher else {
            return None;
        };
        let lattice = self.order.panel.lattice();
        let most = lattice
            .bundles
            .iter()
            .map(|bundle| bundle.strips.len())
            .max()?;
        // A block of strips a little thicker than drawn has to go in as well.
        let wide = (most as f64 * lattice.section.thickness).ceil() + 1.0;
        let from = chosen.machine.widest_block;
        if wide <= from {
            return None;
        }
        let change = Change::WidestBlock(wide);
        let gain = self
            .with(change, self.draws)
            .filter(|gain| self.is_enough(*gain) || *gain > self.chance + WORTH_TELLING)?;
        Some(advice("sled.widest_block", "profile", from, change, gain))
    }

    /// A figure plus or minus made smaller: enough, or else as small as is tried.
    fn repeats(
        &self,
        figure: impl Fn(&Sled) -> Option<(f64, &'static str, fn(f64) -> Change)>,
    ) -> Option<Advice> {
        let Notcher::Sled(chosen, _) = self.notcher else {
            return None;
        };
        let (from, field, change) = figure(chosen.machine)?;
        self.smaller(from, field, change)
    }

    /// Strips sorted by thickness, so that they differ less.
    fn sorted_strips(&self) -> Option<Advice> {
        let from = self.notcher.spread().strip_thickness.half;
        self.smaller(from, "spread.strip_thickness", Change::StripThickness)
    }

    fn smaller(&self, from: f64, field: &'static str, change: fn(f64) -> Change) -> Option<Advice> {
        let changes: Vec<Change> = steps_below(from).into_iter().map(change).collect();
        let found = self.least(&changes).or_else(|| {
            let last = *changes.last()?;
            let gain = self.with(last, self.draws)?;
            (gain > self.chance + WORTH_TELLING).then_some((last, gain))
        });
        let (change, gain) = found?;
        Some(advice(field, "profile", from, change, gain))
    }
}

fn advice(
    setting: &'static str,
    of: &'static str,
    from_mm: f64,
    change: Change,
    gain: f64,
) -> Advice {
    let (Change::Clearance(change_mm)
    | Change::WidestBlock(change_mm)
    | Change::StopRepeats(change_mm)
    | Change::RackRepeats(change_mm)
    | Change::StripThickness(change_mm)) = change;
    Advice {
        setting,
        of,
        from_mm,
        change_mm,
        gain,
    }
}

/// A change that is one of the spread.
fn spread_changed(spread: &mut Spread, change: Change) {
    if let Change::StripThickness(half) = change {
        spread.strip_thickness = SpreadFigure::given(half);
    }
}

fn changed(sled: &Sled, change: Change) -> Sled {
    let mut sled = sled.clone();
    spread_changed(&mut sled.spread, change);
    match change {
        Change::WidestBlock(wide) => sled.widest_block = wide,
        Change::StopRepeats(repeatability) => {
            sled.stop = sled.stop.map(|stop| Stop {
                repeatability,
                ..stop
            });
        }
        Change::RackRepeats(repeatability) => {
            sled.rack = sled.rack.map(|rack| Rack {
                repeatability,
                ..rack
            });
        }
        Change::Clearance(_) | Change::StripThickness(_) => {}
    }
    sled
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_tried_as_they_are_printed() {
        let above: Vec<f64> = steps_above(0.254).take(2).collect();
        assert!((above[0] - 0.26).abs() < 1e-12 && (above[1] - 0.27).abs() < 1e-12);
        assert!((steps_above(-0.02).next().unwrap() + 0.01).abs() < 1e-12);
        assert!((steps_above(0.05).next().unwrap() - 0.06).abs() < 1e-12);
        assert_eq!(steps_below(0.03), [0.02, 0.01]);
        assert_eq!(steps_below(0.01), Vec::<f64>::new());
        assert_eq!(steps_below(0.1).first(), Some(&0.09));
        let many = steps_below(1.0);
        assert!(many.len() == MOST_VALUES && many.iter().all(|one| *one > 0.0));
    }
}
