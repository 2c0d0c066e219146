//! Lists of tables, and tables whose keys are names that the writer gives.

use super::asked::{Asked, record};
use super::table::{Fields, Value};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::units::Kind;
use toml::de::DeValue;

/// How points are written.
const POINT: &str = "write a pair: [\"120 mm\", \"0 mm\"], to the right and up";
const POINTS: &str = "write a list of pairs: [[\"0 mm\", \"0 mm\"], [\"120 mm\", \"0 mm\"]]";

/// A region with more corners than this is no panel.
const MOST_CORNERS: usize = 100;

/// All values, or none where one is wrong. Unlike `collect` alone it goes on behind a wrong one, so
/// that all that is wrong is told at once.
pub(in crate::reading) fn every<T>(values: impl Iterator<Item = Option<T>>) -> Option<Vec<T>> {
    let values: Vec<Option<T>> = values.collect();
    values.into_iter().collect()
}

/// A value with its place: an entry of a table whose keys are free, or of a list.
pub(in crate::reading) struct FieldValue<'f, 'a> {
    fields: &'f Fields<'a>,
    pub(in crate::reading) path: String,
    value: Value<'a>,
}

impl<'a> Fields<'a> {
    pub(super) fn item(&self, path: String, value: Value<'a>) -> FieldValue<'_, 'a> {
        let mut log = self.log.borrow_mut();
        log.source.note(path.clone(), value.span());
        FieldValue {
            fields: self,
            path,
            value,
        }
    }

    /// Entries of a list; empty where it is not written.
    pub(in crate::reading) fn items(
        &self,
        key: &'static str,
        wanted: &'static str,
    ) -> Option<Vec<FieldValue<'_, 'a>>> {
        record(|| self.path(key), || Asked::List);
        let Some(value) = self.get(key) else {
            return Some(Vec::new());
        };
        self.item(self.path(key), value).list(wanted)
    }

    /// The tables of a list, each `[[key]]` in the file; empty where there are none.
    pub(in crate::reading) fn tables(&self, key: &'static str) -> Option<Vec<Fields<'a>>> {
        let wanted = "write a line in double brackets, such as [[piece]], its keys below it";
        let items = self.items(key, wanted)?;
        every(items.iter().map(|item| item.table(wanted)))
    }

    /// A table whose keys are names, in the order of the file; empty where it is not written.
    pub(in crate::reading) fn entries(
        &self,
        key: &'static str,
    ) -> Option<Vec<(String, FieldValue<'_, 'a>)>> {
        record(|| self.path(key), || Asked::Entries);
        let Some(value) = self.get(key) else {
            return Some(Vec::new());
        };
        let DeValue::Table(table) = value.get_ref() else {
            let wanted = "write a table: names, each with its value";
            self.wrong_type(&self.path(key), value, wanted);
            return None;
        };
        let mut entries = Vec::new();
        for (name, value) in table.iter() {
            let name = name.get_ref().to_string();
            // A name that has points in it stands in quotes, as in the file.
            let path = if name.contains('.') {
                format!("{}.\"{name}\"", self.path(key))
            } else {
                format!("{}.{name}", self.path(key))
            };
            entries.push((name, self.item(path, value)));
        }
        entries.sort_by_key(|(_, item)| item.value.span().start);
        Some(entries)
    }

    /// A list of names, or one name alone; empty where it is not written.
    pub(in crate::reading) fn names(&self, key: &'static str) -> Option<Vec<String>> {
        record(|| self.path(key), || Asked::Names);
        let Some(value) = self.get(key) else {
            return Some(Vec::new());
        };
        self.item(self.path(key), value).names()
    }

    /// A list of points, each a pair of lengths; empty where it is not written.
    pub(in crate::reading) fn points(&self, key: &'static str) -> Option<Vec<Point>> {
        record(|| self.path(key), || Asked::Points);
        let items = self.items(key, POINTS)?;
        if items.len() > MOST_CORNERS {
            let message = format!("{} corners", items.len());
            let finding = Finding::error("list-too-long", self.path(key), message);
            self.report(finding.hint(format!("at most {MOST_CORNERS} make sense")));
            return None;
        }
        every(items.iter().map(FieldValue::point))
    }

    /// A pair of lengths; nothing where it is not written.
    pub(in crate::reading) fn point(&self, key: &'static str) -> Option<Option<Point>> {
        record(|| self.path(key), || Asked::Point);
        let Some(value) = self.get(key) else {
            return Some(None);
        };
        self.item(self.path(key), value).point().map(Some)
    }
}

impl<'a> FieldValue<'_, 'a> {
    /// Reports what is wrong with it.
    pub(in crate::reading) fn report(&self, code: &'static str, text: &str, hint: &str) {
        let finding = Finding::error(code, &self.path, text.to_owned());
        self.fields.report(finding.hint(hint.to_owned()));
    }

    fn list(&self, wanted: &'static str) -> Option<Vec<Self>> {
        let DeValue::Array(items) = self.value.get_ref() else {
            self.fields.wrong_type(&self.path, self.value, wanted);
            return None;
        };
        let mut list = Vec::new();
        for (at, value) in items.iter().enumerate() {
            list.push(self.fields.item(format!("{}[{at}]", self.path), value));
        }
        Some(list)
    }

    fn point(&self) -> Option<Point> {
        let parts = self.list(POINT)?;
        let lengths: Vec<Option<f64>> = parts
            .iter()
            .map(|part| part.quantity(Kind::SignedLength))
            .collect();
        let &[x, y] = lengths.as_slice() else {
            let message = format!("a point has two lengths; here are {}", parts.len());
            self.report("not-a-point", &message, POINT);
            return None;
        };
        Some(Point::new(x?, y?))
    }

    /// The table; what else stands there is reported.
    pub(in crate::reading) fn table(&self, wanted: &'static str) -> Option<Fields<'a>> {
        let DeValue::Table(table) = self.value.get_ref() else {
            self.fields.wrong_type(&self.path, self.value, wanted);
            return None;
        };
        Some(self.fields.inner(self.path.clone(), table))
    }

    /// The table, if it is one; nothing is reported.
    pub(in crate::reading) fn as_table(&self) -> Option<Fields<'a>> {
        match self.value.get_ref() {
            DeValue::Table(table) => Some(self.fields.inner(self.path.clone(), table)),
            _ => None,
        }
    }

    /// Whether text stands there.
    pub(in crate::reading) fn is_text(&self) -> bool {
        matches!(self.value.get_ref(), DeValue::String(_))
    }

    pub(in crate::reading) fn text(&self) -> Option<String> {
        record(|| self.path.clone(), || Asked::Text);
        self.fields.read_text(self.path.clone(), self.value)
    }

    /// A name, or a list of names.
    pub(in crate::reading) fn names(&self) -> Option<Vec<String>> {
        record(|| self.path.clone(), || Asked::Names);
        if matches!(self.value.get_ref(), DeValue::String(_)) {
            return self.text().map(|text| vec![text]);
        }
        let items = self.list("write a name in quotes, or a list of names")?;
        every(items.iter().map(Self::text))
    }

    /// One quantity, or a list of them.
    pub(in crate::reading) fn quantities(&self, kind: Kind) -> Option<Vec<f64>> {
        record(|| self.path.clone(), || Asked::Quantities(kind));
        if !matches!(self.value.get_ref(), DeValue::Array(_)) {
            return self.quantity(kind).map(|value| vec![value]);
        }
        every(self.list("")?.iter().map(|item| item.quantity(kind)))
    }

    fn quantity(&self, kind: Kind) -> Option<f64> {
        self.fields.read_quantity(&self.path, self.value, kind)
    }

    /// A list of plain numbers; a fraction such as "1/3" stands in quotes.
    pub(in crate::reading) fn numbers(&self, wanted: &'static str) -> Option<Vec<f64>> {
        record(|| self.path.clone(), || Asked::Numbers);
        every(self.list(wanted)?.iter().map(|item| item.number(wanted)))
    }

    pub(super) fn number(&self, wanted: &'static str) -> Option<f64> {
        let number = match self.value.get_ref() {
            DeValue::Integer(number) => i64::from_str_radix(number.as_str(), number.radix())
                .ok()
                .and_then(|number| i32::try_from(number).ok())
                .map(f64::from),
            DeValue::Float(number) => number.as_str().parse().ok(),
            DeValue::String(text) => fraction(text),
            _ => None,
        };
        let number = number.filter(|number: &f64| number.is_finite());
        if number.is_none() {
            self.report("wrong-type", "a plain number should stand here", wanted);
        }
        number
    }
}

/// A fraction of two whole numbers, such as `1/3`.
fn fraction(text: &str) -> Option<f64> {
    let (top, bottom) = text.split_once('/')?;
    let top: u16 = top.trim().parse().ok()?;
    let bottom: u16 = bottom.trim().parse().ok()?;
    (bottom > 0).then(|| f64::from(top) / f64::from(bottom))
}
