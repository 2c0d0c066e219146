//! Quantities as a regular expression, for programs that check text before this one reads it.

use super::parse::{IMPERIAL_LENGTHS, unit_names};
use super::problem::Kind;

/// Decimals.
const DECIMAL: &str = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)";

/// Fractions and mixed numbers, of inches and feet alone.
const FRACTION: &str = r"(?:(?:[0-9]+[ -]\s*)?[0-9]+/0*[1-9][0-9]*)";

/// A regular expression that matches what [`parse`](super::parse) reads as a quantity of that kind, and
/// nothing else but numbers of too many digits. It is one for ECMA 262, edition 6, for Python and for Rust.
pub fn expression(kind: Kind) -> String {
    let names = |imperial| {
        let names = unit_names(kind).filter(|unit| unit.imperial == imperial);
        names.map(|unit| escaped(unit.name)).collect::<Vec<_>>()
    };
    let sign = match kind {
        Kind::SignedLength => "[-+\u{2212}]?",
        _ => r"\+?",
    };
    let imperial = names(true);
    let mut forms = vec![format!(
        r"{DECIMAL}\s*(?:{})",
        [names(false), imperial.clone()].concat().join("|")
    )];
    if !imperial.is_empty() {
        forms.push(format!(r"{FRACTION}\s*(?:{})", imperial.join("|")));
    }
    if matches!(kind, Kind::Length | Kind::SignedLength) {
        let [feet, inches] = IMPERIAL_LENGTHS.map(|names| {
            let names: Vec<String> = names.iter().map(|name| escaped(name)).collect();
            names.join("|")
        });
        let number = format!("(?:{FRACTION}|{DECIMAL})");
        forms.push(format!(r"{number}\s*(?:{feet})\s*{number}\s*(?:{inches})"));
    }
    format!(r"^\s*{sign}(?:{})\s*$", forms.join("|"))
}

/// Signs that mean something in expressions; the names of units have no others.
fn escaped(name: &str) -> String {
    name.replace('^', r"\^")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The tests of schemas hold expressions against what is read, text by text; here that every unit is in
    /// its kind's, and its signs do not mean something else.
    #[test]
    fn every_unit_is_in_its_expression() {
        let angle = expression(Kind::Angle);
        assert!(angle.contains("deg|degree|degrees|\u{b0}"), "{angle}");
        assert!(!angle.contains("mm"), "{angle}");
        let acceleration = expression(Kind::Acceleration);
        assert!(
            acceleration.contains(r"mm/s2|mm/s\^2|in/s2|in/s\^2"),
            "{acceleration}"
        );
        let signed = expression(Kind::SignedLength);
        assert!(signed.starts_with("^\\s*[-+\u{2212}]?"), "{signed}");
    }
}
