//! Reading the fields of a TOML table, all problems collected, unknown keys answered with the
//! nearest known one.

mod tables;

pub(super) use tables::Item;

use super::quantity::quantity;
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::phrase::Phrase;
use crate::units::{Kind, Quantity};
use std::cell::RefCell;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Longer lists than this are no pitches and no slots.
const LONGEST_LIST: usize = 1000;

/// What reading a file has brought so far.
#[derive(Debug, Default)]
pub(super) struct Log {
    pub(super) source: Source,
    pub(super) findings: Vec<Finding>,
    /// Every length read: its field and its value.
    pub(super) lengths: Vec<(String, Quantity)>,
}

impl Log {
    /// The value, if nothing was wrong; warnings are kept in the findings.
    pub(super) fn outcome<T>(self, value: Option<T>) -> Result<(T, Source), Unreadable> {
        match value {
            Some(value) if self.findings.is_empty() => Ok((value, self.source)),
            _ => Err(Unreadable {
                source: self.source,
                findings: self.findings,
            }),
        }
    }
}

/// Parses a file and hands its top table to `read`; syntax errors do not hide the others.
pub(super) fn with_document<T>(
    name: &str,
    text: &str,
    read: impl FnOnce(Fields<'_>) -> Option<T>,
) -> (Log, Option<T>) {
    let log = RefCell::new(Log {
        source: Source::new(name, text),
        ..Log::default()
    });
    let (document, errors) = DeTable::parse_recoverable(text);
    for (at, error) in errors.iter().enumerate() {
        let field = format!("#{at}");
        let span = error.span().unwrap_or(0..0);
        let mut log = log.borrow_mut();
        log.source.note(field.clone(), span);
        let message = Phrase::from(error.message().to_owned());
        let finding = Finding::error("syntax", field, message);
        log.findings
            .push(finding.hint("the file is TOML: key = \"value\", one a line"));
    }
    let value = read(Fields {
        path: String::new(),
        table: document.get_ref(),
        log: &log,
        asked: RefCell::default(),
        missing: RefCell::default(),
    });
    (log.into_inner(), value)
}

/// One table of a file. Every accessor reports what is wrong and returns `None` then.
pub(super) struct Fields<'a> {
    path: String,
    table: &'a DeTable<'a>,
    log: &'a RefCell<Log>,
    asked: RefCell<Vec<&'static str>>,
    missing: RefCell<Vec<(&'static str, &'static str)>>,
}

type Value<'a> = &'a Spanned<DeValue<'a>>;

impl<'a> Fields<'a> {
    pub(super) fn path(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    pub(super) fn report(&self, finding: Finding) {
        self.log.borrow_mut().findings.push(finding);
    }

    pub(super) fn alias(&self, field: impl Into<String>, stands_at: impl Into<String>) {
        self.log.borrow_mut().source.alias(field, stands_at);
    }

    /// Whether a key is written at all.
    pub(super) fn has(&self, key: &'static str) -> bool {
        self.get(key).is_some()
    }

    fn get(&self, key: &'static str) -> Option<Value<'a>> {
        self.asked.borrow_mut().push(key);
        let value = self.table.get(key)?;
        self.log
            .borrow_mut()
            .source
            .note(self.path(key), value.span());
        Some(value)
    }

    fn need<T>(&self, key: &'static str, example: &'static str, value: Option<T>) -> Option<T> {
        if value.is_none() && self.table.get(key).is_none() {
            self.missing.borrow_mut().push((key, example));
        }
        value
    }

    fn wrong_type(&self, field: &str, value: Value<'_>, wanted: &'static str) {
        let found = value.get_ref().type_str();
        let message = format!("a value of type {found} cannot stand here");
        self.report(Finding::error("wrong-type", field, message).hint(wanted));
    }

    /// A sub-table that may be left out.
    pub(super) fn table(&self, key: &'static str) -> Option<Fields<'a>> {
        let value = self.get(key)?;
        let DeValue::Table(table) = value.get_ref() else {
            self.wrong_type(
                &self.path(key),
                value,
                "write a table: a line in brackets, its keys below it",
            );
            return None;
        };
        Some(Fields {
            path: self.path(key),
            table,
            log: self.log,
            asked: RefCell::default(),
            missing: RefCell::default(),
        })
    }

    /// A sub-table that must be there.
    pub(super) fn required_table(&self, key: &'static str) -> Option<Fields<'a>> {
        self.need(key, "a table of its own, in brackets", self.table(key))
    }

    pub(super) fn quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        let value = self.get(key)?;
        self.read_quantity(&self.path(key), value, kind)
    }

    pub(super) fn required_quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        self.need(key, example(kind), self.quantity(key, kind))
    }

    /// A list of quantities.
    pub(super) fn quantities(&self, key: &'static str, kind: Kind) -> Option<Vec<f64>> {
        let value = self.get(key)?;
        let DeValue::Array(items) = value.get_ref() else {
            self.wrong_type(
                &self.path(key),
                value,
                "write a list, such as [\"30 mm\", \"50 mm\"]",
            );
            return None;
        };
        if items.len() > LONGEST_LIST {
            let message = format!("{} values in a list", items.len());
            let finding = Finding::error("list-too-long", self.path(key), message);
            self.report(finding.hint(format!("at most {LONGEST_LIST} make sense")));
            return None;
        }
        let mut all = Some(Vec::new());
        for (at, item) in items.iter().enumerate() {
            let field = format!("{}[{at}]", self.path(key));
            self.log
                .borrow_mut()
                .source
                .note(field.clone(), item.span());
            let read = self.read_quantity(&field, item, kind);
            all = all.zip(read).map(|(mut all, value)| {
                all.push(value);
                all
            });
        }
        all
    }

    fn read_quantity(&self, field: &str, value: Value<'_>, kind: Kind) -> Option<f64> {
        let text = match value.get_ref() {
            DeValue::String(text) => text,
            DeValue::Integer(_) | DeValue::Float(_) => {
                let written = self
                    .log
                    .borrow()
                    .source
                    .text
                    .get(value.span())
                    .unwrap_or("")
                    .to_owned();
                let message = "a bare number has no unit";
                let hint = format!(
                    "write it with its unit, in quotes: \"{written} {}\"",
                    first_unit(kind)
                );
                self.report(Finding::error("bare-number", field, message).hint(hint));
                return None;
            }
            _ => {
                self.wrong_type(field, value, example(kind));
                return None;
            }
        };
        match quantity(field, text, kind) {
            Ok(quantity) => {
                if matches!(kind, Kind::Length | Kind::SignedLength) {
                    self.log
                        .borrow_mut()
                        .lengths
                        .push((field.to_owned(), quantity));
                }
                Some(quantity.value)
            }
            Err(finding) => {
                self.report(finding);
                None
            }
        }
    }

    /// A whole number within limits.
    pub(super) fn count(
        &self,
        key: &'static str,
        range: std::ops::RangeInclusive<u32>,
    ) -> Option<u32> {
        let value = self.get(key)?;
        let field = self.path(key);
        let number = match value.get_ref() {
            DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix()).ok(),
            _ => {
                self.wrong_type(&field, value, "write a whole number, without quotes");
                return None;
            }
        };
        let number = number.and_then(|number| u32::try_from(number).ok());
        let number = number.filter(|number| range.contains(number));
        if number.is_none() {
            let message = format!("this must be {} to {}", range.start(), range.end());
            self.report(Finding::error("count-out-of-range", field, message));
        }
        number
    }

    pub(super) fn required_count(
        &self,
        key: &'static str,
        range: std::ops::RangeInclusive<u32>,
    ) -> Option<u32> {
        self.need(key, "a whole number", self.count(key, range))
    }

    /// Yes or no.
    pub(super) fn flag(&self, key: &'static str) -> Option<bool> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::Boolean(flag) => Some(*flag),
            _ => {
                self.wrong_type(
                    &self.path(key),
                    value,
                    "write true or false, without quotes",
                );
                None
            }
        }
    }

    pub(super) fn required_flag(&self, key: &'static str) -> Option<bool> {
        self.need(key, "true or false", self.flag(key))
    }

    /// Text for people: printable, no longer than 200 characters.
    pub(super) fn text(&self, key: &'static str) -> Option<String> {
        let value = self.get(key)?;
        self.read_text(self.path(key), value)
    }

    fn read_text(&self, field: String, value: Value<'_>) -> Option<String> {
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_type(&field, value, "write text in quotes");
            return None;
        };
        if let Some((at, found)) = text.char_indices().find(|(_, c)| unprintable(*c)) {
            let message = format!(
                "the text holds a character that cannot be printed (U+{:04X})",
                found as u32
            );
            let mut finding = Finding::error("unprintable", field, message).hint("leave it out");
            finding.part = Some(Box::new(at..at + found.len_utf8()));
            self.report(finding);
            return None;
        }
        if text.chars().count() > 200 {
            self.report(Finding::error(
                "text-too-long",
                field,
                "the text is longer than 200 characters",
            ));
            return None;
        }
        Some(text.to_string())
    }

    pub(super) fn required_text(&self, key: &'static str) -> Option<String> {
        self.need(key, "text in quotes", self.text(key))
    }

    /// One of a few words.
    pub(super) fn choice<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let text = self.text(key)?;
        let found = choices.iter().find(|(name, _)| *name == text);
        if found.is_none() {
            let names: Vec<_> = choices.iter().map(|(name, _)| *name).collect();
            let mut hint = format!("one of: {}", names.join(", "));
            if let Some(near) = nearest(&text, names.iter().copied()) {
                hint = format!("did you mean `{near}`? {hint}");
            }
            let message = format!("`{text}` is not known here");
            self.report(Finding::error("unknown-word", self.path(key), message).hint(hint));
        }
        found.map(|(_, value)| *value)
    }

    pub(super) fn required_choice<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        self.need(key, "one of the known words", self.choice(key, choices))
    }

    /// Reports unknown keys, and missing ones that no misspelt key stands for.
    pub(super) fn finish(self) {
        let asked = self.asked.borrow();
        for (key, value) in self.table.iter() {
            let name: &str = key.get_ref();
            if asked.contains(&name) {
                continue;
            }
            let absent = asked
                .iter()
                .copied()
                .filter(|known| !self.table.contains_key(*known));
            let near = nearest(name, absent);
            self.missing
                .borrow_mut()
                .retain(|(known, _)| Some(*known) != near);
            let place = match self.path.as_str() {
                "" => "at the top of the file".to_owned(),
                path => format!("in [{path}]"),
            };
            let mut known = asked.to_vec();
            known.sort_unstable();
            known.dedup();
            let hint = match near {
                Some(near) => format!("did you mean `{near}`?"),
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
    pub(super) fn finish_missing(self) {
        for (key, example) in self.missing.borrow().iter() {
            let finding = Finding::error("missing", self.path(key), "this is missing");
            self.report(finding.hint(format!("add `{key}`: {example}")));
        }
    }
}

/// The key's own place; dotted and quoted keys included.
fn span_or(value: Value<'_>, key: Range<usize>) -> Range<usize> {
    if key.is_empty() { value.span() } else { key }
}

/// Characters that reorder, hide or control what a person or a machine reads: control characters,
/// line and paragraph separators, direction overrides.
fn unprintable(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{2028}' | '\u{2029}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// The known word that a misspelt one was most likely meant to be.
pub(super) fn nearest<'w>(word: &str, known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    known
        .map(|name| (strsim::damerau_levenshtein(word, name), name))
        .filter(|(distance, name)| *distance <= 1 + name.len() / 4)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, name)| name)
}

fn first_unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Length | Kind::SignedLength => "mm",
        Kind::Angle => "deg",
        Kind::Feed => "mm/min",
        Kind::Spin => "rpm",
        Kind::Time => "s",
        Kind::Acceleration => "mm/s2",
    }
}

fn example(kind: Kind) -> &'static str {
    match kind {
        Kind::Length | Kind::SignedLength => "a length in quotes, such as \"50 mm\"",
        Kind::Angle => "an angle in quotes, such as \"22.5 deg\"",
        Kind::Feed => "a feed in quotes, such as \"1200 mm/min\"",
        Kind::Spin => "a speed in quotes, such as \"18000 rpm\"",
        Kind::Time => "a time in quotes, such as \"3 s\"",
        Kind::Acceleration => "an acceleration in quotes, such as \"300 mm/s2\"",
    }
}
