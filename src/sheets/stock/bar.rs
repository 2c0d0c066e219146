//! A stick as a bar of letters.

use crate::instructions::stock_plan::CutStick;
use crate::units::{Mm, UnitSystem};

/// Columns that a whole stick takes.
const COLUMNS: f64 = 86.0;

/// The stick's parts to scale, from the end that is trimmed first: a stroke for every cut, the part's length
/// between where there is room; points for what is left.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // places on a line
pub(super) fn bar(stick: &CutStick, units: UnitSystem) -> String {
    let column = |mm: f64| (mm / stick.stock_mm * COLUMNS).round().max(0.0) as usize;
    let mut text = String::new();
    let mut at = stick.trim_mm;
    text.push('|');
    for cut in &stick.cuts {
        let from = column(at).max(text.chars().count() - 1);
        at += cut.length_mm + stick.kerf_mm;
        let to = column(at).max(from + 1);
        text.push_str(&segment(to - from - 1, &Mm(cut.length_mm).figure(units)));
        text.push('|');
    }
    let rest = (COLUMNS as usize + 1).saturating_sub(text.chars().count());
    text.push_str(&".".repeat(rest));
    text
}

/// So many columns with a label in the middle where it fits.
fn segment(columns: usize, label: &str) -> String {
    let letters = label.chars().count();
    if letters + 2 > columns {
        return "-".repeat(columns);
    }
    let before = (columns - letters) / 2;
    let after = columns - letters - before;
    format!("{}{label}{}", "-".repeat(before), "-".repeat(after))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::stock_plan::StickCut;

    #[test]
    fn parts_are_to_scale() {
        let cut = |length_mm| StickCut {
            what: "x".into(),
            length_mm,
            need: 1,
        };
        let stick = CutStick {
            section: 1,
            stock_mm: 860.0,
            sold: None,
            count: 1,
            cuts: vec![cut(400.0), cut(200.0), cut(10.0)],
            left_mm: 250.0,
            trim_mm: 0.0,
            kerf_mm: 0.0,
        };
        let text = bar(&stick, UnitSystem::Millimetres);
        assert_eq!(text.chars().count(), 87, "{text}");
        let strokes: Vec<usize> = text.match_indices('|').map(|(at, _)| at).collect();
        assert_eq!(strokes, [0, 40, 60, 61]);
        assert!(text.contains("400.00") && text.ends_with("...."), "{text}");
    }
}
