//! What all pictures of set-ups share: a drawing whose writing keeps one size on the page, measures
//! with their lines, names beside parts.

use crate::geometry::{Point, Vector};
use crate::instructions::drawing::{Anchor, Drawing, Role, Shape, text_box, text_width};
use crate::instructions::legible::{Share, Shown, for_both};
use crate::phrase::Phrase;

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
    /// On a narrow page: what is said below the picture, since there is no room beside what it is about.
    notes: Option<Vec<Phrase>>,
}

/// On a narrow page longer texts than this, in letters, are said below the picture.
const LONG: usize = 14;

/// From line to line of what is said below, over the height of capitals.
const LINE: f64 = 2.0;

/// A picture that `draw` makes, for broad and narrow pages.
pub(super) fn drawn(title: &str, draw: impl Fn(&mut Pencil)) -> Drawing {
    for_both(Share::SET_UP, |capitals, shown| {
        let mut pencil = Pencil {
            drawing: Drawing::new(title, Point::default(), Point::default()),
            capitals,
            notes: (shown == Shown::Narrow).then(Vec::new),
        };
        draw(&mut pencil);
        if shown == Shown::Narrow {
            part_writing(&mut pencil.drawing);
        }
        pencil.say_notes();
        pencil.drawing.fit(pencil.capitals);
        pencil.drawing
    })
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

    /// A text, or on a narrow page the letter by which it stands below the picture.
    fn label(&mut self, text: Phrase) -> Phrase {
        let long = text_width(&text, 1.0) > text_width(&"x".repeat(LONG).into(), 1.0);
        let Some(notes) = self.notes.as_mut().filter(|_| long) else {
            return text;
        };
        let at = notes.iter().position(|note| *note == text);
        let at = at.unwrap_or_else(|| {
            notes.push(text);
            notes.len() - 1
        });
        letter(at).into()
    }

    /// Says below the picture what had no room in it.
    fn say_notes(&mut self) {
        self.drawing.fit(0.0);
        let Point { x, y } = self.drawing.low;
        for (at, note) in self
            .notes
            .take()
            .unwrap_or_default()
            .into_iter()
            .enumerate()
        {
            let y = y - LINE * self.capitals * (at as f64 + 1.0);
            let mut line = Phrase::from(format!("{}  ", letter(at)));
            line.append(note);
            let at = Point::new(x, y);
            self.drawing
                .text_from(Role::Measure, Anchor::Start, at, self.capitals, line);
        }
    }

    pub(super) fn name(&mut self, anchor: Anchor, at: (f64, f64), text: impl Into<Phrase>) {
        let text = self.label(text.into());
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
        let room = to - from;
        let text = match text_width(&text, self.capitals) + self.capitals <= room {
            true => text,
            false => self.label(text),
        };
        let width = text_width(&text, self.capitals);
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
        let text = self.label(text.into());
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

/// Letters of notes: a to z.
fn letter(at: usize) -> String {
    let letter = u8::try_from(at).map_or(b'z', |at| b'a' + at.min(25));
    char::from(letter).to_string()
}

/// Moves writing up or down that would stand over what was written before it, with a line to where it
/// belongs. As far as there is room: six times its height.
fn part_writing(drawing: &mut Drawing) {
    const FARTHEST: i32 = 12;
    let mut taken: Vec<[Point; 2]> = Vec::new();
    let mut leaders = Vec::new();
    for shape in &mut drawing.shapes {
        let Some(room) = text_box(shape) else {
            continue;
        };
        let Shape::Text { at, height, .. } = shape else {
            continue;
        };
        let moved = |step: i32| {
            let by = Vector::new(0.0, f64::from(step) * 0.5 * *height);
            room.map(|corner| corner + by)
        };
        let free = |step: &i32| !taken.iter().any(|other| touch(other, &moved(*step)));
        let steps = std::iter::once(0).chain((1..=FARTHEST).flat_map(|step| [step, -step]));
        let step = steps.into_iter().find(free).unwrap_or(0);
        taken.push(moved(step));
        if step != 0 {
            let belongs = *at;
            at.y += f64::from(step) * 0.5 * *height;
            let end = at.y - 0.8 * height.copysign(f64::from(step));
            if (end - belongs.y) * f64::from(step) > 0.0 {
                leaders.push(vec![belongs, Point::new(belongs.x, end)]);
            }
        }
    }
    for leader in leaders {
        drawing.line(Role::Measure, leader);
    }
}

/// Whether two upright boxes have room in common.
fn touch([low, high]: &[Point; 2], [other_low, other_high]: &[Point; 2]) -> bool {
    low.x < other_high.x && other_low.x < high.x && low.y < other_high.y && other_low.y < high.y
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
    fn writing_is_parted_and_long_texts_are_said_below_a_narrow_picture() {
        let drawing = drawn("x", |pencil| {
            pencil.rectangle(Role::Wood, (0.0, 0.0), (100.0, 50.0));
            for at in [1.0, 2.0, 2.0] {
                pencil.name(Anchor::Start, (100.0, at), "a name that is long");
            }
        });
        let narrow = drawing.narrow.as_deref().unwrap();
        let said: Vec<String> = narrow
            .texts()
            .map(|(text, _)| text.text(Default::default()))
            .collect();
        assert_eq!(said, ["a", "a", "a", "a  a name that is long"]);
        let boxes: Vec<_> = narrow.shapes.iter().filter_map(text_box).collect();
        for (at, one) in boxes.iter().enumerate() {
            assert!(boxes.iter().skip(at + 1).all(|other| !touch(one, other)));
        }
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
