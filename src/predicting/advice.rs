//! What would help a panel that goes together too seldom: each by drawing it again with the change.

use super::way::{FitOrder, Notcher, closing_chance};
use crate::instructions::fit::{Advice, WayFit};
use crate::lattice::{NotchMate, Panel};
use crate::machines::{Chosen, Rack, Sled, Stop};

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
}

/// The steps in which clearances are tried, mm, and how many: half a millimetre at most.
const STEP_MM: f64 = 0.01;
const MOST_STEPS: usize = 50;

/// Figures plus or minus are tried at these shares of what they are.
const SHARES: [f64; 4] = [0.75, 0.5, 0.35, 0.25];

/// Adds advice to a prediction that is not as the job asks, cheapest first: nothing but figures, then a jig,
/// then better settings. Every chance comes from the same draws with that one change, all else as it is.
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
            (_, Notcher::Sled(chosen)) => {
                let sled = changed(chosen.machine, change);
                let notcher = Notcher::Sled(Chosen {
                    name: chosen.name,
                    machine: &sled,
                });
                closing_chance(self.order, notcher, draws).ok()?
            }
            _ => None,
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
        let changes: Vec<Change> = (1..=MOST_STEPS)
            .map(|steps| Change::Clearance(rounded(from + steps as f64 * STEP_MM)))
            .collect();
        let (change, gain) = self.least(&changes)?;
        Some(advice("strip.clearance", "job", from, change, gain))
    }

    /// All strips of a bundle in one block, if more than one is needed now.
    fn one_block(&self) -> Option<Advice> {
        let Notcher::Sled(chosen) = self.notcher else {
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
            .filter(|gain| *gain > self.chance + 0.01)?;
        Some(advice("sled.widest_block", "profile", from, change, gain))
    }

    /// A figure plus or minus made smaller: enough, or else as small as is tried.
    fn repeats(
        &self,
        figure: impl Fn(&Sled) -> Option<(f64, &'static str, fn(f64) -> Change)>,
    ) -> Option<Advice> {
        let Notcher::Sled(chosen) = self.notcher else {
            return None;
        };
        let (from, field, change) = figure(chosen.machine)?;
        let changes: Vec<Change> = SHARES
            .iter()
            .map(|share| change(rounded(share * from)))
            .collect();
        let found = self.least(&changes).or_else(|| {
            let last = *changes.last()?;
            Some((last, self.with(last, self.draws)?))
        });
        let (change, gain) = found.filter(|(_, gain)| *gain > self.chance + 0.01)?;
        Some(advice(field, "profile", from, change, gain))
    }
}

/// To a thousandth of a millimetre, so that what is told is what was tried.
fn rounded(mm: f64) -> f64 {
    (mm * 1000.0).round() / 1000.0
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
    | Change::RackRepeats(change_mm)) = change;
    Advice {
        setting,
        of,
        from_mm,
        change_mm: rounded(change_mm),
        gain,
    }
}

fn changed(sled: &Sled, change: Change) -> Sled {
    let mut sled = sled.clone();
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
        Change::Clearance(_) => {}
    }
    sled
}
