//! A table of a file: its keys, those that were asked for, and what is wrong with them.

use super::asked::{Asked, record};
use super::log::Log;
use crate::finding::Finding;
use crate::reading::reference::{Field, Reference, When};
use crate::units::Quantity;
use std::cell::RefCell;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// One table of a file. Every accessor reports what is wrong and returns `None` then.
pub(in crate::reading) struct Fields<'a> {
    path: String,
    table: &'a DeTable<'a>,
    pub(super) log: &'a RefCell<Log>,
    words: Words<'a>,
    /// Keys that the reader knows: it has asked for them.
    asked: RefCell<Vec<&'static str>>,
    /// Keys that have to be there and are not.
    missing: RefCell<Vec<MissingKey>>,
}

/// A key that is not written, and what would be right where it has no row in the table of fields.
struct MissingKey {
    key: &'static str,
    otherwise: &'static str,
}

/// What is told of a file's fields: the table of fields has the words.
#[derive(Clone, Copy)]
pub(super) struct Words<'a> {
    /// Nothing where it is not known what kind of file it is.
    pub(super) reference: Option<&'static Reference>,
    /// The file's top table.
    pub(super) top: &'a DeTable<'a>,
}

impl Words<'_> {
    /// The row of a field, as the file's other keys have it.
    fn row(self, path: &str) -> Option<&'static Field> {
        self.reference?.row(path, |when| self.holds(when))
    }

    fn holds(self, when: &When) -> bool {
        let value = |path| self.value(path);
        match when {
            When::Is(path, words) => matches!(
                value(path),
                Some(DeValue::String(text)) if words.contains(&text.as_ref())
            ),
            When::True(path) => matches!(value(path), Some(DeValue::Boolean(true))),
            When::Has(path) => value(path).is_some(),
            When::Lacks(path) => value(path).is_none(),
        }
    }

    fn value(&self, path: &str) -> Option<&DeValue<'_>> {
        let (parents, key) = path.rsplit_once('.').unwrap_or(("", path));
        let mut table = self.top;
        for name in parents.split('.').filter(|name| !name.is_empty()) {
            let DeValue::Table(inner) = table.get(name)?.get_ref() else {
                return None;
            };
            table = inner;
        }
        table.get(key).map(Spanned::get_ref)
    }
}

pub(super) type Value<'a> = &'a Spanned<DeValue<'a>>;

impl<'a> Fields<'a> {
    pub(super) fn of(
        path: String,
        table: &'a DeTable<'a>,
        log: &'a RefCell<Log>,
        words: Words<'a>,
    ) -> Fields<'a> {
        Fields {
            path,
            table,
            log,
            words,
            asked: RefCell::default(),
            missing: RefCell::default(),
        }
    }

    /// A table inside this one.
    pub(super) fn inner(&self, path: String, table: &'a DeTable<'a>) -> Fields<'a> {
        Fields::of(path, table, self.log, self.words)
    }

    /// What findings about a key call it.
    pub(in crate::reading) fn path(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            [self.path.as_str(), ".", key].concat()
        }
    }

    pub(in crate::reading) fn report(&self, finding: Finding) {
        self.log.borrow_mut().findings.push(finding);
    }

    pub(in crate::reading) fn alias(&self, field: impl Into<String>, stands_at: impl Into<String>) {
        self.log.borrow_mut().source.alias(field, stands_at);
    }

    /// Whether a key is written at all.
    pub(in crate::reading) fn has(&self, key: &'static str) -> bool {
        self.get(key).is_some()
    }

    /// Whether a key is written that nobody would suggest here: it does not count as known.
    pub(in crate::reading) fn has_foreign(&self, key: &'static str) -> bool {
        self.table.contains_key(key) && self.has(key)
    }

    /// A key's value; nothing where it is not written.
    pub(super) fn get(&self, key: &'static str) -> Option<Value<'a>> {
        self.asked.borrow_mut().push(key);
        record(|| self.path(key), || Asked::Presence);
        let value = self.table.get(key)?;
        self.log
            .borrow_mut()
            .source
            .note(self.path(key), value.span());
        Some(value)
    }

    /// Notes a key as missing where it is not written at all.
    pub(in crate::reading) fn need<T>(
        &self,
        key: &'static str,
        otherwise: &'static str,
        value: Option<T>,
    ) -> Option<T> {
        record(|| self.path(key), || Asked::Required);
        if value.is_none() && self.table.get(key).is_none() {
            self.missing
                .borrow_mut()
                .push(MissingKey { key, otherwise });
        }
        value
    }

    /// What would be right is said as the table of fields has it; `otherwise` where that has no row.
    pub(super) fn wrong_type(&self, field: &str, value: Value<'_>, otherwise: &'static str) {
        let found = value.get_ref().type_str();
        let message = format!("a value of type {found} cannot stand here");
        let finding = Finding::error("wrong-type", field, message);
        self.report(match self.words.row(field) {
            Some(row) => finding.hint(format!("write it as in {}", row.shown(last_key(field)))),
            None => finding.hint(otherwise),
        });
    }

    /// A sub-table that may be left out.
    pub(in crate::reading) fn table(&self, key: &'static str) -> Option<Fields<'a>> {
        record(|| self.path(key), || Asked::Table);
        let value = self.get(key)?;
        let DeValue::Table(table) = value.get_ref() else {
            self.wrong_type(
                &self.path(key),
                value,
                "write a table: a line in brackets, its keys below it",
            );
            return None;
        };
        Some(self.inner(self.path(key), table))
    }

    /// A sub-table that must be there.
    pub(in crate::reading) fn required_table(&self, key: &'static str) -> Option<Fields<'a>> {
        self.need(key, "a table of its own, in brackets", self.table(key))
    }

    /// Says that a key must be there.
    pub(in crate::reading) fn require(&self, key: &'static str, example: &'static str) {
        self.need::<()>(key, example, None);
    }

    /// A length that was read already, by its field from the top of the file.
    pub(in crate::reading) fn length_read(&self, field: &str) -> Option<Quantity> {
        let log = self.log.borrow();
        let read = log.lengths.iter().rev().find(|read| read.field == field)?;
        Some(read.length)
    }

    /// Reports unknown keys, and missing ones that no misspelt key stands for.
    pub(in crate::reading) fn finish(self) {
        self.finish_beside(|_| false);
    }

    /// The same where another reader asks for some of the table's keys.
    pub(in crate::reading) fn finish_beside(self, is_anothers: fn(&str) -> bool) {
        let asked = self.asked.borrow();
        for (key, value) in self.table.iter() {
            let name: &str = key.get_ref();
            if asked.contains(&name) || is_anothers(name) {
                continue;
            }
            let absent = asked
                .iter()
                .copied()
                .filter(|known| !self.table.contains_key(*known));
            let near = nearest(name, absent);
            self.missing
                .borrow_mut()
                .retain(|missing| Some(missing.key) != near);
            let place = match self.path.as_str() {
                "" => "at the top of the file".to_owned(),
                path => format!("in [{path}]"),
            };
            let mut known = asked.to_vec();
            known.sort_unstable();
            known.dedup();
            let hint = match near {
                Some(near) => match self.words.row(&self.path(near)) {
                    Some(row) => format!("did you mean `{near}`? As in {}", row.shown(near)),
                    None => format!("did you mean `{near}`?"),
                },
                None => format!("known here: {}", known.join(", ")),
            };
            let field = self.path(name);
            let span = key.span();
            self.log
                .borrow_mut()
                .source
                .note(field.clone(), span_or(value, span));
            let message = format!("this key is not known {place}");
            self.report(Finding::error("unknown-key", field, message).hint(hint));
        }
        drop(asked);
        self.finish_missing();
    }

    /// Reports missing keys alone, where it is not known which others belong here.
    pub(in crate::reading) fn finish_missing(self) {
        for MissingKey { key, otherwise } in self.missing.borrow().iter() {
            let finding = Finding::error("missing", self.path(key), "this is missing");
            self.report(finding.hint(match self.words.row(&self.path(key)) {
                Some(row) => format!("add `{key}`, as in {}", row.shown(key)),
                None => format!("add `{key}`: {otherwise}"),
            }));
        }
    }
}

/// The key of a field, without a number of an item.
fn last_key(field: &str) -> &str {
    let key = field.rsplit_once('.').map_or(field, |(_, key)| key);
    key.split('[').next().unwrap_or(key)
}

/// The key's own place; dotted and quoted keys included.
fn span_or(value: Value<'_>, key: Range<usize>) -> Range<usize> {
    if key.is_empty() { value.span() } else { key }
}

/// The known word that a misspelt one was most likely meant to be.
pub(super) fn nearest<'w>(word: &str, known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    known
        .map(|name| (strsim::damerau_levenshtein(word, name), name))
        .filter(|(distance, name)| *distance <= 1 + name.len() / 4)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}
