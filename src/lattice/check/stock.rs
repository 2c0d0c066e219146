//! Stock that is not what was drawn: how far it may be off.

use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::design::StripSection;
use crate::phrase;
use crate::units::{Mm, decimal};

/// Stock farther than this from what was drawn is more likely a slip of the pen than of the
/// planer, as a share of what was drawn. Common practice, no source.
const OUT_OF_PROPORTION: f64 = 0.15;

/// Stock of more than this many times what was drawn, or less than the inverse, is other stock or
/// another unit.
const OTHER_STOCK: f64 = 2.0;

/// What of a strip is measured.
#[derive(Clone, Copy)]
enum Size {
    Thickness,
    Depth,
}

impl Size {
    /// How stock that is off by so much is called, mm.
    fn comparative(self, off: f64) -> &'static str {
        match (self, off > 0.0) {
            (Size::Thickness, true) => "thicker",
            (Size::Thickness, false) => "thinner",
            (Size::Depth, true) => "deeper",
            (Size::Depth, false) => "shallower",
        }
    }
}

/// A size that was drawn and measured, mm.
struct Measured {
    size: Size,
    /// Field of what was drawn.
    drawn_at: &'static str,
    /// Field of what was measured; the drawn one's where nothing else was.
    measured_at: &'static str,
    drawn: f64,
    measured: f64,
}

/// The sizes that were measured and differ from what was drawn.
fn differing(strip: &StripSection) -> impl Iterator<Item = Measured> {
    let sizes = strip.drawn.as_ref().map(|drawn| {
        [
            Measured {
                size: Size::Thickness,
                drawn_at: "strip.thickness",
                measured_at: strip.thickness_field(),
                drawn: drawn.thickness,
                measured: strip.thickness,
            },
            Measured {
                size: Size::Depth,
                drawn_at: "strip.depth",
                measured_at: strip.depth_field(),
                drawn: drawn.depth,
                measured: strip.depth,
            },
        ]
    });
    let differs = |one: &Measured| one.drawn_at != one.measured_at;
    sizes.into_iter().flatten().filter(differs)
}

/// A drawn figure that leaves no wood (the measured one is looked at as the section is), or stock
/// that cannot be meant for it.
pub(super) fn faults(strip: &StripSection) -> Vec<Finding> {
    differing(strip).filter_map(|one| fault(&one)).collect()
}

fn fault(one: &Measured) -> Option<Finding> {
    if one.drawn <= 0.0 {
        let text = phrase!("{} leaves no wood", Mm(one.drawn));
        let fault = Finding::error("not-positive", one.drawn_at, text);
        return Some(fault.hint("give a size above zero"));
    }
    let times = one.measured / one.drawn;
    if one.measured <= 0.0 || (1.0 / OTHER_STOCK..=OTHER_STOCK).contains(&times) {
        return None;
    }
    let text = phrase!(
        "{} measured where {} is drawn: this is other stock",
        Mm(one.measured),
        Mm(one.drawn)
    );
    let hint = "check the digits and the unit; if it is what the panel is to be made of, \
                draw it so";
    Some(Finding::error("other-stock", one.measured_at, text).hint(hint))
}

/// Stock that is out of proportion to what was drawn.
pub(super) fn warnings(strip: &StripSection) -> Vec<Finding> {
    differing(strip).filter_map(|one| warning(&one)).collect()
}

fn warning(one: &Measured) -> Option<Finding> {
    let off = one.measured - one.drawn;
    let most = OUT_OF_PROPORTION * one.drawn + SAME_POSITION_MM;
    (off.abs() > most).then(|| {
        let text = phrase!(
            "{} measured where {} is drawn, {} % {}: stock is seldom that far off",
            Mm(one.measured),
            Mm(one.drawn),
            decimal(100.0 * (off / one.drawn).abs(), 0).unwrap_or_default(),
            one.size.comparative(off)
        );
        let finding = Finding::warning("stock-out-of-proportion", one.measured_at, text);
        finding.hint("check the digits and the unit against the caliper")
    })
}
