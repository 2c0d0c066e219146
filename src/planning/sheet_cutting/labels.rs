//! Labels and the check line of parts that are made to measure by.

use super::relief::ROOM_MM;
use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::lettering;
use crate::machines::Laser;
use crate::phrase;
use crate::units::{AtLeast, MM_PER_INCH, Mm, UnitSystem, decimal};

/// Free room around an engraved label. Common practice, no source, mm.
pub(super) const LABEL_MARGIN_MM: f64 = 1.0;

/// Length of the check line, mm.
pub(super) const CHECK_LINE_MM: f64 = 50.0;

/// Length of its end marks, mm.
pub(super) const CHECK_END_MM: f64 = 1.5;

/// Largest letters on these parts, mm.
const TALLEST_MM: f64 = 4.0;

/// Height of the check line's letters, mm: there is no room for larger ones.
pub(super) const CHECK_LETTERS_MM: f64 = 2.5;

/// Smallest letters that are engraved readably. Common practice, no source, mm.
pub(super) const SMALLEST_MM: f64 = 1.0;

/// A line of known length, with a mark at either end that points up: who measures it in the
/// finished part, or in the laser's program, sees whether the scale is right.
pub(super) fn check_line(left: Point) -> Vec<Point> {
    let right = left.x + CHECK_LINE_MM;
    let top = left.y + CHECK_END_MM;
    vec![
        Point::new(left.x, top),
        left,
        Point::new(right, left.y),
        Point::new(right, top),
    ]
}

/// What the check line at `left` measures, between its ends.
pub(super) fn check_label(left: Point, height: f64) -> Vec<Vec<Point>> {
    let height = height.min(CHECK_LETTERS_MM);
    let text = "50 MM";
    let corner = Point::new(
        left.x + (CHECK_LINE_MM - lettering::width(text, height)) / 2.0,
        left.y + 1.0,
    );
    across(text, corner, height)
}

/// What letters a machine draws.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::planning) struct Letters {
    /// Height asked for, mm; zero for none.
    pub(super) height: f64,
    /// Lower ones cannot be read, mm.
    pub(super) least: f64,
    /// From the middle of their line to any edge or slot, mm.
    pub(super) clear: f64,
    /// Why there are none although they were asked for.
    pub(super) warning: Option<Finding>,
}

impl Letters {
    /// None.
    pub(in crate::planning) fn none() -> Self {
        Letters {
            height: 0.0,
            least: 0.0,
            clear: LABEL_MARGIN_MM,
            warning: None,
        }
    }

    /// The machine's: half the line and a corner's relief are kept clear besides the wall.
    pub(super) fn of(laser: &Laser) -> Self {
        let relief = laser
            .cutter
            .map_or(0.0, |cutter| cutter.diameter / 2.0 + ROOM_MM);
        let least = laser.least_letters();
        let too_low = laser.label_height > 0.0 && laser.label_height < least;
        Letters {
            height: if too_low { 0.0 } else { laser.label_height },
            least,
            clear: LABEL_MARGIN_MM + laser.letter_line / 2.0 + relief,
            warning: too_low.then(|| Letters::blots(laser, laser.label_height)),
        }
    }

    /// Field of the profile that asks for them.
    pub(super) fn field(laser: &Laser) -> &'static str {
        if laser.cutter.is_some() {
            "cutter.label_height"
        } else {
            "laser.label_height"
        }
    }

    fn blots(laser: &Laser, height: f64) -> Finding {
        let text = phrase!(
            "letters {} high cannot be read from a line {} wide, only from {} on: there are no labels",
            Mm(height),
            Mm(laser.letter_line),
            AtLeast(laser.least_letters())
        );
        Finding::warning("labels-too-low", Letters::field(laser), text).hint(
            "follow LETTERS with a pointed tool and write the width of its line: letter_line = \"0.3 mm\"",
        )
    }
}

/// The machine's letters, as high as parts that cannot do without them have room for.
///
/// # Errors
/// Where nothing is engraved, or only smaller than can be read.
pub(super) fn letter_height(laser: &Laser, room: f64, what: &str) -> Result<f64, Vec<Finding>> {
    let field = Letters::field(laser);
    if laser.label_height <= 0.0 {
        let text =
            format!("{what} say what they are for by their labels, and this profile has none");
        let fault = Finding::error("no-labels", field, text);
        return Err(vec![fault.hint("write label_height = \"2.5 mm\"")]);
    }
    let height = laser.label_height.min(TALLEST_MM).min(room);
    let least = laser.least_letters();
    if height < SMALLEST_MM.max(least) || CHECK_LETTERS_MM < least {
        let mut text = phrase!(
            "{} have room for letters {} high; they can be read from {} on",
            what,
            Mm(height.max(0.0)),
            AtLeast(least.max(SMALLEST_MM))
        );
        if laser.letter_line > 0.0 {
            text.append(phrase!(", drawn by a line {} wide", Mm(laser.letter_line)));
        }
        let fault = Finding::error("no-labels", field, text);
        return Err(vec![fault.hint(
            "wider steps, or taller letters; on a router follow LETTERS with a pointed tool and write the width of its line: letter_line = \"0.3 mm\"",
        )]);
    }
    Ok(height)
}

/// Letters that read along x from their lower left corner.
pub(super) fn across(text: &str, corner: Point, height: f64) -> Vec<Vec<Point>> {
    lettering::strokes(text, corner, height)
}

/// Letters that read upward; they stand on the line x = `middle` + half their height, their first
/// one at `bottom`.
pub(super) fn upward(text: &str, middle: f64, bottom: f64, height: f64) -> Vec<Vec<Point>> {
    // A quarter turn to the left takes (x, y) to (-y, x).
    let turned = |p: &Point| Point::new(middle + height / 2.0 - p.y, bottom + p.x);
    let flat = lettering::strokes(text, Point::default(), height);
    let turn = |stroke: &Vec<Point>| stroke.iter().map(turned).collect();
    flat.iter().map(turn).collect()
}

/// The letter height at which a text is no longer than some room.
pub(super) fn fitting(text: &str, room: f64, height: f64) -> f64 {
    height.min(height * room / lettering::width(text, height))
}

/// A rectangle from the origin.
pub(super) fn plate(length: f64, height: f64) -> Vec<Point> {
    rectangle(Point::default(), Point::new(length, height))
}

/// Counter-clockwise.
pub(super) fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![
        low,
        Point::new(high.x, low.y),
        high,
        Point::new(low.x, high.y),
    ]
}

/// A place as it is engraved: two decimals of a millimetre, or four of an inch.
pub(super) fn place(mm: f64, units: UnitSystem) -> String {
    let figure = match units {
        UnitSystem::Millimetres => decimal(mm, 2),
        UnitSystem::Inches => decimal(mm / MM_PER_INCH, 4),
    };
    figure.unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::bounds;
    use float_cmp::approx_eq;

    #[test]
    fn upward_letters_stand_about_their_line() {
        let strokes = upward("8B", 10.0, 3.0, 6.0);
        let (low, high) = bounds(strokes.into_iter().flatten()).unwrap();
        assert!(
            approx_eq!(f64, low.x, 7.0, epsilon = 1e-12)
                && approx_eq!(f64, high.x, 13.0, epsilon = 1e-12)
        );
        assert!(approx_eq!(f64, low.y, 3.0, epsilon = 1e-12));
        assert!(approx_eq!(
            f64,
            high.y - 3.0,
            lettering::width("8B", 6.0),
            epsilon = 1e-12
        ));
    }

    impl Letters {
        /// A beam's.
        pub(in crate::planning) fn beam(height: f64) -> Self {
            Letters {
                height,
                ..Letters::none()
            }
        }
    }

    #[test]
    fn a_text_is_made_as_small_as_its_room() {
        assert_eq!(fitting("AB", 100.0, 3.0), 3.0);
        let height = fitting("AB", 2.5, 3.0);
        assert!(approx_eq!(
            f64,
            lettering::width("AB", height),
            2.5,
            epsilon = 1e-12
        ));
    }
}
