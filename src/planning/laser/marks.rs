//! Labels and the check line of parts that are made to measure by.

use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::lettering;
use crate::machines::Laser;

/// Length of the check line, mm.
pub(super) const CHECK_LINE_MM: f64 = 50.0;

/// Length of its end marks, mm.
pub(super) const CHECK_END_MM: f64 = 1.5;

/// Largest letters on these parts, mm.
const TALLEST_MM: f64 = 4.0;

/// Smallest letters that are engraved readably. Common practice, no source, mm.
const SMALLEST_MM: f64 = 1.0;

/// A line of known length, with a mark at either end that points up: who measures it in the
/// finished part, or in the laser's program, sees whether the scale is right.
pub(super) fn check_line(left: Point) -> Vec<Point> {
    let (x, y) = (left.x, left.y);
    let (right, top) = (x + CHECK_LINE_MM, y + CHECK_END_MM);
    vec![
        Point::new(x, top),
        Point::new(x, y),
        Point::new(right, y),
        Point::new(right, top),
    ]
}

/// What the check line at `left` measures, between its ends.
pub(super) fn check_label(left: Point, height: f64) -> Vec<Vec<Point>> {
    let height = height.min(2.5);
    let text = "50 MM";
    let corner = Point::new(
        left.x + (CHECK_LINE_MM - lettering::width(text, height)) / 2.0,
        left.y + 1.0,
    );
    across(text, corner, height)
}

/// The laser's letter height, as far as these parts have room for it.
///
/// # Errors
/// Where nothing is engraved, or only smaller than can be read.
pub(super) fn letter_height(laser: &Laser, room: f64, what: &str) -> Result<f64, Vec<Finding>> {
    let refuse = |text: String, hint: &'static str| {
        let fault = Finding::error("no-labels", "laser.label_height", text);
        Err(vec![fault.hint(hint)])
    };
    if laser.label_height <= 0.0 {
        return refuse(
            format!("{what} say what they are for by their labels, and this profile has none"),
            "write label_height = \"2.5 mm\"",
        );
    }
    let height = laser.label_height.min(TALLEST_MM).min(room);
    if height < SMALLEST_MM {
        return refuse(
            format!("{what} have no room for labels that can be read"),
            "wider steps, or taller letters",
        );
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::bounds;

    #[test]
    fn upward_letters_stand_about_their_line() {
        let strokes = upward("8B", 10.0, 3.0, 6.0);
        let (low, high) = bounds(strokes.into_iter().flatten()).unwrap();
        assert!((low.x - 7.0).abs() < 1e-12 && (high.x - 13.0).abs() < 1e-12);
        assert!((low.y - 3.0).abs() < 1e-12);
        assert!((high.y - 3.0 - lettering::width("8B", 6.0)).abs() < 1e-12);
    }

    #[test]
    fn a_text_is_made_as_small_as_its_room() {
        assert_eq!(fitting("AB", 100.0, 3.0), 3.0);
        let height = fitting("AB", 2.5, 3.0);
        assert!((lettering::width("AB", height) - 2.5).abs() < 1e-12);
    }
}
