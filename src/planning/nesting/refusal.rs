//! Why parts cannot be laid out, in words.

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
        size: (f64, f64),
        /// Room between the margins.
        room: (f64, f64),
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
            NestError::NoRoom(sheet) => phrase![
                "a sheet of ",
                Mm(sheet.length),
                " by ",
                Mm(sheet.width),
                " with a margin of ",
                Mm(sheet.margin),
                " and a gap of ",
                Mm(sheet.gap),
                " has no room for parts"
            ],
            NestError::TooLarge { name, size, room } => phrase![
                name,
                " is ",
                Mm(size.0),
                " along the grain by ",
                Mm(size.1),
                ", but between the sheet's margins there are ",
                Mm(room.0),
                " by ",
                Mm(room.1)
            ],
            NestError::NoSize { name } => phrase![name, " has no size"],
        }
    }
}
