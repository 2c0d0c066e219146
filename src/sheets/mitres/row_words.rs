//! What is said of rows on long sticks.

use super::reach_words::set_words;
use crate::instructions::mitres::{
    MitreCut, MitrePlan, MitreSetting, MitreStop, MitreWork, SkinFigures, StickFigures,
};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// A bare skin holds nothing. Why a batten each: a block is stepped anew for every hand, and sticks
/// that share a batten could not be moved against each other any more.
pub(super) fn held(skin: &SkinFigures, thickness: f64) -> Vec<Phrase> {
    vec![phrase!(
        "Cuts stop {} short of the upper face ({} to {} with all that can be off). This skin joins the pieces of a stick but does not count as held: it breaks. So before the first mitre tape the upper face of every stick, all along, to a batten of its own: straight, as long as the stick, no wider than {}, so that sticks still lie side by side; double-sided tape, pressed on in a vice. It stays until the saw is off for good. Clamp battens and block down and to the fence.",
        Mm(skin.set_mm),
        Mm(skin.thinnest_mm),
        Mm(skin.thickest_mm),
        Mm(thickness)
    )]
}

/// How blocks lie and are cut at a setting, kind of sticks by kind of sticks.
pub(super) fn step(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let mut words = set_and_stepped(setting, plan);
    for work in &setting.work {
        words.append(lay_words(work, plan));
        words.append(cut_words(work, setting));
        words.append(others_words(work, plan));
    }
    words
}

/// What holds at every stop and setting. Sticks are not rolled over from hand to hand: that would put
/// the skins of both cuts on opposite faces, and every piece would drop.
pub(super) fn each_cut(settings: &[&MitreSetting], plan: &MitrePlan) -> Phrase {
    let mut words = match plan.stop {
        MitreStop::Board => phrase!(
            "The fence stands on your side of the sticks. The stop is a straight board parallel to the blade; every left end touches it."
        ),
        MitreStop::Block => phrase!(
            "The fence stands on your side of the sticks. Left ends to the stop, which only the stick at the fence touches; the others are stepped."
        ),
    };
    words.append(phrase!(
        " At every stop: set it, push the sticks home, clamp them, cut; hands off until the blade stands."
    ));
    if settings.iter().any(|setting| !setting.is_lap()) {
        words.append(phrase!(
            " Never roll sticks over between settings: cuts would go through the skins, and every piece would drop."
        ));
    }
    words
}

/// What is set, and how sticks lie beside each other.
fn set_and_stepped(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let mut words = set_words(setting, plan);
    if plan.stop == MitreStop::Block && setting.fence.step_mm >= 0.005 {
        words.append(phrase!(
            " Each stick farther from the fence {} farther to the {}.",
            Mm(setting.fence.step_mm),
            setting.fence.step_toward.name()
        ));
    }
    words
}

fn sticks_of<'a>(work: &MitreWork, plan: &'a MitrePlan) -> Option<&'a StickFigures> {
    plan.sticks.iter().find(|one| one.number == work.sticks)
}

fn lay_words(work: &MitreWork, plan: &MitrePlan) -> Phrase {
    let at_once = sticks_of(work, plan).map_or(1, |sticks| sticks.sticks_per_block);
    let mut words = match at_once {
        1 => phrase!(" Sticks {}, one at a time, ", work.sticks),
        _ => phrase!(" Sticks {}, {} side by side, ", work.sticks, at_once),
    };
    words.append(phrase!("{} faces down: ", work.face_down.name()));
    words
}

fn cut_words(work: &MitreWork, setting: &MitreSetting) -> Phrase {
    let stops = work.stops_mm.len();
    match setting.cut {
        MitreCut::Facet => phrase!("cut at their {} stops.", stops),
        MitreCut::Lap { passes: 1, .. } => phrase!("cut half laps at their {} stops.", stops),
        MitreCut::Lap {
            passes,
            pass_shift_along_fence_mm,
            ..
        } => phrase!(
            "cut half laps at their {} stops in {} passes, for each next one the stop {} farther.",
            stops,
            passes,
            Mm(pass_shift_along_fence_mm)
        ),
    }
}

fn others_words(work: &MitreWork, plan: &MitrePlan) -> Phrase {
    let Some(sticks) = sticks_of(work, plan) else {
        return Phrase::default();
    };
    match (sticks.sticks_per_block, sticks.blocks) {
        (_, 1) => Phrase::default(),
        (1, blocks) => phrase!(" {} sticks in all.", blocks),
        (_, 2) => phrase!(" The same with the other block."),
        (_, blocks) => phrase!(" The same with the other {} blocks.", blocks - 1),
    }
}
