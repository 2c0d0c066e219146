//! The cut list as rows for a spreadsheet.

use crate::instructions::stock_plan::StockPlan;
use crate::units::{NotPrintable, decimal};

/// A heading, then a row for every part of every kind of stick.
///
/// # Errors
/// Where a figure is not finite.
pub fn cut_list(plan: &StockPlan) -> Result<Vec<Vec<String>>, NotPrintable> {
    let heading = [
        "stick",
        "sticks",
        "for",
        "thickness_mm",
        "depth_mm",
        "stock_mm",
        "cut",
        "part",
        "length_mm",
        "left_mm",
    ];
    let mut rows = vec![heading.map(String::from).to_vec()];
    let mm = |value: f64| decimal(value, 3);
    for (number, stick) in (1..).zip(&plan.sticks) {
        let section = plan.section(stick.section);
        let [across, deep] = section.map_or([0.0; 2], |section| section.section_mm);
        for (at, cut) in (1..).zip(&stick.cuts) {
            rows.push(vec![
                format!("{number}"),
                stick.count.to_string(),
                section.map_or("", |section| section.used_for).to_owned(),
                mm(across)?,
                mm(deep)?,
                mm(stick.stock_mm)?,
                format!("{at}"),
                cut.what.clone(),
                mm(cut.length_mm)?,
                mm(stick.left_mm)?,
            ]);
        }
    }
    Ok(rows)
}
