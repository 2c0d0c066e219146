//! Text set in lines, one box each.

use super::fonts::{FontWeight, Fonts};
use super::layout_box::LayoutBox;
use super::page_element::PageElement;
use super::points::MM_PER_POINT;
use crate::geometry::Point;
use crate::phrase::{Phrase, Word};
use crate::units::{Brief, UnitSystem};
use crate::writing::theme::{self, Colour, size};

/// What boxes are set with.
#[derive(Clone, Copy)]
pub(super) struct Typesetter<'a> {
    pub(super) fonts: &'a Fonts,
    pub(super) units: UnitSystem,
    /// Width of the column, mm.
    pub(super) width: f64,
    /// Greatest height of a picture, mm.
    pub(super) tallest: f64,
}

/// From line to line, over the size of type.
pub(super) const LEADING: f64 = 1.35;

impl Typesetter<'_> {
    /// The same with less room on the right.
    pub(super) fn inset(&self, by: f64) -> Self {
        Typesetter {
            width: self.width - by,
            ..*self
        }
    }

    /// Lines of text, one box each, `left` mm from the column's edge, with room below the last.
    pub(super) fn text(
        &self,
        text: &str,
        size: f64,
        weight: FontWeight,
        colour: Colour,
        left: f64,
        below: f64,
    ) -> Vec<LayoutBox> {
        let step = size * LEADING * MM_PER_POINT;
        let lines = self.fonts.lines(text, self.width - left, size, weight);
        let count = lines.len();
        let line = |(at, text): (usize, String)| LayoutBox {
            elements: vec![PageElement::Text {
                at: Point::new(left, 0.78 * step),
                size,
                weight,
                colour,
                text,
            }],
            height: if at + 1 == count { step + below } else { step },
            with_next: at + 1 < count,
            head: None,
        };
        lines.into_iter().enumerate().map(line).collect()
    }

    pub(super) fn heading(&self, text: &str, size: f64, colour: Colour) -> Vec<LayoutBox> {
        let mut boxes = self.text(text, size, FontWeight::Bold, colour, 0.0, 1.5);
        if let Some(first) = boxes.first_mut() {
            first
                .elements
                .iter_mut()
                .for_each(|element| *element = element.moved(0.0, 2.0));
            first.height += 2.0;
        }
        boxes.iter_mut().for_each(|part| part.with_next = true);
        boxes
    }

    pub(super) fn caption(&self, phrase: &Phrase) -> Vec<LayoutBox> {
        let text = phrase.text(self.units);
        self.text(
            &text,
            size::SMALL,
            FontWeight::Plain,
            theme::QUIET.light,
            0.0,
            3.5,
        )
    }

    pub(super) fn paragraph(&self, phrase: &Phrase) -> Vec<LayoutBox> {
        let text = phrase.text(self.units);
        self.text(
            &text,
            size::TEXT,
            FontWeight::Plain,
            theme::INK.light,
            0.0,
            2.0,
        )
    }

    /// Several lines as one box.
    pub(super) fn joined(&self, boxes: Vec<LayoutBox>) -> LayoutBox {
        let mut whole = LayoutBox::default();
        for part in boxes {
            let y = whole.height;
            whole
                .elements
                .extend(part.elements.iter().map(|element| element.moved(0.0, y)));
            whole.height += part.height;
        }
        whole
    }

    /// A setting, and the nearest 1/64 inch apart from it where inches are read.
    pub(super) fn value(&self, word: &Word) -> (String, Option<String>) {
        match word {
            Word::Length(length) if self.units == UnitSystem::Inches => (
                Brief(length.0).text(self.units),
                Some(length.fraction_note().trim().to_owned()),
            ),
            other => (other.text(self.units), None),
        }
    }
}
