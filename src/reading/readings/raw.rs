//! What stands in a file of readings, before anybody knows what it means.

use crate::finding::Finding;
use crate::reading::source::Source;

/// A file: single values at its top, and tables.
#[derive(Debug, Default)]
pub(super) struct Raw {
    pub(super) source: Source,
    pub(super) findings: Vec<Finding>,
    pub(super) top: Vec<Entry>,
    pub(super) tables: Vec<RawTable>,
}

/// A table.
#[derive(Debug)]
pub(super) struct RawTable {
    /// `slot`.
    pub(super) name: String,
    /// `slot[1]`.
    pub(super) field: String,
    /// Whether it is one of a list.
    pub(super) in_list: bool,
    pub(super) entries: Vec<Entry>,
}

/// A key with what stands behind it.
#[derive(Debug)]
pub(super) struct Entry {
    pub(super) key: String,
    pub(super) field: String,
    pub(super) values: Vec<Cell>,
}

/// A value as it is written.
#[derive(Debug)]
pub(super) struct Cell {
    pub(super) field: String,
    pub(super) text: String,
    /// A number without quotes: its unit stands at the top of the file.
    pub(super) is_bare: bool,
}
