//! Numbers as people write them, read as exact fractions of whole numbers.

use super::problem::{Problem, QuantityError};
use nom::{
    IResult, Parser,
    branch::alt,
    character::complete::{char, digit1, one_of, space0},
    combinator::{opt, recognize},
    sequence::{pair, preceded, separated_pair},
};

/// An exact number as written: `top / bottom`.
pub(super) struct Number<'a> {
    pub(super) top: i128,
    pub(super) bottom: i128,
    /// The text of the fraction part, if it was written as one.
    pub(super) fraction: Option<&'a str>,
    /// The nearest float, if it was written as a decimal.
    pub(super) decimal: Option<f64>,
}

fn decimal_text(input: &str) -> IResult<&str, &str> {
    alt((
        recognize(pair(digit1, opt(pair(char('.'), digit1)))),
        recognize(pair(char('.'), digit1)),
    ))
    .parse(input)
}

fn fraction_text(input: &str) -> IResult<&str, (&str, &str)> {
    separated_pair(digit1, char('/'), digit1).parse(input)
}

fn mixed_text(input: &str) -> IResult<&str, (&str, (&str, &str))> {
    separated_pair(digit1, one_of(" -"), preceded(space0, fraction_text)).parse(input)
}

/// As many as the shortest text of any `f64` may need, zeros before and behind them not counted.
const MOST_DIGITS: usize = 17;

/// Zeros included: powers of ten up to this many digits fit the whole numbers used here.
const MOST_WITH_ZEROS: usize = 38;

/// Makes an error that points at a rest of the input, so many bytes of it.
type Fail<'f> = &'f dyn Fn(&str, usize, Problem) -> QuantityError;

/// The number at the head of `input`; `fail` makes an error that points at a rest of the input.
pub(super) fn number<'a>(
    input: &'a str,
    fail: Fail<'_>,
) -> Result<(&'a str, Number<'a>), QuantityError> {
    if let Ok((rest, (whole, (top, bottom)))) = mixed_text(input) {
        let part = &input[input.len() - rest.len() - top.len() - bottom.len() - 1..];
        let whole = digits(whole, input, fail)?;
        let top = digits(top, part, fail)?;
        let bottom = digits(bottom, part, fail)?;
        let bottom = not_zero(bottom, part, rest, fail)?;
        let top = whole * bottom + top;
        return Ok((
            rest,
            Number {
                top,
                bottom,
                fraction: Some(part),
                decimal: None,
            },
        ));
    }
    if let Ok((rest, (top, bottom))) = fraction_text(input)
        && !rest.starts_with('.')
    {
        let top = digits(top, input, fail)?;
        let bottom = digits(bottom, input, fail)?;
        let bottom = not_zero(bottom, input, rest, fail)?;
        return Ok((
            rest,
            Number {
                top,
                bottom,
                fraction: Some(input),
                decimal: None,
            },
        ));
    }
    let (rest, text) = decimal_text(input).map_err(|_| {
        fail(
            input,
            input.chars().next().map_or(0, char::len_utf8),
            Problem::NotANumber,
        )
    })?;
    let places = text.split_once('.').map_or(0, |(_, part)| part.len());
    let whole = text.replace('.', "");
    if whole.trim_matches('0').len() > MOST_DIGITS || whole.len() > MOST_WITH_ZEROS {
        return Err(fail(input, text.len(), Problem::TooManyDigits));
    }
    let too_many = |_| fail(input, text.len(), Problem::TooManyDigits);
    let top = whole.parse().map_err(too_many)?;
    let bottom = (0..places).fold(1, |bottom, _| bottom * 10);
    Ok((
        rest,
        Number {
            top,
            bottom,
            fraction: None,
            decimal: text.parse().ok(),
        },
    ))
}

fn digits(text: &str, at: &str, fail: Fail<'_>) -> Result<i128, QuantityError> {
    if text.len() > MOST_DIGITS {
        return Err(fail(at, text.len(), Problem::TooManyDigits));
    }
    text.parse()
        .map_err(|_| fail(at, text.len(), Problem::NotANumber))
}

fn not_zero(bottom: i128, at: &str, rest: &str, fail: Fail<'_>) -> Result<i128, QuantityError> {
    if bottom == 0 {
        return Err(fail(at, at.len() - rest.len(), Problem::ZeroDenominator));
    }
    Ok(bottom)
}

/// In lowest terms.
pub(super) fn reduce(top: i128, bottom: i128) -> (i128, i128) {
    let mut a = top;
    let mut b = bottom;
    while b != 0 {
        (a, b) = (b, a % b);
    }
    let divisor = a.max(1);
    (top / divisor, bottom / divisor)
}
