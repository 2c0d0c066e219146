//! From text such as `1 3/8 in` or `22.5 deg` to a value in the program's base units.
//!
//! Numbers are read as exact fractions of whole numbers and turned into a float once, so that
//! `1 3/8 in` is the nearest float to 34.925 and not the result of three roundings.

use super::number::{number, reduce};
use super::problem::{Kind, Problem, QuantityError};

/// A value read from text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// In the base unit of its [`Kind`].
    pub value: f64,
    /// Whether it was written in inches or feet.
    pub imperial: bool,
}

/// A unit: how it is written, and its size as an exact fraction of the base unit.
struct Unit {
    names: &'static [&'static str],
    top: i128,
    bottom: i128,
    imperial: bool,
}

const fn unit(names: &'static [&'static str], top: i128, bottom: i128, imperial: bool) -> Unit {
    Unit {
        names,
        top,
        bottom,
        imperial,
    }
}

const FOOT: Unit = unit(&["ft", "foot", "feet", "'", "\u{2032}"], 1524, 5, true);
const INCH: Unit = unit(&["in", "inch", "inches", "\"", "\u{2033}"], 127, 5, true);
const LENGTHS: &[Unit] = &[
    unit(&["mm"], 1, 1, false),
    unit(&["cm"], 10, 1, false),
    unit(&["m"], 1000, 1, false),
    INCH,
    FOOT,
];
const ANGLES: &[Unit] = &[unit(&["deg", "degree", "degrees", "\u{b0}"], 1, 1, false)];
const FEEDS: &[Unit] = &[
    unit(&["mm/min"], 1, 1, false),
    unit(&["mm/s"], 60, 1, false),
    unit(&["m/min"], 1000, 1, false),
    unit(&["in/min"], 127, 5, true),
];
const SPINS: &[Unit] = &[unit(&["rpm", "1/min"], 1, 1, false)];
const TIMES: &[Unit] = &[
    unit(&["s"], 1, 1, false),
    unit(&["ms"], 1, 1000, false),
    unit(&["min"], 60, 1, false),
];
const ACCELERATIONS: &[Unit] = &[
    unit(&["mm/s2", "mm/s^2"], 1, 1, false),
    unit(&["in/s2", "in/s^2"], 127, 5, true),
];

/// A pound is 0.45359237 kg (NIST SP 811, appendix B), a cubic foot 0.3048^3 m3, both exactly.
const DENSITIES: &[Unit] = &[
    unit(&["kg/m3", "kg/m^3"], 1, 1, false),
    unit(&["g/cm3", "g/cm^3"], 1000, 1, false),
    unit(
        &["lb/ft3", "lb/ft^3"],
        453_592_370_000,
        28_316_846_592,
        true,
    ),
];

const SHARES: &[Unit] = &[unit(&["%", "percent"], 1, 100, false)];

impl Kind {
    fn units(self) -> &'static [Unit] {
        match self {
            Kind::Length | Kind::SignedLength => LENGTHS,
            Kind::Angle => ANGLES,
            Kind::Feed => FEEDS,
            Kind::Spin => SPINS,
            Kind::Time => TIMES,
            Kind::Acceleration => ACCELERATIONS,
            Kind::Density => DENSITIES,
            Kind::Share => SHARES,
        }
    }
}

/// Names of feet, then of inches: both together are one length, 2' 3 1/2".
pub(super) const IMPERIAL_LENGTHS: [&[&str]; 2] = [FOOT.names, INCH.names];

/// A unit as it may be written.
pub(super) struct UnitName {
    pub(super) name: &'static str,
    /// Of inches and feet, which may have fractions.
    pub(super) imperial: bool,
}

/// All units of a kind, as they may be written.
pub(super) fn unit_names(kind: Kind) -> impl Iterator<Item = UnitName> {
    let named = |unit: &'static Unit| {
        unit.names.iter().map(|name| UnitName {
            name,
            imperial: unit.imperial,
        })
    };
    kind.units().iter().flat_map(named)
}

/// Reads `text` as a quantity of the given kind.
///
/// # Errors
/// A [`QuantityError`] that points at the first character that is wrong.
pub fn parse(text: &str, kind: Kind) -> Result<Quantity, QuantityError> {
    let fail = |at: usize, len: usize, problem| QuantityError {
        at,
        len,
        problem,
        kind,
    };
    let offset = |rest: &str| text.len() - rest.len();
    let input = text.trim_start();
    if input.trim_end().is_empty() {
        return Err(fail(0, text.len(), Problem::Empty));
    }
    let (negative, input) = match input.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, input.strip_prefix('+').unwrap_or(input)),
    };
    if negative && kind != Kind::SignedLength {
        let at = text.len() - text.trim_start().len();
        return Err(fail(at, offset(input) - at, Problem::Negative));
    }
    let mut total = 0.0;
    let (rest, first) = amount(input, kind, offset(input))?;
    total += first.value;
    let mut rest = rest.trim_start();
    if first.is_feet && !rest.is_empty() {
        // 2' 3 1/2" is one length.
        let (after, second) = amount(rest, kind, offset(rest))?;
        if second.is_feet || !second.imperial {
            return Err(fail(offset(rest), rest.len(), Problem::TrailingText));
        }
        total += second.value;
        rest = after.trim_start();
    }
    if !rest.is_empty() {
        return Err(fail(
            offset(rest),
            rest.trim_end().len(),
            Problem::TrailingText,
        ));
    }
    let value = if negative { -total } else { total };
    let value = if kind == Kind::Angle {
        value.to_radians()
    } else {
        value
    };
    Ok(Quantity {
        value,
        imperial: first.imperial,
    })
}

struct Amount {
    value: f64,
    imperial: bool,
    is_feet: bool,
}

/// One number with its unit from the head of `input`, which stands at byte `at` of the whole text.
fn amount(input: &str, kind: Kind, at: usize) -> Result<(&str, Amount), QuantityError> {
    let fail = |rest: &str, len: usize, problem| QuantityError {
        at: at + input.len() - rest.len(),
        len,
        problem,
        kind,
    };
    let (rest, number) = number(input, &fail)?;
    let after = rest.trim_start();
    let name_length = unit_name(after);
    if name_length == 0 {
        let problem = match after.chars().next() {
            None => Problem::MissingUnit,
            Some('.' | ',') => Problem::BadDecimal,
            Some(_) => Problem::UnknownUnit,
        };
        let len = after.chars().next().map_or(0, char::len_utf8);
        return Err(fail(after, len, problem));
    }
    let (name, tail) = after.split_at(name_length);
    let unit = kind
        .units()
        .iter()
        .find(|unit| unit.names.contains(&name))
        .ok_or_else(|| fail(after, name.len(), Problem::UnknownUnit))?;
    if let Some(fraction) = number.fraction
        && !unit.imperial
    {
        return Err(fail(
            fraction,
            fraction.len() - rest.len(),
            Problem::FractionNeedsInches,
        ));
    }
    let value = match number.decimal {
        Some(value) if unit.top == unit.bottom => value,
        _ => {
            let top = number.top.checked_mul(unit.top);
            let product = top.zip(number.bottom.checked_mul(unit.bottom));
            let written = input.len() - rest.len();
            let (top, bottom) = product
                .map(|(top, bottom)| reduce(top, bottom))
                .ok_or_else(|| fail(input, written, Problem::TooManyDigits))?;
            top as f64 / bottom as f64
        }
    };
    let is_feet = FOOT.names.contains(&name);
    Ok((
        tail,
        Amount {
            value,
            imperial: unit.imperial,
            is_feet,
        },
    ))
}

/// Length in bytes of the unit's name at the head of `text`: a sign, or letters with what may
/// stand among them (`mm/min`, `mm/s2`, `1/min`).
fn unit_name(text: &str) -> usize {
    let signs = ['"', '\'', '\u{2032}', '\u{2033}', '\u{b0}', '%'];
    if let Some(sign) = text.chars().next().filter(|c| signs.contains(c)) {
        return sign.len_utf8();
    }
    if text.starts_with("1/min") {
        return 5;
    }
    // A digit is a power behind a stroke; elsewhere it begins the inches of `5ft2in`.
    let mut divided = false;
    let end = text.find(|c: char| {
        divided |= c == '/';
        !(c.is_alphabetic() || c == '/' || (divided && matches!(c, '^' | '2' | '3')))
    });
    if text.starts_with(char::is_alphabetic) {
        end.unwrap_or(text.len())
    } else {
        0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_form_that_is_promised() {
        // 1 in = 25.4 mm exactly: NIST SP 811, appendix B.
        for (text, mm) in [
            ("50 mm", 50.0),
            ("50mm", 50.0),
            ("5 cm", 50.0),
            ("2 in", 50.8),
            ("1 3/8 in", 34.925),
            ("1-3/8\"", 34.925),
            ("3/64in", 1.190_625),
            ("2'", 609.6),
            ("2ft2in", 660.4),
            ("2' 3 1/2\"", 698.5),
            ("0.110 in", 2.794),
            (".5 in", 12.7),
            ("+3 mm", 3.0),
            (" 42 mm ", 42.0),
        ] {
            assert_eq!(parse(text, Kind::Length).map(|q| q.value), Ok(mm), "{text}");
        }
        assert_eq!(
            parse("22.5°", Kind::Angle).unwrap().value,
            22.5_f64.to_radians()
        );
        assert_eq!(
            parse("22.5 deg", Kind::Angle).unwrap().value,
            22.5_f64.to_radians()
        );
        assert_eq!(parse("-0.1 mm", Kind::SignedLength).unwrap().value, -0.1);
        assert_eq!(parse("1200 mm/min", Kind::Feed).unwrap().value, 1200.0);
        assert_eq!(parse("18000 rpm", Kind::Spin).unwrap().value, 18000.0);
        assert_eq!(parse("500 ms", Kind::Time).unwrap().value, 0.5);
        assert_eq!(parse("300 mm/s2", Kind::Acceleration).unwrap().value, 300.0);
        assert_eq!(parse("0.45 g/cm3", Kind::Density).unwrap().value, 450.0);
        assert_eq!(parse("45 %", Kind::Share).unwrap().value, 0.45);
        // NIST SP 811, appendix B.9: 1 lb/ft3 is 16.01846 kg/m3.
        let pounds = parse("1 lb/ft3", Kind::Density).unwrap().value;
        assert!((pounds - 16.018_46).abs() < 5e-6, "{pounds}");
    }

    #[test]
    fn errors_point_at_the_character() {
        use Problem::*;
        for (text, at, len, problem) in [
            ("", 0, 0, Empty),
            ("50", 2, 0, MissingUnit),
            ("50 kg", 3, 2, UnknownUnit),
            ("50 deg", 3, 3, UnknownUnit),
            ("wide", 0, 1, NotANumber),
            ("12. mm", 2, 1, BadDecimal),
            ("12,5 mm", 2, 1, BadDecimal),
            ("-5 mm", 0, 1, Negative),
            ("1/0 in", 0, 3, ZeroDenominator),
            ("2 1/0 in", 2, 3, ZeroDenominator),
            ("1 3/8 mm", 2, 3, FractionNeedsInches),
            ("5 mm wide", 5, 4, TrailingText),
            ("inf mm", 0, 1, NotANumber),
            ("NaN mm", 0, 1, NotANumber),
            ("1e3 mm", 1, 1, UnknownUnit),
            ("123456789012345678 mm", 0, 18, TooManyDigits),
            ("1.23456789012345678 mm", 0, 19, TooManyDigits),
            (
                "0.00000000000000000000000000000000000001 mm",
                0,
                40,
                TooManyDigits,
            ),
            (
                "10000000000000000000000000000000000000 m",
                0,
                38,
                TooManyDigits,
            ),
            ("2' 3'", 3, 2, TrailingText),
        ] {
            let error = parse(text, Kind::Length).expect_err(text);
            assert_eq!(
                (error.at, error.len, error.problem),
                (at, len, problem),
                "{text}"
            );
        }
    }
}
