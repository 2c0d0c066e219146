//! How many strips are cut at once.

use super::planner::SledPlanner;
use super::slant::Slant;
use crate::finding::Finding;
use crate::instructions::saw::SawSetting;
use crate::instructions::sled::Loads;
use crate::phrase;
use crate::units::{Mm, Rad};

impl SledPlanner<'_> {
    /// Strips at once: as many as the sled holds and its travel carries clear of the blade, at the
    /// setting (of those that a bundle needs) that allows fewest.
    pub(super) fn loads(
        &self,
        count: usize,
        settings: &[&SawSetting],
    ) -> Result<Loads, Box<Finding>> {
        let mut most = count;
        for setting in settings {
            most = most.min(self.strips_at_once(setting)?);
        }
        let blocks = count.div_ceil(most.max(1));
        let strips_per_block = count.div_ceil(blocks.max(1));
        let single_width = self.lattice.section.thickness;
        let block_width = strips_per_block as f64 * single_width;
        let along_fence = settings.iter();
        let along_fence = along_fence.map(|setting| slant(setting).along(block_width));
        Ok(Loads {
            strips_per_block,
            blocks,
            block_width_mm: along_fence.max_by(f64::total_cmp).unwrap_or(0.0),
            block_travel_mm: self.most_travel(settings, block_width),
            single_travel_mm: self.most_travel(settings, single_width),
        })
    }

    /// Travel that strips `width` wide together need to come clear of the blade on both sides.
    fn travel(&self, setting: &SawSetting, width: f64) -> Option<f64> {
        let half_chord = setting.half_chord_mm?;
        Some(slant(setting).cut_length(width, self.sled.blade.kerf) + 2.0 * half_chord)
    }

    fn most_travel(&self, settings: &[&SawSetting], width: f64) -> Option<f64> {
        let each = settings.iter();
        let each = each.filter_map(|setting| self.travel(setting, width));
        each.max_by(f64::total_cmp)
    }

    fn strips_at_once(&self, setting: &SawSetting) -> Result<usize, Box<Finding>> {
        let thickness = self.lattice.section.thickness;
        let single = slant(setting).along(thickness);
        let room = match (self.sled.blade.powered, self.travel(setting, 0.0)) {
            (Some(powered), Some(clear)) => {
                f64::min(self.sled.widest_block, powered.travel - clear)
            }
            _ => self.sled.widest_block,
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // small; checked below
        let most = (room / single + 1e-9).floor().max(0.0) as usize;
        if most > 0 {
            return Ok(most);
        }
        if single > self.sled.widest_block {
            return Err(Box::new(self.too_wide(setting, single)));
        }
        let needed = self.travel(setting, thickness).unwrap_or(thickness);
        let text = phrase!(
            "a single strip needs {} of travel to pass the blade; this sled has less",
            Mm(needed)
        );
        Err(Box::new(Finding::error(
            "travel-too-short",
            "blade.travel",
            text,
        )))
    }

    fn too_wide(&self, setting: &SawSetting, single: f64) -> Finding {
        let mut text = phrase!("a strip {} thick", Mm(self.lattice.section.thickness));
        if setting.fence.slanted.is_some() {
            let angle = Rad(setting.fence.to_blade);
            text.append(phrase!(" is {} wide along a cut at {},", Mm(single), angle));
        } else {
            text.append(phrase!(" is"));
        }
        let holds = Mm(self.sled.widest_block);
        text.append(phrase!(" wider than the {} that this sled holds", holds));
        Finding::error("block-too-wide", "sled.widest_block", text)
    }
}

fn slant(setting: &SawSetting) -> Slant {
    Slant(setting.fence.slot_angle)
}
