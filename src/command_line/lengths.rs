//! Lengths that are given by flags.

use super::answers::Failure;
use crate::units::{Kind, parse};

/// A length, mm, also below zero.
pub(super) fn signed(flag: &str, text: &str) -> Result<f64, Failure> {
    let wrong = |error: crate::units::QuantityError| {
        Failure::input(format!("{flag} `{text}`: {error}; {}", error.hint()))
    };
    parse(text, Kind::SignedLength)
        .map(|quantity| quantity.value)
        .map_err(wrong)
}

/// A length above zero, mm: `text` is what `flag` was given, `part` the one of it that is read.
pub(super) fn above_zero(flag: &str, text: &str, part: &str) -> Result<f64, Failure> {
    match parse(part, Kind::Length) {
        Ok(quantity) if quantity.value > 0.0 => Ok(quantity.value),
        Ok(_) => Err(Failure::input(format!(
            "{flag} `{text}`: this must be above zero"
        ))),
        Err(error) => Err(Failure::input(format!(
            "{flag} `{text}`: {error}; {}",
            error.hint()
        ))),
    }
}
