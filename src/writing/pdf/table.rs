//! Tables as boxes, a row each.

use super::fonts::FontWeight;
use super::layout_box::LayoutBox;
use super::page_element::{PageElement, TextStyle};
use super::tags::TagRole;
use super::typesetter::{BASELINE, Typesetter, line_step};
use crate::geometry::Point;
use crate::instructions::sheet::Table;
use crate::writing::theme::{self, size};
use crate::writing::told_table::told;
use std::rc::Rc;

/// Between columns, mm.
const GAP: f64 = 4.5;

/// From this count of rows on a table is folded in two, from half as many more in three; how far apart
/// these parts then are, mm.
const LONG: usize = 5;
const BETWEEN: f64 = 8.0;
const MOST_PARTS: usize = 3;

/// Up to this count of rows a table is not broken.
const SHORT: usize = 8;

/// Narrowest column for words, mm.
const NARROWEST: f64 = 18.0;

/// Cells as they are read, and which columns hold figures.
struct TableText {
    head: Vec<String>,
    rows: Vec<Vec<String>>,
    figures: Vec<bool>,
}

/// A table set: its head and its rows.
struct TableBoxes {
    head: LayoutBox,
    rows: Vec<LayoutBox>,
}

/// A table's rows, its head said again on every page, and what its figures are measured from.
pub(super) fn table(typesetter: &Typesetter<'_>, table: &Table) -> Vec<LayoutBox> {
    let text = text_of(typesetter, table);
    let mut boxes = Vec::new();
    for part in text.that_fit(typesetter) {
        boxes.extend(set(typesetter, &part));
    }
    boxes.extend(typesetter.caption(&table.caption));
    boxes
}

/// Whether a table has room in a column as it is: no word broken, no figure smaller.
pub(super) fn has_room(typesetter: &Typesetter<'_>, table: &Table) -> bool {
    let text = text_of(typesetter, table);
    let wanted = (0..text.head.len())
        .map(|column| GAP + wanted_width(typesetter, &text, column, ColumnLayout::SIZE));
    wanted.sum::<f64>() <= typesetter.width
}

fn text_of(typesetter: &Typesetter<'_>, table: &Table) -> TableText {
    let told = told(table, typesetter.units);
    let row = |at: usize| told.iter().filter_map(move |column| column.cells.get(at));
    TableText {
        head: told.iter().map(|column| column.heading.clone()).collect(),
        rows: (0..table.rows.len())
            .map(|at| row(at).cloned().collect())
            .collect(),
        figures: told.iter().map(|column| column.figures).collect(),
    }
}

/// A table's rows under its head.
fn set(typesetter: &Typesetter<'_>, text: &TableText) -> Vec<LayoutBox> {
    let typesetter = &typesetter.within(TagRole::Table);
    let narrow = ColumnLayout::of(typesetter, text);
    let parts = parts(text.rows.len(), narrow.wide(), typesetter.width);
    let layout = match parts {
        1 => ColumnLayout::with_low_head(typesetter, text).unwrap_or(narrow),
        _ => narrow,
    };
    let whole = TableBoxes {
        head: layout.head(typesetter, &text.head),
        rows: text
            .rows
            .iter()
            .map(|row| layout.row(typesetter, row, FontWeight::Plain, TagRole::Cell))
            .collect(),
    };
    let TableBoxes { head, rows } = folded(whole, layout.wide(), parts);
    let first = LayoutBox {
        with_next: true,
        ..head
    };
    // Where it is said again, it was heard before.
    let head = Rc::new(first.clone().unmarked());
    let mut boxes = vec![first];
    let count = rows.len();
    // No row stands alone before or behind a break.
    boxes.extend(rows.into_iter().enumerate().map(|(at, row)| LayoutBox {
        head: Some(head.clone()),
        with_next: count <= SHORT || at == 0 || at + 2 == count,
        ..row
    }));
    if let Some(last) = boxes.last_mut() {
        last.height += 1.5;
        last.with_next = true;
    }
    boxes
}

impl TableText {
    /// The table, or where its figures would become too small several, each with the columns that say which row
    /// it is: up to the first one that is filled in the first row.
    fn that_fit(self, typesetter: &Typesetter<'_>) -> Vec<TableText> {
        let count = self.head.len();
        let fits = ColumnLayout::of(typesetter, &self).size * typesetter.scale >= size::LEAST;
        let is_filled = |cell: &String| !cell.is_empty();
        let lead = self
            .rows
            .first()
            .and_then(|row| row.iter().position(is_filled));
        let lead = 1 + lead.unwrap_or(0);
        if fits || count < lead + 2 {
            return vec![self];
        }
        let half = lead + (count - lead).div_ceil(2);
        let first: Vec<usize> = (0..half).collect();
        let second: Vec<usize> = (0..lead).chain(half..count).collect();
        let parts = [first, second].map(|columns| self.columns(&columns).that_fit(typesetter));
        parts.into_iter().flatten().collect()
    }

    /// Some of its columns.
    fn columns(&self, columns: &[usize]) -> TableText {
        let of = |row: &Vec<String>| {
            let cells = columns.iter().filter_map(|at| row.get(*at));
            cells.cloned().collect::<Vec<String>>()
        };
        TableText {
            head: of(&self.head),
            rows: self.rows.iter().map(of).collect(),
            figures: columns
                .iter()
                .filter_map(|at| self.figures.get(*at).copied())
                .collect(),
        }
    }
}

/// In how many parts beside each other a table of so many rows stands: a long narrow one in as many as there is
/// room for.
fn parts(rows: usize, wide: f64, room: f64) -> usize {
    let fits = (2..=MOST_PARTS).rfind(|parts| {
        let parts_wide = (*parts - 1) as f64 * (wide + BETWEEN) + wide;
        // One that goes on on the next page would be read in the wrong order.
        let kept = rows.div_ceil(*parts) <= SHORT;
        kept && parts_wide <= room && rows >= parts * LONG / 2
    });
    fits.unwrap_or(1)
}

/// A table in so many parts; its rows run down the first, then down the second.
fn folded(table: TableBoxes, wide: f64, parts: usize) -> TableBoxes {
    if parts < 2 {
        return table;
    }
    let shift = wide + BETWEEN;
    let TableBoxes { head, rows } = table;
    let each = rows.len().div_ceil(parts);
    let mut rows = rows.into_iter();
    let mut left: Vec<LayoutBox> = rows.by_ref().take(each).collect();
    let mut heads = head.clone();
    for (at, right) in rows.enumerate() {
        let x = (at / each + 1) as f64 * shift;
        if at % each == 0 {
            heads.put(head.clone().unmarked(), x, 0.0);
        }
        if let Some(row) = left.get_mut(at % each) {
            row.height = row.height.max(right.height);
            row.put(right, x, 0.0);
        }
    }
    TableBoxes {
        head: heads,
        rows: left,
    }
}

/// Widths of columns; headings may take two lines, words as many as they need.
struct ColumnLayout {
    widths: Vec<f64>,
    figures: Vec<bool>,
    size: f64,
}

impl ColumnLayout {
    /// Of type, points.
    const SIZE: f64 = size::SMALL + 0.5;

    fn of(typesetter: &Typesetter<'_>, text: &TableText) -> ColumnLayout {
        let size = Self::SIZE;
        let count = text.head.len();
        let mut widths: Vec<f64> = (0..count)
            .map(|column| wanted_width(typesetter, text, column, size))
            .collect();
        let room = typesetter.width - GAP * count as f64;
        // What is too much is taken from the widest column of words.
        for _ in 0..count {
            let over = widths.iter().sum::<f64>() - room;
            let words = widths
                .iter_mut()
                .zip(&text.figures)
                .filter(|(_, figures)| !**figures);
            let widest = words.map(|(width, _)| width).max_by(|a, b| a.total_cmp(b));
            match widest {
                Some(width) if over > 0.0 => *width = (*width - over).max(NARROWEST.min(*width)),
                Some(_) | None => break,
            }
        }
        let over = widths.iter().sum::<f64>() / room;
        ColumnLayout {
            // Figures alone that are too wide are set smaller.
            size: size / over.max(1.0),
            widths: widths.iter().map(|width| width / over.max(1.0)).collect(),
            figures: text.figures.clone(),
        }
    }

    /// The same with headings of two lines at most, where there is room for them.
    fn with_low_head(typesetter: &Typesetter<'_>, text: &TableText) -> Option<ColumnLayout> {
        let widths = (0..text.head.len()).map(|column| {
            let heading = text.head.get(column).map_or("", String::as_str);
            let wanted = wanted_width(typesetter, text, column, Self::SIZE);
            wanted.max(width_in_two_lines(typesetter, heading))
        });
        let layout = ColumnLayout {
            widths: widths.collect(),
            figures: text.figures.clone(),
            size: Self::SIZE,
        };
        (layout.wide() <= typesetter.width).then_some(layout)
    }

    /// Of the whole table.
    fn wide(&self) -> f64 {
        self.widths.iter().map(|width| width + GAP).sum()
    }

    /// Where the rule below a row ends, mm.
    fn end(&self) -> f64 {
        let mut x = GAP / 2.0;
        for width in &self.widths {
            x += width + GAP;
        }
        x - GAP / 2.0
    }

    fn head(&self, typesetter: &Typesetter<'_>, cells: &[String]) -> LayoutBox {
        let mut row = self.row(typesetter, cells, FontWeight::Bold, TagRole::ColumnHeading);
        let high = Point::new(self.end(), row.height);
        let ground = PageElement::filled(Point::new(0.0, 0.0), high, theme::CARD.light);
        row.elements.insert(0, ground);
        row
    }

    fn row(
        &self,
        typesetter: &Typesetter<'_>,
        cells: &[String],
        weight: FontWeight,
        role: TagRole,
    ) -> LayoutBox {
        let row = typesetter.within(TagRole::Row);
        let style = TextStyle {
            size: self.size,
            weight,
            colour: theme::INK.light,
        };
        let step = line_step(self.size);
        let mut elements = Vec::new();
        let mut x = GAP / 2.0;
        let mut most = 1;
        for ((cell, width), figures) in cells.iter().zip(&self.widths).zip(&self.figures) {
            let lines = typesetter
                .fonts
                .lines(cell, *width + 0.2, self.size, weight);
            most = most.max(lines.len());
            let tag = row.within(role).under;
            let mut written = Vec::new();
            for (at, text) in lines.into_iter().enumerate() {
                let wide = typesetter.fonts.width(&text, self.size, weight);
                let shift = if *figures { width - wide } else { 0.0 };
                written.push(PageElement::Text {
                    at: Point::new(x + shift, 0.7 + (at as f64 + BASELINE) * step),
                    style,
                    text,
                });
            }
            elements.push(PageElement::marked(tag, written));
            x += width + GAP;
        }
        let height = most as f64 * step + 1.5;
        elements.push(PageElement::line(
            Point::new(0.0, height),
            Point::new(x - GAP / 2.0, height),
            theme::RULE.light,
            0.2,
        ));
        LayoutBox {
            elements,
            height,
            ..LayoutBox::default()
        }
    }
}

/// Least width in which a heading takes no more than two lines, mm.
fn width_in_two_lines(typesetter: &Typesetter<'_>, heading: &str) -> f64 {
    let wide = |words: &str| {
        let fonts = typesetter.fonts;
        fonts.width(words, ColumnLayout::SIZE, FontWeight::Bold)
    };
    let breaks = heading.match_indices(' ').map(|(at, _)| at);
    let halves = breaks.map(|at| heading.split_at(at));
    let widths = halves.map(|(first, second)| wide(first).max(wide(second.trim_start())));
    widths.fold(wide(heading), f64::min) + 0.1
}

/// Wide enough for every word of a column's heading and every cell below it, mm.
fn wanted_width(typesetter: &Typesetter<'_>, text: &TableText, column: usize, size: f64) -> f64 {
    let mut widest = 0.0_f64;
    let heading = text.head.get(column).map_or("", String::as_str);
    for word in heading.split(' ') {
        widest = widest.max(typesetter.fonts.width(word, size, FontWeight::Bold));
    }
    for cell in text.rows.iter().filter_map(|row| row.get(column)) {
        widest = widest.max(typesetter.fonts.width(cell, size, FontWeight::Plain));
    }
    widest + 0.1
}
