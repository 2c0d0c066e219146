//! The ends of a piece.

use serde::Serialize;

/// An end of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum EndLetter {
    /// The first.
    A,
    /// The second.
    B,
}

impl EndLetter {
    /// Both, in order.
    pub const BOTH: [EndLetter; 2] = [EndLetter::A, EndLetter::B];

    /// `A` or `B`.
    pub fn name(self) -> &'static str {
        match self {
            EndLetter::A => "A",
            EndLetter::B => "B",
        }
    }

    /// The other end of the piece.
    #[must_use]
    pub fn other(self) -> EndLetter {
        match self {
            EndLetter::A => EndLetter::B,
            EndLetter::B => EndLetter::A,
        }
    }
}
