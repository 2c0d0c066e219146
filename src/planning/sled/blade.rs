//! A saw blade in a notch: height, passes, what it leaves. Millimetres, radians.

use super::passes::{MOST_PASSES, drawn_width, notch_passes};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::geometry::tolerance::POSITION;
use crate::instructions::saw::SawSetting;
use crate::instructions::sled::BladeSetting;
use crate::lattice::Lattice;
use crate::machines::{Sled, Tooth};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;
use float_cmp::ApproxEq;

/// Smaller differences are printed as nothing.
pub(crate) const PRINTED_MM: f64 = 0.005;

/// Half the length of blade that stands above a plane at `depth` below its crown, for a blade of
/// radius `radius`: half the chord at that plane, `sqrt(2 R h - h^2)` (Pythagoras on the radius,
/// the chord and the distance of the plane from the centre).
pub(in crate::planning) fn half_chord(radius: f64, depth: f64) -> f64 {
    (2.0 * radius * depth - depth * depth).max(0.0).sqrt()
}

/// The width that a notch drawn with a width comes out with, both square to the kerf: a single pass makes it
/// as wide as the kerf, several as wide as drawn.
pub(super) fn cut_width(drawn: f64, sled: &Sled) -> f64 {
    match notch_passes(drawn, sled) {
        (1, _) => sled.blade.kerf,
        _ => drawn,
    }
}

/// What a single pass leaves of the drawn width, where that can be seen in print.
fn one_pass_short(lattice: &Lattice, sled: &Sled) -> Option<f64> {
    let drawn = drawn_width(lattice);
    let short = drawn - cut_width(drawn, sled);
    (short >= PRINTED_MM).then_some(short)
}

fn fit(clearance: f64) -> Phrase {
    let word = if clearance < 0.0 { "tight" } else { "loose" };
    phrase!("{} {}", Mm(clearance.abs()), word)
}

/// What one pass in place of two costs.
fn one_pass_warning(short: f64, lattice: &Lattice, sled: &Sled) -> Finding {
    let settable = sled.stop.map_or(0.0, |stop| stop.repeatability);
    let section = &lattice.section;
    let mut text = phrase!(
        "a second pass would move the stop by {}, which repeats to {}: one pass is taken, notches come out {} narrower than drawn, and laps ",
        Mm(short),
        Mm(settable),
        Mm(short)
    );
    text.append(fit(sled.blade.kerf - section.thickness));
    text.append(phrase!(" instead of "));
    text.append(fit(section.clearance));
    let hint = phrase!(
        "to have them as drawn: strips {} thick",
        Mm(sled.blade.kerf - section.clearance)
    );
    Finding::warning("one-pass-narrower", "blade.kerf", text).hint(hint)
}

fn too_many_passes(count: usize, width: f64, kerf: f64, overlap: f64) -> Option<Finding> {
    let text = phrase!(
        "a kerf of {} with an overlap of {} takes {} passes for a notch {} wide",
        Mm(kerf),
        Mm(overlap),
        count,
        Mm(width)
    );
    let hint = phrase!(
        "at most {} are planned: a thicker blade, or less overlap",
        MOST_PASSES
    );
    let fault = Finding::error("too-many-passes", "blade.kerf", text).hint(hint);
    (count > MOST_PASSES).then_some(fault)
}

/// How much higher the floor is in the middle of a kerf cut by teeth bevelled left and right:
/// each tip slopes away over half the kerf.
pub(in crate::planning) fn floor_ridge(kerf: f64, tooth: Tooth) -> f64 {
    match tooth {
        Tooth::FlatTop => 0.0,
        Tooth::AlternateBevel(bevel) => kerf / 2.0 * bevel.tan(),
    }
}

/// What the deepest setting says, and what holds for all of them.
pub(super) fn blade_setting(
    lattice: &Lattice,
    sled: &Sled,
    deepest: &SawSetting,
    warnings: &mut Vec<Finding>,
) -> BladeSetting {
    let floor_ridge_mm = floor_ridge(sled.blade.kerf, sled.blade.tooth);
    if floor_ridge_mm > 0.0 {
        let text = phrase!(
            "bevelled teeth leave the notch's floor up to {} higher in the middle of a pass than at its tips",
            Mm(floor_ridge_mm)
        );
        warnings.push(
            Finding::warning("floor-not-flat", "blade.tooth", text)
                .hint("a flat-top blade leaves a flat floor; or pare the ridge before assembly"),
        );
    }
    let (_, pass_shift_mm) = notch_passes(drawn_width(lattice), sled);
    let one_pass_short_mm = one_pass_short(lattice, sled);
    warnings.extend(one_pass_short_mm.map(|short| one_pass_warning(short, lattice, sled)));
    BladeSetting {
        height_above_base_mm: deepest.height_above_base_mm,
        height_above_table_mm: deepest.height_above_table_mm,
        passes_per_notch: deepest.passes_per_notch,
        one_pass_short_mm,
        pass_shift_mm,
        half_chord_mm: deepest.half_chord_mm,
        travel_mm: None,
        floor_ridge_mm,
    }
}

/// Heights that the blade cannot have, and passes that nobody saws.
pub(super) fn blade_faults(
    lattice: &Lattice,
    sled: &Sled,
    settings: &[SawSetting],
) -> Vec<Finding> {
    let mut faults = Vec::new();
    let mut seen: Vec<f64> = Vec::new();
    for setting in settings {
        let known = |depth: &f64| depth.approx_eq(setting.depth_mm, POSITION);
        if !seen.iter().any(known) {
            seen.push(setting.depth_mm);
            faults.extend(height_faults(lattice, sled, setting));
        }
    }
    if let Some(powered) = sled.blade.powered {
        let widths = settings.iter().map(|setting| setting.width);
        let width = widths.fold(drawn_width(lattice), f64::max);
        let (count, _) = notch_passes(width, sled);
        faults.extend(too_many_passes(
            count,
            width,
            sled.blade.kerf,
            powered.overlap,
        ));
    }
    faults
}

fn height_faults(lattice: &Lattice, sled: &Sled, setting: &SawSetting) -> Vec<Finding> {
    let mut faults = Vec::new();
    let height = setting.height_above_base_mm;
    let above_table = setting.height_above_table_mm;
    if height <= 0.0 {
        let text = phrase!(
            "a correction of {} leaves no height of a notch {} deep",
            Mm(sled.height_correction),
            Mm(setting.depth_mm)
        );
        faults.push(Finding::error(
            "correction-too-large",
            "sled.height_correction",
            text,
        ));
    }
    if let Some(powered) = sled.blade.powered
        && above_table > powered.highest + SAME_POSITION_MM
    {
        let text = phrase!(
            "the blade must stand {} over the table (base {} and notch {}); this saw reaches {}",
            Mm(above_table),
            Mm(sled.base_thickness),
            Mm(height),
            Mm(powered.highest)
        );
        faults.push(
            Finding::error("blade-too-low", "blade.highest", text)
                .hint("a thinner base, or shallower strips"),
        );
    }
    if height >= lattice.section.depth {
        let text = phrase!(
            "with a correction of {} the blade stands {} over the base and cuts strips {} deep through",
            Mm(sled.height_correction),
            Mm(height),
            Mm(lattice.section.depth)
        );
        let fault = Finding::error("correction-too-large", "sled.height_correction", text);
        faults.push(fault.hint("it makes up for some tenths of a millimetre"));
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    #[test]
    fn half_chords_of_a_ten_inch_blade() {
        // Computed apart from this code with R = 127 mm.
        for (depth, wanted) in [
            (3.0, 27.4408),
            (6.0, 38.5746),
            (10.0, 49.3964),
            (18.0, 65.1767),
        ] {
            assert!(
                approx_eq!(f64, half_chord(127.0, depth), wanted, epsilon = 5e-5),
                "{depth}"
            );
        }
    }

    #[test]
    fn bevelled_teeth_leave_a_ridge() {
        // k/2 tan(bevel): 2.4 mm at 15 deg 0.32, 3.175 mm at 20 deg 0.58.
        let ridge = |kerf, bevel: f64| floor_ridge(kerf, Tooth::AlternateBevel(bevel.to_radians()));
        assert!(approx_eq!(f64, ridge(2.4, 15.0), 0.3215, epsilon = 1e-4));
        assert!(approx_eq!(f64, ridge(3.175, 20.0), 0.5778, epsilon = 1e-4));
        assert_eq!(floor_ridge(3.0, Tooth::FlatTop), 0.0);
    }
}
