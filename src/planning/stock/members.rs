//! The frame's members as blanks.

use super::order::StockOrder;
use super::part::need;
use crate::geometry::tolerance::POSITION;
use crate::instructions::rails::RailPlan;
use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind, NeedNote};
use crate::machines::SpareShares;
use float_cmp::ApproxEq;

/// A member's blank: name, width, length, what its length has in it.
struct Blank {
    name: String,
    width: f64,
    length: f64,
    note: Option<NeedNote>,
}

/// Members of one width and length together; none where the job does not say how wide they are.
pub(super) fn members(order: &StockOrder<'_>) -> Vec<Need> {
    let Some(rails) = order.rails else {
        return Vec::new();
    };
    let surfacing = order.wishes.milling.surfacing.value;
    let mut kinds: Vec<Need> = Vec::new();
    for blank in blanks(rails) {
        let section = [blank.width, rails.thickness_mm];
        let is_same = |kind: &&mut Need| {
            kind.length_mm.approx_eq(blank.length, POSITION)
                && kind.section_mm[0].approx_eq(blank.width, POSITION)
        };
        match kinds.iter_mut().find(is_same) {
            Some(kind) => {
                kind.count += 1;
                kind.what = format!("{}, {}", kind.what, blank.name);
            }
            None => kinds.push(Need {
                rough_mm: Some(section.map(|mm| mm + surfacing)),
                note: blank.note,
                ..need(
                    (blank.name, NeedKind::Member),
                    section,
                    (blank.length, 1),
                    NeedFrom::Stick,
                )
            }),
        }
    }
    for kind in &mut kinds {
        kind.spare = SpareShares::of(order.wishes.spares.members, kind.count);
    }
    kinds
}

fn blanks(rails: &RailPlan) -> Vec<Blank> {
    if let Some(mitres) = &rails.mitres {
        let members = mitres.members.iter().map(|member| Blank {
            name: member.name.clone(),
            width: member.width_mm,
            length: member.blank_mm,
            note: Some(NeedNote::Allowance {
                allowance_mm: mitres.allowance_mm,
            }),
        });
        return members.collect();
    }
    let Some(tenons) = &rails.tenons else {
        return Vec::new();
    };
    let level = tenons.rails.iter().map(|rail| Blank {
        name: rail.name.clone(),
        width: rail.width_mm,
        length: rail.cut_length_mm,
        note: None,
    });
    let upright = tenons.stiles.iter().map(|stile| Blank {
        name: stile.name.clone(),
        width: stile.width_mm,
        length: stile.blank_mm,
        note: Some(NeedNote::Horns {
            horn_mm: tenons.horn_mm,
        }),
    });
    level.chain(upright).collect()
}
