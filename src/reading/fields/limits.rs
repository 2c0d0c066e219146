//! Fields that may be left out, and fields that have limits.

use super::asked::{Asked, record};
use super::table::Fields;
use crate::finding::Finding;
use crate::units::{Kind, parse};

/// One of two figures that have to be in order, and the key under which it stands.
#[derive(Clone, Copy)]
pub(in crate::reading) struct Bound {
    pub(in crate::reading) key: &'static str,
    /// Nothing where it is missing or wrong, which is told already.
    pub(in crate::reading) value: Option<f64>,
}

impl Bound {
    pub(in crate::reading) fn of(key: &'static str, value: Option<f64>) -> Bound {
        Bound { key, value }
    }
}

impl<'a> Fields<'a> {
    /// A table that may be left out: `Some(None)` then, `None` where it is there and wrong.
    pub(in crate::reading) fn optional_table<T>(
        &self,
        key: &'static str,
        read: impl FnOnce(Fields<'a>) -> Option<T>,
    ) -> Option<Option<T>> {
        if self.has(key) {
            self.table(key).and_then(read).map(Some)
        } else {
            Some(None)
        }
    }

    /// The field's value, or what holds where it is not written; `None` where it is written wrong.
    pub(in crate::reading) fn quantity_or(
        &self,
        key: &'static str,
        kind: Kind,
        otherwise: f64,
    ) -> Option<f64> {
        if self.has(key) {
            self.quantity(key, kind)
        } else {
            Some(otherwise)
        }
    }

    /// Yes or no, or what holds where it is not written; `None` where it is written wrong.
    pub(in crate::reading) fn flag_or(&self, key: &'static str, otherwise: bool) -> Option<bool> {
        if self.has(key) {
            self.flag(key)
        } else {
            Some(otherwise)
        }
    }

    /// The word's value, or the usual one where it is not written; `None` where it is written wrong.
    pub(in crate::reading) fn choice_or_usual<T: Copy + Default>(
        &self,
        key: &'static str,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        if self.has(key) {
            self.choice(key, choices)
        } else {
            Some(T::default())
        }
    }

    /// A length that must be there and above zero.
    pub(in crate::reading) fn positive_length(&self, key: &'static str) -> Option<f64> {
        record(|| self.path(key), || Asked::AboveZero);
        let value = self.required_quantity(key, Kind::Length)?;
        if value > 0.0 {
            return Some(value);
        }
        self.report(Finding::error(
            "not-positive",
            self.path(key),
            "this must be above zero",
        ));
        None
    }

    /// A length above zero, or what holds where it is not written; `None` where it is written wrong.
    pub(in crate::reading) fn positive_length_or(
        &self,
        key: &'static str,
        otherwise: f64,
    ) -> Option<f64> {
        if self.has(key) {
            self.positive_length(key)
        } else {
            Some(otherwise)
        }
    }

    /// A quantity between two others, written out with their units: what a machine can have and a
    /// controller can read.
    pub(in crate::reading) fn quantity_within(
        &self,
        key: &'static str,
        kind: Kind,
        least: &'static str,
        most: &'static str,
    ) -> Option<f64> {
        record(|| self.path(key), || Asked::Within(least, most));
        let value = self.required_quantity(key, kind)?;
        let limit = |text| parse(text, kind).ok().map(|limit| limit.value);
        if limit(least)? <= value && value <= limit(most)? {
            return Some(value);
        }
        let message = format!("this must be {least} to {most}");
        self.report(Finding::error("out-of-range", self.path(key), message));
        None
    }

    /// The density of a wood, kg/m3, where it is written; `None` where it is written wrong.
    pub(in crate::reading) fn density(&self) -> Option<Option<f64>> {
        if self.has("density") {
            self.quantity_within("density", Kind::Density, "50 kg/m3", "1500 kg/m3")
                .map(Some)
        } else {
            Some(None)
        }
    }

    /// Reports `low` if it is above `high`.
    pub(in crate::reading) fn check_order(&self, low: Bound, high: Bound) {
        if let (Some(least), Some(most)) = (low.value, high.value)
            && least > most
        {
            let message = format!("`{}` is above `{}`", low.key, high.key);
            self.report(Finding::error("wrong-order", self.path(low.key), message));
        }
    }
}
