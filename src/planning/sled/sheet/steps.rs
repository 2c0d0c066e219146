//! What to do at the saw, step by step.

use crate::instructions::saw::{SawSetting, SettingWork};
use crate::instructions::sheet::Block;
use crate::instructions::sled::{Register, SledBundle, SledPlan, Step};
use crate::phrase;
use crate::phrase::Phrase;
use crate::planning::counted;
use crate::units::Mm;

/// The steps of a bundle of a plain plan.
pub(super) fn steps(bundle: &SledBundle, plan: &SledPlan, powered: bool) -> Vec<Phrase> {
    let loads = &bundle.loads;
    let mut steps = vec![match loads.strips_per_block {
        0 | 1 => phrase!(
            "Lay one strip at a time along the fence, {} face toward the blade; mark the datum end.",
            bundle.face
        ),
        several => phrase!(
            "Clamp or tape {} strips into one rigid block, datum ends flush, {} face toward the blade; mark the datum end.",
            several,
            bundle.face
        ),
    }];
    for setting in &plan.settings {
        let own = bundle.steps.iter();
        let own = own.filter(|step| step.setting == setting.number);
        steps.extend(cuts(own, setting, powered));
    }
    steps.extend(other_blocks(bundle));
    steps
}

fn other_blocks(bundle: &SledBundle) -> Option<Phrase> {
    let noun = match bundle.loads.strips_per_block {
        0 | 1 => "strip",
        _ => "block",
    };
    let others = match bundle.loads.blocks {
        0 | 1 => return None,
        2 => noun.to_owned(),
        blocks => counted(blocks - 1, noun),
    };
    Some(phrase!(
        "Do the same with the other {}; where the stop is moved, cut the notch in every {} before you move it.",
        others,
        noun
    ))
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
        let mut steps = vec![block_words(setting, work, bundle, powered)];
        let own = bundle
            .steps
            .iter()
            .filter(|step| step.setting == setting.number && work.notches.contains(&step.notch));
        steps.extend(cuts(own, setting, powered));
        steps.extend(other_blocks(bundle));
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
        work.face,
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
            work.face,
            lies
        );
    }
    let mut words = phrase!(
        "Clamp or tape {} strips into one rigid block, {} face {}, ",
        strips,
        work.face,
        lies
    );
    words.append(match &setting.fence.slanted {
        None => phrase!("datum ends flush"),
        Some(slanted) => phrase!(
            "each strip {} to the {} of its neighbour at the fence",
            Mm(slanted.step_mm),
            slanted.step_toward.name()
        ),
    });
    words.append(phrase!("; mark the datum end."));
    words
}

/// The notches of one setting; how a notch is cut is said where it changes. A stop that is left
/// where it was would hold the strip off the key.
fn cuts<'a>(
    steps: impl Iterator<Item = &'a Step>,
    setting: &SawSetting,
    powered: bool,
) -> Vec<Phrase> {
    let (mut at_key, mut at_stop) = (false, false);
    let words = |step: &Step| {
        let (was_at_key, was_at_stop) = (at_key, at_stop);
        at_key = matches!(step.register, Register::Key { .. });
        at_stop = false;
        if let Register::Stop { stop_to_kerf_mm } = step.register {
            at_stop = true;
            if was_at_stop {
                return phrase!(
                    "Notch {}: the same with the stop's face at {}.",
                    step.notch,
                    Mm(first_pass(stop_to_kerf_mm, setting))
                );
            }
        }
        let mut words = Phrase::default();
        if at_key && !was_at_key {
            words.append(phrase!("Take the stop away or slide it clear. "));
        }
        words.append(cut_words(step, setting, powered));
        words
    };
    steps.map(words).collect()
}

/// Where the stop is for the first of a notch's passes.
fn first_pass(stop_to_kerf_mm: f64, setting: &SawSetting) -> f64 {
    let more = setting.passes_per_notch.saturating_sub(1) as f64;
    stop_to_kerf_mm - more / 2.0 * setting.pass_shift_along_fence_mm
}

/// One notch: what to set, and how its passes follow each other.
fn cut_words(step: &Step, setting: &SawSetting, powered: bool) -> Phrase {
    let (passes, shift) = (setting.passes_per_notch, setting.pass_shift_along_fence_mm);
    let mut words = match step.register {
        Register::Stop { stop_to_kerf_mm } => phrase!(
            "Notch {}: set the stop's face {} from the near side of the kerf; push the datum end against it and cut",
            step.notch,
            Mm(first_pass(stop_to_kerf_mm, setting))
        ),
        Register::Spacers {
            stop_to_kerf_mm,
            spacer_mm,
        } => phrase!(
            "Notch {}: stop's face at {}, spacers of {} between it and the datum end; cut",
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
            Register::Key { .. } => phrase!(
                ", once with the notch pushed to each side of the key{}",
                if passes > 2 { ", then between" } else { "" }
            ),
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
