//! The frame round a panel, over its strips' ends.

use super::labels::Taken;
use super::seen::Body;
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::drawing::{Drawing, Role};
use crate::lattice::FrameOutlines;

/// So far beside a line no label is written, as a share of the panel's larger side.
const CLEAR_SHARE: f64 = 0.002;

/// The members' outlines with their mitres or shoulders, and tenons that are not seen, thin.
pub(super) fn add(drawing: &mut Drawing, taken: &mut Taken, frame: &FrameOutlines) {
    let points = frame.members.iter().flatten().copied();
    let Some((low, high)) = bounds(points.chain([drawing.low, drawing.high])) else {
        return;
    };
    drawing.low = low;
    drawing.high = high;
    let clear = (high.x - low.x).max(high.y - low.y) * CLEAR_SHARE;
    for ring in frame.members.iter().chain(&frame.hidden) {
        let mut closed = ring.clone();
        closed.extend(ring.first().copied());
        for side in closed.windows(2) {
            if let &[from, to] = side {
                taken.add(beside(from, to, clear));
            }
        }
        drawing.line(Role::Measure, closed);
    }
}

/// The members, none of which hides another.
pub(super) fn bodies(frame: Option<&FrameOutlines>) -> Vec<Body> {
    let members = frame.into_iter().flat_map(|frame| &frame.members);
    let body = |ring: &Vec<Point>| Body {
        role: Role::Measure,
        ring: ring.clone(),
        under: Vec::new(),
    };
    members.map(body).collect()
}

/// A line with a little room on both sides.
fn beside(from: Point, to: Point, clear: f64) -> Vec<Point> {
    let along = from.to(to).unit().unwrap_or_default();
    let aside = Vector::new(-along.y, along.x) * clear;
    vec![from - aside, to - aside, to + aside, from + aside]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::drawing::Shape;

    fn ring(low: Point, high: Point) -> Vec<Point> {
        vec![
            low,
            Point::new(high.x, low.y),
            high,
            Point::new(low.x, high.y),
        ]
    }

    #[test]
    fn members_are_drawn_closed_and_the_picture_grows_to_hold_them() {
        let mut drawing = Drawing::new("panel", Point::default(), Point::new(10.0, 10.0));
        let frame = FrameOutlines {
            members: vec![ring(Point::new(-5.0, -5.0), Point::new(15.0, 0.0))],
            hidden: vec![ring(Point::new(-3.0, 0.0), Point::new(0.0, 4.0))],
        };
        add(&mut drawing, &mut Taken::default(), &frame);
        assert_eq!(drawing.low, Point::new(-5.0, -5.0));
        assert_eq!(drawing.high, Point::new(15.0, 10.0));
        let closed = |shape: &&Shape| match shape {
            Shape::Line { points, .. } => points.len() == 5 && points.first() == points.last(),
            _ => false,
        };
        assert_eq!(drawing.shapes.iter().filter(closed).count(), 2);
    }
}
