//! Lists with boxes to tick: steps, counts, check cuts.

use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::PageElement;
use super::points::MM_PER_POINT;
use super::typesetter::{LEADING, Typesetter};
use crate::geometry::Point;
use crate::instructions::page::{Check, Tally};
use crate::phrase::Phrase;
use crate::writing::theme::{self, size};

/// Side of a box to tick, and where the text beside it begins, mm.
const TICK: f64 = 4.2;
pub(super) const AFTER_TICK: f64 = 7.0;

/// Least room for words beside a figure, mm.
const NARROWEST: f64 = 60.0;

impl Typesetter<'_> {
    pub(super) fn ticked(&self, things: &[Phrase], numbered: bool) -> Vec<LayoutBox> {
        let step = size::TEXT * LEADING * MM_PER_POINT;
        let tick = |(at, thing): (usize, &Phrase)| {
            let left = if numbered {
                AFTER_TICK + 7.0
            } else {
                AFTER_TICK
            };
            let text = thing.text(self.units);
            let lines = self.text(
                &text,
                size::TEXT,
                FontWeight::Plain,
                theme::INK.light,
                left,
                1.6,
            );
            let mut whole = self.joined(lines);
            let low = Point::new(0.2, (step - TICK) / 2.0);
            whole.elements.push(tick_box(low));
            if numbered {
                let number = format!("{}.", at + 1);
                let wide = self.fonts.width(&number, size::TEXT, FontWeight::Bold);
                whole.elements.push(PageElement::Text {
                    at: Point::new(AFTER_TICK + 5.6 - wide, 0.78 * step),
                    size: size::TEXT,
                    weight: FontWeight::Bold,
                    colour: theme::ACCENT.light,
                    text: number,
                });
            }
            whole
        };
        let mut boxes: Vec<LayoutBox> = things.iter().enumerate().map(tick).collect();
        if let Some(last) = boxes.last_mut() {
            last.height += 2.0;
        }
        boxes
    }

    /// Boxes in groups; a line to write on where there are none.
    pub(super) fn tally(&self, tally: &Tally) -> LayoutBox {
        let ink = theme::INK.light;
        let text = format!("Count: {}, of {}", tally.what, tally.count);
        let mut whole = self.joined(self.text(&text, size::TEXT, FontWeight::Bold, ink, 0.0, 0.0));
        let groups = tally.groups();
        if groups.is_empty() {
            let from = self.fonts.width(&text, size::TEXT, FontWeight::Bold) + 4.0;
            let y = whole.height - 1.0;
            let (from, to) = (Point::new(from, y), Point::new(from + 40.0, y));
            whole.elements.push(PageElement::line(from, to, ink, 0.3));
            whole.height += 3.0;
            return whole;
        }
        let (mut x, mut y) = (0.2, whole.height + 1.0);
        for group in groups {
            if x + group as f64 * (TICK + 1.0) > self.width {
                (x, y) = (0.2, y + TICK + 1.6);
            }
            for _ in 0..group {
                whole.elements.push(tick_box(Point::new(x, y)));
                x += TICK + 1.0;
            }
            x += 2.5;
        }
        whole.height = y + TICK + 4.0;
        whole
    }

    pub(super) fn checks(&self, checks: &[Check]) -> Vec<LayoutBox> {
        let title = "Check before you go on";
        let mut boxes = self.text(
            title,
            size::TEXT + 1.0,
            FontWeight::Bold,
            theme::INK.light,
            0.0,
            1.0,
        );
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes.extend(checks.iter().map(|check| self.check(check)));
        boxes
    }

    pub(super) fn check(&self, check: &Check) -> LayoutBox {
        let typesetter = Typesetter {
            width: self.width - 6.0,
            ..*self
        };
        let value = typesetter.measured(check);
        let beside = typesetter.width - value.width - 4.0;
        let what = |width: f64| {
            let typesetter = Typesetter {
                width,
                ..typesetter
            };
            let text = check.what.text(self.units);
            let ink = theme::INK.light;
            typesetter.text(&text, size::TEXT, FontWeight::Plain, ink, AFTER_TICK, 0.0)
        };
        let mut boxes = Vec::new();
        if beside > NARROWEST {
            let mut both = self.joined(what(beside));
            let x = typesetter.width - value.width;
            both.elements
                .extend(value.elements.iter().map(|element| element.moved(x, 0.0)));
            both.height = both.height.max(value.height);
            boxes.push(both);
        } else {
            boxes.extend(what(typesetter.width));
            boxes.push(LayoutBox {
                elements: value
                    .elements
                    .iter()
                    .map(|element| element.moved(AFTER_TICK, 0.0))
                    .collect(),
                height: value.height,
                ..LayoutBox::default()
            });
        }
        let otherwise = format!("If it is not: {}.", check.otherwise.text(self.units));
        boxes.extend(typesetter.text(
            &otherwise,
            size::SMALL,
            FontWeight::Plain,
            theme::QUIET.light,
            AFTER_TICK,
            0.0,
        ));
        let inner = self.joined(boxes);
        let height = inner.height + 4.0;
        let (low, high) = (Point::new(0.0, 0.0), Point::new(self.width, height));
        let mut elements = vec![
            PageElement::filled(low, high, theme::CARD.light),
            PageElement::framed(low, high, theme::RULE.light, 0.2),
            tick_box(Point::new(3.0, 2.5)),
        ];
        elements.extend(inner.elements.iter().map(|element| element.moved(3.0, 2.0)));
        LayoutBox {
            elements,
            height: height + 2.5,
            ..LayoutBox::default()
        }
    }
}

/// What a check should come to, and a line to write on.
struct CheckValue {
    elements: Vec<PageElement>,
    width: f64,
    height: f64,
}

impl Typesetter<'_> {
    fn measured(&self, check: &Check) -> CheckValue {
        const VALUE: f64 = 14.0;
        const LINE: f64 = 30.0;
        let (value, note) = self.value(&check.should);
        let height = VALUE * LEADING * MM_PER_POINT;
        let baseline = 0.78 * height;
        let words = note.map_or("measured".to_owned(), |note| format!("{note}   measured"));
        let beside = self.fonts.width(&value, VALUE, FontWeight::Bold) + 3.0;
        let line = beside + self.fonts.width(&words, size::SMALL, FontWeight::Plain) + 2.0;
        let text = |x, size, weight, colour, text| PageElement::Text {
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
        CheckValue {
            elements: vec![
                text(0.0, VALUE, FontWeight::Bold, theme::ACCENT.light, value),
                text(
                    beside,
                    size::SMALL,
                    FontWeight::Plain,
                    theme::QUIET.light,
                    words,
                ),
                PageElement::line(from, to, theme::INK.light, 0.3),
            ],
            width: line + LINE,
            height,
        }
    }
}

fn tick_box(low: Point) -> PageElement {
    let high = Point::new(low.x + TICK, low.y + TICK);
    PageElement::framed(low, high, theme::INK.light, 0.35)
}
