//! The short way to read a word, for those that are written as nearly all are; and what holds for the
//! numbers of any.

use super::letters::Letters;

/// The most digits that a number may have; more are no dimension of a workshop.
pub(super) const MOST_DIGITS: usize = 24;

/// The largest number that is taken, in mm or inch: beyond it no machine of this trade moves.
pub(super) const LARGEST_NUMBER: f64 = 1e6;

/// 1 to 1e24; exact up to 1e22.
pub(super) const POWERS_OF_TEN: [f64; MOST_DIGITS + 1] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22, 1e23, 1e24,
];

/// Letters whose words have a number of this language.
const NUMBERED: Letters = Letters::of("DFGHIJKLMNPQRSTXYZ");

/// The most digits that are exact in an `f64` as one whole number.
const EXACT_DIGITS: usize = 15;

/// A word as nearly all are written: a letter and a number of few digits without blanks in it. `None`
/// where more has to be looked at: the long way decides then, and says the same wherever this says
/// anything.
pub(super) fn plain_word(input: &[u8]) -> Option<(&[u8], (char, f64))> {
    let (letter, number) = input.split_first()?;
    let letter = char::from(letter.to_ascii_uppercase());
    if !NUMBERED.has(letter) {
        return None;
    }
    let (digits, negative) = match number.split_first()? {
        (b'-', rest) => (rest, true),
        (b'+', rest) => (rest, false),
        _ => (number, false),
    };
    let mut all = 0_u64;
    let mut count = 0;
    let mut point = None;
    let mut length = 0;
    for byte in digits {
        match byte {
            b'0'..=b'9' if count < EXACT_DIGITS => {
                all = all * 10 + u64::from(byte - b'0');
                count += 1;
            }
            b'.' if point.is_none() => point = Some(count),
            b'.' | b'0'..=b'9' => return None,
            _ => break,
        }
        length += 1;
    }
    let rest = digits.get(length..).unwrap_or_default();
    let places = count - point.unwrap_or(count);
    let value = all as f64 / POWERS_OF_TEN.get(places)?;
    if count == 0 || value > LARGEST_NUMBER || goes_on(rest) {
        return None;
    }
    Some((rest, (letter, if negative { 0.0 - value } else { value })))
}

/// Whether a number goes on behind blanks.
fn goes_on(rest: &[u8]) -> bool {
    if !matches!(rest.first(), Some(b' ' | b'\t')) {
        return false;
    }
    let next = rest.iter().find(|byte| !matches!(byte, b' ' | b'\t'));
    matches!(next, Some(b'0'..=b'9' | b'.'))
}
