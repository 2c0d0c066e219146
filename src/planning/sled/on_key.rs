//! What is to be said of a key: notches that it does not reach, errors that add up, bays that come out
//! different.

use super::bays::{Bay, Bays, Difference};
use super::course::{Course, Placing};
use super::planner::SledPlanner;
use super::route::{MOST_STEPS, Route, route};
use super::slant::Slant;
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::machines::Aim;
use crate::phrase;
use crate::units::{AtLeast, Mm};
use float_cmp::ApproxEq;

/// How far a rack serves a bundle, or the bundles of a family together. Along the strip.
#[derive(Debug, Clone, Default)]
pub(super) struct OnKey {
    /// All notches.
    notches: usize,
    /// Notches that a slot could reach, and none does.
    unreached: usize,
    /// Slots that would reach them, square to the kerf.
    pub(super) missing: Vec<f64>,
    /// Greatest expanded uncertainty over the key of notches that the stop does not reach,
    worst: f64,
    /// and of those that it does.
    worst_in_reach: f64,
    /// Notches that stop or spacers place because the best hop would do worse.
    rather_at_end: usize,
    /// The greatest error that these hops would have.
    worst_spared: f64,
    /// Two bays drawn equal that are known to come out different.
    unlike: Option<UnlikeBays>,
}

/// Where the notches of a course lie in their strip.
#[derive(Clone, Copy)]
pub(super) struct InStrip<'a> {
    /// Their indices, from 0.
    pub(super) numbers: &'a [usize],
    pub(super) slant: Slant,
}

/// Two bays of a strip that are drawn equal and are known to come out different.
#[derive(Debug, Clone, Copy)]
struct UnlikeBays {
    /// The notches that bound each, from 1.
    notches: [[usize; 2]; 2],
    drawn: f64,
    expected: [f64; 2],
    /// Expanded uncertainty of what scatters between them.
    scatter: f64,
    /// Whether aiming at bays would bring them within what scatters.
    by_aim: bool,
}

impl UnlikeBays {
    fn beyond(&self) -> f64 {
        let [first, second] = self.expected;
        (second - first).abs() - self.scatter
    }

    /// Nothing where they differ by no more than what scatters.
    fn of(found: &Route, pair: &Difference, at: InStrip<'_>) -> Option<Self> {
        let along = |square: f64| at.slant.along(square);
        let number = |index: usize| at.numbers.get(index).map_or(0, |number| number + 1);
        let known = |index: usize| found.standings.get(index).map_or(0.0, |own| own.known);
        let expected = |bay: &Bay| along(bay.step + known(bay.to) - known(bay.from));
        let [first, second] = &pair.bays;
        let unlike = UnlikeBays {
            notches: [first, second].map(|bay| [number(bay.from), number(bay.to)]),
            drawn: along(first.step),
            expected: [expected(first), expected(second)],
            scatter: along(pair.standing.scatter.expanded(0.0)),
            by_aim: false,
        };
        (unlike.beyond() > 0.0).then_some(unlike)
    }
}

/// The pair that differs most beyond what scatters.
fn unlike_bays(course: &Course<'_>, found: &Route, at: InStrip<'_>) -> Option<UnlikeBays> {
    let pairs = Bays::of(course).differences(course, &found.placings, &found.standings);
    let unlike = pairs
        .iter()
        .filter_map(|pair| UnlikeBays::of(found, pair, at));
    unlike.max_by(|a, b| a.beyond().total_cmp(&b.beyond()))
}

impl OnKey {
    /// Of a way that was found through a course.
    pub(super) fn of(course: &Course<'_>, found: &Route, at: InStrip<'_>, shortest: f64) -> OnKey {
        let mut told = OnKey {
            notches: course.notches.len(),
            unreached: course.unreached(shortest).len(),
            missing: course.missing_slots(shortest),
            unlike: unlike_bays(course, found, at),
            ..OnKey::default()
        };
        if let Some(unlike) = &mut told.unlike {
            let alike = route(course, Aim::Bays, MOST_STEPS);
            unlike.by_aim = unlike_bays(course, &alike, at).is_none();
        }
        for (index, placing) in found.placings.iter().enumerate() {
            let stands = found.standings.get(index).copied().unwrap_or_default();
            let own = at.slant.along(stands.expanded());
            let in_reach = (course.notches.get(index)).is_some_and(|notch| notch.at_end.is_some());
            match placing {
                Placing::OverKey { .. } if in_reach => {
                    told.worst_in_reach = told.worst_in_reach.max(own);
                }
                Placing::OverKey { .. } => told.worst = told.worst.max(own),
                Placing::AtEnd => {
                    let hop = best_hop(course, found, index).map(|hop| at.slant.along(hop));
                    if let Some(hop) = hop.filter(|hop| *hop > own) {
                        told.rather_at_end += 1;
                        told.worst_spared = told.worst_spared.max(hop);
                    }
                }
            }
        }
        told
    }

    pub(super) fn add(&mut self, other: &OnKey) {
        self.notches += other.notches;
        self.unreached += other.unreached;
        for slot in &other.missing {
            let known = |known: &f64| known.approx_eq(*slot, POSITION);
            if !self.missing.iter().any(known) {
                self.missing.push(*slot);
            }
        }
        self.worst = self.worst.max(other.worst);
        self.worst_in_reach = self.worst_in_reach.max(other.worst_in_reach);
        self.rather_at_end += other.rather_at_end;
        self.worst_spared = self.worst_spared.max(other.worst_spared);
        let both = self.unlike.into_iter().chain(other.unlike);
        self.unlike = both.max_by(|a, b| a.beyond().total_cmp(&b.beyond()));
    }
}

/// The least error that a hop over the key would have, square to the kerf.
fn best_hop(course: &Course<'_>, found: &Route, index: usize) -> Option<f64> {
    let hops = course.choices(index).into_iter().filter_map(|placing| {
        let Placing::OverKey { on, .. } = placing else {
            return None;
        };
        let from = found.standings.get(on)?;
        Some(course.stand(index, placing, *from).expanded())
    });
    hops.min_by(f64::total_cmp)
}

impl SledPlanner<'_> {
    /// What is to be said of the key for a family's bundles.
    pub(super) fn key_warnings(&self, family: &str, told: &OnKey) -> Vec<Finding> {
        let mut warnings = Vec::new();
        if self.rack.is_none() {
            return warnings;
        }
        if told.unreached > 0 && !told.missing.is_empty() {
            let mut text = phrase!(
                "{} of {} notches of the {}s cannot be reached over the key; add a slot at ",
                told.unreached,
                told.notches,
                family
            );
            for (at, slot) in told.missing.iter().enumerate() {
                let join = if at == 0 { "" } else { " and another at " };
                text.append(phrase!("{}{}", join, Mm(*slot)));
            }
            text.append(phrase!(
                " (key's centre to kerf's centre{}); until then the stop places them",
                if self.has_slants() {
                    ", square to the kerf"
                } else {
                    ""
                }
            ));
            warnings.push(Finding::warning("key-out-of-reach", "rack.slots", text));
        }
        warnings.extend(self.adding_up(family, told));
        warnings.extend(told.unlike.map(|unlike| self.unlike(family, &unlike)));
        warnings
    }

    /// Errors that add up from hop to hop: what the stop does about it, and where it cannot.
    fn adding_up(&self, family: &str, told: &OnKey) -> Option<Finding> {
        // A stop sets both notches afresh, whatever lies between them.
        let setting = self.scatter(self.stop.repeatability);
        let by_stop = setting.and(setting).expanded(0.0);
        let (text, hint) = if told.worst > by_stop {
            let text = phrase!(
                "over the key, the {}s' last notches may be off by {} against the first, and the stop does not reach them",
                family,
                AtLeast(told.worst)
            );
            (text, "a longer fence, or true up the slots")
        } else if told.worst_in_reach > by_stop && self.work.aim == Aim::Bays {
            let text = phrase!(
                "over the key, the {}s' last notches may be off by {} against the first, so that bays drawn equal come out alike; by the stop that would be {}",
                family,
                AtLeast(told.worst_in_reach),
                AtLeast(by_stop)
            );
            (
                text,
                "aim = \"places\" in the job's [sled] places notches as closely as can be; or true up the slots",
            )
        } else if told.rather_at_end > 0 {
            let text = phrase!(
                "over the key, notches of the {}s would be off by up to {} against the first; the stop places such notches, within {}",
                family,
                AtLeast(told.worst_spared),
                AtLeast(by_stop)
            );
            (text, "follow the sheet: there the stop is the truer way")
        } else {
            return None;
        };
        Some(Finding::warning("key-error-adds-up", "rack.measured", text).hint(hint))
    }

    /// Bays drawn equal that come out different by more than what scatters.
    fn unlike(&self, family: &str, unlike: &UnlikeBays) -> Finding {
        let [[a, b], [c, d]] = unlike.notches;
        let [first, second] = unlike.expected;
        let text = phrase!(
            "{}s: from notch {} to {} and from {} to {} it is {} as drawn; as the slots measure it comes to {} and {}, and the machine's scatter explains {} of that difference",
            family,
            a,
            b,
            c,
            d,
            Mm(unlike.drawn),
            Mm(first),
            Mm(second),
            Mm(unlike.scatter)
        );
        let hint = if unlike.by_aim && self.work.aim == Aim::Places {
            "aim = \"bays\" in the job's [sled] gives like steps like slots; or true up the slots"
        } else {
            "a slot for these steps, or slots that measure them truly; else make the pieces for each bay to what it measures"
        };
        Finding::warning("bays-come-out-different", "rack.measured", text).hint(hint)
    }
}
