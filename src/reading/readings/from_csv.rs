//! Readings as CSV: in each line a key, then its value or values.
//!
//! Keys are those of the TOML file, tables before a point: `date`, `grooves.across`; of several tables of
//! a name each has its number, from 1: `slot.1.between`. What stands behind `#` is for people.

use super::raw::{Cell, Entry, Raw, RawTable};
use crate::finding::Finding;
use crate::reading::source::Source;
use std::ops::Range;

/// The file's lines; what is no such line is reported.
pub(super) fn raw(name: &str, text: &str) -> Raw {
    let mut raw = Raw {
        source: Source::new(name, text),
        ..Raw::default()
    };
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let content = line.split('#').next().unwrap_or_default();
        raw.line(text, start..start + content.trim_end().len());
        start += line.len();
    }
    raw
}

/// The cells of a line with their places; quotes and spaces around them go. Empty cells behind the
/// last one that is filled are what a spreadsheet adds.
fn cells(text: &str, line: Range<usize>) -> Vec<(Range<usize>, &str)> {
    let mut found = Vec::new();
    let mut at = line.start;
    for cell in text.get(line).unwrap_or_default().split(',') {
        let inner = cell.trim().trim_matches('"').trim();
        let place = at + cell.find(inner).unwrap_or(0);
        found.push((place..place + inner.len(), inner));
        at += cell.len() + 1;
    }
    while found.last().is_some_and(|(_, text)| text.is_empty()) {
        found.pop();
    }
    found
}

impl Raw {
    fn line(&mut self, text: &str, line: Range<usize>) {
        let cells = cells(text, line.clone());
        let Some(((place, key), values)) = cells.split_first() else {
            return;
        };
        let parts: Vec<&str> = key.split('.').collect();
        let (name, number, key) = match parts.as_slice() {
            [key] => ("", None, *key),
            [name, key] => (*name, None, *key),
            [name, number, key] => (*name, number.parse::<usize>().ok().filter(|n| *n > 0), *key),
            _ => ("", None, ""),
        };
        if key.is_empty() || parts.len() == 3 && number.is_none() {
            let field = format!("#{}", place.start);
            self.source.note(field.clone(), line);
            let fault = Finding::error("no-key", field, "this line begins with no key");
            self.findings.push(fault.hint(
                "begin it with a key: date, unit, grooves.across, or slot.1.between; its values behind commas",
            ));
            return;
        }
        let table = match number {
            Some(number) => format!("{name}[{}]", number - 1),
            None => name.to_owned(),
        };
        let field = if table.is_empty() {
            key.to_owned()
        } else {
            format!("{table}.{key}")
        };
        if self.has(&field) {
            let again = format!("#{}", place.start);
            self.source.note(again.clone(), line);
            let fault = Finding::error(
                "twice",
                again,
                format!("{field} stands in an earlier line too"),
            );
            self.findings
                .push(fault.hint("write all its values in one line"));
            return;
        }
        self.source.note(field.clone(), line);
        let entry = self.csv_entry(key, field, values);
        if table.is_empty() {
            self.top.push(entry);
            return;
        }
        self.source.note(table.clone(), place.clone());
        match self.tables.iter_mut().find(|known| known.field == table) {
            Some(known) => known.entries.push(entry),
            None => self.tables.push(RawTable {
                name: name.to_owned(),
                field: table,
                in_list: number.is_some(),
                entries: vec![entry],
            }),
        }
    }

    fn has(&self, field: &str) -> bool {
        let in_tables = self.tables.iter().flat_map(|table| &table.entries);
        let mut all = self.top.iter().chain(in_tables);
        all.any(|entry| entry.field == field)
    }

    fn csv_entry(&mut self, key: &str, field: String, values: &[(Range<usize>, &str)]) -> Entry {
        let cell = |(at, (place, text)): (usize, &(Range<usize>, &str))| {
            let own = format!("{field}[{at}]");
            self.source.note(own.clone(), place.clone());
            let is_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+');
            Cell {
                field: own,
                text: (*text).to_owned(),
                is_bare: !text.is_empty() && text.chars().all(is_number),
            }
        };
        let values = values.iter().enumerate().map(cell).collect();
        Entry {
            key: key.to_owned(),
            field,
            values,
        }
    }
}
