//! Settings as cards.

use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::typesetter::Typesetter;
use crate::geometry::Point;
use crate::instructions::sheet::Figure;
use crate::writing::theme::{self, size};

impl Typesetter<'_> {
    /// Settings as cards, as many in a row as there is room for.
    pub(super) fn figures(&self, figures: &[Figure]) -> Vec<LayoutBox> {
        const GAP: f64 = 2.5;
        let columns = match self.width {
            wide if wide > 150.0 => 4,
            wide if wide > 100.0 => 3,
            _ => 2,
        };
        let width = (self.width - GAP * (columns - 1) as f64) / columns as f64;
        let typesetter = Typesetter {
            width: width - 5.0,
            ..*self
        };
        let mut rows = Vec::new();
        for row in figures.chunks(columns) {
            let cards: Vec<LayoutBox> = row.iter().map(|figure| typesetter.card(figure)).collect();
            let tallest = cards.iter().map(|card| card.height).fold(0.0, f64::max);
            let height = tallest + 3.0;
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
                whole.put(card, x + 2.5, 1.5);
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
        let fitting = fitting.max(size::TEXT);
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
        let from = figure.measured.text(self.units);
        boxes.extend(self.text(
            &from,
            TextStyle::plain(size::SMALL, theme::QUIET.light),
            0.0,
            0.0,
        ));
        LayoutBox::stacked(&boxes)
    }
}
