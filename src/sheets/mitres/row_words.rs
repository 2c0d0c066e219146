//! What is said of rows on long sticks.

use super::settings::reach_words;
use crate::instructions::mitres::{
    MitreCut, MitrePlan, MitreSetting, MitreStop, MitreWork, SkinFigures, StickFigures,
};
use crate::instructions::sheet::TableCell;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// A bare skin holds nothing. Why a batten each: a block is stepped anew for every hand, and sticks
/// that share a batten could not be moved against each other any more.
pub(super) fn held(skin: &SkinFigures, thickness: f64) -> Vec<Phrase> {
    vec![
        phrase!(
            "A skin of {} alone joins the pieces of a stick once it is cut, as thin as {} in places. It does not count as held: without a batten it breaks, and the pieces lie loose beside the blade.",
            Mm(skin.set_mm),
            Mm(skin.thinnest_mm)
        ),
        phrase!(
            "So before the first mitre tape the upper face of every stick, all along, to a batten of its own: straight, as long as the stick, no wider than {}, so that sticks still lie side by side. Double-sided tape that holds to planed wood; press it in a vice. The batten stays on until the saw is off for good; block and battens are clamped down and to the fence at both ends and between.",
            Mm(thickness)
        ),
    ]
}

/// How blocks lie and are cut at a setting, kind of sticks by kind of sticks.
pub(super) fn steps(setting: &MitreSetting, plan: &MitrePlan) -> Vec<Phrase> {
    let mut steps = vec![set_words(setting, plan)];
    steps.extend(setting.work.iter().map(|work| {
        let mut words = lay_words(work, setting, plan);
        words.append(cut_words(work, setting));
        words.append(others_words(work, plan));
        words
    }));
    steps
}

/// What is done at every stop, once for all of them.
pub(super) fn each_cut() -> Phrase {
    phrase!(
        "At every stop: set it, push the sticks home, clamp them, cut; hands off until the blade stands. Side by side means on the fence and on each other, the steps of a block as they are named."
    )
}

/// What is set, and that sticks are not rolled over from mitre to mitre: that would put the skins of
/// both cuts on opposite faces, and every piece would drop.
fn set_words(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let mut words = phrase!(
        "Setting {}: set the blade {} over the base, ",
        setting.number,
        Mm(setting.height_above_base_mm)
    );
    words.append(reach_words(setting, plan));
    let mitred_before = |one: &MitreSetting| one.number < setting.number && !one.is_lap();
    if !setting.is_lap() && plan.settings.iter().any(mitred_before) {
        words.append(phrase!(
            " The sticks keep the same face down and their left ends at the stop. Never roll them over now: these cuts would go through the skins, and every piece would drop."
        ));
    }
    words
}

fn sticks_of<'a>(work: &MitreWork, plan: &'a MitrePlan) -> Option<&'a StickFigures> {
    plan.sticks.iter().find(|one| one.number == work.sticks)
}

fn lay_words(work: &MitreWork, setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let at_once = sticks_of(work, plan).map_or(1, |sticks| sticks.sticks_per_block);
    let mut words = match at_once {
        1 => phrase!("Sticks {}, one at a time, ", work.sticks),
        _ => phrase!("Sticks {}, {} side by side, ", work.sticks, at_once),
    };
    words.append(phrase!(
        "{} faces down, left ends to the stop",
        work.face_down.name()
    ));
    words.append(match plan.stop {
        MitreStop::Board => phrase!(
            ", a straight board parallel to the blade that each of them touches: "
        ),
        MitreStop::Block if at_once == 1 || setting.fence.step_mm < 0.005 => phrase!(": "),
        MitreStop::Block => phrase!(
            ", each stick farther from the fence {} farther to the {}, only the one at the fence on the stop: ",
            Mm(setting.fence.step_mm),
            setting.fence.step_toward.name()
        ),
    });
    words
}

fn cut_words(work: &MitreWork, setting: &MitreSetting) -> Phrase {
    let stops = work.stops_mm.len();
    match setting.cut {
        MitreCut::Facet => phrase!(
            "cut at the {} stops of sticks {} in the column of setting {}.",
            stops,
            work.sticks,
            setting.number
        ),
        MitreCut::Lap { passes: 1, .. } => phrase!(
            "cut a half lap at the {} stops of sticks {} in the column of setting {}.",
            stops,
            work.sticks,
            setting.number
        ),
        MitreCut::Lap {
            passes,
            pass_shift_along_fence_mm,
            ..
        } => phrase!(
            "cut a half lap at the {} stops of sticks {} in the column of setting {}, in {} passes, for each next one the stop {} farther.",
            stops,
            work.sticks,
            setting.number,
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

/// The stops of some settings side by side, a row for each cut of each kind of sticks.
pub(super) fn stop_rows(settings: &[&MitreSetting], plan: &MitrePlan) -> Vec<Vec<TableCell>> {
    let mut rows = Vec::new();
    for sticks in &plan.sticks {
        let stops: Vec<&[f64]> = (settings.iter())
            .map(|setting| stops_of(setting, sticks.number))
            .collect();
        let most = stops.iter().map(|stops| stops.len()).max().unwrap_or(0);
        for cut in 0..most {
            let mut row = vec![TableCell::Count(sticks.number), TableCell::Count(cut + 1)];
            row.extend(
                stops
                    .iter()
                    .map(|stops| TableCell::length(stops.get(cut).copied())),
            );
            rows.push(row);
        }
    }
    rows
}

fn stops_of(setting: &MitreSetting, sticks: usize) -> &[f64] {
    let work = setting.work.iter().find(|work| work.sticks == sticks);
    work.map_or(&[], |work| &work.stops_mm)
}
