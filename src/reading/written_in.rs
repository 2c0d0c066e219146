//! Which units a text is written in: people are answered in those that they write.

use crate::units::{Kind, UnitSystem, parse};

/// The units of most of the lengths that a job's text holds; millimetres where as many are in either, or
/// where it cannot be read.
pub fn written_in(text: &str) -> UnitSystem {
    let tables: toml::Table = text.parse().unwrap_or_default();
    let mut words = Vec::new();
    tables.values().for_each(|value| gather(value, &mut words));
    most_of(words)
}

/// The same of lengths, each as it was written; what is no length does not count.
pub fn most_of<'a>(words: impl IntoIterator<Item = &'a str>) -> UnitSystem {
    let lengths = words.into_iter().flat_map(|word| word.split(','));
    let lengths = lengths.filter_map(|word| parse(word, Kind::SignedLength).ok());
    let (inches, metric): (Vec<_>, Vec<_>) = lengths.partition(|length| length.imperial);
    if inches.len() > metric.len() {
        UnitSystem::Inches
    } else {
        UnitSystem::Millimetres
    }
}

fn gather<'a>(value: &'a toml::Value, words: &mut Vec<&'a str>) {
    match value {
        toml::Value::String(word) => words.push(word),
        toml::Value::Array(values) => values.iter().for_each(|value| gather(value, words)),
        toml::Value::Table(table) => table.values().for_each(|value| gather(value, words)),
        toml::Value::Integer(_)
        | toml::Value::Float(_)
        | toml::Value::Boolean(_)
        | toml::Value::Datetime(_) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn most_lengths_decide() {
        let units = |text: &str| written_in(text);
        let inches = "a = \"1/2 in\"\nb = [\"2' 3 1/2\\\"\", \"3 in\"]\n[c]\nd = \"3 mm\"\ne = 4";
        assert_eq!(units(inches), UnitSystem::Inches);
        assert_eq!(
            units("a = \"1/2 in\"\nb = \"3 mm\""),
            UnitSystem::Millimetres
        );
        assert_eq!(units("a = \"1/2 in"), UnitSystem::Millimetres);
        assert_eq!(most_of(["24in,16in", "sled"]), UnitSystem::Inches);
    }
}
