//! Decimal figures from whole numbers: what a value is in units of the last place is worked out
//! once, and its digits follow by division, without an allocation or a float printer.

use std::fmt;

/// In units of the last place; far below what a reader could tell apart.
pub(super) const TIE_NOISE: f64 = 1e-7;

/// Magnitudes from here on are refused: with nine decimals they no longer fit whole numbers of 64
/// bits.
const TOO_LARGE: f64 = 9e9;

/// Powers of ten, by the number of decimals; nine are the most.
const SCALES: [i64; 10] = [
    1,
    10,
    100,
    1_000,
    10_000,
    100_000,
    1_000_000,
    10_000_000,
    100_000_000,
    1_000_000_000,
];

/// A value that no file and no sheet may show: not finite, or beyond what the writer can hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotPrintable;

impl fmt::Display for NotPrintable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a figure came out as not a number; nothing was written")
    }
}

impl std::error::Error for NotPrintable {}

/// A value rounded to a number of decimals: ties away from zero, no negative zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Digits {
    /// In units of the last place.
    units: i64,
    places: u32,
}

impl Digits {
    /// `value` with exactly `places` decimals (at most 9).
    ///
    /// # Errors
    /// [`NotPrintable`] for values that are not finite or whose magnitude is 9e9 or more.
    #[inline]
    #[allow(clippy::cast_possible_truncation)] // guarded by the magnitude check
    pub fn of(value: f64, places: u32) -> Result<Self, NotPrintable> {
        let places = places.min(9);
        let magnitude = value.abs();
        // Also false for what is not a number.
        if !matches!(
            magnitude.partial_cmp(&TOO_LARGE),
            Some(std::cmp::Ordering::Less)
        ) {
            return Err(NotPrintable);
        }
        // A tie that binary noise pushed down (16.525 * 100 is 1652.4999...) is a tie all the same.
        let scale = SCALES.get(places as usize).copied().unwrap_or(1);
        let whole = magnitude as i64;
        // The part after the point is exact, so that large values lose nothing to the scale.
        let part = (magnitude - whole as f64) * scale as f64 + (0.5 + TIE_NOISE);
        let units = whole * scale + part as i64;
        let units = if value < 0.0 { -units } else { units };
        Ok(Digits { units, places })
    }

    /// The figure in units of its last place.
    pub fn units(self) -> i64 {
        self.units
    }

    /// Appends the figure to ASCII text.
    #[inline]
    pub fn push_to(self, out: &mut Vec<u8>) {
        match self.short() {
            Some(text) => text.append_to(out),
            None => self.push_long(out),
        }
    }

    /// The same behind a blank and a letter.
    #[inline]
    pub fn push_word(self, letter: u8, out: &mut Vec<u8>) {
        if let Some(mut text) = self.short() {
            text.put([b' ', letter]);
            text.append_to(out);
        } else {
            out.extend_from_slice(&[b' ', letter]);
            self.push_long(out);
        }
    }

    /// A figure with at most four digits before the point and none, one or three behind it, as nearly
    /// all are: every digit has its place.
    #[inline]
    #[allow(clippy::cast_possible_truncation)] // a digit
    fn short(self) -> Option<Text> {
        let units = u32::try_from(self.units.unsigned_abs()).ok()?;
        let (whole, part, behind) = match self.places {
            0 => (units, 0, 0),
            1 => (units / 10, units % 10 * 100, 2),
            3 => (units / 1000, units % 1000, 4),
            _ => return None,
        };
        if whole >= 10_000 {
            return None;
        }
        let [a, b] = pair(whole / 100);
        let [c, d] = pair(whole % 100);
        let [e, f] = pair(part / 10);
        let mut bytes = [0; 2 * LONGEST];
        let (_, room) = bytes.split_first_chunk_mut::<{ LONGEST - 4 }>()?;
        *room.first_chunk_mut()? = [a, b, c, d, b'.', e, f, b'0' + (part % 10) as u8];
        let zeros = usize::from(whole < 10) + usize::from(whole < 100) + usize::from(whole < 1000);
        let mut text = Text {
            bytes,
            free: LONGEST - 4 + zeros,
            end: LONGEST + behind,
        };
        if self.units < 0 {
            text.put([b'-']);
        }
        Some(text)
    }

    #[allow(clippy::cast_possible_truncation)] // a digit
    fn push_long(self, out: &mut Vec<u8>) {
        let mut text = Text {
            bytes: [0; 2 * LONGEST],
            free: LONGEST,
            end: LONGEST,
        };
        let mut rest = self.units.unsigned_abs();
        for _ in 0..self.places / 2 {
            text.put(last_pair(&mut rest));
        }
        if self.places % 2 == 1 {
            let digit = (rest % 10) as u8;
            rest /= 10;
            text.put([b'0' + digit]);
        }
        if self.places > 0 {
            text.put([b'.']);
        }
        while rest >= 100 {
            text.put(last_pair(&mut rest));
        }
        let is_pair = rest >= 10;
        let [tens, ones] = last_pair(&mut rest);
        text.put([ones]);
        if is_pair {
            text.put([tens]);
        }
        if self.units < 0 {
            text.put([b'-']);
        }
        text.append_to(out);
    }
}

/// Room for 19 digits of a 64-bit number, point and sign.
const LONGEST: usize = 24;

/// Text that is filled from the middle of its room to the front.
struct Text {
    bytes: [u8; 2 * LONGEST],
    free: usize,
    end: usize,
}

impl Text {
    #[inline]
    fn put<const N: usize>(&mut self, what: [u8; N]) {
        self.free -= N;
        if let Some(place) = self.bytes.get_mut(self.free..self.free + N) {
            place.copy_from_slice(&what);
        }
    }

    /// As many bytes are copied whatever its length, and what is too much is taken back: that takes
    /// a fraction of the time of a copy whose length is not known beforehand.
    #[inline]
    fn append_to(&self, out: &mut Vec<u8>) {
        let length = out.len() + self.end - self.free;
        if let Some(all) = self.bytes.get(self.free..self.free + LONGEST)
            && let Ok(all) = <&[u8; LONGEST]>::try_from(all)
        {
            out.extend_from_slice(all);
        }
        out.truncate(length);
    }
}

/// The numbers below a hundred in two digits, ASCII: a division gives two digits at once.
const PAIRS: [[u8; 2]; 100] = {
    let mut pairs = [[b'0'; 2]; 100];
    let mut number: u8 = 0;
    while number < 100 {
        pairs[number as usize] = [b'0' + number / 10, b'0' + number % 10];
        number += 1;
    }
    pairs
};

/// A number below a hundred in two digits.
#[inline]
fn pair(number: u32) -> [u8; 2] {
    PAIRS.get(number as usize).copied().unwrap_or_default()
}

/// Takes the last two digits off a whole number.
#[inline]
#[allow(clippy::cast_possible_truncation)] // below a hundred
fn last_pair(number: &mut u64) -> [u8; 2] {
    let pair = PAIRS.get((*number % 100) as usize);
    *number /= 100;
    pair.copied().unwrap_or_default()
}

impl fmt::Display for Digits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text = Vec::new();
        self.push_to(&mut text);
        f.write_str(std::str::from_utf8(&text).map_err(|_| fmt::Error)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn text(value: f64, places: u32) -> Option<String> {
        Digits::of(value, places)
            .ok()
            .map(|digits| digits.to_string())
    }

    #[test]
    fn figures_by_hand() {
        for (value, places, wanted) in [
            (0.0, 3, "0.000"),
            (-0.0, 0, "0"),
            (-0.0004, 3, "0.000"),
            (-0.0005, 3, "-0.001"),
            (0.5, 0, "1"),
            (-2.5, 0, "-3"),
            (16.525, 2, "16.53"),
            (1.0049, 2, "1.00"),
            (0.07, 9, "0.070000000"),
            (8_999_999_999.0, 9, "8999999999.000000000"),
            (-1234.5, 4, "-1234.5000"),
            (999.9996, 3, "1000.000"),
        ] {
            assert_eq!(text(value, places).as_deref(), Some(wanted));
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 9e9, -9e9] {
            assert_eq!(text(bad, 3), None);
        }
    }

    #[test]
    fn every_whole_number_of_a_short_figure_is_written_in_full() {
        for whole in 0..10_010_i64 {
            for (units, places, wanted) in [
                (whole, 0, format!("{whole}")),
                (-(whole * 10 + 7), 1, format!("-{whole}.7")),
                (whole * 1000 + 45, 3, format!("{whole}.045")),
            ] {
                assert_eq!(Digits { units, places }.to_string(), wanted);
            }
        }
    }

    proptest! {
        /// Short figures are written as long ones are, and both as whole and part are by themselves.
        #[test]
        fn short_figures_are_as_long_ones(
            units in prop_oneof![-20_000_000_i64..20_000_000, -11_000_i64..11_000, any::<i32>().prop_map(i64::from)],
            places in 0..=9_u32,
        ) {
            let digits = Digits { units, places };
            let mut long = Vec::new();
            digits.push_long(&mut long);
            let scale = 10_u64.pow(places);
            let sign = if units < 0 { "-" } else { "" };
            let whole = units.unsigned_abs() / scale;
            let part = units.unsigned_abs() % scale;
            let wanted = if places == 0 {
                format!("{sign}{whole}")
            } else {
                format!("{sign}{whole}.{part:0width$}", width = places as usize)
            };
            prop_assert_eq!(&String::from_utf8(long).unwrap(), &wanted);
            prop_assert_eq!(&digits.to_string(), &wanted);
            let mut word = Vec::from(*b"G1");
            digits.push_word(b'X', &mut word);
            prop_assert_eq!(String::from_utf8(word).unwrap(), format!("G1 X{wanted}"));
        }

        /// Beside the float printer of the standard library, which rounds the exact binary value:
        /// never more than half a unit of the last place (and the noise taken for a tie) away.
        #[test]
        fn digits_read_back_within_half_a_unit(value in -9e6..9e6_f64, places in 0..=6_u32) {
            let back: f64 = text(value, places).unwrap().parse().unwrap();
            let unit = 10_f64.powi(-places.cast_signed());
            prop_assert!((back - value).abs() <= unit * (0.5 + 2e-7) + value.abs() * 1e-15);
            let plain = format!("{value:.*}", places as usize);
            let plain: f64 = plain.parse().unwrap();
            prop_assert!((plain - back).abs() <= unit * 1.01);
        }
    }
}
