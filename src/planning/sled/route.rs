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
use std::cmp::Ordering;

/// Standings looked at before a search is stopped: far less than a second.
pub(super) const MOST_STEPS: usize = 300_000;

/// Of a notch still to come so many standings are followed; where there are more it is not judged.
const MOST_STANDINGS: usize = 200;

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

    fn lower_places(&mut self, first: Partial, bays: f64) -> (Partial, f64, bool) {
        self.left = self.most_steps;
        let mut best = first;
        loop {
            let places = best.greatest() - BETTER_MM;
            match self.first_within(Caps { bays, places }) {
                Found::Way(better) => best = better,
                Found::NoWay => return (best, places + BETTER_MM, true),
                Found::Stopped => {
                    self.left = self.most_steps;
                    let least = self.least_to_come(&Partial::default(), best.greatest());
                    return (best, least.unwrap_or(0.0), false);
                }
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
                self.left = self.left.checked_sub(1)?;
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
        // Of a notch with too many standings nothing is known.
        let mut known: Vec<Option<Vec<Standing>>> = (way.standings.iter())
            .map(|standing| Some(vec![*standing]))
            .collect();
        for index in way.len()..self.choices.len() {
            let standings = self.standings_within(index, &known, cap);
            if let Some(standings) = &standings {
                let errors = standings.iter().map(|standing| standing.expanded());
                least = least.max(errors.min_by(f64::total_cmp)?);
                self.left = self.left.saturating_sub(standings.len());
            }
            known.push(standings);
        }
        Some(least)
    }

    fn standings_within(
        &self,
        index: usize,
        known: &[Option<Vec<Standing>>],
        cap: f64,
    ) -> Option<Vec<Standing>> {
        let mut all: Vec<Standing> = Vec::new();
        for &placing in self.choices.get(index)? {
            let from = match placing {
                Placing::AtEnd => &[Standing::default()][..],
                Placing::OverKey { on, .. } => known.get(on)?.as_deref()?,
            };
            let stands = from
                .iter()
                .map(|from| self.course.stand(index, placing, *from));
            all.extend(stands.filter(|standing| standing.expanded() <= cap));
        }
        all.sort_by(|a, b| as_key(a).partial_cmp(&as_key(b)).unwrap_or(Ordering::Equal));
        all.dedup_by(|a, b| as_key(a) == as_key(b));
        (all.len() <= MOST_STANDINGS).then_some(all)
    }
}

/// Standings alike but for rounding, far below [`BETTER_MM`], have the same figures here.
fn as_key(standing: &Standing) -> [f64; 3] {
    let scatter = standing.scatter;
    [standing.known, scatter.variance(), scatter.limit()].map(|figure| (figure * 1e12).round())
}
