//! Settings of fence and blade, in an order that changes them least.

use super::blade::half_chord;
use super::passes::{MOST_PASSES, notch_passes, width_of};
use super::slant::{Slant, wedge_legs};
use crate::finding::Finding;
use crate::geometry::PARALLEL_SINE;
use crate::geometry::tolerance::POSITION;
use crate::instructions::saw::{FenceSetting, Hand, SawSetting, SettingWork, SlantedFence, Wedge};
use crate::instructions::sled::SledBundle;
use crate::lattice::{Bundle, Clamping, Lattice, Notch};
use crate::machines::Sled;
use crate::phrase;
use crate::units::{Mm, Rad};
use float_cmp::ApproxEq;
use std::f64::consts::FRAC_PI_4;

/// Wedges are marked over this length: short enough for any board, long enough for a rule's
/// marks to give a tenth of a degree. Common practice, no source, mm.
const WEDGE_MARK_MM: f64 = 200.0;

/// Every setting that the lattice's bundles need, once each: the fence's angles in the order in
/// which the bundles ask for them, under each the blade's heights, deepest first. Fence and blade
/// could not be set less often: each angle and each depth under it must stand at some time. Which
/// face is notched changes nothing on the saw. Notches of another width, for pieces that run over the
/// strips, are a setting of their own: they take other passes, and no key serves both.
pub(in crate::planning) fn saw_settings(lattice: &Lattice, sled: &Sled) -> Vec<SawSetting> {
    let mut found: Vec<(Slant, Vec<[f64; 2]>)> = Vec::new();
    for bundle in &lattice.bundles {
        for clamping in bundle.clampings() {
            let slant = Slant::new(clamping.face, clamping.angle);
            let at = match found.iter().position(|(known, _)| known.is(slant)) {
                Some(at) => at,
                None => {
                    found.push((slant, Vec::new()));
                    found.len() - 1
                }
            };
            let Some((_, sizes)) = found.get_mut(at) else {
                continue;
            };
            for notch in clamped(bundle, &clamping) {
                let size = [notch.depth, width_of(notch)];
                if !sizes
                    .iter()
                    .any(|[d, w]| same(*d, size[0]) && same(*w, size[1]))
                {
                    sizes.push(size);
                }
            }
        }
    }
    let mut settings = Vec::new();
    for (slant, mut sizes) in found {
        // Of one depth as they come: sorting keeps that order.
        sizes.sort_by(|a, b| b[0].total_cmp(&a[0]));
        for size in sizes {
            settings.push(setting(settings.len() + 1, slant, size, lattice, sled));
        }
    }
    settings
}

fn clamped<'a>(bundle: &'a Bundle, clamping: &'a Clamping) -> impl Iterator<Item = &'a Notch> {
    clamping
        .notches
        .iter()
        .filter_map(|&at| bundle.notches.get(at))
}

fn setting(
    number: usize,
    slant: Slant,
    [depth, width]: [f64; 2],
    lattice: &Lattice,
    sled: &Sled,
) -> SawSetting {
    let height = depth + sled.height_correction;
    let (passes_per_notch, shift) = notch_passes(width, sled);
    SawSetting {
        number,
        take_away: Vec::new(),
        fence: fence(slant, lattice.section.thickness, sled),
        depth_mm: depth,
        width,
        height_above_base_mm: height,
        height_above_table_mm: sled.base_thickness + height,
        half_chord_mm: (sled.blade.powered)
            .map(|powered| half_chord(powered.diameter / 2.0, height)),
        passes_per_notch: passes_per_notch.min(MOST_PASSES),
        pass_shift_along_fence_mm: slant.along(shift),
        along_blade_mm: None,
        work: Vec::new(),
        rounds: Vec::new(),
    }
}

fn fence(slant: Slant, thickness: f64, sled: &Sled) -> FenceSetting {
    let step = slant.step_back(thickness);
    let slanted = SlantedFence {
        end_away: end_away(slant, sled),
        slot_at_fence_mm: slant.at_fence(0.0, thickness),
        kerf_along_fence_mm: slant.along(sled.blade.kerf),
        step_mm: step.abs(),
        step_toward: if step > 0.0 { Hand::Right } else { Hand::Left },
        wedge: wedge(slant, sled),
    };
    FenceSetting {
        slot_angle: slant.0,
        from_square: slant.turn(),
        to_blade: slant.to_blade(),
        slanted: (!slant.is_square()).then_some(slanted),
    }
}

/// The end that is lifted off a square fence to lie at a slant.
pub(in crate::planning) fn lifted(slant: Slant) -> Hand {
    if slant.far_end_away() {
        Hand::Right
    } else {
        Hand::Left
    }
}

/// The end that is turned away from the operator.
pub(super) fn end_away(slant: Slant, sled: &Sled) -> Hand {
    if sled.blade.powered.is_some() {
        lifted(slant)
    } else {
        lifted(slant).other()
    }
}

/// The wedge for a fence that does not turn that far. Its thick end lifts that end of the wood off the
/// fence, wherever that stands.
pub(super) fn wedge(slant: Slant, sled: &Sled) -> Option<Wedge> {
    let turns = sled.swing >= slant.turn() - PARALLEL_SINE;
    (!turns).then(|| wedge_of(slant.turn(), lifted(slant)))
}

/// A wedge of an angle, and how it is marked.
pub(in crate::planning) fn wedge_of(angle: f64, thick_end: Hand) -> Wedge {
    let (along_mm, rise_mm) = wedge_legs(angle, WEDGE_MARK_MM);
    Wedge {
        angle,
        along_mm,
        rise_mm,
        thick_end,
    }
}

/// The setting that a notch is cut with: its index, from 0.
pub(super) fn setting_of(settings: &[SawSetting], notch: &Notch) -> Option<usize> {
    let slant = Slant::of(notch);
    settings.iter().position(|setting| {
        slant.is(Slant(setting.fence.slot_angle))
            && same(setting.depth_mm, notch.depth)
            && same(setting.width, width_of(notch))
    })
}

/// A bundle's notches in working order: setting by setting, on each face by face, from the datum
/// end.
pub(super) fn works(
    bundle: &Bundle,
    number: usize,
    settings: &[SawSetting],
) -> Vec<(usize, SettingWork)> {
    let mut works = Vec::new();
    let clampings = bundle.clampings();
    for at in 0..settings.len() {
        for clamping in &clampings {
            let of_setting = |index: &&usize| {
                let notch = bundle.notches.get(**index);
                notch.and_then(|notch| setting_of(settings, notch)) == Some(at)
            };
            let notches: Vec<usize> = (clamping.notches.iter())
                .filter(of_setting)
                .map(|index| index + 1)
                .collect();
            if !notches.is_empty() {
                let face = clamping.face;
                let work = SettingWork {
                    bundle: number,
                    face,
                    notches,
                };
                works.push((at, work));
            }
        }
    }
    works
}

/// Gives every setting what is cut with it, and the room that the strips take there.
pub(super) fn give_work(
    settings: &mut [SawSetting],
    work: Vec<(usize, SettingWork)>,
    bundles: &[SledBundle],
) {
    for (at, work) in work {
        let Some(setting) = settings.get_mut(at) else {
            continue;
        };
        let bundle = bundles.get(work.bundle.saturating_sub(1));
        if let (Some(bundle), Some(_)) = (bundle, &setting.fence.slanted) {
            let room = bundle.length_mm * setting.fence.from_square.sin();
            setting.along_blade_mm = Some(setting.along_blade_mm.unwrap_or(0.0).max(room));
        }
        setting.work.push(work);
    }
}

/// Beyond 45 degrees of turn strips lie more along the blade than across it. Of such settings the
/// one that takes most room.
pub(super) fn steep_fence(settings: &[SawSetting]) -> Option<Finding> {
    let steep = settings.iter().filter_map(|setting| {
        let turned = setting.fence.from_square - FRAC_PI_4 > PARALLEL_SINE;
        turned.then_some((setting, setting.along_blade_mm?))
    });
    let (setting, room) = steep.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let text = phrase!(
        "setting {} turns the fence {} from square: strips lie more along the blade than across it and take {} in front of the fence",
        setting.number,
        Rad(setting.fence.from_square),
        Mm(room)
    );
    let hint = "see with the saw off that strips, fence and hands stay clear of the blade over all \
                of the travel; else notch these on a router";
    Some(Finding::warning("steep-fence", "fence.swing", text).hint(hint))
}

fn same(a: f64, b: f64) -> bool {
    a.approx_eq(b, POSITION)
}
