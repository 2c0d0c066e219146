//! What keeps a square grid from being built.

use super::limits::{MOST_BAYS, MOST_STRIP_LENGTH_MM};
use crate::finding::Finding;
use crate::geometry::SAME_POSITION_MM;
use crate::lattice::design::StripSection;
use crate::lattice::grid_types::SquareGrid;
use crate::lattice::strip::notch_width;
use crate::phrase;
use crate::units::{AtLeast, Mm};
use std::f64::consts::FRAC_PI_2;

pub(super) fn faults(grid: &SquareGrid, strip: &StripSection) -> Vec<Finding> {
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
        let text = if end > 0.0 {
            phrase!(
                "an overhang of {} leaves {} between the first notch and the strip's end; at least {} must stay",
                Mm(grid.overhang),
                Mm(end),
                Mm(strip.least_web)
            )
        } else {
            phrase!(
                "with an overhang of {} the strip ends within its first notch; at least {} must stay beside it",
                Mm(grid.overhang),
                Mm(strip.least_web)
            )
        };
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
    use crate::lattice::Joinery;
    use crate::units::UnitSystem;

    /// Faults of a 2 by 2 grid whose webs are just as wide as they must be.
    fn tight(pitch: f64, thickness: f64, clearance: f64, least_web: f64) -> Vec<Finding> {
        let strip = StripSection {
            thickness,
            depth: 12.0,
            clearance,
            drawn: None,
            least_web,
            wood: None,
            density: None,
            joinery: Joinery::default(),
        };
        let grid = SquareGrid {
            pitches_x: vec![pitch; 2],
            pitches_y: vec![pitch; 2],
            overhang: least_web + (thickness + clearance) / 2.0,
        };
        faults(&grid, &strip)
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

    #[test]
    fn the_least_pitch_is_a_notch_and_a_web() {
        // 3 and 0.05 for the notch, 2 that must stay; a pitch of the thickness leaves no opening.
        for (pitch, code, wanted) in [
            (5.0, "web-too-thin", "make the pitch 5.05 mm or more"),
            (
                3.0,
                "pitch-within-thickness",
                "pitch is measured from centre line to centre line; make it 5.05 mm or more",
            ),
        ] {
            let found = tight(pitch, 3.0, 0.05, 2.0);
            assert_eq!(found.len(), 4);
            for fault in found {
                let hint = fault.hint.unwrap().text(UnitSystem::Millimetres);
                assert_eq!((fault.code, hint.as_str()), (code, wanted));
            }
        }
    }
}
