//! What keeps a design from being built, and what is unusual about it.

use super::grid_types::SquareGrid;
use super::layout::notch_width;
use super::panel::{Design, Grid, StripSection};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::phrase;
use crate::units::{AtLeast, Mm};
use std::f64::consts::FRAC_PI_2;

/// More bays than this in one direction are taken for a slip of the pen.
pub const MOST_BAYS: usize = 500;

/// Longer strips than this are taken for a slip of the pen, mm.
pub const MOST_STRIP_LENGTH_MM: f64 = 10_000.0;

/// Thinner wood than this under a notch breaks in the hand. Common practice, no source, mm.
const LEAST_FLOOR_MM: f64 = 1.0;

/// Customary sections of kumiko strips: thickness 2 to 6, depth 6 to 30 mm. Common practice, no
/// source; outside them there is a warning only.
const USUAL_THICKNESS_MM: std::ops::RangeInclusive<f64> = 2.0..=6.0;
const USUAL_DEPTH_MM: std::ops::RangeInclusive<f64> = 6.0..=30.0;

pub(super) fn faults(design: &Design) -> Vec<Finding> {
    let mut found = section_faults(&design.strip);
    match &design.grid {
        Grid::Square(grid) => found.extend(square_faults(grid, &design.strip)),
    }
    found
}

pub(super) fn warnings(design: &Design) -> Vec<Finding> {
    let StripSection {
        thickness,
        depth,
        clearance,
        ..
    } = design.strip;
    let mut found = Vec::new();
    if !USUAL_THICKNESS_MM.contains(&thickness) {
        let text = phrase!(
            "{} is an unusual strip thickness; lattice strips are mostly {} to {}",
            Mm(thickness),
            Mm(*USUAL_THICKNESS_MM.start()),
            Mm(*USUAL_THICKNESS_MM.end())
        );
        found.push(Finding::warning(
            "unusual-thickness",
            "strip.thickness",
            text,
        ));
    }
    if !USUAL_DEPTH_MM.contains(&depth) {
        let text = phrase!(
            "{} is an unusual strip depth; lattice strips are mostly {} to {}",
            Mm(depth),
            Mm(*USUAL_DEPTH_MM.start()),
            Mm(*USUAL_DEPTH_MM.end())
        );
        found.push(Finding::warning("unusual-depth", "strip.depth", text));
    }
    if clearance > thickness / 10.0 {
        let text = phrase!(
            "a clearance of {} is more than a tenth of the thickness: the laps will be loose",
            Mm(clearance)
        );
        found.push(Finding::warning("loose-lap", "strip.clearance", text));
    }
    if clearance < -thickness / 20.0 {
        let text = phrase!(
            "a press fit of {} is more than a twentieth of the thickness: the laps may split",
            Mm(-clearance)
        );
        found.push(Finding::warning("tight-lap", "strip.clearance", text));
    }
    found
}

fn section_faults(strip: &StripSection) -> Vec<Finding> {
    let StripSection {
        thickness,
        depth,
        clearance,
        least_web,
        ..
    } = *strip;
    let mut found = Vec::new();
    let mut not_positive = |field: &str, value: f64| {
        if value <= 0.0 {
            let text = phrase!("{} leaves no wood", Mm(value));
            found.push(Finding::error("not-positive", field, text).hint("give a size above zero"));
        }
    };
    not_positive("strip.thickness", thickness);
    not_positive("strip.depth", depth);
    not_positive("strip.least_web", least_web);
    if thickness > 0.0 && clearance.abs() > thickness / 2.0 {
        let text = phrase!(
            "a clearance of {} is more than half the strip's thickness of {}",
            Mm(clearance),
            Mm(thickness)
        );
        found.push(
            Finding::error("clearance-too-large", "strip.clearance", text)
                .hint("clearance is what the notch is wider than the strip that lies in it, some hundredths of a millimetre"),
        );
    }
    if depth > 0.0 && depth / 2.0 < LEAST_FLOOR_MM {
        let text = phrase!(
            "a strip {} deep keeps {} at a half lap",
            Mm(depth),
            Mm(depth / 2.0)
        );
        found.push(
            Finding::error("too-thin-for-laps", "strip.depth", text).hint(phrase!(
                "at least {} must stay: make it {} deep or more",
                Mm(LEAST_FLOOR_MM),
                AtLeast(2.0 * LEAST_FLOOR_MM)
            )),
        );
    }
    found
}

fn square_faults(grid: &SquareGrid, strip: &StripSection) -> Vec<Finding> {
    let mut found = Vec::new();
    let width = notch_width(strip.thickness, strip.clearance, FRAC_PI_2);
    let mut direction = |field: &str, pitches: &[f64], length: f64| {
        if pitches.is_empty() || pitches.len() > MOST_BAYS {
            let text = phrase!("{} bays in one direction", pitches.len());
            let hint = phrase!("1 to {} bays can be built", MOST_BAYS);
            found.push(Finding::error("bays-out-of-range", field, text).hint(hint));
        }
        for (at, &pitch) in pitches.iter().enumerate() {
            let field = format!("{field}[{at}]");
            found.extend(pitch_fault(field, pitch, width, strip));
        }
        if length > MOST_STRIP_LENGTH_MM + SAME_POSITION_MM {
            let text = phrase!("strips come out {} long", Mm(length));
            let hint = phrase!(
                "no strip is longer than {}: check the units",
                Mm(MOST_STRIP_LENGTH_MM)
            );
            found.push(Finding::error("strip-too-long", field, text).hint(hint));
        }
    };
    direction("grid.pitches_x", &grid.pitches_x, grid.width());
    direction("grid.pitches_y", &grid.pitches_y, grid.height());
    let end = grid.overhang - width / 2.0;
    if end < strip.least_web - SAME_POSITION_MM {
        let text = phrase!(
            "an overhang of {} leaves {} between the first notch and the strip's end; at least {} must stay",
            Mm(grid.overhang),
            Mm(end.max(0.0)),
            Mm(strip.least_web)
        );
        let hint = phrase!(
            "make the overhang {} or more; it is trimmed off after glue-up",
            AtLeast(strip.least_web + width / 2.0)
        );
        found.push(Finding::error("overhang-too-short", "grid.overhang", text).hint(hint));
    }
    found
}

fn pitch_fault(field: String, pitch: f64, width: f64, strip: &StripSection) -> Option<Finding> {
    let least = strip.least_web + width;
    if pitch <= strip.thickness {
        let text = phrase!(
            "a pitch of {} leaves no opening between strips {} thick",
            Mm(pitch),
            Mm(strip.thickness)
        );
        let hint = phrase!(
            "pitch is measured from centre line to centre line; make it {} or more",
            AtLeast(least)
        );
        return Some(Finding::error("pitch-within-thickness", field, text).hint(hint));
    }
    if pitch - width < strip.least_web - SAME_POSITION_MM {
        let text = phrase!(
            "a pitch of {} leaves {} of wood between notches {} wide; at least {} must stay",
            Mm(pitch),
            Mm((pitch - width).max(0.0)),
            Mm(width),
            Mm(strip.least_web)
        );
        let hint = phrase!("make the pitch {} or more", AtLeast(least));
        return Some(Finding::error("web-too-thin", field, text).hint(hint));
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Faults of a 2 by 2 grid whose webs are just as wide as they must be.
    fn tight(pitch: f64, thickness: f64, clearance: f64, least_web: f64) -> Vec<Finding> {
        let strip = StripSection {
            thickness,
            depth: 12.0,
            clearance,
            least_web,
            wood: None,
        };
        let grid = SquareGrid {
            pitches_x: vec![pitch; 2],
            pitches_y: vec![pitch; 2],
            overhang: least_web + (thickness + clearance) / 2.0,
        };
        square_faults(&grid, &strip)
    }

    #[test]
    fn a_web_as_wide_as_it_must_be_is_wide_enough() {
        // 5.02 - 3.02 is 1.9999999999999996 in binary fractions.
        for hundredths in 0..60 {
            let clearance = f64::from(hundredths) / 100.0;
            let pitch = f64::from(500 + hundredths) / 100.0;
            assert_eq!(tight(pitch, 3.0, clearance, 2.0), [], "{clearance}");
        }
        assert_eq!(tight(5.0, 3.0, 0.02, 2.0).len(), 4);
    }
}
