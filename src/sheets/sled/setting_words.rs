//! What is said of a setting of the saw wherever it begins.

use crate::geometry::tolerance::POSITION;
use crate::instructions::saw::{Obstacle, SawSetting};
use crate::instructions::sled::SledPlan;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;

/// What is set before the first block of a setting, and where it stood before: who only follows the
/// steps must not cut at the height of the setting before.
pub(super) fn set_words(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Phrase {
    let before = plan
        .settings
        .iter()
        .find(|one| one.number + 1 == setting.number);
    let height = setting.height_above_base_mm;
    let mut words = if powered {
        phrase!("Set the blade {} over the base", Mm(height))
    } else {
        phrase!("Set the saw's depth stop to {}", Mm(height))
    };
    if let Some(before) = before {
        let stood = before.height_above_base_mm;
        words.append(if stood.approx_eq(height, POSITION) {
            phrase!(" (as it stands)")
        } else {
            phrase!(" (before: {})", Mm(stood))
        });
    }
    words.append(match &setting.fence.slanted {
        _ if before.is_some_and(|before| before.fence == setting.fence) => {
            phrase!(", the fence as it stands.")
        }
        None => phrase!(", the fence square."),
        Some(slanted) => phrase!(
            ", the fence {} from square, {} ends away from you.",
            Rad(setting.fence.from_square),
            slanted.end_away.name()
        ),
    });
    words
}

/// The cuts in scrap stand in a section of their own, after all that they are for.
pub(super) fn checked_first() -> Phrase {
    phrase!("Make the test cuts under Check first.")
}

/// What is taken, and whereto.
pub(super) fn off(obstacle: Obstacle) -> &'static str {
    match obstacle {
        Obstacle::Key => "the key out",
        Obstacle::Spacers => "the spacers out",
        Obstacle::Stop => "the stop away or slide it clear",
    }
}
