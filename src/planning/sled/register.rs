//! What a strip is registered by, notch by notch.

use super::blade::cut_width;
use super::course::{Course, NotchOnRack, Placing};
use super::key::shortest_step;
use super::on_key::{InStrip, OnKey};
use super::passes::{of_one_width, width_of};
use super::planner::SledPlanner;
use super::route::{MOST_STEPS, Route, route};
use super::scatter::Scatter;
use super::settings::setting_of;
use super::slant::{Slant, bearing_share};
use crate::finding::Finding;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::instructions::saw::SettingWork;
use crate::instructions::sled::{Register, RouteAim, RouteFacts, SpacerSettings, Step};
use crate::lattice::{Bundle, Clamping, Notch};
use crate::machines::Aim;
use float_cmp::ApproxEq;

/// The recommended way through a bundle's notches.
pub(super) struct RegisteredSteps {
    pub(super) steps: Vec<Step>,
    pub(super) route: RouteFacts,
    pub(super) on_key: OnKey,
}

/// A notch's hop over the key.
#[derive(Clone, Copy)]
struct KeyHop {
    /// The notch that drops over the key, from 0.
    on: usize,
    /// Index of the slot, from 0.
    slot: usize,
    /// Share of the walls that bears.
    share: f64,
}

/// How well a notch is placed.
#[derive(Clone, Copy, Default)]
struct Place {
    /// Its datum notch, from 0.
    from: usize,
    /// Along the strip.
    uncertainty: f64,
}

/// What the key does for a bundle.
struct KeyedBundle {
    /// Notch by notch.
    hops: Vec<Option<KeyHop>>,
    /// Notch by notch.
    places: Vec<Place>,
    route: RouteFacts,
    told: OnKey,
}

/// Notches of one bundle that are searched together.
struct CourseOfBundle<'a> {
    /// Indices in the bundle, from 0, in the order in which they are cut.
    notches: Vec<usize>,
    /// Shares of their walls that bear.
    shares: Vec<f64>,
    slant: Slant,
    course: Course<'a>,
}

impl CourseOfBundle<'_> {
    fn in_strip(&self) -> InStrip<'_> {
        InStrip {
            numbers: &self.notches,
            slant: self.slant,
        }
    }

    /// Enters what was found into the bundle's figures.
    fn enter(&self, found: &Route, keyed: &mut KeyedBundle) {
        let slant = self.slant;
        let placed = found.placings.iter().zip(&found.standings);
        for (at, (placing, standing)) in self.notches.iter().zip(placed) {
            if let Some(place) = keyed.places.get_mut(*at) {
                *place = Place {
                    from: self.notches.first().copied().unwrap_or_default(),
                    uncertainty: slant.along(standing.expanded()),
                };
            }
            let Placing::OverKey { on, slot } = *placing else {
                continue;
            };
            let (Some(&on), Some(&share)) = (self.notches.get(on), self.shares.get(on)) else {
                continue;
            };
            if let Some(place) = keyed.hops.get_mut(*at) {
                *place = Some(KeyHop { on, slot, share });
            }
        }
        let facts = &mut keyed.route;
        let datum = slant.along(self.course.datum().expanded(0.0));
        facts.datum_uncertainty_mm = facts.datum_uncertainty_mm.max(datum);
        facts.places_mm = facts.places_mm.max(slant.along(found.greatest));
        let bays = found.bays.map(|bays| slant.along(bays));
        facts.bays_mm = facts.bays_mm.into_iter().chain(bays).max_by(f64::total_cmp);
        facts.proved &= found.proved;
    }
}

impl<'a> SledPlanner<'a> {
    /// The recommended way through the notches in working order, and slots to add.
    pub(super) fn steps(
        &self,
        bundle: &Bundle,
        works: &[(usize, SettingWork)],
        spacers: Option<&SpacerSettings>,
    ) -> Result<RegisteredSteps, Vec<Finding>> {
        let keyed = self.keyed(bundle, spacers);
        let mut steps = Vec::new();
        let mut faults = Vec::new();
        for (setting, work) in works {
            for &number in &work.notches {
                match self.step(bundle, number - 1, *setting, &keyed, spacers) {
                    Ok(step) => steps.extend(step),
                    Err(fault) => faults.push(*fault),
                }
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        Ok(RegisteredSteps {
            steps,
            route: keyed.route,
            on_key: keyed.told,
        })
    }

    /// How every notch is placed. Only notches of the same face, slant and width fit over a key.
    fn keyed(&self, bundle: &Bundle, spacers: Option<&SpacerSettings>) -> KeyedBundle {
        let mut keyed = KeyedBundle {
            hops: vec![None; bundle.notches.len()],
            places: vec![Place::default(); bundle.notches.len()],
            route: RouteFacts {
                aim: match self.work.aim {
                    Aim::Places => RouteAim::Places,
                    Aim::Bays => RouteAim::Bays,
                },
                datum_uncertainty_mm: 0.0,
                places_mm: 0.0,
                bays_mm: None,
                least_mm: 0.0,
                proved: true,
            },
            told: OnKey::default(),
        };
        let mut least = [0.0_f64; 2];
        for own in self.courses(bundle, spacers) {
            let found = route(&own.course, self.work.aim, MOST_STEPS);
            own.enter(&found, &mut keyed);
            let of_bays = self.work.aim == Aim::Bays && found.bays.is_some();
            let least_of_aim = &mut least[usize::from(of_bays)];
            *least_of_aim = least_of_aim.max(own.slant.along(found.least));
            let shortest = shortest_step(self.sled);
            (keyed.told).add(&OnKey::of(&own.course, &found, own.in_strip(), shortest));
        }
        let of_bays = self.work.aim == Aim::Bays && keyed.route.bays_mm.is_some();
        keyed.route.least_mm = least[usize::from(of_bays)];
        keyed
    }

    /// Clampings apart, but those together that take strips of one family into both faces: the bays between
    /// these are bounded by notches of either.
    fn courses(
        &self,
        bundle: &Bundle,
        spacers: Option<&SpacerSettings>,
    ) -> Vec<CourseOfBundle<'a>> {
        let mut groups: Vec<(Clamping, Vec<(usize, usize)>)> = Vec::new();
        for (number, clamping) in of_one_width(bundle).into_iter().enumerate() {
            let own = clamping.notches.iter().map(|at| (number, *at));
            let own: Vec<(usize, usize)> = own.collect();
            let takes_strips = |clamping: &Clamping| {
                let mut own = (clamping.notches.iter()).filter_map(|at| bundle.notches.get(*at));
                own.any(|notch| notch.mate.strip().is_some())
            };
            let alike = |(known, _): &&mut (Clamping, Vec<(usize, usize)>)| {
                known.angle.approx_eq(clamping.angle, DIRECTION)
                    && takes_strips(known)
                    && takes_strips(&clamping)
            };
            match groups.iter_mut().find(alike) {
                Some((_, known)) => known.extend(own),
                None => groups.push((clamping, own)),
            }
        }
        let cut = |(clamping, mut own): (Clamping, Vec<(usize, usize)>)| {
            own.sort_by_key(|(_, at)| {
                let notch = bundle.notches.get(*at);
                notch.and_then(|notch| setting_of(self.settings, notch))
            });
            let slant = Slant::new(clamping.face, clamping.angle);
            self.course(bundle, &own, slant, spacers)
        };
        groups.into_iter().map(cut).collect()
    }

    /// Notches of a bundle with the numbers of their clampings, as the rack sees them.
    fn course(
        &self,
        bundle: &Bundle,
        own: &[(usize, usize)],
        slant: Slant,
        spacers: Option<&SpacerSettings>,
    ) -> CourseOfBundle<'a> {
        let square = |scatter: Scatter| scatter.times(slant.square(1.0));
        let cut = own.iter().filter_map(|&(clamping, at)| {
            let notch = bundle.notches.get(at)?;
            let share = self.share_that_bears(bundle, notch);
            let on_rack = NotchOnRack {
                at: slant.square(notch.centre),
                clamping,
                bears: share > 0.0,
                at_end: self.at_end(bundle, at, spacers).map(square),
                bounds_bays: notch.mate.strip().is_some(),
            };
            Some((at, share, on_rack))
        });
        let cut: Vec<(usize, f64, NotchOnRack)> = cut.collect();
        CourseOfBundle {
            notches: cut.iter().map(|(at, ..)| *at).collect(),
            shares: cut.iter().map(|(_, share, _)| *share).collect(),
            slant,
            course: Course {
                notches: cut.into_iter().map(|(.., on_rack)| on_rack).collect(),
                rack: self.rack,
                stop: square(self.scatter(self.stop.repeatability)),
                hop: self.scatter(self.rack.map_or(0.0, |rack| rack.repeatability)),
            },
        }
    }

    /// What a notch scatters about its place from the datum end by stop or spacers, where they reach it.
    fn at_end(
        &self,
        bundle: &Bundle,
        at: usize,
        spacers: Option<&SpacerSettings>,
    ) -> Option<Scatter> {
        let notch = bundle.notches.get(at)?;
        let stop = self.scatter(self.stop.repeatability);
        if self.by_stop(notch).is_some() {
            return Some(stop);
        }
        self.by_spacers(bundle, at, spacers)?;
        let blocks = self.sled.spacers?;
        Some(stop.and(self.scatter(blocks.tolerance)))
    }

    /// The share of a slot's walls that is there when it drops over the key: another slot of its
    /// node in the same face takes some of them away, if it is cut before.
    fn share_that_bears(&self, bundle: &Bundle, notch: &Notch) -> f64 {
        let section = &self.lattice.section;
        let width = cut_width(width_of(notch), self.sled);
        let second = Slant::of(notch);
        let own = setting_of(self.settings, notch);
        let before = bundle.notches.iter().filter(|other| {
            other.face == notch.face
                && other.centre.approx_eq(notch.centre, POSITION)
                && !Slant::of(other).is(second)
                && setting_of(self.settings, other) < own
        });
        before
            .map(|other| bearing_share(Slant::of(other), second, width, section.thickness))
            .fold(1.0, f64::min)
    }

    fn step(
        &self,
        bundle: &Bundle,
        at: usize,
        setting: usize,
        keyed: &KeyedBundle,
        spacers: Option<&SpacerSettings>,
    ) -> Result<Option<Step>, Box<Finding>> {
        let Some(notch) = bundle.notches.get(at) else {
            return Ok(None);
        };
        let registered = self
            .on_key(bundle, at, notch, keyed)
            .or_else(|| self.by_stop(notch))
            .or_else(|| self.by_spacers(bundle, at, spacers));
        let Some(register) = registered else {
            return Err(Box::new(self.out_of_reach(bundle, at, notch)));
        };
        let place = keyed.places.get(at).copied().unwrap_or_default();
        Ok(Some(Step {
            notch: at + 1,
            setting: setting + 1,
            take_away: Vec::new(),
            stop_setting: None,
            register,
            from_notch: place.from + 1,
            uncertainty_mm: place.uncertainty,
        }))
    }

    /// Over the key.
    fn on_key(
        &self,
        bundle: &Bundle,
        at: usize,
        notch: &Notch,
        keyed: &KeyedBundle,
    ) -> Option<Register> {
        let hop = keyed.hops.get(at).copied().flatten()?;
        let slot = self.rack?.slots.get(hop.slot)?;
        let from = bundle.notches.get(hop.on)?;
        let slant = Slant::of(notch);
        let along = notch.centre - from.centre;
        Some(Register::Key {
            key_mm: slant.square(along),
            key_along_fence_mm: (!slant.is_square()).then_some(along),
            slot_mm: slot.nominal,
            on_notch: hop.on + 1,
            bearing_share: (hop.share < 1.0).then_some(hop.share),
        })
    }

    /// Against the stop alone.
    fn by_stop(&self, notch: &Notch) -> Option<Register> {
        let stop_to_kerf_mm = self.stop_to_kerf(notch);
        let register = Register::Stop { stop_to_kerf_mm };
        (self.stop_reaches(stop_to_kerf_mm, notch)).then_some(register)
    }

    /// Against spacers before the stop, where the sled has some.
    fn by_spacers(
        &self,
        bundle: &Bundle,
        at: usize,
        spacers: Option<&SpacerSettings>,
    ) -> Option<Register> {
        self.sled.spacers?;
        let (stop_to_kerf_mm, spacer_mm) = self.spaced(bundle, at, spacers)?;
        Some(Register::Spacers {
            stop_to_kerf_mm,
            spacer_mm,
        })
    }
}
