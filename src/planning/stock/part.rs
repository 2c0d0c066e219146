//! A part as it is begun.

use crate::instructions::stock_plan::{Need, NeedFrom, NeedKind};

/// A part without spares, rough section or note.
pub(super) fn need(
    (what, kind): (String, NeedKind),
    section_mm: [f64; 2],
    (length_mm, count): (f64, usize),
    from: NeedFrom,
) -> Need {
    Need {
        what,
        kind,
        section_mm,
        length_mm,
        count,
        spare: 0,
        from,
        section: None,
        rough_mm: None,
        note: None,
    }
}
