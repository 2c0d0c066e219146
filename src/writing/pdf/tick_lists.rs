//! Lists with boxes to tick: steps, counts, check cuts.

use super::fitted::LEAST_SCALE;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::tags::{TagId, TagRole};
use super::typesetter::{BASELINE, TWO_COLUMNS, Typesetter, keep_with_next, line_step};
use crate::geometry::Point;
use crate::instructions::sheet::{Check, Tally};
use crate::phrase::Phrase;
use crate::writing::theme::{self, size};

/// Side of a box to tick, and where the text beside it begins, mm.
const TICK: f64 = 3.8;
pub(super) const AFTER_TICK: f64 = 6.0;

/// What is measured is written on a line so long, mm, or at least so long.
const LINE: f64 = 30.0;
const SHORTEST: f64 = 15.0;

/// Least room for words beside a figure, mm.
const NARROWEST: f64 = 60.0;

impl Typesetter<'_> {
    /// Steps, each with its number behind the box to tick.
    pub(super) fn numbered_steps(&self, steps: &[Phrase]) -> Vec<LayoutBox> {
        const ROOM_OF_NUMBER: f64 = 7.0;
        let style = TextStyle::bold(size::TEXT, theme::ACCENT.light);
        let mut boxes = Vec::new();
        let list = self.within(TagRole::List);
        for (at, step) in steps.iter().enumerate() {
            let item = list.within(TagRole::Item);
            let label = item.within(TagRole::Label).under;
            let body = item.within(TagRole::Body);
            let mut whole = body.ticked(step, AFTER_TICK + ROOM_OF_NUMBER);
            let number = format!("{}.", at + 1);
            let wide = self.fonts.width(&number, style.size, style.weight);
            let number = PageElement::Text {
                at: Point::new(AFTER_TICK + 5.6 - wide, BASELINE * line_step(style.size)),
                style,
                text: number,
            };
            whole
                .elements
                .push(PageElement::marked(label, vec![number]));
            boxes.push(whole);
        }
        with_room_below(boxes)
    }

    /// Things to lay ready, in no order: in two columns where there is room.
    pub(super) fn ticked_things(&self, things: &[Phrase]) -> Vec<LayoutBox> {
        let columns = if self.width > TWO_COLUMNS { 2 } else { 1 };
        let narrow = self.column(columns);
        let list = narrow.within(TagRole::List);
        let rows = things.chunks(columns).map(|row| {
            let row = row.iter().map(|thing| {
                let body = list.within(TagRole::Item).within(TagRole::Body);
                body.ticked(thing, AFTER_TICK)
            });
            narrow.beside(row)
        });
        with_room_below(rows.collect())
    }

    /// A box to tick, and the text beside it, `left` mm from the column's edge.
    fn ticked(&self, text: &Phrase, left: f64) -> LayoutBox {
        let text = text.to_be_broken(self.units);
        let style = TextStyle::plain(size::TEXT, theme::INK.light);
        let mut whole = LayoutBox::stacked(self.text(&text, style, left, 1.1));
        let low = Point::new(0.2, (line_step(style.size) - TICK) / 2.0);
        whole.elements.push(tick_box(low));
        whole
    }

    /// Boxes in groups; a line to write on where there are none.
    pub(super) fn tally(&self, tally: &Tally) -> LayoutBox {
        let ink = theme::INK.light;
        let style = TextStyle::bold(size::TEXT, ink);
        let text = format!("Count: {}, of {}", tally.what, tally.count);
        let mut whole = LayoutBox::stacked(self.text(&text, style, 0.0, 0.0));
        let groups = tally.groups();
        if groups.is_empty() {
            let from = self.fonts.width(&text, style.size, style.weight) + 4.0;
            let y = whole.height - 1.0;
            whole.elements.push(PageElement::line(
                Point::new(from, y),
                Point::new((from + 40.0).min(self.width), y),
                ink,
                0.3,
            ));
            whole.height += 3.0;
            return whole;
        }
        // Beside the words where all have room there.
        let begin = self.fonts.width(&text, style.size, style.weight) + 4.0;
        let boxes = tally.count as f64 * (TICK + 1.0) + groups.len() as f64 * 2.5;
        let beside = begin + boxes <= self.width;
        let (mut x, mut y) = if beside {
            (begin, 0.2)
        } else {
            (0.2, whole.height + 1.0)
        };
        for group in groups {
            if x + group as f64 * (TICK + 1.0) > self.width {
                x = 0.2;
                y = y + TICK + 1.6;
            }
            for _ in 0..group {
                whole.elements.push(tick_box(Point::new(x, y)));
                x += TICK + 1.0;
            }
            x += 2.5;
        }
        whole.height = y + TICK + 2.0;
        whole
    }

    pub(super) fn checks(&self, checks: &[Check]) -> Vec<LayoutBox> {
        let title = "Check before you go on";
        let heading = self.tags.open(TagRole::Heading(4), self.under);
        let mut boxes = self.text_of(
            heading,
            title,
            TextStyle::bold(size::TEXT + 1.0, theme::INK.light),
            0.0,
            1.0,
        );
        keep_with_next(&mut boxes);
        let list = self.within(TagRole::List);
        // What is to be done where several are not right is said below the last of them.
        for (at, check) in checks.iter().enumerate() {
            let next = checks.get(at + 1);
            let last = next.is_none_or(|next| next.otherwise != check.otherwise);
            let body = list.within(TagRole::Item).within(TagRole::Body);
            let mut set = body.check(check, last);
            set.with_next = !last;
            boxes.push(set);
        }
        boxes
    }

    /// A check on a card: what is measured and what it should come to beside each other where there
    /// is room, and what to do where it does not.
    fn check(&self, check: &Check, last: bool) -> LayoutBox {
        let inner = Typesetter {
            width: self.width - 6.0,
            ..*self
        };
        // What is checked is heard before what it should come to.
        let said = self.tags.open(TagRole::Paragraph, self.under);
        let value = inner.measured(check);
        let beside = inner.width - value.width - 4.0;
        let mut boxes = Vec::new();
        if beside > NARROWEST {
            let mut both = LayoutBox::stacked(inner.what_is_checked(said, check, beside));
            both.height = both.height.max(value.content.height);
            both.put(value.content, inner.width - value.width, 0.0);
            boxes.push(both);
        } else {
            boxes.extend(inner.what_is_checked(said, check, inner.width));
            let mut below = value.content;
            below.shift(AFTER_TICK, 0.0);
            boxes.push(below);
        }
        if last {
            let otherwise = format!(
                "If it is not: {}.",
                check.otherwise.to_be_broken(self.units)
            );
            let quiet = TextStyle::plain(size::SMALL, theme::QUIET.light);
            boxes.extend(inner.text(&otherwise, quiet, AFTER_TICK, 0.0));
        }
        let inner = LayoutBox::stacked(boxes);
        let height = inner.height + 2.6;
        let low = Point::new(0.0, 0.0);
        let high = Point::new(self.width, height);
        let mut card = LayoutBox {
            elements: vec![
                PageElement::filled(low, high, theme::CARD.light),
                PageElement::framed(low, high, theme::RULE.light, 0.2),
                tick_box(Point::new(3.0, 1.8)),
            ],
            height: height + if last { 2.0 } else { 0.0 },
            ..LayoutBox::default()
        };
        card.put(inner, 3.0, 1.3);
        card
    }

    fn what_is_checked(&self, tag: TagId, check: &Check, width: f64) -> Vec<LayoutBox> {
        let narrow = Typesetter { width, ..*self };
        let style = TextStyle::plain(size::TEXT, theme::INK.light);
        narrow.text_of(
            tag,
            &check.what.to_be_broken(self.units),
            style,
            AFTER_TICK,
            0.0,
        )
    }

    /// What a check should come to, and a line to write on beside it, or below it where there is no room.
    fn measured(&self, check: &Check) -> CheckValue {
        let large = TextStyle::bold(size::ARMS_LENGTH / LEAST_SCALE, theme::ACCENT.light);
        let small = TextStyle::plain(size::SMALL, theme::QUIET.light);
        let should = self.value(&check.should);
        let mut height = line_step(large.size);
        let baseline = BASELINE * height;
        let words = match should.nearest_fraction {
            Some(note) => format!("{note}   measured"),
            None => "measured".to_owned(),
        };
        let value_wide = self.fonts.width(&should.value, large.size, large.weight);
        let words_wide = self.fonts.width(&words, small.size, small.weight) + 2.0;
        let room = self.width - AFTER_TICK;
        let mut words_at = Point::new(value_wide + 3.0, baseline);
        if words_at.x + words_wide + SHORTEST > room {
            words_at = Point::new(0.0, height + BASELINE * line_step(small.size));
            height += line_step(small.size);
        }
        let line_at = words_at.x + words_wide;
        let line = LINE.min(room - line_at).max(SHORTEST);
        let texts = [
            (Point::new(0.0, baseline), large, should.value),
            (words_at, small, words),
        ];
        let texts = texts.map(|(at, style, text)| PageElement::Text { at, style, text });
        let tag = self.tags.open(TagRole::Paragraph, self.under);
        let elements = vec![
            PageElement::marked(tag, texts.to_vec()),
            PageElement::line(
                Point::new(line_at, words_at.y + 0.5),
                Point::new(line_at + line, words_at.y + 0.5),
                theme::INK.light,
                0.3,
            ),
        ];
        CheckValue {
            content: LayoutBox {
                elements,
                height,
                ..LayoutBox::default()
            },
            width: value_wide.max(line_at + line),
        }
    }
}

/// See [`Typesetter::measured`].
struct CheckValue {
    content: LayoutBox,
    /// Of what is in it, mm.
    width: f64,
}

/// A list with a little more room behind it than between its entries.
fn with_room_below(mut boxes: Vec<LayoutBox>) -> Vec<LayoutBox> {
    if let Some(last) = boxes.last_mut() {
        last.height += 2.0;
    }
    boxes
}

fn tick_box(low: Point) -> PageElement {
    let high = Point::new(low.x + TICK, low.y + TICK);
    PageElement::framed(low, high, theme::INK.light, 0.35)
}
