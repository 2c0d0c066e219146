//! How saw and fence are set for mitres.

use crate::instructions::mitres::{MitrePlan, MitreSetting, Reach};
use crate::instructions::saw::Hand;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{Mm, Rad};

/// What is set.
pub(super) fn set_words(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let mut words = phrase!(
        "Setting {}, blade {} over the base: ",
        setting.number,
        Mm(setting.height_above_base_mm)
    );
    words.append(reach_words(setting, plan));
    words
}

/// How the fence is set so that sticks lie at their angle.
fn reach_words(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let fence = &setting.fence;
    let away = fence.end_away.map_or("right", Hand::name);
    match &fence.reach {
        Reach::Fence if fence.end_away.is_none() => phrase!("fence square."),
        Reach::Fence => phrase!(
            "fence {} from square ({} to the blade), {} ends away from you{}.",
            Rad(fence.from_square),
            Rad(fence.to_blade),
            away,
            if setting.number == 1 && plan.as_it_stands {
                ", as it stands after the strips"
            } else {
                ""
            }
        ),
        Reach::CrossBoard(board) => phrase!(
            "fence {} from square, its {} end away from you, and a straight board fixed to it, square to it, that points away from you across the blade's line: this board is now the fence, right and left as seen from behind it. Sticks lie along it, on its {} side, {} ends away from you.",
            Rad(board.fence_from_square),
            board.fence_end_away.name(),
            board.sticks_on.name(),
            away
        ),
        Reach::Wedge {
            fence_from_square,
            wedge,
        } => {
            let mut words = if *fence_from_square > 0.0 {
                phrase!(
                    "fence {} from square, as far as it turns, its {} end away from you, ",
                    Rad(*fence_from_square),
                    away
                )
            } else {
                phrase!("fence square, ")
            };
            words.append(phrase!(
                "on it the wedge of {}, thick end to the {}; {} ends away from you.",
                Rad(wedge.angle),
                wedge.thick_end.name(),
                away
            ));
            words
        }
    }
}
