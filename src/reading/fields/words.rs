//! Fields that hold counts, yes or no, text, or one of a few words.

use super::asked::{Asked, record};
use super::table::{Fields, Value, nearest};
use crate::finding::Finding;
use crate::machines::Date;
use std::ops::RangeInclusive;
use toml::de::DeValue;

impl Fields<'_> {
    /// A whole number within limits.
    pub(in crate::reading) fn count(
        &self,
        key: &'static str,
        range: RangeInclusive<u32>,
    ) -> Option<u32> {
        let asked = || Asked::Count(*range.start(), *range.end());
        record(|| self.path(key), asked);
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

    pub(in crate::reading) fn required_count(
        &self,
        key: &'static str,
        range: RangeInclusive<u32>,
    ) -> Option<u32> {
        self.need(key, "a whole number", self.count(key, range))
    }

    /// Yes or no.
    pub(in crate::reading) fn flag(&self, key: &'static str) -> Option<bool> {
        record(|| self.path(key), || Asked::Flag);
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

    pub(in crate::reading) fn required_flag(&self, key: &'static str) -> Option<bool> {
        self.need(key, "true or false", self.flag(key))
    }

    /// A day of the calendar, written without quotes.
    pub(in crate::reading) fn date(&self, key: &'static str) -> Option<Date> {
        record(|| self.path(key), || Asked::Date);
        let value = self.get(key)?;
        let date = match value.get_ref() {
            DeValue::Datetime(moment) if moment.time.is_none() && moment.offset.is_none() => {
                let day = moment.date;
                day.and_then(|day| Date::new(day.year, day.month, day.day))
            }
            _ => None,
        };
        if date.is_none() {
            let wanted = "write a day without quotes: 2026-11-30";
            self.wrong_type(&self.path(key), value, wanted);
        }
        date
    }

    /// Text for people: printable, no longer than 200 characters.
    pub(in crate::reading) fn text(&self, key: &'static str) -> Option<String> {
        record(|| self.path(key), || Asked::Text);
        let value = self.get(key)?;
        self.read_text(self.path(key), value)
    }

    pub(super) fn read_text(&self, field: String, value: Value<'_>) -> Option<String> {
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

    pub(in crate::reading) fn required_text(&self, key: &'static str) -> Option<String> {
        self.need(key, "text in quotes", self.text(key))
    }

    /// One of a few words.
    pub(in crate::reading) fn choice<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let words = || choices.iter().map(|(name, _)| *name);
        record(|| self.path(key), || Asked::Words(words().collect()));
        let text = self.text(key)?;
        let found = choices.iter().find(|(name, _)| *name == text);
        if found.is_none() {
            let names: Vec<_> = words().collect();
            let mut hint = format!("one of: {}", names.join(", "));
            if let Some(near) = nearest(&text, names.iter().copied()) {
                hint = format!("did you mean `{near}`? {hint}");
            }
            let message = format!("`{text}` is not known here");
            self.report(Finding::error("unknown-word", self.path(key), message).hint(hint));
        }
        found.map(|(_, value)| *value)
    }

    pub(in crate::reading) fn required_choice<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        self.need(key, "one of the known words", self.choice(key, choices))
    }
}

/// Characters that reorder, hide or control what a person or a machine reads: control characters,
/// line and paragraph separators, direction overrides.
fn unprintable(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{2028}' | '\u{2029}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}
