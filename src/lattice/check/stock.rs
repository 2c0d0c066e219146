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

/// Sizes that differ: field of what was drawn, of what was measured, its name, drawn, measured.
type Size = (&'static str, &'static str, &'static str, f64, f64);

fn sizes(strip: &StripSection) -> impl Iterator<Item = Size> {
    let sizes = strip.drawn.as_ref().map(|drawn| {
        [
            (
                "strip.thickness",
                strip.thickness_field(),
                "thick",
                drawn.thickness,
                strip.thickness,
            ),
            (
                "strip.depth",
                strip.depth_field(),
                "deep",
                drawn.depth,
                strip.depth,
            ),
        ]
    });
    let differ = |size: &Size| size.0 != size.1;
    sizes.into_iter().flatten().filter(differ)
}

/// A drawn figure that leaves no wood (the measured one is looked at as the section is), or stock
/// that cannot be meant for it.
pub(super) fn faults(strip: &StripSection) -> Vec<Finding> {
    let fault = |(drawn_at, measured_at, _, drawn, measured): Size| {
        if drawn <= 0.0 {
            let text = phrase!("{} leaves no wood", Mm(drawn));
            let fault = Finding::error("not-positive", drawn_at, text);
            return Some(fault.hint("give a size above zero"));
        }
        let times = measured / drawn;
        if measured <= 0.0 || (1.0 / OTHER_STOCK..=OTHER_STOCK).contains(&times) {
            return None;
        }
        let text = phrase!(
            "{} measured where {} is drawn: this is other stock",
            Mm(measured),
            Mm(drawn)
        );
        let hint = "check the digits and the unit; if it is what the panel is to be made of, \
                    draw it so";
        Some(Finding::error("other-stock", measured_at, text).hint(hint))
    };
    sizes(strip).filter_map(fault).collect()
}

/// Stock that is out of proportion to what was drawn.
pub(super) fn warnings(strip: &StripSection) -> Vec<Finding> {
    let warning = |(_, measured_at, name, drawn, measured): Size| {
        let off = (measured - drawn) / drawn;
        let most = OUT_OF_PROPORTION * drawn + SAME_POSITION_MM;
        ((measured - drawn).abs() > most).then(|| {
            let text = phrase!(
                "{} measured where {} is drawn, {} % {}: stock is seldom that far off",
                Mm(measured),
                Mm(drawn),
                decimal(100.0 * off.abs(), 0).unwrap_or_default(),
                match (name, off > 0.0) {
                    ("thick", true) => "thicker",
                    ("thick", false) => "thinner",
                    (_, true) => "deeper",
                    (_, false) => "shallower",
                }
            );
            let finding = Finding::warning("stock-out-of-proportion", measured_at, text);
            finding.hint("check the digits and the unit against the caliper")
        })
    };
    sizes(strip).filter_map(warning).collect()
}
