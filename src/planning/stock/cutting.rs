//! The cut plan of one section.

use super::order::StockOrder;
use super::sections::Section;
use crate::finding::Finding;
use crate::instructions::stock_plan::{
    CutStick, CuttingFigures, KerfFrom, Need, NeedFrom, StickCut,
};
use crate::machines::{StockAim, StockWishes};
use crate::phrase;
use crate::phrase::Phrase;
use crate::stick_cutting::{Aim, Counted, CutFault, CutTask, Part, Saw, Stock, cut_plan};
use crate::units::{AtLeast, Brief};

/// Sticks of one length that parts may be cut from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Offered {
    pub(super) stock: Stock,
    /// The job's field of their length.
    pub(super) field: String,
    /// Place in the job's list, where they stand in it.
    pub(super) sold: Option<usize>,
}

/// How one section's sticks are cut.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cut {
    pub(super) sticks: Vec<CutStick>,
    pub(super) bound: f64,
    pub(super) proved: bool,
    /// Whether the bound is of what is bought; else of what is used.
    pub(super) of_bought: bool,
    /// Whether it is money; else a number of sticks.
    pub(super) in_cost: bool,
}

/// How sticks are cut to length.
pub(super) fn figures(order: &StockOrder<'_>) -> CuttingFigures {
    let wishes = order.wishes;
    let sled = order.sled.map(|sled| sled.machine.blade.kerf);
    let (kerf_mm, kerf_from) = match (wishes.kerf, sled) {
        (Some(kerf), _) => (kerf, KerfFrom::Job),
        (None, Some(kerf)) => (kerf, KerfFrom::Sled),
        (None, None) => (StockWishes::USUAL_KERF_MM, KerfFrom::Example),
    };
    CuttingFigures {
        kerf_mm,
        kerf_from,
        trim_mm: wishes.trim.value,
        least_held_mm: wishes.least_held.value,
        least_held_is_own: wishes.least_held.is_own,
    }
}

/// A section's parts, by the numbers of their needs.
struct Parts<'a>(Vec<(usize, &'a Need)>);

impl Parts<'_> {
    fn cut(&self, at: usize) -> Option<StickCut> {
        let (number, need) = self.0.get(at)?;
        Some(StickCut {
            what: need.what.clone(),
            length_mm: need.length_mm,
            need: *number,
        })
    }
}

/// The fewest sticks, or the cheapest, for a section's parts.
///
/// # Errors
/// Parts that no stick does for, at the job's fields.
pub(super) fn cut(
    section: &Section,
    needs: &[Need],
    offered: &[Offered],
    (cutting, aim): (&CuttingFigures, StockAim),
) -> Result<Cut, Vec<Finding>> {
    let own = (1..).zip(needs).filter(|(_, need): &(usize, &Need)| {
        need.section == Some(section.number) && need.from == NeedFrom::Stick
    });
    let parts = Parts(own.collect());
    let task = CutTask {
        parts: (parts.0.iter())
            .map(|(_, need)| Part {
                length: need.length_mm,
                count: need.count + need.spare,
            })
            .collect(),
        stocks: offered.iter().map(|offered| offered.stock).collect(),
        saw: Saw {
            kerf: cutting.kerf_mm,
            trim: cutting.trim_mm,
            hold: cutting.least_held_mm,
        },
        aim: match aim {
            StockAim::Sticks => Aim::FewestSticks,
            StockAim::Cost => Aim::LeastCost,
        },
    };
    let plan = cut_plan(&task).map_err(|faults| {
        let told = faults.iter().map(|fault| finding(fault, &parts, offered));
        told.collect::<Vec<Finding>>()
    })?;
    let sticks = plan.sticks.iter().map(|alike| {
        let from = offered.get(alike.stock);
        CutStick {
            section: section.number,
            stock_mm: from.map_or(0.0, |from| from.stock.length),
            sold: from.and_then(|from| from.sold),
            count: alike.count,
            cuts: alike
                .cuts
                .iter()
                .filter_map(|part| parts.cut(*part))
                .collect(),
            left_mm: alike.left,
            trim_mm: cutting.trim_mm,
            kerf_mm: cutting.kerf_mm,
        }
    });
    Ok(Cut {
        sticks: sticks.collect(),
        bound: plan.bound,
        proved: plan.proved,
        of_bought: plan.counted == Counted::Bought,
        in_cost: plan.aim == Aim::LeastCost,
    })
}

/// At the field that could be put right.
fn finding(fault: &CutFault, parts: &Parts<'_>, offered: &[Offered]) -> Finding {
    let need = |part: &usize| parts.0.get(*part).map(|(_, need)| *need);
    let named = |part: &usize| {
        need(part).map_or_else(Phrase::default, |need| {
            phrase!("{} of {}: ", &need.what, Brief(need.length_mm))
        })
    };
    let by_length = |a: &&Offered, b: &&Offered| a.stock.length.total_cmp(&b.stock.length);
    let longest = offered.iter().max_by(by_length);
    let longest = longest.map_or_else(
        || "stock.sticks".to_owned(),
        |longest| longest.field.clone(),
    );
    let counted = offered.iter().find(|offered| offered.stock.count.is_some());
    let counted = counted.and_then(|offered| offered.sold);
    let counted = counted.map_or_else(
        || "stock.sticks".to_owned(),
        |at| format!("stock.sticks[{at}].count"),
    );
    let (code, field, lead, hint) = match fault {
        CutFault::PartTooLong { part, longest: out } => {
            let lacks = need(part).map_or(0.0, |need| need.length_mm - out);
            let has = offered
                .iter()
                .map(|offered| offered.stock.length)
                .fold(0.0, f64::max);
            let hint = phrase!("it takes sticks of {} or more", AtLeast(has + lacks));
            ("stock-too-short", longest, named(part), hint)
        }
        CutFault::PartNotHeld { part, needed } => {
            let hint = phrase!(
                "take sticks of {} or more, or a saw's set-up that holds shorter wood safely, as its manual has it, and write that as least_held",
                AtLeast(*needed)
            );
            ("not-held", longest, named(part), hint)
        }
        CutFault::TooFewSticks { .. } => {
            let hint = "raise the count, or add sticks for sale: [[stock.sticks]] with a length and no count";
            ("too-few-sticks", counted, Phrase::default(), hint.into())
        }
        CutFault::Kerf => (
            "not-positive",
            "stock.kerf".into(),
            Phrase::default(),
            "kerf = \"1.1 mm\"".into(),
        ),
        _ => (
            "out-of-range",
            longest,
            Phrase::default(),
            "`lapwright help job` has what may stand in [stock]".into(),
        ),
    };
    let mut message = lead;
    message.append(fault.words());
    Finding::error(code, field, message).hint(hint)
}
