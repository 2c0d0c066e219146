//! How much a picture may take.

/// What a picture may take of a screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// Letters beside each other.
    pub columns: usize,
    /// Lines.
    pub lines: usize,
}
