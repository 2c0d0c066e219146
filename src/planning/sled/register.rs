//! What a strip is registered by, notch by notch.

use super::blade::cut_width;
use super::key::shortest_step;
use super::passes::{of_one_width, width_of};
use super::planner::SledPlanner;
use super::route::{NotchOnRack, Reached, missing_slots, route, unreached};
use super::settings::setting_of;
use super::slant::{Slant, bearing_share};
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::instructions::saw::SettingWork;
use crate::instructions::sled::{Register, SpacerSettings, Step};
use crate::lattice::{Bundle, Clamping, Notch};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;

/// The recommended way through a bundle's notches.
pub(super) struct RegisteredSteps {
    pub(super) steps: Vec<Step>,
    pub(super) on_key: OnKey,
}

/// How far a rack serves a bundle, or the bundles of a family together.
#[derive(Debug, Clone, Default)]
pub(super) struct OnKey {
    /// All notches.
    pub(super) notches: usize,
    /// Notches that a slot could reach, and none does.
    pub(super) unreached: usize,
    /// Slots that would reach them.
    pub(super) missing: Vec<f64>,
    /// Greatest expected error over the key, along the strip.
    pub(super) worst: f64,
    /// Notches that the stop places because the best hop would do worse.
    pub(super) rather_by_stop: usize,
    /// The greatest error that these hops would have.
    pub(super) worst_spared: f64,
}

impl OnKey {
    pub(super) fn add(&mut self, other: &OnKey) {
        self.notches += other.notches;
        self.unreached += other.unreached;
        for slot in &other.missing {
            self.lacks(*slot);
        }
        self.worst = self.worst.max(other.worst);
        self.rather_by_stop += other.rather_by_stop;
        self.worst_spared = self.worst_spared.max(other.worst_spared);
    }

    fn lacks(&mut self, slot: f64) {
        let known = |other: &f64| other.approx_eq(slot, POSITION);
        if !self.missing.iter().any(known) {
            self.missing.push(slot);
        }
    }
}

/// A notch's hop over the key.
#[derive(Clone, Copy)]
struct KeyHop {
    /// The notch that drops over the key, from 0.
    on: usize,
    /// Index of the slot, from 0.
    slot: usize,
    /// Along the strip, against the first notch of the clamping.
    worst_error: f64,
    /// Share of the walls that bears.
    share: f64,
}

/// What the key does for a bundle.
struct KeyedBundle {
    /// Notch by notch.
    hops: Vec<Option<KeyHop>>,
    told: OnKey,
}

impl SledPlanner<'_> {
    /// The recommended way through the notches in working order, and slots to add.
    pub(super) fn steps(
        &self,
        bundle: &Bundle,
        works: &[(usize, SettingWork)],
        spacers: Option<&SpacerSettings>,
    ) -> Result<RegisteredSteps, Vec<Finding>> {
        let keyed = self.keyed(bundle);
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
            on_key: keyed.told,
        })
    }

    /// Hops over the key, clamping by clamping: only slots of the same face, slant and width fit it.
    fn keyed(&self, bundle: &Bundle) -> KeyedBundle {
        let mut keyed = KeyedBundle {
            hops: vec![None; bundle.notches.len()],
            told: OnKey {
                notches: bundle.notches.len(),
                ..OnKey::default()
            },
        };
        for clamping in of_one_width(bundle) {
            self.key_clamping(bundle, &clamping, &mut keyed);
        }
        keyed
    }

    fn key_clamping(&self, bundle: &Bundle, clamping: &Clamping, keyed: &mut KeyedBundle) {
        let Some(rack) = self.rack else {
            return;
        };
        let slant = Slant::new(clamping.face, clamping.angle);
        let mut cut: Vec<(usize, &Notch)> = (clamping.notches.iter())
            .filter_map(|&at| Some((at, bundle.notches.get(at)?)))
            .collect();
        cut.sort_by_key(|(_, notch)| setting_of(self.settings, notch));
        let shares: Vec<f64> = (cut.iter())
            .map(|(_, notch)| self.share_that_bears(bundle, notch))
            .collect();
        let places: Vec<NotchOnRack> = (cut.iter().zip(&shares))
            .map(|((_, notch), share)| NotchOnRack {
                at: slant.square(notch.centre),
                bears: *share > 0.0,
                by_stop: self.stop_reaches(self.stop_to_kerf(notch), notch),
            })
            .collect();
        let route = route(&places, rack, slant.square(self.stop.repeatability));
        let shortest = shortest_step(self.sled);
        keyed.told.unreached += unreached(&places, &route, shortest).len();
        for slot in missing_slots(&places, &route, shortest) {
            keyed.told.lacks(slot);
        }
        for ((at, _), reached) in cut.iter().zip(route) {
            if let Reached::StopRather(hop) = reached {
                let spared = slant.along(hop.worst_error);
                keyed.told.rather_by_stop += 1;
                keyed.told.worst_spared = keyed.told.worst_spared.max(spared);
            }
            let Some(hop) = reached.hop() else {
                continue;
            };
            let (Some((on, _)), Some(share)) = (cut.get(hop.on), shares.get(hop.on)) else {
                continue;
            };
            let worst_error = slant.along(hop.worst_error);
            keyed.told.worst = keyed.told.worst.max(worst_error);
            if let Some(place) = keyed.hops.get_mut(*at) {
                *place = Some(KeyHop {
                    on: *on,
                    slot: hop.slot,
                    worst_error,
                    share: *share,
                });
            }
        }
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
        let Some((register, worst_error_mm)) = registered else {
            return Err(Box::new(self.out_of_reach(bundle, at, notch)));
        };
        Ok(Some(Step {
            notch: at + 1,
            setting: setting + 1,
            take_away: Vec::new(),
            register,
            worst_error_mm,
        }))
    }

    /// Over the key, with the greatest error to expect.
    fn on_key(
        &self,
        bundle: &Bundle,
        at: usize,
        notch: &Notch,
        keyed: &KeyedBundle,
    ) -> Option<(Register, f64)> {
        let hop = keyed.hops.get(at).copied().flatten()?;
        let slot = self.rack?.slots.get(hop.slot)?;
        let from = bundle.notches.get(hop.on)?;
        let slant = Slant::of(notch);
        let along = notch.centre - from.centre;
        let register = Register::Key {
            key_mm: slant.square(along),
            key_along_fence_mm: (!slant.is_square()).then_some(along),
            slot_mm: slot.nominal,
            on_notch: hop.on + 1,
            bearing_share: (hop.share < 1.0).then_some(hop.share),
        };
        Some((register, hop.worst_error))
    }

    /// Against the stop alone.
    fn by_stop(&self, notch: &Notch) -> Option<(Register, f64)> {
        let stop_to_kerf_mm = self.stop_to_kerf(notch);
        let register = Register::Stop { stop_to_kerf_mm };
        self.stop_reaches(stop_to_kerf_mm, notch)
            .then_some((register, self.stop.repeatability))
    }

    /// Against spacers before the stop, where the sled has some.
    fn by_spacers(
        &self,
        bundle: &Bundle,
        at: usize,
        spacers: Option<&SpacerSettings>,
    ) -> Option<(Register, f64)> {
        let blocks = self.sled.spacers?;
        let (stop_to_kerf_mm, spacer_mm) = self.spaced(bundle, at, spacers)?;
        let register = Register::Spacers {
            stop_to_kerf_mm,
            spacer_mm,
        };
        Some((register, self.stop.repeatability + blocks.tolerance))
    }

    /// What is to be said of the key for a family's bundles.
    pub(super) fn key_warnings(&self, family: &str, told: &OnKey) -> Vec<Finding> {
        let mut warnings = Vec::new();
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
        warnings
    }

    /// Errors that add up from hop to hop: what the stop does about it, and where it cannot.
    fn adding_up(&self, family: &str, told: &OnKey) -> Option<Finding> {
        // A stop sets both notches afresh, whatever lies between them.
        let by_stop = self.stop.repeatability * 2.0_f64.sqrt();
        let (text, hint) = if told.worst > by_stop {
            let text = phrase!(
                "over the key, the {}s' last notches may be off by {} against the first, and the stop does not reach them",
                family,
                Mm(told.worst)
            );
            (text, "a longer fence, or true up the slots")
        } else if told.rather_by_stop > 0 {
            let text = phrase!(
                "over the key, notches of the {}s would be off by up to {} against the first; the stop places {} of them, within {}",
                family,
                Mm(told.worst_spared),
                told.rather_by_stop,
                Mm(by_stop)
            );
            (
                text,
                "slots that measure the steps truly would let the key place these",
            )
        } else {
            return None;
        };
        Some(Finding::warning("key-error-adds-up", "rack.measured", text).hint(hint))
    }
}
