//! Lists with boxes to tick: steps, counts, check cuts.

use super::blocks::{LEADING, Setter};
use super::flow::Box;
use super::letters::Weight;
use super::mark::{MM_PER_POINT, Mark};
use crate::geometry::Point;
use crate::instructions::page::{Check, Tally};
use crate::phrase::Phrase;
use crate::writing::look::{self, size};

/// Side of a box to tick, and where the text beside it begins, mm.
const TICK: f64 = 4.2;
pub(super) const AFTER_TICK: f64 = 7.0;

/// Least room for words beside a figure, mm.
const NARROWEST: f64 = 60.0;

impl Setter<'_> {
    pub(super) fn ticked(&self, things: &[Phrase], numbered: bool) -> Vec<Box> {
        let step = size::TEXT * LEADING * MM_PER_POINT;
        let tick = |(at, thing): (usize, &Phrase)| {
            let left = if numbered {
                AFTER_TICK + 7.0
            } else {
                AFTER_TICK
            };
            let text = thing.text(self.units);
            let lines = self.text(&text, size::TEXT, Weight::Plain, look::INK.light, left, 1.6);
            let mut whole = self.joined(lines);
            let low = Point::new(0.2, (step - TICK) / 2.0);
            whole.marks.push(tick_box(low));
            if numbered {
                let number = format!("{}.", at + 1);
                let wide = self.letters.width(&number, size::TEXT, Weight::Bold);
                whole.marks.push(Mark::Text {
                    at: Point::new(AFTER_TICK + 5.6 - wide, 0.78 * step),
                    size: size::TEXT,
                    weight: Weight::Bold,
                    colour: look::ACCENT.light,
                    text: number,
                });
            }
            whole
        };
        let mut boxes: Vec<Box> = things.iter().enumerate().map(tick).collect();
        if let Some(last) = boxes.last_mut() {
            last.height += 2.0;
        }
        boxes
    }

    /// Boxes in groups; a line to write on where there are none.
    pub(super) fn tally(&self, tally: &Tally) -> Box {
        let ink = look::INK.light;
        let text = format!("Count: {}, of {}", tally.what, tally.count);
        let mut whole = self.joined(self.text(&text, size::TEXT, Weight::Bold, ink, 0.0, 0.0));
        let groups = tally.groups();
        if groups.is_empty() {
            let from = self.letters.width(&text, size::TEXT, Weight::Bold) + 4.0;
            let y = whole.height - 1.0;
            let (from, to) = (Point::new(from, y), Point::new(from + 40.0, y));
            whole.marks.push(Mark::line(from, to, ink, 0.3));
            whole.height += 3.0;
            return whole;
        }
        let (mut x, mut y) = (0.2, whole.height + 1.0);
        for group in groups {
            if x + group as f64 * (TICK + 1.0) > self.width {
                (x, y) = (0.2, y + TICK + 1.6);
            }
            for _ in 0..group {
                whole.marks.push(tick_box(Point::new(x, y)));
                x += TICK + 1.0;
            }
            x += 2.5;
        }
        whole.height = y + TICK + 4.0;
        whole
    }

    pub(super) fn checks(&self, checks: &[Check]) -> Vec<Box> {
        let title = "Check before you go on";
        let mut boxes = self.text(
            title,
            size::TEXT + 1.0,
            Weight::Bold,
            look::INK.light,
            0.0,
            1.0,
        );
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes.extend(checks.iter().map(|check| self.check(check)));
        boxes
    }

    pub(super) fn check(&self, check: &Check) -> Box {
        let setter = Setter {
            width: self.width - 6.0,
            ..*self
        };
        let value = setter.measured(check);
        let beside = setter.width - value.width - 4.0;
        let what = |width: f64| {
            let setter = Setter { width, ..setter };
            let text = check.what.text(self.units);
            let ink = look::INK.light;
            setter.text(&text, size::TEXT, Weight::Plain, ink, AFTER_TICK, 0.0)
        };
        let mut boxes = Vec::new();
        if beside > NARROWEST {
            let mut both = self.joined(what(beside));
            let x = setter.width - value.width;
            both.marks
                .extend(value.marks.iter().map(|mark| mark.moved(x, 0.0)));
            both.height = both.height.max(value.height);
            boxes.push(both);
        } else {
            boxes.extend(what(setter.width));
            boxes.push(Box {
                marks: value
                    .marks
                    .iter()
                    .map(|mark| mark.moved(AFTER_TICK, 0.0))
                    .collect(),
                height: value.height,
                ..Box::default()
            });
        }
        let otherwise = format!("If it is not: {}.", check.otherwise.text(self.units));
        boxes.extend(setter.text(
            &otherwise,
            size::SMALL,
            Weight::Plain,
            look::QUIET.light,
            AFTER_TICK,
            0.0,
        ));
        let inner = self.joined(boxes);
        let height = inner.height + 4.0;
        let (low, high) = (Point::new(0.0, 0.0), Point::new(self.width, height));
        let mut marks = vec![
            Mark::filled(low, high, look::CARD.light),
            Mark::framed(low, high, look::RULE.light, 0.2),
            tick_box(Point::new(3.0, 2.5)),
        ];
        marks.extend(inner.marks.iter().map(|mark| mark.moved(3.0, 2.0)));
        Box {
            marks,
            height: height + 2.5,
            ..Box::default()
        }
    }
}

/// What a check should come to, and a line to write on.
struct Measured {
    marks: Vec<Mark>,
    width: f64,
    height: f64,
}

impl Setter<'_> {
    fn measured(&self, check: &Check) -> Measured {
        const VALUE: f64 = 14.0;
        const LINE: f64 = 30.0;
        let (value, note) = self.value(&check.should);
        let height = VALUE * LEADING * MM_PER_POINT;
        let baseline = 0.78 * height;
        let words = note.map_or("measured".to_owned(), |note| format!("{note}   measured"));
        let beside = self.letters.width(&value, VALUE, Weight::Bold) + 3.0;
        let line = beside + self.letters.width(&words, size::SMALL, Weight::Plain) + 2.0;
        let text = |x, size, weight, colour, text| Mark::Text {
            at: Point::new(x, baseline),
            size,
            weight,
            colour,
            text,
        };
        let (from, to) = (
            Point::new(line, baseline + 0.5),
            Point::new(line + LINE, baseline + 0.5),
        );
        Measured {
            marks: vec![
                text(0.0, VALUE, Weight::Bold, look::ACCENT.light, value),
                text(beside, size::SMALL, Weight::Plain, look::QUIET.light, words),
                Mark::line(from, to, look::INK.light, 0.3),
            ],
            width: line + LINE,
            height,
        }
    }
}

fn tick_box(low: Point) -> Mark {
    let high = Point::new(low.x + TICK, low.y + TICK);
    Mark::framed(low, high, look::INK.light, 0.35)
}
