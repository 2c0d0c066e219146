//! Fields that hold quantities.

use super::asked::{Asked, record};
use super::log::LengthRead;
use super::table::{Fields, Value};
use crate::finding::Finding;
use crate::reading::quantity::quantity;
use crate::units::Kind;
use toml::de::DeValue;

/// Where the table of fields has no row for a key.
const QUANTITY: &str = "a number with its unit, in quotes";

/// Longer lists than this are no pitches and no slots.
const LONGEST_LIST: usize = 1000;

impl Fields<'_> {
    pub(in crate::reading) fn quantity(&self, key: &'static str, kind: Kind) -> Option<f64> {
        record(|| self.path(key), || Asked::Quantity(kind));
        let value = self.get(key)?;
        self.read_quantity(&self.path(key), value, kind)
    }

    pub(in crate::reading) fn required_quantity(
        &self,
        key: &'static str,
        kind: Kind,
    ) -> Option<f64> {
        self.need(key, QUANTITY, self.quantity(key, kind))
    }

    /// A list of quantities.
    pub(in crate::reading) fn quantities(&self, key: &'static str, kind: Kind) -> Option<Vec<f64>> {
        record(|| self.path(key), || Asked::Quantities(kind));
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
        // Values behind a wrong one are read as well, so that all that is wrong is told.
        let mut values = Vec::new();
        for (at, item) in items.iter().enumerate() {
            let field = format!("{}[{at}]", self.path(key));
            self.log
                .borrow_mut()
                .source
                .note(field.clone(), item.span());
            values.push(self.read_quantity(&field, item, kind));
        }
        values.into_iter().collect()
    }

    pub(super) fn read_quantity(&self, field: &str, value: Value<'_>, kind: Kind) -> Option<f64> {
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
                self.wrong_type(field, value, QUANTITY);
                return None;
            }
        };
        match quantity(field, text, kind) {
            Ok(quantity) => {
                if matches!(kind, Kind::Length | Kind::SignedLength) {
                    self.log.borrow_mut().lengths.push(LengthRead {
                        field: field.to_owned(),
                        length: quantity,
                    });
                }
                Some(quantity.value)
            }
            Err(finding) => {
                self.report(finding);
                None
            }
        }
    }
}

fn first_unit(kind: Kind) -> &'static str {
    match kind {
        Kind::Length | Kind::SignedLength => "mm",
        Kind::Angle => "deg",
        Kind::Feed => "mm/min",
        Kind::Spin => "rpm",
        Kind::Time => "s",
        Kind::Acceleration => "mm/s2",
        Kind::Density => "kg/m3",
        Kind::Share => "%",
    }
}
