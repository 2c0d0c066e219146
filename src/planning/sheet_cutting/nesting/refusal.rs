//! Why parts cannot be laid out, in words.

use super::rectangle::Extent;
use crate::machines::Sheet;
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Mm;

/// Why nothing can be laid out.
#[derive(Debug, Clone, PartialEq)]
pub enum NestError {
    /// Margins leave no room, or a figure of the sheet makes no sense.
    NoRoom(Sheet),
    /// A part does not fit on an empty sheet.
    TooLarge {
        /// Which part.
        name: String,
        /// Its length and height.
        size: Extent,
        /// Room between the margins.
        room: Extent,
    },
    /// A part's size is not a positive number.
    NoSize {
        /// Which part.
        name: String,
    },
}

impl NestError {
    /// The sentence for the person at the bench.
    pub fn phrase(&self) -> Phrase {
        match self {
            NestError::NoRoom(sheet) => phrase!(
                "a sheet of {} by {} with a margin of {} and a gap of {} has no room for parts",
                Mm(sheet.length),
                Mm(sheet.width),
                Mm(sheet.margin),
                Mm(sheet.gap)
            ),
            NestError::TooLarge { name, size, room } => phrase!(
                "{} takes {} along the grain by {}, cut path included, but between the sheet's margins its path has {} by {}",
                name,
                Mm(size.along),
                Mm(size.across),
                Mm(room.along),
                Mm(room.across)
            ),
            NestError::NoSize { name } => phrase!("{} has no size", name),
        }
    }
}
