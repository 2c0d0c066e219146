//! Text set in lines, one box each.

use super::fonts::Fonts;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::points::MM_PER_POINT;
use super::tags::{TagId, TagRole, Tags};
use crate::geometry::Point;
use crate::phrase::{Phrase, Word};
use crate::units::{Brief, UnitSystem};
use crate::writing::theme::{self, Colour, size};

/// Keeps boxes on the page of what follows them.
pub(super) fn keep_with_next(boxes: &mut [LayoutBox]) {
    for part in boxes {
        part.with_next = true;
    }
}

/// What boxes are set with.
#[derive(Clone, Copy)]
pub(super) struct Typesetter<'a> {
    pub(super) fonts: &'a Fonts,
    pub(super) units: UnitSystem,
    /// Width of the column, mm.
    pub(super) width: f64,
    /// Greatest height of a picture, mm.
    pub(super) tallest: f64,
    /// How much smaller a page shows what is set.
    pub(super) scale: f64,
    /// Whether pictures are drawn: where pages are only counted, the room that they take is enough.
    pub(super) draws: bool,
    /// The document's tree.
    pub(super) tags: &'a Tags,
    /// What is set belongs there.
    pub(super) under: TagId,
}

/// A setting as it is read.
pub(super) struct SettingText {
    pub(super) value: String,
    /// The nearest 1/64 inch, and what is then missing.
    pub(super) nearest_fraction: Option<String>,
}

/// A page's column from this width on is divided in two, mm.
pub(super) const TWO_COLUMNS: f64 = 150.0;

/// Between things that stand beside each other, mm.
pub(super) const BETWEEN: f64 = 5.0;

/// From line to line, over the size of type.
const LEADING: f64 = 1.3;

/// Where letters stand in a line: from its upper edge, over its height.
pub(super) const BASELINE: f64 = 0.78;

/// From line to line of type of a size in points, mm.
pub(super) fn line_step(size: f64) -> f64 {
    size * LEADING * MM_PER_POINT
}

impl Typesetter<'_> {
    /// The same with less room on the right.
    pub(super) fn inset(&self, by: f64) -> Self {
        Typesetter {
            width: self.width - by,
            ..*self
        }
    }

    /// For what belongs to a new element.
    pub(super) fn within(&self, role: TagRole) -> Self {
        Typesetter {
            under: self.tags.open(role, self.under),
            ..*self
        }
    }

    /// The same with the room of one of several columns.
    pub(super) fn column(&self, columns: usize) -> Self {
        let columns = columns as f64;
        Typesetter {
            width: (self.width - BETWEEN * (columns - 1.0)) / columns,
            ..*self
        }
    }

    /// Boxes beside each other, each as wide as this typesetter's column.
    pub(super) fn beside(&self, boxes: impl IntoIterator<Item = LayoutBox>) -> LayoutBox {
        let mut whole = LayoutBox::default();
        for (at, part) in boxes.into_iter().enumerate() {
            whole.height = whole.height.max(part.height);
            whole.put(part, at as f64 * (self.width + BETWEEN), 0.0);
        }
        whole
    }

    /// Lines of text, a paragraph, one box each, `left` mm from the column's edge, with room below the last.
    pub(super) fn text(
        &self,
        text: &str,
        style: TextStyle,
        left: f64,
        below: f64,
    ) -> Vec<LayoutBox> {
        let tag = self.tags.open(TagRole::Paragraph, self.under);
        self.text_of(tag, text, style, left, below)
    }

    /// The same as a certain element.
    pub(super) fn text_of(
        &self,
        tag: TagId,
        text: &str,
        style: TextStyle,
        left: f64,
        below: f64,
    ) -> Vec<LayoutBox> {
        let step = line_step(style.size);
        let room = self.width - left;
        let lines = self.fonts.lines(text, room, style.size, style.weight);
        let mut boxes: Vec<LayoutBox> = lines
            .into_iter()
            .map(|text| LayoutBox {
                elements: vec![PageElement::marked(
                    tag,
                    vec![PageElement::Text {
                        at: Point::new(left, BASELINE * step),
                        style,
                        text,
                    }],
                )],
                height: step,
                with_next: true,
                ..LayoutBox::default()
            })
            .collect();
        if let Some(last) = boxes.last_mut() {
            last.height += below;
            last.with_next = false;
        }
        boxes
    }

    pub(super) fn heading(
        &self,
        level: u8,
        text: &str,
        size: f64,
        colour: Colour,
    ) -> Vec<LayoutBox> {
        let tag = self.tags.open(TagRole::Heading(level), self.under);
        let mut boxes = self.text_of(tag, text, TextStyle::bold(size, colour), 0.0, 1.5);
        if let Some(first) = boxes.first_mut() {
            first.shift(0.0, 2.0);
            first.height += 2.0;
        }
        keep_with_next(&mut boxes);
        boxes
    }

    pub(super) fn caption(&self, phrase: &Phrase) -> Vec<LayoutBox> {
        let text = phrase.to_be_broken(self.units);
        self.text(
            &text,
            TextStyle::plain(size::SMALL, theme::QUIET.light),
            0.0,
            2.5,
        )
    }

    pub(super) fn paragraph(&self, phrase: &Phrase) -> Vec<LayoutBox> {
        let text = phrase.to_be_broken(self.units);
        self.text(
            &text,
            TextStyle::plain(size::TEXT, theme::INK.light),
            0.0,
            1.4,
        )
    }

    /// A setting, and the nearest 1/64 inch apart from it where inches are read.
    pub(super) fn value(&self, word: &Word) -> SettingText {
        match word {
            Word::Length(length) if self.units == UnitSystem::Inches => SettingText {
                value: Brief(length.0).text(self.units),
                nearest_fraction: length.fraction_note(),
            },
            Word::Length(_)
            | Word::Text(_)
            | Word::Brief(_)
            | Word::Fine(_)
            | Word::AtLeast(_)
            | Word::AtMost(_)
            | Word::Feed(_)
            | Word::Angle(_) => SettingText {
                value: word.text(self.units),
                nearest_fraction: None,
            },
        }
    }
}
