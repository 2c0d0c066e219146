//! The table `[sled]` of a job: how its strips are notched on a sled.

use super::fields::Fields;
use crate::machines::{Aim, SledWork, StepOrder};

/// What holds where a job does not say: pieces want bays alike.
pub(super) fn usual_sled_work(has_infill: bool) -> SledWork {
    SledWork {
        aim: if has_infill { Aim::Bays } else { Aim::Places },
        order: StepOrder::default(),
    }
}

pub(super) fn read_sled_work(fields: Fields<'_>, has_infill: bool) -> Option<SledWork> {
    let usual = usual_sled_work(has_infill);
    let aims = [Aim::Places, Aim::Bays].map(|aim| (aim.name(), aim));
    let aim = if fields.has("aim") {
        fields.choice_or_usual("aim", &aims)
    } else {
        Some(usual.aim)
    };
    let orders = [StepOrder::Stops, StepOrder::Bundles].map(|order| (order.name(), order));
    let order = fields.choice_or_usual("order", &orders);
    fields.finish();
    Some(SledWork {
        aim: aim?,
        order: order?,
    })
}
