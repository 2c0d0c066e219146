//! What stands on the sled from step to step, and what has to come away first.

use crate::instructions::saw::{Obstacle, SawSetting};
use crate::instructions::sled::{Register, SledBundle};

/// What the work so far left where strips go.
#[derive(Default)]
struct LeftOnSled {
    key: bool,
    stop: bool,
    spacers: bool,
}

impl LeftOnSled {
    /// Sets the sled for a way of registering. A key stands under solid wood when the strip is
    /// pushed against a stop, and a stop or spacers hold it off the key.
    fn set_for(&mut self, register: &Register) -> Vec<Obstacle> {
        let wanted = LeftOnSled {
            key: matches!(register, Register::Key { .. }),
            stop: !matches!(register, Register::Key { .. }),
            spacers: matches!(register, Register::Spacers { .. }),
        };
        let mut away = Vec::new();
        away.extend((self.key && !wanted.key).then_some(Obstacle::Key));
        away.extend((self.spacers && !wanted.spacers).then_some(Obstacle::Spacers));
        away.extend((self.stop && !wanted.stop).then_some(Obstacle::Stop));
        *self = wanted;
        away
    }

    /// A fence swings over the place where the key stands; the stop goes with the fence.
    fn turn_fence(&mut self) -> Vec<Obstacle> {
        let away = Vec::from_iter(self.key.then_some(Obstacle::Key));
        self.key = false;
        away
    }
}

/// Tells every setting and every step what has to come away first, in the order of the work.
pub(super) fn clear_the_way(settings: &mut [SawSetting], bundles: &mut [SledBundle]) {
    let mut left = LeftOnSled::default();
    let mut fence = None;
    for setting in settings {
        if fence.is_some_and(|before| before != setting.fence) {
            setting.take_away = left.turn_fence();
        }
        fence = Some(setting.fence.clone());
        for work in &setting.work {
            let Some(bundle) = bundles.get_mut(work.bundle.saturating_sub(1)) else {
                continue;
            };
            let own = (bundle.steps.iter_mut()).filter(|step| {
                step.setting == setting.number && work.notches.contains(&step.notch)
            });
            for step in own {
                step.take_away = left.set_for(&step.register);
            }
        }
    }
}
