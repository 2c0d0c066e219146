//! The best way over a rack's key slots from notch to notch.
//!
//! Every notch is placed in one of several ways; where it then stands follows from where the notch stands
//! that it hops from. The search goes through the notches in the order in which they are cut, each time the
//! better choice first, and turns back where what is placed, or what is still to come, is worse than the
//! best way known (branch and bound). So it ends with the best of all ways, or, where a limit of steps
//! stops it, with the best one found and a bound that no way betters.

use super::bays::Bays;
use super::course::{Course, Placing, Standing};
use crate::machines::Aim;

/// Standings looked at before a search is stopped: about a second.
pub(super) const MOST_STEPS: usize = 500_000;

/// Of a notch still to come so many ranges are followed.
const MOST_RANGES: usize = 32;

/// As long as the best way and the bound lie farther apart, what lies between is halved, mm.
const HALVED_MM: f64 = 0.01;

/// A way that betters another by less is none, mm.
const BETTER_MM: f64 = 1e-9;

/// A way through a course, and how good it is. Lengths square to the kerf.
#[derive(Debug, Clone)]
pub(super) struct Route {
    pub(super) placings: Vec<Placing>,
    /// Against the datum notch.
    pub(super) standings: Vec<Standing>,
    /// Greatest expanded uncertainty of a notch's place.
    pub(super) greatest: f64,
    /// The same of the difference of two bays that are drawn equal, where there are such.
    pub(super) bays: Option<f64>,
    /// What no way betters of that which was aimed at.
    pub(super) least: f64,
    /// Whether none is better than this one.
    pub(super) proved: bool,
}

/// What a way may not exceed.
#[derive(Debug, Clone, Copy)]
struct Caps {
    bays: f64,
    places: f64,
}

impl Caps {
    const NONE: Caps = Caps {
        bays: f64::INFINITY,
        places: f64::INFINITY,
    };

    fn are_none(self) -> bool {
        self.bays.is_infinite() && self.places.is_infinite()
    }
}

/// What a search came to.
enum Found {
    Way(Partial),
    /// All ways were tried.
    NoWay,
    /// By the limit of steps.
    Stopped,
}

/// The first notches of a course, placed.
#[derive(Debug, Clone, Default)]
struct Partial {
    placings: Vec<Placing>,
    standings: Vec<Standing>,
}

impl Partial {
    fn len(&self) -> usize {
        self.placings.len()
    }

    fn push(&mut self, placing: Placing, standing: Standing) {
        self.placings.push(placing);
        self.standings.push(standing);
    }

    fn pop(&mut self) {
        self.placings.pop();
        self.standings.pop();
    }

    fn greatest(&self) -> f64 {
        let errors = self.standings.iter().map(|standing| standing.expanded());
        errors.fold(0.0, f64::max)
    }
}

/// The best way for an aim, found in at most `most_steps` for each thing that is lowered. *Places*: the
/// greatest error of a notch is least. *Bays*: the greatest difference of two bays that are drawn equal is
/// least, and with that the greatest error of a notch. Within what is least the notches are placed one by
/// one as closely as the rest allows, in the order in which they are cut.
pub(super) fn route(course: &Course<'_>, aim: Aim, most_steps: usize) -> Route {
    let bays = Bays::of(course);
    let mut search = Search {
        course,
        choices: (0..course.notches.len())
            .map(|index| course.choices(index))
            .collect(),
        bays: match aim {
            Aim::Places => Bays::none(),
            Aim::Bays => Bays::of(course),
        },
        most_steps,
        left: most_steps,
    };
    let (best, least, proved) = search.best();
    let differences = bays.differences(course, &best.placings, &best.standings);
    let differences = differences.iter().map(|pair| pair.standing.expanded());
    Route {
        greatest: best.greatest(),
        bays: differences.max_by(f64::total_cmp),
        placings: best.placings,
        standings: best.standings,
        least,
        proved,
    }
}

struct Search<'a> {
    course: &'a Course<'a>,
    choices: Vec<Vec<Placing>>,
    /// That are to come out equal.
    bays: Bays,
    most_steps: usize,
    left: usize,
}

impl Search<'_> {
    /// The best way, the bound for what was aimed at, and whether it is proved.
    fn best(&mut self) -> (Partial, f64, bool) {
        let first = self.first_within(Caps::NONE);
        let Found::Way(first) = first else {
            return (Partial::default(), 0.0, false);
        };
        if self.bays.is_empty() {
            let (best, least, proved) = self.lower_places(first, f64::INFINITY);
            return (self.closest(best, f64::INFINITY), least, proved);
        }
        let (alike, least, proved) = self.lower_bays(first);
        let bays = self.greatest_bays(&alike) + BETTER_MM / 2.0;
        let (best, _, _) = self.lower_places(alike, bays);
        (self.closest(best, bays), least, proved)
    }

    fn greatest_bays(&self, way: &Partial) -> f64 {
        let all = (self.bays).differences(self.course, &way.placings, &way.standings);
        (all.iter().map(|pair| pair.standing.expanded())).fold(0.0, f64::max)
    }

    fn lower_bays(&mut self, first: Partial) -> (Partial, f64, bool) {
        let least = self.bays.least(self.course);
        let places = f64::INFINITY;
        self.left = self.most_steps;
        let mut best = first;
        loop {
            let bays = self.greatest_bays(&best) - BETTER_MM;
            if bays <= least {
                return (best, bays + BETTER_MM, true);
            }
            match self.first_within(Caps { bays, places }) {
                Found::Way(better) => best = better,
                Found::NoWay => return (best, bays + BETTER_MM, true),
                Found::Stopped => return (best, least, false),
            }
        }
    }

    /// Halves what lies between the best way and the bound, until one meets the other or a search is
    /// stopped.
    fn lower_places(&mut self, first: Partial, bays: f64) -> (Partial, f64, bool) {
        let mut best = first;
        let mut least = self.least_to_come(&Partial::default(), best.greatest());
        let mut stopped = 0.0_f64;
        loop {
            let greatest = best.greatest();
            let bound = least.unwrap_or(0.0);
            if greatest - bound <= BETTER_MM {
                return (best, greatest, true);
            }
            let low = stopped.max(bound);
            let middle = greatest - low > HALVED_MM;
            let places = if middle {
                f64::midpoint(low, greatest)
            } else {
                greatest - BETTER_MM
            };
            self.left = self.most_steps / if middle { 4 } else { 1 };
            match self.first_within(Caps { bays, places }) {
                Found::Way(better) => best = better,
                Found::NoWay if middle => least = Some(places),
                Found::NoWay => return (best, greatest, true),
                Found::Stopped if middle => stopped = places,
                Found::Stopped => return (best, bound, false),
            }
        }
    }

    /// As good a way that has each notch as close as the rest allows.
    fn closest(&mut self, best: Partial, bays: f64) -> Partial {
        self.left = self.most_steps;
        let places = best.greatest() + BETTER_MM / 2.0;
        match self.first_within(Caps { bays, places }) {
            Found::Way(closest) => closest,
            Found::NoWay | Found::Stopped => best,
        }
    }

    fn first_within(&mut self, caps: Caps) -> Found {
        let mut way = Partial::default();
        match self.descend(&mut way, caps) {
            Some(true) => Found::Way(way),
            Some(false) => Found::NoWay,
            None => Found::Stopped,
        }
    }

    /// Places the notches to come; nothing where the limit stops it.
    fn descend(&mut self, way: &mut Partial, caps: Caps) -> Option<bool> {
        if way.len() == self.choices.len() {
            return Some(true);
        }
        for (placing, standing) in self.trials(way, caps) {
            if !caps.are_none() {
                self.left = self.left.checked_sub(1 + self.bays.len())?;
            }
            way.push(placing, standing);
            if caps.places.is_infinite() || self.least_to_come(way, caps.places).is_some() {
                match self.descend(way, caps) {
                    Some(false) => {}
                    done => return done,
                }
            }
            way.pop();
        }
        Some(false)
    }

    /// The next notch's choices that keep within the caps, the better first: by the bays that they are done
    /// with as long as these are lowered, then by their own error. Of equal ones the hop from the nearest
    /// notch stands first.
    fn trials(&self, way: &mut Partial, caps: Caps) -> Vec<(Placing, Standing)> {
        let index = way.len();
        let mut found = Vec::new();
        for &placing in self.choices.get(index).into_iter().flatten() {
            let standing = self.stand(index, placing, &way.standings);
            let error = standing.expanded();
            if error > caps.places {
                continue;
            }
            way.push(placing, standing);
            let bays = (self.bays).greatest_of_last(self.course, &way.placings, &way.standings);
            way.pop();
            if bays <= caps.bays {
                let first = if caps.places.is_infinite() { bays } else { 0.0 };
                found.push((first, error, placing, standing));
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let plain = found.into_iter();
        plain
            .map(|(_, _, placing, standing)| (placing, standing))
            .collect()
    }

    fn stand(&self, index: usize, placing: Placing, standings: &[Standing]) -> Standing {
        let from = match placing {
            Placing::AtEnd => None,
            Placing::OverKey { on, .. } => standings.get(on),
        };
        let from = from.copied().unwrap_or_default();
        self.course.stand(index, placing, from)
    }

    /// The least that the worst of the notches to come can be off, if each may choose for itself where
    /// those before it stand; nothing where one of them finds no standing within the cap.
    fn least_to_come(&mut self, way: &Partial, cap: f64) -> Option<f64> {
        let mut least = way.greatest();
        let known = way.standings.iter();
        let mut known: Vec<Vec<Range>> = known.map(|own| vec![Range::of(*own)]).collect();
        for index in way.len()..self.choices.len() {
            let ranges = self.ranges_within(index, &known, cap);
            let errors = ranges.iter().map(Range::least_error);
            least = least.max(errors.min_by(f64::total_cmp)?);
            known.push(ranges);
        }
        Some(least)
    }

    fn ranges_within(&mut self, index: usize, known: &[Vec<Range>], cap: f64) -> Vec<Range> {
        let mut all: Vec<Range> = Vec::new();
        for &placing in self.choices.get(index).into_iter().flatten() {
            let at_end = [Range::default()];
            let from = match placing {
                Placing::AtEnd => &at_end[..],
                Placing::OverKey { on, .. } => known.get(on).map_or(&[][..], Vec::as_slice),
            };
            let course = self.course;
            let stands = from.iter().map(|from| Range {
                low: course.stand(index, placing, from.low),
                high: course.stand(index, placing, from.high),
            });
            all.extend(stands.filter(|range| range.least_error() <= cap));
        }
        self.left = self.left.saturating_sub(all.len());
        few(all)
    }
}

/// Where a notch may stand: anywhere from one standing to another. Both scatter alike, by the least that was
/// found between.
#[derive(Debug, Clone, Copy, Default)]
struct Range {
    low: Standing,
    high: Standing,
}

impl Range {
    fn of(standing: Standing) -> Range {
        Range {
            low: standing,
            high: standing,
        }
    }

    /// No standing in it is less off.
    fn least_error(&self) -> f64 {
        let known = self.low.known.max(-self.high.known).max(0.0);
        self.low.scatter.expanded(known)
    }

    fn join(&mut self, other: &Range) {
        let scatter = self.low.scatter.least(other.low.scatter);
        self.high.known = self.high.known.max(other.high.known);
        self.low.known = self.low.known.min(other.low.known);
        self.low.scatter = scatter;
        self.high.scatter = scatter;
    }

    /// Whether they are alike but for rounding, far below [`BETTER_MM`].
    fn is(&self, other: &Range) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() < BETTER_MM / 1e3;
        let [own, others] = [self.low.scatter, other.low.scatter];
        same(self.low.known, other.low.known)
            && same(self.high.known, other.high.known)
            && same(own.variance(), others.variance())
            && (own.limit().to_bits() == others.limit().to_bits()
                || same(own.limit(), others.limit()))
    }
}

/// Each once; where there are too many to follow, neighbours become one that spans them.
fn few(mut all: Vec<Range>) -> Vec<Range> {
    all.sort_by(|a, b| a.low.known.total_cmp(&b.low.known));
    all.dedup_by(|a, b| a.is(b));
    let together = all.len().div_ceil(MOST_RANGES).max(1);
    let join = |chunk: &[Range]| {
        let (first, rest) = chunk.split_first()?;
        let mut joined = *first;
        rest.iter().for_each(|other| joined.join(other));
        Some(joined)
    };
    all.chunks(together).filter_map(join).collect()
}

#[cfg(test)]
mod tests {
    use super::super::course::NotchOnRack;
    use super::super::scatter::Scatter;
    use super::*;
    use crate::machines::{PlusMinus, Rack, RackSlot};
    use float_cmp::approx_eq;

    /// Two slots for one pitch and two for twice that, all a little off, and notches beyond the stop.
    fn rack() -> Rack {
        let slots = [
            (50.0, 50.06),
            (50.1, 49.93),
            (100.0, 100.08),
            (100.1, 99.91),
        ];
        Rack {
            slots: (slots.iter())
                .map(|&(nominal, measured)| RackSlot { nominal, measured })
                .collect(),
            repeatability: 0.03,
            greatest_misfit: 0.15,
        }
    }

    fn course(rack: &Rack, count: u32, reached: u32) -> Course<'_> {
        let notch = |n: u32| NotchOnRack {
            at: 20.0 + 50.0 * f64::from(n),
            clamping: 0,
            bears: true,
            at_end: (n < reached).then(|| Scatter::of(0.1, PlusMinus::Limits)),
            bounds_bays: true,
        };
        Course {
            notches: (0..count).map(notch).collect(),
            rack: Some(rack),
            stop: Scatter::of(0.1, PlusMinus::Limits),
            hop: Scatter::of(0.03, PlusMinus::Limits),
        }
    }

    /// A search that is stopped says so, is no better than one that is not, and its bound holds.
    #[test]
    fn a_search_that_is_stopped_tells_a_bound() {
        let rack = rack();
        let course = course(&rack, 9, 1);
        let all = route(&course, Aim::Places, 50_000_000);
        assert!(all.proved);
        assert!(approx_eq!(f64, all.least, all.greatest, epsilon = 1e-8));
        let mut stopped_at_all = false;
        for most_steps in [0, 1, 10, 100, 1_000] {
            let stopped = route(&course, Aim::Places, most_steps);
            assert_eq!(stopped.placings.len(), 9);
            assert!(stopped.greatest >= all.greatest - 1e-8, "{most_steps}");
            assert!(
                stopped.least <= all.greatest + 1e-8,
                "{most_steps}: {stopped:?}"
            );
            assert!(stopped.least > 0.0);
            stopped_at_all |= !stopped.proved;
        }
        assert!(stopped_at_all);
    }

    /// The bays of a regular strip are done when all steps take one slot: two hops of their own are in the
    /// difference of two bays, 1.959964 x 0.03 sqrt(2 / 3).
    #[test]
    fn a_long_regular_strip_is_proved_for_bays() {
        let rack = rack();
        let found = route(&course(&rack, 60, 60), Aim::Bays, MOST_STEPS);
        assert!(found.proved);
        let bays = found.bays.unwrap();
        assert!(approx_eq!(f64, bays, 0.048_009, epsilon = 1e-6), "{bays}");
        let slot = |placing: &Placing| match placing {
            Placing::OverKey { slot, .. } => Some(*slot),
            Placing::AtEnd => None,
        };
        let first = slot(&found.placings[1]);
        assert!(found.placings[1..].iter().all(|own| slot(own) == first));
    }
}
