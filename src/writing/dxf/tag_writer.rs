//! A DXF file on its way out: tags, which are pairs of a group code and a value, and figures, handed
//! on in portions.

use crate::geometry::Point;
use crate::units::{Digits, NotPrintable};
use std::io::{self, Write};

/// No sheet is so large, mm.
const TOO_LARGE: f64 = 1e9;

pub(super) fn fits(value: f64) -> bool {
    value.abs() < TOO_LARGE
}

pub(super) fn invalid(error: NotPrintable) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, error)
}

/// Bytes are handed on in portions of about so many.
pub(super) const PORTION: usize = 1 << 16;

/// A portion may be longer by what comes between two looks at it: a path's head with its first
/// vertex, or the end of the file.
pub(super) const OVER: usize = 1 << 10;

/// The file on its way out.
pub(super) struct TagWriter<'a> {
    out: &'a mut dyn Write,
    /// What has not been handed on yet.
    text: Vec<u8>,
}

impl<'a> TagWriter<'a> {
    pub(super) fn to(out: &'a mut dyn Write) -> Self {
        TagWriter {
            out,
            text: Vec::with_capacity(PORTION + OVER),
        }
    }

    pub(super) fn hand_on(&mut self) -> io::Result<()> {
        self.out.write_all(&self.text)?;
        self.text.clear();
        Ok(())
    }

    pub(super) fn hand_on_if_full(&mut self) -> io::Result<()> {
        if self.text.len() < PORTION {
            return Ok(());
        }
        self.hand_on()
    }

    pub(super) fn raw(&mut self, text: &str) {
        self.text.extend_from_slice(text.as_bytes());
    }

    /// Tags written as `code value`, parted by semicolons.
    pub(super) fn tags(&mut self, tags: &str) {
        for tag in tags.split(';') {
            let (code, value) = tag.split_once(' ').unwrap_or((tag, ""));
            self.raw(code);
            self.raw("\n");
            self.raw(value);
            self.raw("\n");
        }
    }

    /// A safety note as a comment: importers pass it over, people who open the file see it first.
    pub(super) fn comment(&mut self, note: &str) {
        self.raw("999\nSafety: ");
        self.raw(note);
        self.raw("\n");
    }

    /// A length or coordinate rounded to 6 decimals, trailing zeros dropped but one.
    pub(super) fn number(&mut self, value: f64) -> io::Result<()> {
        if !fits(value) {
            return Err(invalid(NotPrintable));
        }
        let digits = Digits::of(value, 6).map_err(invalid)?;
        digits.push_to(&mut self.text);
        // Of the six decimals the first stays.
        for _ in 1..6 {
            if self.text.last() != Some(&b'0') {
                break;
            }
            self.text.pop();
        }
        Ok(())
    }

    #[allow(clippy::cast_possible_truncation)] // a digit
    pub(super) fn digits(&mut self, mut value: u64, base: u64) {
        let mut text = [0; 20];
        let mut start = text.len();
        for place in text.iter_mut().rev() {
            let digit = (value % base) as u8;
            *place = digit + if digit < 10 { b'0' } else { b'A' - 10 };
            start -= 1;
            value /= base;
            if value == 0 {
                break;
            }
        }
        self.text
            .extend_from_slice(text.get(start..).unwrap_or_default());
    }

    pub(super) fn point(&mut self, codes: [&str; 2], point: Point) -> io::Result<()> {
        for (code, value) in codes.into_iter().zip([point.x, point.y]) {
            self.raw(code);
            self.raw("\n");
            self.number(value)?;
            self.raw("\n");
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn number(value: f64) -> io::Result<String> {
        let mut out = Vec::new();
        let mut file = TagWriter::to(&mut out);
        file.number(value)?;
        file.hand_on()?;
        Ok(String::from_utf8(out).unwrap())
    }

    #[test]
    fn numbers_are_plain() {
        for (value, wanted) in [
            (0.0, "0.0"),
            (-0.0, "0.0"),
            (-4e-7, "0.0"),
            (-6e-7, "-0.000001"),
            (120.0, "120.0"),
            (80.123_456_789, "80.123457"),
            (-0.075, "-0.075"),
            (0.999_999_6, "1.0"),
            (1.05, "1.05"),
            (999_999_999.5, "999999999.5"),
        ] {
            assert_eq!(number(value).unwrap(), wanted);
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e9, -2e12] {
            let error = number(bad).unwrap_err();
            assert_eq!(error.kind(), io::ErrorKind::InvalidData);
        }
    }
}
