//! What is said of mitres on sticks' ends.

use super::reach_words::set_words;
use crate::infill::FacetSide;
use crate::instructions::mitres::{EndLie, EndWork, MitrePlan, MitreSetting};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// What stays long enough to be held.
pub(super) fn held() -> Vec<Phrase> {
    vec![phrase!(
        "Only the long part of a stick is held, at the left of the blade, clamped to the fence, which stands on your side of it; nothing is cut off at the saw but dust and crumbs. A finished end is sawn off by hand, away from the table saw. Never cut a piece off with the blade: it would lie loose beside it."
    )]
}

/// How ends are cut at a setting, kind of sticks by kind of sticks.
pub(super) fn steps(setting: &MitreSetting, plan: &MitrePlan) -> Vec<Phrase> {
    let mut steps = vec![set_words(setting, plan)];
    for work in &setting.ends {
        let (at_once, rounds, blocks) = counts(work, plan);
        for (at, lie) in work.lies.iter().enumerate() {
            steps.push(lie_words(work, lie, setting, (at, at_once)));
        }
        let mut words = phrase!(
            "At the bench saw the finished ends of sticks {} off by hand, square, {} from their points: a piece of each. Then lay the sticks down again for the next, {} of each stick in all",
            work.sticks,
            Mm(work.cut_off_mm),
            rounds
        );
        match blocks {
            1 => {}
            2 => words.append(phrase!(", and as many of the other block")),
            _ => words.append(phrase!(", and as many of the other {} blocks", blocks - 1)),
        }
        words.append(phrase!("."));
        steps.push(words);
    }
    steps
}

fn counts(work: &EndWork, plan: &MitrePlan) -> (usize, usize, usize) {
    let sticks = plan.sticks.iter().find(|one| one.number == work.sticks);
    sticks.map_or((1, 1, 1), |sticks| {
        (
            sticks.sticks_per_block,
            sticks.pieces_per_stick,
            sticks.blocks,
        )
    })
}

fn lie_words(
    work: &EndWork,
    lie: &EndLie,
    setting: &MitreSetting,
    (at, at_once): (usize, usize),
) -> Phrase {
    let mut words = if at == 0 {
        phrase!(
            "Lay {} sticks {} on the fence, the end that is to be made to the right, {}, ",
            at_once,
            work.sticks,
            first_side(lie.on_fence)
        )
    } else {
        phrase!(
            "Roll every stick over along its length, the same end to the right, the {} side on the fence, ",
            lie.on_fence.name()
        )
    };
    if at_once > 1 && setting.fence.step_mm >= 0.005 {
        words.append(phrase!(
            "each farther from the fence {} farther to the {}, ",
            Mm(setting.fence.step_mm),
            setting.fence.step_toward.name()
        ));
    }
    words.append(phrase!(
        "the end at the fence against a stop at the right, its face {} from the left side of the kerf, along the fence. Clamp the sticks, take the stop away, cut; hands off until the blade stands.",
        Mm(lie.stop_mm)
    ));
    if work.off_cut {
        words.append(phrase!(
            " A small wedge of wood comes off: leave it until then, and clear it with a stick."
        ));
    }
    words
}

/// A stick has no sides of its own before its first facet; a square end has none at all.
fn first_side(side: FacetSide) -> &'static str {
    match side {
        FacetSide::Left => "the side that is to be the left one on the fence (mark it)",
        FacetSide::Right => "the side that is to be the right one on the fence (mark it)",
        FacetSide::Across => "one side or the other on the fence",
    }
}
