//! A saw's blade against a strip's section, to scale.

use super::pencil::{Beside, drawn};
use crate::instructions::drawing::{Anchor, Role};
use crate::instructions::saw::SawSetting;
use crate::instructions::sheet::Picture;
use crate::instructions::sled::SledPlan;
use crate::machines::Sled;
use crate::phrase;
use crate::sheets::sled::first_notch;
use crate::units::Brief;

/// The blade over the sled's base beside a strip `depth` deep, in a section along the fence, seen
/// from the operator; none for a saw without a motor.
pub(super) fn blade(
    plan: &SledPlan,
    setting: &SawSetting,
    sled: &Sled,
    depth: f64,
) -> Option<Picture> {
    sled.blade.powered?;
    let base = sled.base_thickness;
    let slanted = setting.fence.slanted.as_ref();
    let kerf = slanted.map_or(sled.blade.kerf, |fence| fence.kerf_along_fence_mm);
    let half = 1.2 * (base + depth).max(24.0);
    let notch = first_notch(plan, setting)?;
    let left = -half;
    let rim = 0.15 * half;
    let title = format!(
        "Blade against a strip's section, setting {}",
        setting.number
    );
    let drawing = drawn(&title, |pencil| {
        let capitals = pencil.capitals;
        let below = -base - 0.35 * half;
        pencil.rectangle(Role::Ground, (left, below), (half, -base));
        pencil.rectangle(Role::Ground, (left, -base), (half, 0.0));
        pencil.rectangle(Role::Wood, (left + rim, 0.0), (half - rim, depth));
        let wide = notch.width_mm / 2.0;
        pencil.rectangle(Role::Cut, (-wide, 0.0), (wide, notch.depth_mm));
        // Of several passes the first one is shown.
        let at = if setting.passes_per_notch > 1 {
            kerf / 2.0 - wide
        } else {
            0.0
        };
        let top = setting.height_above_base_mm;
        pencil.rectangle(Role::Tool, (at - kerf / 2.0, below), (at + kerf / 2.0, top));
        let text = phrase!("over base {}", Brief(top));
        let right = half + 3.0 * capitals;
        pencil.upward((half, 0.0), (kerf / 2.0 + at, top), right, text, false);
        let text = phrase!("over table {}", Brief(setting.height_above_table_mm));
        let from = (at - kerf / 2.0, top);
        pencil.upward((left, -base), from, left - 3.0 * capitals, text, true);
        let text = match notch.drawn_width_mm {
            Some(drawn) => phrase!(
                "notch as cut {}, drawn {}",
                Brief(notch.width_mm),
                Brief(drawn)
            ),
            None => phrase!("notch {}", Brief(notch.width_mm)),
        };
        pencil.across(
            (-wide, depth),
            (wide, depth),
            depth + 5.0 * capitals,
            text,
            Beside::Right,
        );
        let base = (left + capitals, -base / 2.0);
        pencil.name(Anchor::Start, base, "base");
        let table = (half - capitals, f64::midpoint(below, -sled.base_thickness));
        pencil.name(Anchor::End, table, "table");
        let text = phrase!("{} deep", Brief(depth));
        pencil.name(
            Anchor::Start,
            (wide + capitals, depth + 1.5 * capitals),
            text,
        );
    });
    let mut caption = phrase!(
        "Setting {}, from the operator's place, to scale: the strip lies with its {} face down on the sled's base, over the saw's table.",
        setting.number,
        notch.face.name()
    );
    if slanted.is_some() {
        caption.append(phrase!(
            " In a section along the strip, which shows the kerf wider than the blade."
        ));
    }
    Some(Picture { drawing, caption })
}
