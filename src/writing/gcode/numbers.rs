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

/// Where the tool stands: as planned, and as written.
#[derive(Debug, Clone, Copy)]
pub(super) struct WrittenPosition {
    place: [f64; 3],
    pub(super) digits: [Digits; 3],
}

impl WrittenPosition {
    /// Most moves change one coordinate: the figures of the others are taken from `before`.
    #[inline]
    pub(super) fn of(
        position: Position,
        before: Option<WrittenPosition>,
        places: u32,
    ) -> io::Result<WrittenPosition> {
        let Position { x, y, z } = position;
        let place = [x, y, z];
        let Some(mut at) = before else {
            let digits = [number(x, places)?, number(y, places)?, number(z, places)?];
            return Ok(WrittenPosition { place, digits });
        };
        let known = at.place.iter().zip(&mut at.digits);
        for (value, (known, digits)) in place.iter().zip(known) {
            if value.to_bits() != known.to_bits() {
                *digits = number(*value, places)?;
            }
        }
        Ok(WrittenPosition { place, ..at })
    }
}

/// A number, or the reason why nothing can be written.
#[inline]
pub(super) fn number(value: f64, places: u32) -> io::Result<Digits> {
    Digits::of(value, places).map_err(|error| io::Error::new(io::ErrorKind::InvalidData, error))
}
