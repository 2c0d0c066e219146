//! Tables as boxes, a row each.

use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::PageElement;
use super::points::MM_PER_POINT;
use super::typesetter::{LEADING, Typesetter};
use crate::geometry::Point;
use crate::instructions::sheet::{Cell, Table};
use crate::units::{Mm, UnitSystem};
use crate::writing::theme::{self, size};
use std::rc::Rc;

/// Between columns, mm.
const GAP: f64 = 4.5;

/// From this count of rows on a table is folded, and how far apart its halves then are, mm.
const LONG: usize = 6;
const BETWEEN: f64 = 10.0;

/// Up to this count of rows a table is not broken.
const SHORT: usize = 8;

/// Narrowest column for words, mm.
const NARROWEST: f64 = 18.0;

/// A table's rows, its head said again on every page, and what its figures are measured from.
pub(super) fn table(typesetter: &Typesetter<'_>, table: &Table) -> Vec<LayoutBox> {
    let head: Vec<String> = (0..table.columns.len())
        .map(|at| heading(typesetter, table, at))
        .collect();
    let rows: Vec<Vec<String>> = table
        .rows
        .iter()
        .map(|row| row.iter().map(|cell| text(typesetter, cell)).collect())
        .collect();
    let figures: Vec<bool> = (0..head.len()).map(|at| table.holds_figures(at)).collect();
    let layout = ColumnLayout::of(typesetter, &head, &rows, &figures);
    let head = layout.row(typesetter, &head, true);
    let rows = rows.iter().map(|row| layout.row(typesetter, row, false));
    let (head, rows) = folded(head, rows.collect(), layout.wide(), typesetter.width);
    let head = Rc::new(LayoutBox {
        with_next: true,
        ..head
    });
    let mut boxes = vec![(*head).clone()];
    let short = rows.len() <= SHORT;
    boxes.extend(rows.into_iter().map(|row| LayoutBox {
        head: Some(head.clone()),
        with_next: short,
        ..row
    }));
    if let Some(last) = boxes.last_mut() {
        last.height += 1.5;
        last.with_next = true;
    }
    boxes.extend(typesetter.caption(&table.caption));
    boxes
}

/// A long narrow table as two halves beside each other, the second half of its rows on the right.
fn folded(
    head: LayoutBox,
    rows: Vec<LayoutBox>,
    wide: f64,
    room: f64,
) -> (LayoutBox, Vec<LayoutBox>) {
    let left = rows.len().div_ceil(2);
    let shift = wide + BETWEEN;
    if rows.len() < LONG || shift + wide > room {
        return (head, rows);
    }
    let beside = |mut row: LayoutBox, right: &LayoutBox| {
        let moved = right
            .elements
            .iter()
            .map(|element| element.moved(shift, 0.0));
        row.elements.extend(moved);
        row.height = row.height.max(right.height);
        row
    };
    let mut rows = rows.into_iter();
    let lefts: Vec<LayoutBox> = rows.by_ref().take(left).collect();
    let lefts = lefts.into_iter().map(|row| match rows.next() {
        Some(right) => beside(row, &right),
        None => row,
    });
    let lefts = lefts.collect();
    let right = head.clone();
    (beside(head, &right), lefts)
}

fn heading(typesetter: &Typesetter<'_>, table: &Table, column: usize) -> String {
    let name = table.columns.get(column).copied().unwrap_or_default();
    match typesetter.units {
        _ if !table.holds_lengths(column) => name.into(),
        UnitSystem::Millimetres => format!("{name} mm"),
        UnitSystem::Inches => format!("{name} in"),
    }
}

fn text(typesetter: &Typesetter<'_>, cell: &Cell) -> String {
    match cell {
        Cell::Length(mm) => Mm(*mm).figure(typesetter.units),
        Cell::Count(count) => count.to_string(),
        Cell::Text(text) => text.clone(),
        Cell::Empty => String::new(),
    }
}

/// Widths of columns; headings may take two lines, words as many as they need.
struct ColumnLayout {
    widths: Vec<f64>,
    figures: Vec<bool>,
    size: f64,
}

impl ColumnLayout {
    fn of(
        typesetter: &Typesetter<'_>,
        head: &[String],
        rows: &[Vec<String>],
        figures: &[bool],
    ) -> ColumnLayout {
        let size = size::SMALL + 0.5;
        let wide = |text: &str, weight| typesetter.fonts.width(text, size, weight);
        let column = |at: usize| {
            let words = head.get(at).map_or("", String::as_str).split(' ');
            let head = words
                .map(|word| wide(word, FontWeight::Bold))
                .fold(0.0, f64::max);
            let cells = rows.iter().filter_map(|row| row.get(at));
            cells
                .map(|cell| wide(cell, FontWeight::Plain))
                .fold(head, f64::max)
                + 0.1
        };
        let mut widths: Vec<f64> = (0..head.len()).map(column).collect();
        let room = typesetter.width - GAP * head.len() as f64;
        // What is too much is taken from the widest column of words.
        for _ in 0..head.len() {
            let over = widths.iter().sum::<f64>() - room;
            let words = widths
                .iter_mut()
                .zip(figures)
                .filter(|(_, figures)| !**figures);
            let widest = words.map(|(width, _)| width).max_by(|a, b| a.total_cmp(b));
            match widest {
                Some(width) if over > 0.0 => *width = (*width - over).max(NARROWEST.min(*width)),
                _ => break,
            }
        }
        let over = widths.iter().sum::<f64>() / room;
        ColumnLayout {
            // Figures alone that are too wide are set smaller.
            size: size / over.max(1.0),
            widths: widths.iter().map(|width| width / over.max(1.0)).collect(),
            figures: figures.to_vec(),
        }
    }

    /// Of the whole table.
    fn wide(&self) -> f64 {
        self.widths.iter().map(|width| width + GAP).sum()
    }

    fn row(&self, typesetter: &Typesetter<'_>, cells: &[String], head: bool) -> LayoutBox {
        let weight = if head {
            FontWeight::Bold
        } else {
            FontWeight::Plain
        };
        let step = self.size * LEADING * MM_PER_POINT;
        let mut elements = Vec::new();
        let mut x = GAP / 2.0;
        let mut most = 1;
        for ((cell, width), figures) in cells.iter().zip(&self.widths).zip(&self.figures) {
            let lines = typesetter
                .fonts
                .lines(cell, *width + 0.2, self.size, weight);
            most = most.max(lines.len());
            for (at, text) in lines.into_iter().enumerate() {
                let wide = typesetter.fonts.width(&text, self.size, weight);
                let shift = if *figures { width - wide } else { 0.0 };
                elements.push(PageElement::Text {
                    at: Point::new(x + shift, 1.0 + (at as f64 + 0.78) * step),
                    size: self.size,
                    weight,
                    colour: theme::INK.light,
                    text,
                });
            }
            x += width + GAP;
        }
        let height = most as f64 * step + 2.0;
        let end = x - GAP / 2.0;
        if head {
            let ground = PageElement::filled(
                Point::new(0.0, 0.0),
                Point::new(end, height),
                theme::CARD.light,
            );
            elements.insert(0, ground);
        }
        let (from, to) = (Point::new(0.0, height), Point::new(end, height));
        elements.push(PageElement::line(from, to, theme::RULE.light, 0.2));
        LayoutBox {
            elements,
            height,
            ..LayoutBox::default()
        }
    }
}
