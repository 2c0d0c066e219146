//! Settings as cards: large figures, and beside each what it is and what it is measured from.

use super::fitted::LEAST_SCALE;
use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::tags::TagRole;
use super::typesetter::{Typesetter, keep_with_next};
use crate::geometry::Point;
use crate::instructions::sheet::Figure;
use crate::writing::theme::{self, size};

/// Between cards, and from a card's edge to what it says, mm.
const GAP: f64 = 2.5;
const EDGE: f64 = 2.5;

/// Room of the figure, mm: eight digits of a setting's size. One that is too wide for that is set
/// smaller, at least as large as figures are read at arm's length on the most crowded card, points.
const VALUE: f64 = 36.0;
const LEAST: f64 = size::ARMS_LENGTH / LEAST_SCALE;

/// So many rows of them are not parted.
const KEPT: usize = 6;

/// Cards narrower than this would have no room for words, mm.
const NARROWEST: f64 = 78.0;

impl Typesetter<'_> {
    /// Settings as cards, as many in a row as there is room for.
    pub(super) fn figures(&self, figures: &[Figure]) -> Vec<LayoutBox> {
        let columns = if 2.0 * NARROWEST + GAP <= self.width {
            2
        } else {
            1
        };
        let width = (self.width - GAP * (columns - 1) as f64) / columns as f64;
        let typesetter = Typesetter {
            width: width - 2.0 * EDGE,
            ..*self
        };
        let mut rows = Vec::new();
        let list = typesetter.within(TagRole::List);
        for row in figures.chunks(columns) {
            let cards = row.iter().map(|figure| {
                let body = list.within(TagRole::Item).within(TagRole::Body);
                body.card(figure)
            });
            let cards: Vec<LayoutBox> = cards.collect();
            let tallest = cards.iter().map(|card| card.height).fold(0.0, f64::max);
            let height = tallest + 2.6;
            let mut whole = LayoutBox {
                height: height + 1.6,
                ..LayoutBox::default()
            };
            for (at, card) in cards.into_iter().enumerate() {
                let x = at as f64 * (width + GAP);
                let low = Point::new(x, 0.0);
                let high = Point::new(x + width, height);
                whole
                    .elements
                    .push(PageElement::filled(low, high, theme::CARD.light));
                whole
                    .elements
                    .push(PageElement::framed(low, high, theme::RULE.light, 0.2));
                let middle = (tallest - card.height) / 2.0;
                whole.put(card, x + EDGE, 1.3 + middle);
            }
            rows.push(whole);
        }
        // A few are not parted: those on the next page or column would stand without their heading.
        if let [before @ .., _] = rows.as_mut_slice()
            && before.len() < KEPT
        {
            keep_with_next(before);
        }
        if let Some(last) = rows.last_mut() {
            last.height += 1.5;
        }
        rows
    }

    /// Its name, its figure, what that is measured from: they are heard in this order.
    fn card(&self, figure: &Figure) -> LayoutBox {
        let setting = self.value(&figure.value);
        let left = VALUE + EDGE;
        let name = TextStyle::bold(size::SMALL, theme::INK.light);
        let name = LayoutBox::stacked(self.text(&figure.name, name, left, 0.0));
        let wide = self
            .fonts
            .width(&setting.value, size::SETTING, FontWeight::Bold);
        let fitting = size::SETTING * (0.995 * VALUE / wide).min(1.0);
        let narrow = Typesetter {
            width: VALUE,
            ..*self
        };
        let bold = TextStyle::bold(fitting.max(LEAST), theme::ACCENT.light);
        let mut value = narrow.text(&setting.value, bold, 0.0, 0.0);
        let quiet = TextStyle::plain(size::SMALL, theme::QUIET.light);
        if let Some(note) = setting.nearest_fraction {
            value.extend(narrow.text(&note, quiet, 0.0, 0.0));
        }
        let value = LayoutBox::stacked(value);
        let from = figure.measured.to_be_broken(self.units);
        let from = LayoutBox::stacked(self.text(&from, quiet, left, 0.0));
        let words = name.height + from.height;
        let height = value.height.max(words);
        let mut card = LayoutBox {
            height,
            ..LayoutBox::default()
        };
        let top = (height - words) / 2.0;
        let below = top + name.height;
        let middle = (height - value.height) / 2.0;
        card.put(name, 0.0, top);
        card.put(value, 0.0, middle);
        card.put(from, 0.0, below);
        card
    }
}
