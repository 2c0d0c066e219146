//! Why a text is no quantity.

use std::fmt;

/// What a text is read as, and so which units it may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A length of zero or more; base unit mm.
    Length,
    /// A length that may be negative (a press fit, a correction); base unit mm.
    SignedLength,
    /// An angle of zero or more; base unit rad.
    Angle,
    /// A feed rate; base unit mm/min.
    Feed,
    /// A turning speed; base unit revolutions per minute.
    Spin,
    /// A time; base unit seconds.
    Time,
    /// An acceleration; base unit mm/s^2.
    Acceleration,
    /// Mass by volume; base unit kg/m3.
    Density,
    /// A part of a whole, zero or more; base unit the whole itself: 45 % are 0.45.
    Share,
}

/// Why a text is no quantity, and where in it the trouble starts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QuantityError {
    /// Byte offset into the text.
    pub at: usize,
    /// Bytes to point at, zero for "here something is missing".
    pub len: usize,
    /// What is wrong.
    pub problem: Problem,
    /// What the text was read as.
    pub kind: Kind,
}

/// The ways in which a text fails to be a quantity.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Problem {
    /// Nothing there.
    Empty,
    /// No digits where a number should stand.
    NotANumber,
    /// A decimal point without a digit behind it, or a comma.
    BadDecimal,
    /// A number without a unit.
    MissingUnit,
    /// A unit that this kind of quantity does not have.
    UnknownUnit,
    /// A fraction with a zero below the line.
    ZeroDenominator,
    /// A fraction of something that is not an inch or a foot.
    FractionNeedsInches,
    /// More digits than can be held exactly.
    TooManyDigits,
    /// Something behind a complete quantity.
    TrailingText,
    /// A minus sign where none makes sense.
    Negative,
}

impl QuantityError {
    /// What would be right, for the person who wrote the text.
    pub fn hint(&self) -> &'static str {
        match (self.problem, self.kind) {
            (Problem::FractionNeedsInches, _) => "write a decimal, such as \"1.375 mm\"",
            (Problem::BadDecimal, _) => "write a point between digits, such as \"0.5 mm\"",
            (_, Kind::Length) => {
                "write a length such as \"50 mm\", \"5 cm\", \"1 3/8 in\" or \"2'\""
            }
            (_, Kind::SignedLength) => {
                "write a length such as \"0.05 mm\", \"-0.1 mm\" or \"1/64 in\""
            }
            (_, Kind::Angle) => "write an angle such as \"22.5 deg\"",
            (_, Kind::Feed) => "write a feed such as \"1200 mm/min\" or \"40 in/min\"",
            (_, Kind::Spin) => "write a speed such as \"18000 rpm\"",
            (_, Kind::Time) => "write a time such as \"3 s\"",
            (_, Kind::Acceleration) => "write an acceleration such as \"300 mm/s2\"",
            (_, Kind::Density) => "write a density such as \"450 kg/m3\" or \"28 lb/ft3\"",
            (_, Kind::Share) => "write a share such as \"45 %\"",
        }
    }
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.problem {
            Problem::Empty => "nothing is written here",
            Problem::NotANumber => "a number should stand here",
            Problem::BadDecimal => "this is not how a decimal number is written here",
            Problem::MissingUnit => "the number has no unit",
            Problem::UnknownUnit => match self.kind {
                Kind::Length | Kind::SignedLength => "this is not a unit of length",
                Kind::Angle => "this is not a unit of angle",
                Kind::Feed => "this is not a unit of feed",
                Kind::Spin => "this is not a unit of turning speed",
                Kind::Time => "this is not a unit of time",
                Kind::Acceleration => "this is not a unit of acceleration",
                Kind::Density => "this is not a unit of density",
                Kind::Share => "a share is written in percent",
            },
            Problem::ZeroDenominator => "the fraction divides by zero",
            Problem::FractionNeedsInches => "fractions go with inches and feet only",
            Problem::TooManyDigits => "more than 17 digits cannot be held exactly",
            Problem::TrailingText => "this does not belong to the quantity",
            Problem::Negative => "this cannot be negative",
        })
    }
}

impl std::error::Error for QuantityError {}
