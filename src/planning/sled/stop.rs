//! The stop, and spacers between it and the strip.

use super::key::{rack_that_serves, shortest_step};
use super::passes::width_of;
use super::planner::SledPlanner;
use super::settings::setting_of;
use super::slant::Slant;
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::instructions::sled::{SpacerSettings, StopSetting};
use crate::lattice::{Bundle, Notch};
use crate::phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;

impl SledPlanner<'_> {
    /// Face of the stop to the near side of the kerf, along the fence: the strip's end lies on the
    /// stop, so its datum and the stop's face are one; at the fence the slot's middle lies at
    /// [`Slant::at_fence`], and the kerf's near side half of what the kerf opens along the fence
    /// before that.
    pub(super) fn stop_to_kerf(&self, notch: &Notch) -> f64 {
        let (middle, half_kerf) = self.reach(notch);
        middle - half_kerf
    }

    /// A slot's middle at the fence, from the datum end, and half of what the kerf opens there.
    fn reach(&self, notch: &Notch) -> (f64, f64) {
        let slant = Slant::of(notch);
        (
            slant.at_fence(notch.centre, self.lattice.section.thickness),
            slant.along(self.sled.blade.kerf) / 2.0,
        )
    }

    pub(super) fn stop_setting(&self, at: usize, notch: &Notch) -> StopSetting {
        let middle = self.stop_to_kerf(notch);
        StopSetting {
            notch: at + 1,
            stop_to_kerf_mm: middle,
            passes_mm: self.pass_by_pass(middle, notch),
        }
    }

    /// Where the stop stands for each pass around a middle setting; nothing for a single pass.
    fn pass_by_pass(&self, middle: f64, notch: &Notch) -> Vec<f64> {
        let (count, shift) = self.passes(notch);
        let pass = |n: usize| middle - self.to_outer_pass(notch) + n as f64 * shift;
        if count > 1 {
            (0..count).map(pass).collect()
        } else {
            Vec::new()
        }
    }

    /// Passes of a notch, and the shift between them along the fence.
    fn passes(&self, notch: &Notch) -> (usize, f64) {
        let setting = setting_of(self.settings, notch).and_then(|at| self.settings.get(at));
        setting.map_or((1, 0.0), |setting| {
            (setting.passes_per_notch, setting.pass_shift_along_fence_mm)
        })
    }

    /// From the middle of a notch's passes to the first or last of them.
    fn to_outer_pass(&self, notch: &Notch) -> f64 {
        let (count, shift) = self.passes(notch);
        count.saturating_sub(1) as f64 / 2.0 * shift
    }

    /// Whether the stop reaches all passes of a notch around a middle setting.
    pub(super) fn stop_reaches(&self, middle: f64, notch: &Notch) -> bool {
        let outer = self.to_outer_pass(notch);
        middle - outer >= self.stop.nearest - SAME_POSITION_MM
            && middle + outer <= self.stop.farthest + SAME_POSITION_MM
    }

    /// Length of the spacers for a notch while the stop stands for a farther one.
    fn spacer(&self, farther: &Notch, notch: &Notch) -> f64 {
        let (far_middle, far_kerf) = self.reach(farther);
        let (middle, half_kerf) = self.reach(notch);
        (far_middle - middle) - (far_kerf - half_kerf)
    }

    fn farther<'a>(&self, a: &&'a Notch, b: &&'a Notch) -> std::cmp::Ordering {
        self.stop_to_kerf(a).total_cmp(&self.stop_to_kerf(b))
    }

    /// One setting of the stop, for the farthest notch: at every angle of the fence the same
    /// figure.
    pub(super) fn spacers(&self, bundle: &Bundle) -> Option<SpacerSettings> {
        self.sled.spacers?;
        let farthest = (bundle.notches.iter()).max_by(|a, b| self.farther(a, b))?;
        let stop_to_kerf_mm = self.stop_to_kerf(farthest);
        let mut notches = bundle.notches.iter();
        (notches.all(|notch| self.stop_reaches(stop_to_kerf_mm, notch))).then(|| SpacerSettings {
            stop_to_kerf_mm,
            passes_mm: self.pass_by_pass(stop_to_kerf_mm, farthest),
            spacers_mm: (bundle.notches.iter())
                .map(|notch| self.spacer(farthest, notch))
                .collect(),
        })
    }

    /// Stop's face to the near side of the kerf, and the spacers, for a notch that the stop alone
    /// comes too far for: with the stop where it serves all notches, else where it serves the
    /// farthest that it reaches, else as near as it comes.
    pub(super) fn spaced(
        &self,
        bundle: &Bundle,
        at: usize,
        for_all: Option<&SpacerSettings>,
    ) -> Option<(f64, f64)> {
        if let Some(all) = for_all {
            return Some((all.stop_to_kerf_mm, *all.spacers_mm.get(at)?));
        }
        let notch = bundle.notches.get(at)?;
        let serves = |other: &&Notch| {
            let stands = self.stop_to_kerf(other);
            self.stop_reaches(stands, other) && self.stop_reaches(stands, notch)
        };
        let reached = bundle.notches.iter().filter(serves);
        let (stands, spacer) = match reached.max_by(|a, b| self.farther(a, b)) {
            Some(other) => (self.stop_to_kerf(other), self.spacer(other, notch)),
            None => {
                let stands = self.stop.nearest + self.to_outer_pass(notch);
                (stands, stands - self.stop_to_kerf(notch))
            }
        };
        (spacer > SAME_POSITION_MM && self.stop_reaches(stands, notch)).then_some((stands, spacer))
    }

    pub(super) fn out_of_reach(&self, bundle: &Bundle, at: usize, notch: &Notch) -> Finding {
        let setting = self.stop_to_kerf(notch);
        let outer = self.to_outer_pass(notch);
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
        let too_near = setting - outer < self.stop.nearest;
        let (field, hint) = if too_near && self.sled.spacers.is_some() {
            ("stop.nearest", "a longer overhang")
        } else if too_near {
            (
                "stop.nearest",
                "a longer overhang, or spacers between stop and strip",
            )
        } else if self.key_could_serve(bundle, notch) {
            (
                "stop.farthest",
                "a longer fence, or a key slot for the step",
            )
        } else {
            ("stop.farthest", "a longer fence")
        };
        let beyond =
            (self.stop.nearest - (setting - outer)).max(setting + outer - self.stop.farthest);
        let fault = Finding::error("stop-out-of-reach", field, text).hint(hint);
        fault.figure(setting, beyond).at_notch(at + 1)
    }

    /// Whether a notch of the same face and slant lies far enough before this one for a key.
    fn key_could_serve(&self, bundle: &Bundle, notch: &Notch) -> bool {
        let slant = Slant::of(notch);
        let before = |other: &Notch| {
            other.face == notch.face
                && Slant::of(other).is(slant)
                && width_of(other).approx_eq(width_of(notch), POSITION)
                && slant.square(notch.centre - other.centre) >= shortest_step(self.sled)
        };
        rack_that_serves((width_of(notch), self.passes(notch).0), self.sled).is_ok()
            && self.sled.blade.powered.is_some()
            && bundle.notches.iter().any(before)
    }
}
