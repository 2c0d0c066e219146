//! One line of a program into words and comments (NISTIR 6556, 3.3).

use super::plain_word::{LARGEST_NUMBER, MOST_DIGITS, POWERS_OF_TEN, plain_word};
use nom::branch::alt;
use nom::bytes::complete::{take, take_while};
use nom::character::complete::{char, satisfy};
use nom::combinator::opt;
use nom::error::{ErrorKind, ParseError};
use nom::sequence::preceded;
use nom::{Err, IResult, Parser};

/// A letter with its number, and where it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProgramWord {
    /// Capital letter.
    pub letter: char,
    /// The number as written, in the units in force.
    pub value: f64,
    /// Column of the letter, in bytes from 1.
    pub column: usize,
}

/// A part of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LineItem<'a> {
    /// A letter with its number.
    Word(ProgramWord),
    /// A comment in parentheses, or after a semicolon.
    Comment {
        /// What stands between the parentheses, or after the semicolon.
        text: &'a [u8],
        /// Whether it began with a semicolon.
        semicolon: bool,
        /// Column of its first byte, from 1.
        column: usize,
    },
}

/// Why a line cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub struct BlockProblem {
    /// Stable code.
    pub code: &'static str,
    /// Column in bytes from 1.
    pub column: usize,
    /// What is wrong.
    pub text: String,
}

/// A failure inside the parser: where (bytes left), code, sentence.
#[derive(Debug)]
struct Trouble {
    left: usize,
    code: &'static str,
    text: String,
}

impl ParseError<&[u8]> for Trouble {
    fn from_error_kind(input: &[u8], _: ErrorKind) -> Self {
        Trouble {
            left: input.len(),
            code: "character",
            text: String::new(),
        }
    }

    fn append(_: &[u8], _: ErrorKind, other: Self) -> Self {
        other
    }
}

type Parsed<'a, T> = IResult<&'a [u8], T, Trouble>;

fn fail<'a, T>(input: &'a [u8], code: &'static str, text: impl Into<String>) -> Parsed<'a, T> {
    Err(Err::Failure(Trouble {
        left: input.len(),
        code,
        text: text.into(),
    }))
}

fn blanks(input: &[u8]) -> Parsed<'_, &[u8]> {
    take_while(|byte| byte == b' ' || byte == b'\t').parse(input)
}

/// Digits, blanks between them allowed (NISTIR 6556, 3.3: spaces do not matter outside comments).
fn digits(input: &[u8]) -> Parsed<'_, &[u8]> {
    take_while(|byte: u8| byte.is_ascii_digit() || byte == b' ' || byte == b'\t').parse(input)
}

/// Why digits are no number.
enum NotDecimal {
    NoDigit,
    TooLong,
}

/// What the digits before and after a point say.
///
/// All digits as one whole number, divided once by a power of ten: up to 15 digits both are exact in
/// an `f64`, so that the quotient is the nearest one to what is written (IEEE 754, one rounding).
/// Longer ones, as far as a `u64` holds them, are rounded twice: a unit in the last place of an `f64`.
fn decimal(whole: &[u8], fraction: &[u8]) -> Result<f64, NotDecimal> {
    let mut all = 0_u64;
    let mut count = 0_usize;
    let mut places = 0_usize;
    for (bytes, behind_point) in [(whole, 0), (fraction, 1)] {
        for digit in bytes.iter().filter(|byte| byte.is_ascii_digit()) {
            let grown = all.checked_mul(10).ok_or(NotDecimal::TooLong)?;
            all = grown
                .checked_add(u64::from(digit - b'0'))
                .ok_or(NotDecimal::TooLong)?;
            count += 1;
            places += behind_point;
        }
    }
    if count == 0 {
        return Err(NotDecimal::NoDigit);
    }
    let power = POWERS_OF_TEN.get(places).filter(|_| count <= MOST_DIGITS);
    Ok(all as f64 / power.ok_or(NotDecimal::TooLong)?)
}

/// A number: sign, digits, at most one point, at least one digit, no exponent (3.3.2.1).
fn number(input: &[u8]) -> Parsed<'_, f64> {
    let (input, _) = blanks(input)?;
    let (rest, sign) = opt(alt((char('+'), char('-')))).parse(input)?;
    let (rest, whole) = digits(rest)?;
    let (rest, fraction) = opt(preceded(char('.'), digits)).parse(rest)?;
    let fraction = fraction.unwrap_or_default();
    if rest.first() == Some(&b'.') {
        return fail(input, "number", "this number has two points");
    }
    let magnitude = match decimal(whole, fraction) {
        Ok(value) if value <= LARGEST_NUMBER => value,
        Ok(_) => return fail(input, "number", "this number is beyond any machine"),
        Err(NotDecimal::NoDigit) => return not_a_number(input),
        Err(NotDecimal::TooLong) => {
            return fail(input, "number", "this number has too many digits");
        }
    };
    // An unsigned zero, so that -0 is 0 everywhere.
    let value = if sign == Some('-') {
        0.0 - magnitude
    } else {
        magnitude
    };
    Ok((rest, value))
}

/// What stands where a number should: refused by its name.
fn not_a_number<T>(input: &[u8]) -> Parsed<'_, T> {
    match input.first() {
        Some(b'#') => fail(input, "parameter", PARAMETER),
        Some(b'[') => fail(input, "expression", EXPRESSION),
        Some(letter) if letter.is_ascii_alphabetic() => fail(
            input,
            "expression",
            "a number is missing here (functions such as SIN are not taken: write the number)",
        ),
        _ => fail(input, "number", "a number is missing here"),
    }
}

const PARAMETER: &str = "parameters (#) are not taken: their values may live on in the control \
                         from another program; write the number";
const EXPRESSION: &str = "expressions in brackets are not taken: write the number";

fn word(input: &[u8]) -> Parsed<'_, (char, f64)> {
    let (rest, letter) = satisfy(|c| c.is_ascii_alphabetic()).parse(input)?;
    let letter = letter.to_ascii_uppercase();
    match letter {
        'O' => fail(
            input,
            "subprogram",
            "O words (program numbers, subprograms, loops) are not taken: write the moves out",
        ),
        'A' | 'B' | 'C' | 'U' | 'V' | 'W' => fail(
            input,
            "axis",
            format!("the axis {letter} is not known here: only X, Y and Z are"),
        ),
        'E' => fail(
            input,
            "number",
            "E is no word; numbers with an exponent are not part of the language",
        ),
        _ => {
            let (rest, value) = number(rest)?;
            Ok((rest, (letter, value)))
        }
    }
}

/// `( … )` without another `(` inside (3.3.4).
fn comment(input: &[u8]) -> Parsed<'_, (&[u8], bool)> {
    let (inside, _) = char('(').parse(input)?;
    let (rest, text) = take_while(|byte| byte != b'(' && byte != b')').parse(inside)?;
    match rest.first() {
        Some(b')') => {
            let (rest, _) = take(1_usize).parse(rest)?;
            Ok((rest, (text, false)))
        }
        Some(_) => fail(
            rest,
            "comment",
            "a comment may not hold another ( before its )",
        ),
        None => fail(input, "comment", "this comment has no )"),
    }
}

/// `; …` to the end of the line: not in NISTIR 6556, taken by many controls.
fn semicolon(input: &[u8]) -> Parsed<'_, (&[u8], bool)> {
    let (text, _) = char(';').parse(input)?;
    Ok((&[], (text, true)))
}

/// What no word can begin with: refused by its name.
fn refused<T>(input: &[u8]) -> Parsed<'_, T> {
    match input.first() {
        Some(b'#') => fail(input, "parameter", PARAMETER),
        Some(b'[') => fail(input, "expression", EXPRESSION),
        Some(b'/') => fail(
            input,
            "block-delete",
            "/ stands at the start of a line or nowhere",
        ),
        Some(b'%') => fail(input, "percent", "% stands alone on its line"),
        Some(b')') => fail(input, "comment", "a ) without its ("),
        Some(byte) if byte.is_ascii_graphic() => fail(
            input,
            "character",
            format!("`{}` begins no word", char::from(*byte)),
        ),
        Some(byte) => fail(
            input,
            "character",
            format!("the byte {byte} is no part of the language"),
        ),
        None => fail(input, "character", "nothing here"),
    }
}

/// The words and comments of a line, one after the other; ends after the first problem.
#[derive(Debug, Clone)]
pub struct LineItems<'a> {
    length: usize,
    rest: &'a [u8],
}

/// The words and comments of a line without its line end.
pub fn items(line: &[u8]) -> LineItems<'_> {
    LineItems {
        length: line.len(),
        rest: line,
    }
}

impl<'a> LineItems<'a> {
    fn step(&self) -> Parsed<'a, Option<LineItem<'a>>> {
        let blank = self
            .rest
            .iter()
            .take_while(|byte| matches!(byte, b' ' | b'\t'));
        let input = self.rest.get(blank.count()..).unwrap_or_default();
        let column = self.length - input.len() + 1;
        if input.is_empty() {
            return Ok((input, None));
        }
        if let Some((rest, (letter, value))) = plain_word(input) {
            let word = ProgramWord {
                letter,
                value,
                column,
            };
            return Ok((rest, Some(LineItem::Word(word))));
        }
        let as_word = word.map(|(letter, value)| {
            LineItem::Word(ProgramWord {
                letter,
                value,
                column,
            })
        });
        let as_comment = alt((comment, semicolon)).map(|(text, semicolon)| LineItem::Comment {
            text,
            semicolon,
            column,
        });
        alt((as_word, as_comment, refused)).map(Some).parse(input)
    }
}

impl<'a> Iterator for LineItems<'a> {
    type Item = Result<LineItem<'a>, BlockProblem>;

    fn next(&mut self) -> Option<Self::Item> {
        match self.step() {
            Ok((rest, item)) => {
                self.rest = rest;
                item.map(Ok)
            }
            Err(trouble) => {
                self.rest = &[];
                let trouble = match trouble {
                    Err::Error(trouble) | Err::Failure(trouble) => trouble,
                    Err::Incomplete(_) => Trouble::from_error_kind(&[], ErrorKind::Eof),
                };
                Some(Err(BlockProblem {
                    code: trouble.code,
                    column: self.length.saturating_sub(trouble.left) + 1,
                    text: trouble.text,
                }))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn words(line: &str) -> Vec<(char, f64, usize)> {
        items(line.as_bytes())
            .map(|item| match item.unwrap() {
                LineItem::Word(word) => (word.letter, word.value, word.column),
                LineItem::Comment { column, .. } => ('(', 0.0, column),
            })
            .collect()
    }

    fn problem(line: &[u8]) -> (&'static str, usize) {
        let problem = items(line).find_map(Result::err).unwrap();
        assert!(!problem.text.is_empty());
        (problem.code, problem.column)
    }

    #[test]
    fn words_keep_their_columns() {
        assert_eq!(
            words("g1 x-1.5 (a) Y+.25"),
            [
                ('G', 1.0, 1),
                ('X', -1.5, 4),
                ('(', 0.0, 10),
                ('Y', 0.25, 14)
            ]
        );
    }

    /// NISTIR 6556, 3.3: "G0X +0. 12 34Y 7" is "G0 x+0.1234 y7".
    #[test]
    fn blanks_do_not_matter() {
        assert_eq!(
            words("G0X +0. 12 34Y 7"),
            [('G', 0.0, 1), ('X', 0.1234, 3), ('Y', 7.0, 14)]
        );
    }

    fn value(text: &str) -> f64 {
        words(&format!("X{text}"))[0].1
    }

    proptest! {
        /// The same bits as the standard library reads, which rounds right (its documentation).
        #[test]
        fn numbers_up_to_fifteen_digits_are_the_nearest(
            whole in 0_u64..1_000_000,
            fraction in "[0-9]{0,9}",
            zeros in 0_usize..4,
        ) {
            let text = format!("{}{whole}.{fraction}", "0".repeat(zeros));
            prop_assert_eq!(value(&text).to_bits(), text.parse::<f64>().unwrap().to_bits());
        }

        #[test]
        fn longer_ones_within_a_unit_of_the_last_place(fraction in "[0-9]{10,18}") {
            let text = format!("0.{fraction}");
            let wanted = text.parse::<f64>().unwrap();
            prop_assert!(value(&text).to_bits().abs_diff(wanted.to_bits()) <= 1);
        }
    }

    proptest! {
        /// What the short way takes, it takes as the long way does, to the bit; all that stands between
        /// words is left to the long way or ends the number alike.
        #[test]
        fn the_short_way_says_what_the_long_way_says(line in "[GMXYZFOAE]([-+0-9. \t]|[-+]?[0-9]{0,3}[.]?[0-9]{0,4}){0,3}[ \t]{0,2}[XG(;0-9.,]?") {
            if let Some((rest, (letter, value))) = plain_word(line.as_bytes()) {
                let (after, (other, long)) = word(line.as_bytes()).unwrap();
                prop_assert_eq!(letter, other);
                prop_assert_eq!(value.to_bits(), long.to_bits());
                prop_assert_eq!(rest.trim_ascii_start(), after.trim_ascii_start());
            }
        }

        /// It takes all that are written without blanks and with few digits.
        #[test]
        fn the_short_way_takes_plain_numbers(value in -1e6..1e6_f64, places in 0_usize..6) {
            let text = format!("X{value:.places$}");
            let (rest, (_, found)) = plain_word(text.as_bytes()).unwrap();
            prop_assert!(rest.is_empty());
            let wanted: f64 = text[1..].parse().unwrap();
            prop_assert_eq!(found.to_bits(), (wanted + 0.0).to_bits());
        }
    }

    #[test]
    fn minus_zero_is_zero() {
        assert!(words("X-0.000")[0].1.is_sign_positive());
    }

    #[test]
    fn what_is_refused_is_refused_by_name_and_place() {
        for (line, expected) in [
            (&b"G1 X#1"[..], ("parameter", 5)),
            (b"#1=3", ("parameter", 1)),
            (b"X[1+2]", ("expression", 2)),
            (b"XSIN[2]", ("expression", 2)),
            (b"O100", ("subprogram", 1)),
            (b"G1 A3", ("axis", 4)),
            (b"X1E-5", ("number", 3)),
            (b"X", ("number", 2)),
            (b"X-", ("number", 2)),
            (b"X.", ("number", 2)),
            (b"X1.2.3", ("number", 2)),
            (b"X..1", ("number", 2)),
            (b"X0.1234567890123456789012345", ("number", 2)),
            (b"X12345678901234567890123", ("number", 2)),
            (b"X1,5", ("character", 3)),
            (b"X9999999", ("number", 2)),
            (b"G1 /X1", ("block-delete", 4)),
            (b"G1 %", ("percent", 4)),
            (b"(abc", ("comment", 1)),
            (b"(a (b))", ("comment", 4)),
            (b"G1 )", ("comment", 4)),
            (b"$H", ("character", 1)),
            (b"X\xe2\x88\x921", ("number", 2)),
            (b"\xef\xbb\xbfG21", ("character", 1)),
        ] {
            assert_eq!(problem(line), expected, "{}", String::from_utf8_lossy(line));
        }
    }
}
