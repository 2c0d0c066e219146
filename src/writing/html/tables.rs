//! Tables of a page: in both systems of units, and as cards on a screen that is too narrow for their
//! columns.

use crate::instructions::sheet::Table;
use crate::units::UnitSystem;
use crate::writing::told_table::{ToldColumn, told};

/// A table with its figures in both systems of units.
pub(super) struct BothTable {
    /// Which screens are too narrow for its columns; a class of the style sheet.
    pub(super) class: &'static str,
    pub(super) columns: Vec<BothHeading>,
    pub(super) rows: Vec<Vec<BothCell>>,
}

/// A column's heading.
pub(super) struct BothHeading {
    pub(super) class: &'static str,
    pub(super) name: String,
    /// Its unit follows it.
    pub(super) lengths: bool,
}

/// A cell, and what it is on a card.
pub(super) struct BothCell {
    pub(super) class: &'static str,
    pub(super) mm: String,
    /// Where it is not the same.
    pub(super) inch: Option<String>,
    pub(super) label_mm: String,
    pub(super) label_inch: String,
}

/// A table in both systems of units.
pub(super) fn both(table: &Table) -> BothTable {
    let mut millimetres = told(table, UnitSystem::Millimetres).into_iter();
    let inches = told(table, UnitSystem::Inches);
    let class = class_for(&inches);
    let mut columns = Vec::new();
    let mut rows: Vec<Vec<BothCell>> = table.rows.iter().map(|_| Vec::new()).collect();
    for inch in inches {
        let class = match (inch.figures, inch.of_last) {
            (_, true) => "figure in",
            (true, false) => "figure",
            (false, false) => "words",
        };
        let own = match inch.of_last {
            true => None,
            false => millimetres.next(),
        };
        let name = own.as_ref().map_or(&inch.heading, |mm| &mm.heading);
        let lengths = *name != inch.heading;
        columns.push(BothHeading {
            class,
            name: match lengths {
                true => name.trim_end_matches(" mm").to_owned(),
                false => name.clone(),
            },
            lengths,
        });
        for (at, row) in rows.iter_mut().enumerate() {
            let cell = |column: &ToldColumn| column.cells.get(at).cloned().unwrap_or_default();
            let inches = cell(&inch);
            let mm = own.as_ref().map_or_else(|| inches.clone(), cell);
            row.push(BothCell {
                class,
                inch: (!mm.is_empty() && (lengths || inches != mm)).then_some(inches),
                mm,
                label_mm: name.clone(),
                label_inch: inch.heading.clone(),
            });
        }
    }
    BothTable {
        class,
        columns,
        rows,
    }
}

/// Width of a letter in the table's size of type: bold letters of DejaVu Sans are 0.69 em wide on the
/// average.
const LETTER: f64 = 0.69;

/// Screens that are too narrow for the columns of a class, as the style sheet names their width, and how
/// broad its tables are at most, in their size of type.
struct Cards {
    class: &'static str,
    up_to: &'static str,
    broadest: f64,
}

const CARDS: [Cards; 3] = [
    Cards {
        class: "cards-on-phones",
        up_to: "40rem",
        broadest: 38.0,
    },
    Cards {
        class: "cards-on-tablets",
        up_to: "62rem",
        broadest: 60.0,
    },
    Cards {
        class: "cards",
        up_to: "999rem",
        broadest: f64::INFINITY,
    },
];

/// The style sheet's rules for tables as cards.
pub(super) fn rules() -> String {
    let rules = CARDS.iter().map(|cards| {
        let rules = include_str!("cards.css").replace("CLASS", cards.class);
        format!(
            "@media screen and (max-width:{}){{\n{rules}}}\n",
            cards.up_to
        )
    });
    rules.collect()
}

/// Of tables that a phone of 360 pixels has room for, in their size of type.
const PHONE: f64 = 21.5;

/// A column is as wide as its longest word, one of figures as its longest cell.
fn class_for(columns: &[ToldColumn]) -> &'static str {
    let wide = |column: &ToldColumn| {
        let words = column.heading.split(' ').map(|word| word.chars().count());
        let cells = column.cells.iter().flat_map(|cell| match column.figures {
            true => vec![cell.chars().count()],
            false => cell.split(' ').map(|word| word.chars().count()).collect(),
        });
        words.chain(cells).max().unwrap_or(0) as f64 * LETTER
    };
    let letters: f64 = columns.iter().map(wide).sum();
    // Free room beside every cell, less of it on a phone.
    let count = columns.len() as f64;
    if letters + 0.75 * count <= PHONE {
        return "fits";
    }
    let fitting = CARDS
        .iter()
        .find(|cards| letters + 1.5 * count <= cards.broadest);
    fitting.map_or("cards", |cards| cards.class)
}
