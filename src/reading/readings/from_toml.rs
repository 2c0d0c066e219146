//! Readings as TOML.

use super::raw::{Cell, Entry, Raw, RawTable};
use crate::finding::Finding;
use crate::phrase::Phrase;
use crate::reading::source::Source;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The file's tables and values; syntax errors are kept with what could be read.
pub(super) fn raw(name: &str, text: &str) -> Raw {
    let mut raw = Raw {
        source: Source::new(name, text),
        ..Raw::default()
    };
    let (document, errors) = DeTable::parse_recoverable(text);
    for (at, error) in errors.iter().enumerate() {
        let field = format!("#{at}");
        raw.source.note(field.clone(), error.span().unwrap_or(0..0));
        let message = Phrase::from(error.message().to_owned());
        let fault = Finding::error("syntax", field, message);
        raw.findings
            .push(fault.hint("the file is TOML: key = \"value\", one a line"));
    }
    for (key, value) in document.get_ref().iter() {
        let name: &str = key.get_ref();
        raw.source.note(name, value.span());
        match value.get_ref() {
            DeValue::Table(table) => {
                let read = raw.table(name, name.to_owned(), table, false);
                raw.tables.push(read);
            }
            DeValue::Array(items) if items.iter().any(is_table) => {
                for (at, item) in items.iter().enumerate() {
                    let field = format!("{name}[{at}]");
                    raw.source.note(field.clone(), item.span());
                    match item.get_ref() {
                        DeValue::Table(table) => {
                            let read = raw.table(name, field, table, true);
                            raw.tables.push(read);
                        }
                        _ => raw.no_value(&field),
                    }
                }
            }
            _ => {
                let entry = raw.entry(name, name.to_owned(), value);
                raw.top.extend(entry);
            }
        }
    }
    raw
}

fn is_table(value: &Spanned<DeValue<'_>>) -> bool {
    matches!(value.get_ref(), DeValue::Table(_))
}

impl Raw {
    fn table(&mut self, name: &str, field: String, table: &DeTable<'_>, in_list: bool) -> RawTable {
        let mut entries = Vec::new();
        for (key, value) in table.iter() {
            let key: &str = key.get_ref();
            entries.extend(self.entry(key, format!("{field}.{key}"), value));
        }
        RawTable {
            name: name.to_owned(),
            field,
            in_list,
            entries,
        }
    }

    fn entry(&mut self, key: &str, field: String, value: &Spanned<DeValue<'_>>) -> Option<Entry> {
        self.source.note(field.clone(), value.span());
        let mut values = Vec::new();
        if let DeValue::Array(items) = value.get_ref() {
            for (at, item) in items.iter().enumerate() {
                values.push(self.cell(format!("{field}[{at}]"), item)?);
            }
        } else {
            values.push(self.cell(field.clone(), value)?);
        }
        Some(Entry {
            key: key.to_owned(),
            field,
            values,
        })
    }

    fn cell(&mut self, field: String, value: &Spanned<DeValue<'_>>) -> Option<Cell> {
        self.source.note(field.clone(), value.span());
        let (text, is_bare) = match value.get_ref() {
            DeValue::String(text) => (text.to_string(), false),
            DeValue::Integer(_) | DeValue::Float(_) | DeValue::Datetime(_) => {
                let written = self.source.text.get(value.span()).unwrap_or_default();
                (written.to_owned(), true)
            }
            DeValue::Boolean(_) | DeValue::Array(_) | DeValue::Table(_) => {
                self.no_value(&field);
                return None;
            }
        };
        Some(Cell {
            field,
            text,
            is_bare,
        })
    }

    fn no_value(&mut self, field: &str) {
        let fault = Finding::error("wrong-type", field, "no figure can be read here");
        self.findings
            .push(fault.hint("write a number with its unit, in quotes: \"2.61 mm\"; lists as [\"2.61 mm\", \"2.62 mm\"]"));
    }
}
