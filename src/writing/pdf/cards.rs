//! Settings as cards.

use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::tags::TagRole;
use super::typesetter::Typesetter;
use crate::geometry::Point;
use crate::instructions::sheet::Figure;
use crate::writing::theme::{self, size};

impl Typesetter<'_> {
    /// Settings as cards, three in a row.
    pub(super) fn figures(&self, figures: &[Figure]) -> Vec<LayoutBox> {
        const COLUMNS: usize = 3;
        const GAP: f64 = 3.0;
        let width = (self.width - GAP * (COLUMNS - 1) as f64) / COLUMNS as f64;
        let typesetter = Typesetter {
            width: width - 6.0,
            ..*self
        };
        let list = typesetter.within(TagRole::List);
        let mut rows = Vec::new();
        for row in figures.chunks(COLUMNS) {
            let cards = row.iter().map(|figure| {
                let body = list.within(TagRole::Item).within(TagRole::Body);
                body.card(figure)
            });
            let cards: Vec<LayoutBox> = cards.collect();
            let tallest = cards.iter().map(|card| card.height).fold(0.0, f64::max);
            let height = tallest + 3.5;
            let mut whole = LayoutBox {
                height: height + GAP,
                ..LayoutBox::default()
            };
            for (at, card) in cards.iter().enumerate() {
                let x = at as f64 * (width + GAP);
                let low = Point::new(x, 0.0);
                let high = Point::new(x + width, height);
                whole
                    .elements
                    .push(PageElement::filled(low, high, theme::CARD.light));
                whole
                    .elements
                    .push(PageElement::framed(low, high, theme::RULE.light, 0.2));
                whole.put(card, x + 3.0, 2.0);
            }
            rows.push(whole);
        }
        rows
    }

    fn card(&self, figure: &Figure) -> LayoutBox {
        let mut boxes = self.text(
            &figure.name,
            TextStyle::plain(size::SMALL, theme::INK.light),
            0.0,
            0.0,
        );
        let setting = self.value(&figure.value);
        let value = setting.value;
        let wide = self.fonts.width(&value, size::SETTING, FontWeight::Bold);
        let fitting = size::SETTING * (0.995 * self.width / wide).min(1.0);
        // A name too long for large letters is set smaller and over more lines.
        let fitting = fitting.max(size::ARMS_LENGTH);
        boxes.extend(self.text(
            &value,
            TextStyle::bold(fitting, theme::ACCENT.light),
            0.0,
            0.0,
        ));
        if let Some(note) = setting.nearest_fraction {
            boxes.extend(self.text(
                &note,
                TextStyle::plain(size::SMALL, theme::QUIET.light),
                0.0,
                0.0,
            ));
        }
        let from = figure.measured.to_be_broken(self.units);
        boxes.extend(self.text(
            &from,
            TextStyle::plain(size::SMALL, theme::QUIET.light),
            0.0,
            0.0,
        ));
        LayoutBox::stacked(&boxes)
    }
}
