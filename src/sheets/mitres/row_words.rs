//! What is said of rows on long sticks.

use super::settings::reach_words;
use crate::instructions::mitres::{
    MitreCut, MitrePlan, MitreSetting, MitreStop, MitreWork, SkinFigures,
};
use crate::instructions::sheet::TableCell;
use crate::lattice::Face;
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

/// How a block lies and is cut at a setting, kind of sticks by kind of sticks.
pub(super) fn steps(setting: &MitreSetting, plan: &MitrePlan) -> Vec<Phrase> {
    let mut steps = vec![set_words(setting, plan)];
    for work in &setting.work {
        steps.push(lay_words(work, setting, plan));
        steps.push(cut_words(work, setting, plan));
    }
    steps
}

/// What is set, and that sticks are not rolled over from hand to hand: that would put the skins of
/// both cuts on opposite faces, and every piece would drop.
fn set_words(setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let mut words = phrase!(
        "Setting {}: set the blade {} over the base, ",
        setting.number,
        Mm(setting.height_above_base_mm)
    );
    words.append(reach_words(&setting.fence));
    let before = plan.settings.iter();
    let before = before.filter(|one| one.number + 1 == setting.number);
    if before.into_iter().any(|one| !one.is_lap()) && !setting.is_lap() {
        words.append(phrase!(
            " The fence swings, the sticks stay as they are: same face down, left ends to the stop. Never roll them over now: the second cuts would go through the skins, and every piece would drop."
        ));
    }
    words
}

fn lay_words(work: &MitreWork, setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let at_once = plan
        .sticks
        .iter()
        .find(|sticks| sticks.number == work.sticks)
        .map_or(1, |sticks| sticks.sticks_per_block);
    let mut words = phrase!(
        "Lay {} sticks {} side by side on the fence, {} faces down, left ends to the stop",
        at_once,
        work.sticks,
        face(work.face_down)
    );
    words.append(match (plan.stop, at_once) {
        (MitreStop::Board, _) => phrase!(
            ", which is a straight board parallel to the blade: each left end touches it. Clamp them."
        ),
        (MitreStop::Block, 1) => phrase!(", and clamp it."),
        (MitreStop::Block, _) if setting.fence.step_mm < 0.005 => phrase!(". Clamp them."),
        (MitreStop::Block, _) => phrase!(
            "; each stick farther from the fence lies {} farther to the {} than its neighbour, and only the one at the fence touches the stop. Clamp them.",
            Mm(setting.fence.step_mm),
            setting.fence.step_toward.name()
        ),
    });
    words
}

fn cut_words(work: &MitreWork, setting: &MitreSetting, plan: &MitrePlan) -> Phrase {
    let sticks = plan.sticks.iter().find(|one| one.number == work.sticks);
    let blocks = sticks.map_or(1, |sticks| sticks.blocks);
    let mut words = match setting.cut {
        MitreCut::Facet => phrase!(
            "Cut at every stop of sticks {} in the column of setting {}: {} cuts. For each set the stop, push the sticks home, clamp, cut; hands off until the blade stands.",
            work.sticks,
            setting.number,
            work.stops_mm.len()
        ),
        MitreCut::Lap { passes: 1, .. } => phrase!(
            "Cut a lap at every stop of sticks {} in the column of setting {}: {} cuts.",
            work.sticks,
            setting.number,
            work.stops_mm.len()
        ),
        MitreCut::Lap {
            passes,
            pass_shift_along_fence_mm,
            ..
        } => phrase!(
            "Cut a lap at every stop of sticks {} in the column of setting {}: {} laps of {} passes, the first at the stop that is named, each next one with the stop {} farther.",
            work.sticks,
            setting.number,
            work.stops_mm.len(),
            passes,
            Mm(pass_shift_along_fence_mm)
        ),
    };
    match blocks {
        1 => {}
        2 => words.append(phrase!(" The same with the other block.")),
        _ => words.append(phrase!(" The same with the other {} blocks.", blocks - 1)),
    }
    words
}

fn face(face: Face) -> &'static str {
    match face {
        Face::Front => "front",
        Face::Back => "back",
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
