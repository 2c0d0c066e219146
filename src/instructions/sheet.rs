//! A set-up sheet: what a person does at one machine, figures apart from the way they are shown.

use super::safety::SafetyNotes;
use crate::phrase::{Phrase, Word};

/// The sheet for one machine. It cannot be made without its safety notes.
#[derive(Debug, Clone, PartialEq)]
pub struct SetupSheet {
    /// What is made.
    pub title: String,
    /// At which machine.
    pub machine: String,
    /// Shown first; of an answer on the screen the worst first, all at the end.
    pub safety: SafetyNotes,
    /// In working order.
    pub sections: Vec<Section>,
}

/// A part of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What it is about.
    pub heading: String,
    /// What it says, in order.
    pub blocks: Vec<Block>,
}

/// One thing that a section says.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Settings, one a line.
    Figures(Vec<Figure>),
    /// Columns of figures.
    Table(Table),
    /// Numbered steps.
    Steps(Vec<Phrase>),
    /// Sentences.
    Remarks(Vec<Phrase>),
}

/// A setting, and what it is measured from.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: Word,
    /// What it is measured from, or how it is to be read.
    pub measured: Phrase,
}

/// Rows of cells under headings.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// What its figures are measured from.
    pub caption: Phrase,
    /// A heading for each column.
    pub columns: Vec<&'static str>,
    /// Cells row by row, as many as there are columns.
    pub rows: Vec<Vec<Cell>>,
}

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A length in mm.
    Length(f64),
    /// A count or an index.
    Count(usize),
    /// Words.
    Text(String),
    /// Nothing to say.
    Empty,
}

impl Figure {
    /// A figure with its datum.
    pub fn new(name: &str, value: impl Into<Word>, measured: impl Into<Phrase>) -> Self {
        Figure {
            name: name.into(),
            value: value.into(),
            measured: measured.into(),
        }
    }
}

impl Table {
    /// Whether a column holds lengths: its heading then names their unit.
    pub fn holds_lengths(&self, column: usize) -> bool {
        self.holds(column, |cell| matches!(cell, Cell::Length(_)))
    }

    /// Whether a column holds figures: they stand flush right and are never broken.
    pub fn holds_figures(&self, column: usize) -> bool {
        self.holds(column, |cell| {
            matches!(cell, Cell::Length(_) | Cell::Count(_))
        })
    }

    fn holds(&self, column: usize, kind: fn(&Cell) -> bool) -> bool {
        let mut cells = self.rows.iter().filter_map(|row| row.get(column));
        cells.any(kind)
    }
}

impl Cell {
    /// A length, or nothing.
    pub fn length(mm: Option<f64>) -> Cell {
        mm.map_or(Cell::Empty, Cell::Length)
    }
}
