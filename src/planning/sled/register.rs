//! What a strip is registered by, notch by notch.

use super::Setting;
use super::key::{LEAST_KEY_GAP_MM, key_width};
use super::route::{Hop, missing_slots, route};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::instructions::sled::{Register, SpacerSettings, Step, StopSetting};
use crate::lattice::{Bundle, Notch};
use crate::phrase;
use crate::units::Mm;

/// The recommended way through a bundle's notches.
pub(super) struct Way {
    pub(super) steps: Vec<Step>,
    pub(super) slots_to_add_mm: Vec<f64>,
    pub(super) warnings: Vec<Finding>,
}

impl Setting<'_> {
    /// Face of the stop to the near side of the kerf: the strip's end lies on the stop, so its
    /// datum and the stop's face are one, and the kerf's near side lies half a kerf before the
    /// notch's centre.
    fn stop_to_kerf(&self, notch: &Notch) -> f64 {
        notch.centre - self.sled.blade.kerf / 2.0
    }

    pub(super) fn stop_setting(&self, at: usize, notch: &Notch) -> StopSetting {
        let middle = self.stop_to_kerf(notch);
        let (count, shift) = (self.blade.passes_per_notch, self.blade.pass_shift_mm);
        let pass = |n: usize| middle - self.to_outer_pass() + n as f64 * shift;
        let passes_mm = if count > 1 {
            (0..count).map(pass).collect()
        } else {
            Vec::new()
        };
        StopSetting {
            notch: at + 1,
            stop_to_kerf_mm: middle,
            passes_mm,
        }
    }

    /// From the middle of a notch's passes to the first or last of them.
    fn to_outer_pass(&self) -> f64 {
        self.blade.passes_per_notch.saturating_sub(1) as f64 / 2.0 * self.blade.pass_shift_mm
    }

    /// Whether the stop reaches all passes around a middle setting.
    fn stop_reaches(&self, middle: f64) -> bool {
        let outer = self.to_outer_pass();
        middle - outer >= self.stop.nearest - SAME_POSITION_MM
            && middle + outer <= self.stop.farthest + SAME_POSITION_MM
    }

    pub(super) fn spacers(&self, bundle: &Bundle) -> Option<SpacerSettings> {
        self.sled.spacers?;
        let last = bundle.notches.last()?;
        let stop_to_kerf_mm = self.stop_to_kerf(last);
        let spacers_mm = bundle
            .notches
            .iter()
            .map(|notch| last.centre - notch.centre)
            .collect();
        self.stop_reaches(stop_to_kerf_mm)
            .then_some(SpacerSettings {
                stop_to_kerf_mm,
                spacers_mm,
            })
    }

    /// The recommended way through the notches, and slots to add.
    pub(super) fn steps(
        &self,
        bundle: &Bundle,
        family: &str,
        spacers: Option<&SpacerSettings>,
    ) -> Result<Way, Vec<Finding>> {
        let centres: Vec<f64> = bundle.notches.iter().map(|notch| notch.centre).collect();
        let (hops, missing) = match &self.sled.rack {
            Some(rack) => {
                let hops = route(&centres, rack, self.stop.repeatability);
                let shortest = key_width(self.lattice, self.sled, self.blade) / 2.0
                    + self.sled.blade.kerf / 2.0
                    + LEAST_KEY_GAP_MM;
                let missing = missing_slots(&centres, &hops, shortest);
                (hops, missing)
            }
            None => (vec![None; centres.len()], Vec::new()),
        };
        let mut warnings = self.key_warnings(bundle, family, &hops, &missing);
        let mut steps = Vec::new();
        let mut faults = Vec::new();
        for (at, notch) in bundle.notches.iter().enumerate() {
            let hop = hops.get(at).copied().flatten();
            match self.step(at, notch, &centres, hop, spacers) {
                Ok(step) => steps.push(step),
                Err(fault) => faults.push(fault),
            }
        }
        warnings.retain(|_| faults.is_empty());
        if faults.is_empty() {
            Ok(Way {
                steps,
                slots_to_add_mm: missing,
                warnings,
            })
        } else {
            Err(faults)
        }
    }

    fn step(
        &self,
        at: usize,
        notch: &Notch,
        centres: &[f64],
        hop: Option<Hop>,
        spacers: Option<&SpacerSettings>,
    ) -> Result<Step, Finding> {
        let setting = self.stop_to_kerf(notch);
        let slots = self.sled.rack.as_ref().map_or(&[][..], |rack| &rack.slots);
        if let Some(hop) = hop
            && let (Some(slot), Some(from)) = (slots.get(hop.slot), centres.get(hop.on))
        {
            let register = Register::Key {
                key_mm: notch.centre - from,
                slot_mm: slot.nominal,
                on_notch: hop.on + 1,
            };
            return Ok(Step {
                notch: at + 1,
                register,
                worst_error_mm: hop.worst_error,
            });
        }
        if self.stop_reaches(setting) {
            let register = Register::Stop {
                stop_to_kerf_mm: setting,
            };
            return Ok(Step {
                notch: at + 1,
                register,
                worst_error_mm: self.stop.repeatability,
            });
        }
        if let (Some(blocks), Some(settings)) = (self.sled.spacers, spacers)
            && let Some(&spacer_mm) = settings.spacers_mm.get(at)
        {
            let register = Register::Spacers {
                stop_to_kerf_mm: settings.stop_to_kerf_mm,
                spacer_mm,
            };
            let worst_error_mm = self.stop.repeatability + blocks.tolerance;
            return Ok(Step {
                notch: at + 1,
                register,
                worst_error_mm,
            });
        }
        let outer = self.to_outer_pass();
        let needed = if outer > 0.0 {
            phrase!("{} to {}", Mm(setting - outer), Mm(setting + outer))
        } else {
            phrase!("{}", Mm(setting))
        };
        let mut text = phrase!("notch {} needs the stop's face ", at + 1);
        text.append(needed);
        text.append(phrase!(
            " from the near side of the kerf; this stop reaches {} to {}",
            Mm(self.stop.nearest),
            Mm(self.stop.farthest)
        ));
        let (field, hint) = if setting - outer < self.stop.nearest {
            (
                "stop.nearest",
                "a longer overhang, or spacers between stop and strip",
            )
        } else {
            (
                "stop.farthest",
                "a longer fence, or a key slot for the step",
            )
        };
        Err(Finding::error("stop-out-of-reach", field, text).hint(hint))
    }

    fn key_warnings(
        &self,
        bundle: &Bundle,
        family: &str,
        hops: &[Option<Hop>],
        missing: &[f64],
    ) -> Vec<Finding> {
        let mut warnings = Vec::new();
        let Some(rack) = &self.sled.rack else {
            return warnings;
        };
        let unreached = hops.iter().skip(1).filter(|hop| hop.is_none()).count();
        if unreached > 0 && !missing.is_empty() {
            let mut text = phrase!(
                "{} of {} notches of the {}s cannot be reached over the key; add a slot at ",
                unreached,
                bundle.notches.len(),
                family
            );
            for (at, slot) in missing.iter().enumerate() {
                let join = if at == 0 { "" } else { " and " };
                text.append(phrase!("{}{}", join, Mm(*slot)));
            }
            text.append(phrase!(
                " (key's centre to kerf's centre); until then the stop places them"
            ));
            warnings.push(Finding::warning("key-out-of-reach", "rack.slots", text));
        }
        let worst = hops
            .iter()
            .flatten()
            .map(|hop| hop.worst_error)
            .fold(0.0, f64::max);
        // A stop sets both notches afresh, whatever lies between them.
        let by_stop = self.stop.repeatability * 2.0_f64.sqrt();
        if worst > by_stop && rack.slots.len() > 1 {
            let text = phrase!(
                "over the key the {}s' last notches may be off by {} against the first; by the stop every notch is within {}",
                family,
                Mm(worst),
                Mm(by_stop)
            );
            warnings.push(
                Finding::warning("key-error-adds-up", "rack.measured", text)
                    .hint("use the stop for these, or true up the slots"),
            );
        }
        warnings
    }
}
