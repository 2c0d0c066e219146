//! What to do at the saw, step by step.

use super::setting_words::{checked_first, off, set_words};
use crate::geometry::tolerance::POSITION;
use crate::instructions::saw::{SawSetting, SettingWork};
use crate::instructions::sheet::Block;
use crate::instructions::sled::{Register, SledBundle, SledPlan, Step};
use crate::phrase;
use crate::phrase::{Phrase, counted};
use crate::units::Mm;
use float_cmp::ApproxEq;

/// The steps of a bundle of a plain plan.
pub(super) fn steps(
    number: usize,
    bundle: &SledBundle,
    plan: &SledPlan,
    powered: bool,
) -> Vec<Phrase> {
    let loads = &bundle.loads;
    let mut first = match loads.strips_per_block {
        0 | 1 => phrase!(
            "Lay one strip at a time along the fence, {} face toward the blade; mark the datum end.",
            bundle.face.name()
        ),
        several => phrase!(
            "Clamp or tape {} strips into one rigid block, datum ends flush, {} face toward the blade; mark the datum end.",
            several,
            bundle.face.name()
        ),
    };
    first.append(all_blocks(number, bundle, &bundle.steps, plan));
    let mut steps = Vec::new();
    if number == 1 {
        let set = plan.settings.first();
        steps.extend(set.map(|setting| set_words(setting, plan, powered)));
        steps.push(checked_first());
    }
    steps.push(first);
    for setting in &plan.settings {
        let own = bundle.steps.iter();
        let own = own.filter(|step| step.setting == setting.number);
        steps.extend(cuts(own, setting, plan, powered));
    }
    steps
}

/// Where there is more than one block: what moves is set once for all of them.
fn all_blocks(number: usize, bundle: &SledBundle, steps: &[Step], plan: &SledPlan) -> Phrase {
    let twins: Vec<String> = (plan.bundles.iter().zip(1..))
        .filter(|(twin, _)| twin.same_as_bundle == Some(number))
        .map(|(_, twin): (_, usize)| twin.to_string())
        .collect();
    let blocks = bundle.loads.blocks;
    if blocks < 2 && twins.is_empty() {
        return Phrase::default();
    }
    let noun = match bundle.loads.strips_per_block {
        0 | 1 => "strip",
        _ => "block",
    };
    let mut words = phrase!(" {}", counted(blocks, noun));
    if !twins.is_empty() {
        let plural = if twins.len() == 1 { "" } else { "s" };
        words.append(phrase!(
            ", and those of bundle{} {}",
            plural,
            twins.join(" and ")
        ));
    }
    let any = |of: fn(&Register) -> bool| steps.iter().any(|step| of(&step.register));
    let keyed = any(|register| matches!(register, Register::Key { .. }));
    let spaced = any(|register| matches!(register, Register::Spacers { .. }));
    words.append(phrase!(
        ": cut all of them before you move {}.",
        match (keyed, spaced) {
            (false, false) => "the stop",
            (true, false) => "stop or key",
            (false, true) => "stop or spacers",
            (true, true) => "stop, spacers or key",
        }
    ));
    words
}

/// All that is cut at one setting, bundle by bundle and face by face.
pub(super) fn work_blocks(setting: &SawSetting, plan: &SledPlan, powered: bool) -> Vec<Block> {
    let mut blocks = Vec::new();
    for work in &setting.work {
        let at = work.bundle.saturating_sub(1);
        let Some(bundle) = plan.bundles.get(at) else {
            continue;
        };
        blocks.push(Block::Remarks(vec![work_words(
            work, bundle, plan, powered,
        )]));
        let own: Vec<Step> = (bundle.steps.iter())
            .filter(|step| step.setting == setting.number && work.notches.contains(&step.notch))
            .cloned()
            .collect();
        let mut first = block_words(setting, work, bundle, powered);
        first.append(all_blocks(work.bundle, bundle, &own, plan));
        let mut steps = vec![first];
        steps.extend(cuts(&own, setting, plan, powered));
        blocks.push(Block::Steps(steps));
    }
    blocks
}

/// Which strips, and which face.
fn work_words(work: &SettingWork, bundle: &SledBundle, plan: &SledPlan, powered: bool) -> Phrase {
    let mut words = phrase!(
        "Bundle {}, {} {}{} ({}), {} face {}",
        work.bundle,
        bundle.count,
        bundle.family,
        if bundle.count == 1 { "" } else { "s" },
        &bundle.strips,
        work.face.name(),
        if powered { "down" } else { "up" }
    );
    let twins = plan.bundles.iter().enumerate();
    for (at, twin) in twins.filter(|(_, twin)| twin.same_as_bundle == Some(work.bundle)) {
        words.append(phrase!(
            "; the same cuts in the {} of bundle {} ({}), which is the same part",
            twin.count,
            at + 1,
            &twin.strips
        ));
    }
    words.append(phrase!(":"));
    words
}

fn block_words(
    setting: &SawSetting,
    work: &SettingWork,
    bundle: &SledBundle,
    powered: bool,
) -> Phrase {
    let strips = bundle.loads.strips_per_block;
    let lies = if powered { "down" } else { "up" };
    if strips < 2 {
        return phrase!(
            "Lay one strip at a time along the fence, {} face {}, datum end to the left; mark the datum end.",
            work.face.name(),
            lies
        );
    }
    let mut words = phrase!(
        "Clamp or tape {} strips into one rigid block, {} face {}, ",
        strips,
        work.face.name(),
        lies
    );
    words.append(datum_ends(setting));
    words.append(phrase!("; mark the datum end."));
    words
}

/// How the strips of a block lie to each other.
pub(super) fn datum_ends(setting: &SawSetting) -> Phrase {
    match &setting.fence.slanted {
        None => phrase!("datum ends flush"),
        Some(slanted) => phrase!(
            "each strip {} to the {} of its neighbour at the fence",
            Mm(slanted.step_mm),
            slanted.step_toward.name()
        ),
    }
}

/// The notches of one setting; how a notch is cut is said where it changes.
fn cuts<'a>(
    steps: impl IntoIterator<Item = &'a Step>,
    setting: &SawSetting,
    plan: &SledPlan,
    powered: bool,
) -> Vec<Phrase> {
    let mut before: Option<&Register> = None;
    let words = |step: &'a Step| {
        let mut words = Phrase::default();
        for obstacle in &step.take_away {
            words.append(phrase!("Take {}. ", off(*obstacle)));
        }
        words.append(match (&step.register, before) {
            (Register::Stop { stop_to_kerf_mm }, Some(Register::Stop { .. })) => phrase!(
                "Notch {}: the same with the stop's face at {}.",
                step.notch,
                Mm(first_pass(*stop_to_kerf_mm, setting))
            ),
            _ => cut_words(step, before, setting, plan, powered),
        });
        before = Some(&step.register);
        words
    };
    steps.into_iter().map(words).collect()
}

/// Where the stop is for the first of a notch's passes.
pub(super) fn first_pass(stop_to_kerf_mm: f64, setting: &SawSetting) -> f64 {
    let more = setting.passes_per_notch.saturating_sub(1) as f64;
    stop_to_kerf_mm - more / 2.0 * setting.pass_shift_along_fence_mm
}

/// Whether the stop stands already where spacers want it.
fn stands(step: &Step, before: Option<&Register>) -> bool {
    match (&step.register, before) {
        (
            Register::Spacers {
                stop_to_kerf_mm: wanted,
                ..
            },
            Some(Register::Spacers {
                stop_to_kerf_mm, ..
            }),
        ) => wanted.approx_eq(*stop_to_kerf_mm, POSITION),
        _ => false,
    }
}

/// Passes that the key registers: a notch as wide as two passes make it has play on a key as wide
/// as one. A third takes what is left between, `w - 2 k` wide, as long as the kerf covers it:
/// within `(k - (w - 2 k)) / 2` of the middle; along the fence that is k / sin A less one shift.
pub(super) fn pushed(passes: usize, setting: &SawSetting, plan: &SledPlan) -> Phrase {
    let mut words = phrase!(", once with the notch pushed to each side of the key");
    if passes > 2 {
        let kerf = plan.key.as_ref().map_or(0.0, |key| key.width_mm);
        let opens = kerf / setting.fence.slot_angle.sin();
        words.append(phrase!(
            ", then midway between, by eye, within {}: only waste is left there",
            Mm(opens - setting.pass_shift_along_fence_mm)
        ));
    }
    words
}

/// One notch: what to set, and how its passes follow each other.
fn cut_words(
    step: &Step,
    before: Option<&Register>,
    setting: &SawSetting,
    plan: &SledPlan,
    powered: bool,
) -> Phrase {
    let passes = setting.passes_per_notch;
    let shift = setting.pass_shift_along_fence_mm;
    let mut words = match step.register {
        Register::Stop { stop_to_kerf_mm } => phrase!(
            "Notch {}: set the stop's face {} from the near side of the kerf; push the datum end against it and cut",
            step.notch,
            Mm(first_pass(stop_to_kerf_mm, setting))
        ),
        Register::Spacers { spacer_mm, .. } if passes == 1 && stands(step, before) => phrase!(
            "Notch {}: the stop stays; spacers of {} between it and the datum end; push home and cut",
            step.notch,
            Mm(spacer_mm)
        ),
        Register::Spacers {
            stop_to_kerf_mm,
            spacer_mm,
        } => phrase!(
            "Notch {}: set the stop's face {} from the near side of the kerf, spacers of {} between it and the datum end; push home and cut",
            step.notch,
            Mm(first_pass(stop_to_kerf_mm, setting)),
            Mm(spacer_mm)
        ),
        Register::Key {
            slot_mm, on_notch, ..
        } => phrase!(
            "Notch {}: key in the {} slot; drop notch {} over it and cut",
            step.notch,
            Mm(slot_mm),
            on_notch
        ),
    };
    if passes > 1 {
        words.append(match step.register {
            Register::Key { .. } => pushed(passes, setting, plan),
            _ if !powered => phrase!(
                " one wall; move the stop {} farther and saw the other; pare out the waste",
                Mm(shift)
            ),
            _ if passes == 2 => phrase!(", then move the stop {} farther and cut again", Mm(shift)),
            _ => phrase!(
                ", then {} more, the stop moved {} farther each time",
                passes - 1,
                Mm(shift)
            ),
        });
    }
    words.append(phrase!("."));
    if let Register::Key {
        on_notch,
        bearing_share: Some(share),
        ..
    } = step.register
    {
        words.append(phrase!(
            " Of notch {}'s walls {} % bear on the key, the rest is cut away: press it home gently, or use the stop.",
            on_notch,
            format!("{:.0}", 100.0 * share)
        ));
    }
    words
}
