//! A table as it is read in one system of units.

use crate::instructions::sheet::{Table, TableCell};
use crate::units::{AtLeast, Mm, UnitSystem};

/// More columns of lengths than this have no nearest 1/64 beside them: the row would be lost.
const MOST_WITH_FRACTIONS: usize = 2;

/// A column: its heading with its unit, and its cells from above.
pub(super) struct ToldColumn {
    pub(super) heading: String,
    pub(super) cells: Vec<String>,
    /// Flush right, never broken.
    pub(super) figures: bool,
    /// What the column before it is on a rule.
    pub(super) of_last: bool,
}

/// A table's columns. In inches a column whose lengths are all fractions tells these; others tell
/// decimals, and where there are few of them the nearest 1/64 stands in a column of its own.
pub(super) fn told(table: &Table, units: UnitSystem) -> Vec<ToldColumn> {
    let columns = 0..table.columns.len();
    let lengths = columns.clone().filter(|at| table.holds_lengths(*at));
    let few = lengths.count() <= MOST_WITH_FRACTIONS;
    let mut told = Vec::new();
    for at in columns {
        let style = CellStyle::of(table, at, units);
        let heading = table.columns.get(at).copied().unwrap_or_default();
        let unit = match units {
            _ if !table.holds_lengths(at) => "",
            UnitSystem::Millimetres => " mm",
            UnitSystem::Inches => " in",
        };
        let cells = table.rows.iter().filter_map(|row| row.get(at));
        told.push(ToldColumn {
            heading: format!("{heading}{unit}"),
            cells: cells.clone().map(|cell| style.text(cell, units)).collect(),
            figures: table.holds_figures(at),
            of_last: false,
        });
        if !few || style != CellStyle::Decimals {
            continue;
        }
        let notes: Vec<String> = cells.map(note).collect();
        if notes.iter().any(|note| !note.is_empty()) {
            told.push(ToldColumn {
                heading: "nearest 1/64".into(),
                cells: notes,
                figures: true,
                of_last: true,
            });
        }
    }
    told
}

/// How a column's lengths are told.
#[derive(Clone, Copy, PartialEq, Eq)]
enum CellStyle {
    Millimetres,
    Fractions,
    Decimals,
}

impl CellStyle {
    fn of(table: &Table, column: usize, units: UnitSystem) -> CellStyle {
        let mut cells = table.rows.iter().filter_map(|row| row.get(column));
        let true_or_none = |cell: &TableCell| match cell {
            TableCell::Length(mm) => Mm(*mm).true_fraction().is_some(),
            TableCell::AtLeast(_) => false,
            TableCell::Count(_) | TableCell::Text(_) | TableCell::Empty => true,
        };
        match units {
            UnitSystem::Millimetres => CellStyle::Millimetres,
            UnitSystem::Inches if cells.all(true_or_none) => CellStyle::Fractions,
            UnitSystem::Inches => CellStyle::Decimals,
        }
    }

    fn text(self, cell: &TableCell, units: UnitSystem) -> String {
        match cell {
            TableCell::Length(mm) => {
                let fraction = match self {
                    CellStyle::Fractions => Mm(*mm).true_fraction(),
                    CellStyle::Millimetres | CellStyle::Decimals => None,
                };
                fraction.unwrap_or_else(|| Mm(*mm).figure(units))
            }
            TableCell::AtLeast(mm) => AtLeast(*mm).figure(units),
            TableCell::Count(count) => count.to_string(),
            TableCell::Text(text) => text.clone(),
            TableCell::Empty => String::new(),
        }
    }
}

/// The nearest 1/64 and what must be added to it, or the fraction that the length is.
fn note(cell: &TableCell) -> String {
    match cell {
        TableCell::Length(mm) => {
            let length = Mm(*mm);
            let note = length.fraction_note().or_else(|| length.true_fraction());
            note.unwrap_or_default()
        }
        TableCell::AtLeast(_) | TableCell::Count(_) | TableCell::Text(_) | TableCell::Empty => {
            String::new()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headings_and_first(lengths: &[[f64; 2]], units: UnitSystem) -> Vec<(String, String)> {
        let row = |pair: &[f64; 2]| {
            let lengths = pair.iter().map(|mm| TableCell::Length(*mm));
            [TableCell::Text("lid".into())]
                .into_iter()
                .chain(lengths)
                .collect()
        };
        let table = Table {
            caption: "".into(),
            columns: vec!["part", "long", "wide"],
            rows: lengths.iter().map(row).collect(),
        };
        let told = told(&table, units).into_iter();
        told.map(|column| (column.heading, column.cells[0].clone()))
            .collect()
    }

    #[test]
    fn a_column_of_fractions_tells_them_and_others_have_the_nearest_beside_them() {
        let rows = [[12.7, 42.0], [25.4, 12.7]];
        let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
        assert_eq!(
            headings_and_first(&rows, UnitSystem::Inches),
            [
                pair("part", "lid"),
                pair("long in", "1/2"),
                pair("wide in", "1.6535"),
                pair("nearest 1/64", "[1-21/32 -0.0027]"),
            ]
        );
        assert_eq!(
            headings_and_first(&rows, UnitSystem::Millimetres),
            [
                pair("part", "lid"),
                pair("long mm", "12.70"),
                pair("wide mm", "42.00")
            ]
        );
    }
}
