//! Numbers of a program: rounded to the side that does no harm, and as they are written.

use crate::instructions::tool_path::Position;
use crate::units::Digits;
use std::io;

/// The next whole multiple of `step`: a wait may be longer than asked, not shorter.
pub(super) fn rounded_up(value: f64, step: f64) -> f64 {
    // Rounding noise of a whole multiple must not add a step.
    (value / step - 1e-9).ceil() * step
}

/// The whole number below: a feed may be less than planned, not more, as it may be a limit.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // within range
pub(super) fn rounded_down(value: f64) -> f64 {
    // Rounding noise of a whole number must not take one off.
    let above = value + 1e-6;
    if (0.0..1e9).contains(&above) {
        f64::from(above as u32)
    } else {
        above.floor()
    }
}

/// Where the tool stands along an axis: as planned, and as written.
#[derive(Debug, Clone, Copy)]
struct WrittenPlace {
    planned: f64,
    written: Digits,
}

/// Where the tool stands; `None` where the program has not said it yet.
#[derive(Debug, Clone, Copy)]
pub(super) struct WrittenPosition([Option<WrittenPlace>; 3]);

impl WrittenPosition {
    /// Anywhere.
    pub(super) fn unknown() -> Self {
        WrittenPosition([None; 3])
    }

    /// Goes somewhere and writes the words of the axes whose figures change. Where it stood anywhere, it
    /// has its height already.
    ///
    /// Most moves change one coordinate: the figures of the others are not worked out again.
    #[inline]
    pub(super) fn go(&mut self, to: Position, places: u32, text: &mut Vec<u8>) -> io::Result<()> {
        let words = [(b'X', to.x), (b'Y', to.y), (b'Z', to.z)];
        for ((axis, planned), place) in words.into_iter().zip(&mut self.0) {
            if place.is_some_and(|place| place.planned.to_bits() == planned.to_bits()) {
                continue;
            }
            let written = number(planned, places)?;
            let known = match place {
                Some(before) => before.written == written,
                None => axis == b'Z',
            };
            *place = Some(WrittenPlace { planned, written });
            if !known {
                written.push_word(axis, text);
            }
        }
        Ok(())
    }
}

/// A number, or the reason why nothing can be written.
#[inline]
pub(super) fn number(value: f64, places: u32) -> io::Result<Digits> {
    Digits::of(value, places).map_err(|error| io::Error::new(io::ErrorKind::InvalidData, error))
}
