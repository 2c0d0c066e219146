//! The answer on a terminal, and the cards of the booklet.

use super::buy::{buy_section, wood_section};
use super::cuts::{cut_lines, cut_section};
use super::milling::milling_sections;
use super::needs::needs_section;
use super::time::time_section;
use crate::instructions::safety::SafetyNotes;
use crate::instructions::sheet::{Section, SetupSheet, SheetPart};
use crate::instructions::stock_plan::StockPlan;
use crate::machines::StockWishes;
use crate::sheets::measured_stock::stock_section;
use crate::units::UnitSystem;

/// What to buy, the cut list, the milling, all parts, the time: in the order in which it is asked for.
pub fn stock_answer_sheet(plan: &StockPlan, wishes: &StockWishes, units: UnitSystem) -> SetupSheet {
    let mut sections = vec![buy_section(plan)];
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.extend(cut_lines(plan, units));
    sections.extend(milling_sections(plan, wishes, false));
    sections.extend(wood_and_time(plan));
    SetupSheet {
        part: SheetPart::Stock,
        title: format!("{} - wood", plan.title),
        heading: "Wood".into(),
        safety: SafetyNotes::for_milling(),
        sections,
    }
}

/// What to buy, the cut list with its pictures, all parts.
pub fn shopping_sheet(plan: &StockPlan) -> SetupSheet {
    let mut sections = vec![buy_section(plan)];
    sections.extend(stock_section(plan.measured_stock.as_ref()));
    sections.extend(cut_section(plan));
    sections.extend(wood_and_time(plan));
    SetupSheet {
        part: SheetPart::Stock,
        title: format!("{} - wood to buy and cut up", plan.title),
        heading: "Wood: buy and cut up".into(),
        safety: SafetyNotes::for_crosscuts(),
        sections,
    }
}

/// All parts, their volume and weight, the time.
fn wood_and_time(plan: &StockPlan) -> Vec<Section> {
    let mut sections = vec![needs_section(plan)];
    if !plan.sections.is_empty() {
        sections.push(wood_section(plan));
    }
    sections.push(time_section(plan));
    sections
}

/// From boards to sticks; nothing where no board is milled.
pub fn milling_sheet(plan: &StockPlan, wishes: &StockWishes) -> Option<SetupSheet> {
    let sections = milling_sections(plan, wishes, true);
    (!sections.is_empty()).then(|| SetupSheet {
        part: SheetPart::Milling,
        title: format!("{} - boards to sticks", plan.title),
        heading: "Milling: boards to sticks".into(),
        safety: SafetyNotes::for_milling(),
        sections,
    })
}
