//! What stands on the sled from step to step, and has to come away first.

use crate::geometry::tolerance::POSITION;
use crate::instructions::rounds::PlaceSet;
use crate::instructions::saw::{FenceSetting, Obstacle};
use crate::instructions::sled::Register;
use float_cmp::ApproxEq;

/// What the work so far left where strips go.
#[derive(Default)]
pub(super) struct OnSled {
    fence: Option<FenceSetting>,
    /// The slot that it stands in.
    pub(super) key: Option<f64>,
    /// Whether it is on the fence.
    stop: bool,
    /// Stop's face to kerf, where that is still so: a notch of several passes leaves it where the last one was.
    pub(super) stands_at: Option<f64>,
    spacers: bool,
    /// How often the stop was set.
    stop_settings: usize,
}

impl OnSled {
    /// Sets the fence. It swings over the place where the key stands; the stop goes with it, and is somewhere then.
    pub(super) fn set_fence(&mut self, fence: &FenceSetting) -> Vec<Obstacle> {
        let before = self.fence.replace(fence.clone());
        if before.is_none_or(|before| before == *fence) {
            return Vec::new();
        }
        self.stands_at = None;
        Vec::from_iter(self.key.take().map(|_| Obstacle::Key))
    }

    /// Sets the sled for a way of registering. A key stands under solid wood when the strip is
    /// pushed against a stop, and a stop or spacers hold it off the key.
    pub(super) fn set_for(
        &mut self,
        register: &Register,
        passes: usize,
    ) -> (PlaceSet, Vec<Obstacle>) {
        let by_key = matches!(register, Register::Key { .. });
        let by_spacers = matches!(register, Register::Spacers { .. });
        let mut away = Vec::new();
        away.extend((self.key.is_some() && !by_key).then_some(Obstacle::Key));
        away.extend((self.spacers && !by_spacers).then_some(Obstacle::Spacers));
        away.extend((self.stop && by_key).then_some(Obstacle::Stop));
        self.spacers = by_spacers;
        self.stop = !by_key;
        let set = match *register {
            Register::Stop { stop_to_kerf_mm } => PlaceSet::Stop {
                stop_setting: self.set_stop(stop_to_kerf_mm, passes),
                stop_to_kerf_mm,
            },
            Register::Spacers {
                stop_to_kerf_mm,
                spacer_mm,
            } => PlaceSet::Spacers {
                stop_setting: self.set_stop(stop_to_kerf_mm, passes),
                stop_to_kerf_mm,
                spacer_mm,
            },
            Register::Key { slot_mm, .. } => {
                self.stands_at = None;
                PlaceSet::Key { slot_mm }
            }
        };
        self.key = match set {
            PlaceSet::Key { slot_mm } => Some(slot_mm),
            PlaceSet::Stop { .. } | PlaceSet::Spacers { .. } => None,
        };
        (set, away)
    }

    /// The number of the stop's setting.
    fn set_stop(&mut self, at: f64, passes: usize) -> usize {
        let stands = self.stands_at.is_some_and(|stands| is_same(stands, at));
        if passes > 1 || !stands {
            self.stop_settings += 1;
        }
        self.stands_at = (passes < 2).then_some(at);
        self.stop_settings
    }
}

/// Whether two places of stop or spacers are one. Far below what a person can set, and above the rounding of
/// figures that are drawn the same.
pub(super) fn is_same(a: f64, b: f64) -> bool {
    a.approx_eq(b, POSITION)
}
