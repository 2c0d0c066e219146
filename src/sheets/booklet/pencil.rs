//! What all pictures of set-ups share: a drawing whose writing keeps one size on the page, measures
//! with their lines, names beside parts.

use crate::geometry::{Point, Vector};
use crate::instructions::drawing::{Anchor, Drawing, Role, text_width};
use crate::phrase::Phrase;

/// Height of capitals as a share of the picture's breadth: 2.7 mm on a sheet of paper.
const CAPITALS: f64 = 1.0 / 66.0;

/// The same in a gallery of two columns: 1.8 mm on a sheet of paper.
const HALF_CAPITALS: f64 = 1.0 / 47.0;

/// Where a measure's text stands that is longer than the measure.
#[derive(Clone, Copy)]
pub(super) enum Beside {
    /// To the left.
    Left,
    /// To the right.
    Right,
    /// To the right, and past what stands upright at this place if it would touch that.
    RightPast(f64),
}

/// A drawing with tools to put measures and names into it.
pub(super) struct Pencil {
    pub(super) drawing: Drawing,
    /// Height of capitals, in the drawing's millimetres.
    pub(super) capitals: f64,
}

/// A picture that `draw` makes: writing takes room of its own, so it is drawn until writing has its
/// size for the picture's true breadth. A tall picture counts as broader, since a page shows it
/// smaller.
pub(super) fn drawn(title: &str, draw: impl Fn(&mut Pencil)) -> Drawing {
    drawn_at(title, CAPITALS, draw)
}

/// One that stands in a gallery of two columns: its names are short.
pub(super) fn half_drawn(title: &str, draw: impl Fn(&mut Pencil)) -> Drawing {
    drawn_at(title, HALF_CAPITALS, draw)
}

/// With capitals that are so large a share of its breadth.
fn drawn_at(title: &str, share: f64, draw: impl Fn(&mut Pencil)) -> Drawing {
    const TALL: f64 = 1.6;
    let mut breadth = 0.0;
    let mut drawing = Drawing::new(title, Point::default(), Point::default());
    // Long names in large writing need more rounds.
    for _ in 0..16 {
        let mut pencil = Pencil {
            drawing: Drawing::new(title, Point::default(), Point::default()),
            capitals: breadth * share,
        };
        draw(&mut pencil);
        pencil.drawing.fit(pencil.capitals);
        drawing = pencil.drawing;
        let size = drawing.low.to(drawing.high);
        breadth = size.x.max(TALL * size.y);
    }
    drawing
}

impl Pencil {
    pub(super) fn rectangle(&mut self, role: Role, (x0, y0): (f64, f64), (x1, y1): (f64, f64)) {
        let low = Point::new(x0.min(x1), y0.min(y1));
        let high = Point::new(x0.max(x1), y0.max(y1));
        self.drawing.rectangle(role, low, high);
    }

    pub(super) fn line(&mut self, role: Role, from: (f64, f64), to: (f64, f64)) {
        self.drawing.line(
            role,
            vec![Point::new(from.0, from.1), Point::new(to.0, to.1)],
        );
    }

    pub(super) fn name(&mut self, anchor: Anchor, at: (f64, f64), text: impl Into<Phrase>) {
        let at = Point::new(at.0, at.1);
        self.drawing
            .text_from(Role::Name, anchor, at, self.capitals, text);
    }

    /// A measure along x between two places, its line at height `y`; thin lines lead there from
    /// the heights at which the places themselves lie. Its text stands above the line, or beside
    /// it where it is longer than the measure.
    pub(super) fn across(
        &mut self,
        (from, from_y): (f64, f64),
        (to, to_y): (f64, f64),
        y: f64,
        text: impl Into<Phrase>,
        beside: Beside,
    ) {
        let text = text.into();
        let (from, from_y, to, to_y) = if from <= to {
            (from, from_y, to, to_y)
        } else {
            (to, to_y, from, from_y)
        };
        let beyond = 0.6 * self.capitals * (y - from_y).signum();
        self.line(Role::Measure, (from, from_y), (from, y + beyond));
        self.line(Role::Measure, (to, to_y), (to, y + beyond));
        let width = text_width(&text, self.capitals);
        let room = to - from;
        let (anchor, at) = if width + self.capitals <= room {
            (
                Anchor::Middle,
                (f64::midpoint(from, to), y + 1.1 * self.capitals),
            )
        } else {
            let gap = 1.8 * self.capitals;
            let touches = |x: f64| x > to && x < to + gap + width + self.capitals;
            match beside {
                Beside::Left => (Anchor::End, (from - gap, y)),
                Beside::RightPast(x) if touches(x) => (Anchor::Start, (x + gap, y)),
                _ => (Anchor::Start, (to + gap, y)),
            }
        };
        self.arrows(Point::new(from, y), Point::new(to, y));
        let at = Point::new(at.0, at.1);
        self.drawing
            .text_from(Role::Measure, anchor, at, self.capitals, text);
    }

    /// A measure along y between two heights, its line at `x`; its text stands beside the line, to
    /// the right, or to the left where `to_left` says.
    pub(super) fn upward(
        &mut self,
        (from_x, from): (f64, f64),
        (to_x, to): (f64, f64),
        x: f64,
        text: impl Into<Phrase>,
        to_left: bool,
    ) {
        let beyond = |at: f64| 0.6 * self.capitals * (x - at).signum();
        let (b0, b1) = (beyond(from_x), beyond(to_x));
        self.line(Role::Measure, (from_x, from), (x + b0, from));
        self.line(Role::Measure, (to_x, to), (x + b1, to));
        let low = from.min(to);
        let high = from.max(to);
        self.arrows(Point::new(x, low), Point::new(x, high));
        let (anchor, shift) = if to_left {
            (Anchor::End, -self.capitals)
        } else {
            (Anchor::Start, self.capitals)
        };
        let at = Point::new(x + shift, f64::midpoint(low, high));
        self.drawing
            .text_from(Role::Measure, anchor, at, self.capitals, text);
    }

    /// The line of a measure with an arrow at each end: from inside, or from outside where there
    /// is no room between.
    fn arrows(&mut self, from: Point, to: Point) {
        let way = from.to(to);
        let length = way.length();
        let Some(along) = way.unit() else { return };
        let tip = 0.9 * self.capitals;
        let inside = length >= 3.0 * tip;
        if inside {
            self.drawing.line(Role::Measure, vec![from, to]);
        } else {
            for (end, out) in [(from, -1.0), (to, 1.0)] {
                let tail = end + along * (out * 1.6 * tip);
                self.drawing.line(Role::Measure, vec![end, tail]);
            }
        }
        let into = if inside { 1.0 } else { -1.0 };
        for (end, way) in [(from, along * into), (to, along * -into)] {
            let back = end + way * tip;
            let half = Vector::new(-way.y, way.x) * (0.28 * tip);
            let ring = vec![end, back + half, back - half];
            self.drawing.area(Role::Measure, ring);
        }
    }

    /// A cross in a circle: where a program's zero lies.
    pub(super) fn zero(&mut self, at: (f64, f64)) {
        let radius = 0.9 * self.capitals;
        let middle = Point::new(at.0, at.1);
        self.drawing.line(Role::Path, circle(middle, radius, true));
        let arm = 1.7 * radius;
        self.line(Role::Path, (at.0 - arm, at.1), (at.0 + arm, at.1));
        self.line(Role::Path, (at.0, at.1 - arm), (at.0, at.1 + arm));
    }
}

/// A circle as a ring of corners; closed where the first is to be said again at the end.
fn circle(middle: Point, radius: f64, closed: bool) -> Vec<Point> {
    const SIDES: usize = 48;
    (0..SIDES + usize::from(closed))
        .map(|at| {
            let turn = std::f64::consts::TAU * at as f64 / SIDES as f64;
            middle + Vector::new(turn.cos(), turn.sin()) * radius
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instructions::drawing::{Shape, text_box};

    #[test]
    fn a_text_longer_than_its_measure_stands_beside_it() {
        for (to, inside) in [(3.0, false), (60.0, true)] {
            let drawing = drawn("x", |pencil| {
                pencil.rectangle(Role::Wood, (0.0, 0.0), (100.0, 5.0));
                pencil.across((0.0, 0.0), (to, 0.0), -5.0, "a long text", Beside::Right);
            });
            let text = drawing.shapes.iter().find_map(text_box).unwrap();
            assert_eq!(text[0].x > 0.0 && text[1].x < to, inside);
            assert!(inside || text[0].x > to);
        }
    }

    #[test]
    fn a_text_stands_clear_of_an_obstacle() {
        for (obstacle, clear_of) in [(20.0, 20.0), (90.0, 3.0)] {
            let drawing = drawn("x", |pencil| {
                pencil.rectangle(Role::Wood, (0.0, 0.0), (100.0, 5.0));
                pencil.across(
                    (0.0, 0.0),
                    (3.0, 0.0),
                    -5.0,
                    "a long text",
                    Beside::RightPast(obstacle),
                );
            });
            let text = drawing.shapes.iter().find_map(text_box).unwrap();
            assert!(text[0].x > clear_of && (text[1].x < 90.0), "{text:?}");
        }
    }

    #[test]
    fn writing_has_its_size_for_the_finished_picture() {
        let drawing = drawn("x", |pencil| {
            pencil.rectangle(Role::Wood, (0.0, 0.0), (100.0, 5.0));
            pencil.name(
                Anchor::Start,
                (100.0, 0.0),
                "a text that makes the picture much broader",
            );
        });
        let Some(Shape::Text { height, .. }) = drawing.shapes.last() else {
            panic!()
        };
        let share = height / (drawing.high.x - drawing.low.x);
        assert!((share / CAPITALS - 1.0).abs() < 0.02, "{share}");
    }

    #[test]
    fn the_finished_picture_holds_all_that_is_drawn() {
        let drawing = drawn("x", |pencil| {
            pencil.name(Anchor::End, (-50.0, 0.0), "far out to the left");
            pencil.zero((80.0, 3.0));
        });
        for shape in &drawing.shapes {
            let points = match shape {
                Shape::Area { ring: points, .. }
                | Shape::Face { ring: points, .. }
                | Shape::Line { points, .. } => points.clone(),
                text @ Shape::Text { .. } => text_box(text).unwrap().to_vec(),
            };
            for point in points {
                assert!(point.x >= drawing.low.x && point.x <= drawing.high.x);
                assert!(point.y >= drawing.low.y && point.y <= drawing.high.y);
            }
        }
    }
}
