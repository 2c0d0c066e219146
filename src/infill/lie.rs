//! How a pattern lies in one cell.

/// A pattern's first corner lies at the cell's corner `first`, the following ones at the following
/// ones, or, where it is mirrored, at those before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Lie {
    /// Index of a corner of the cell.
    pub first: usize,
    /// Whether left becomes right.
    pub mirrored: bool,
}

impl Lie {
    /// The index of the cell's corner at which the pattern's corner `corner` lies.
    pub(super) fn corner(self, corner: usize, count: usize) -> usize {
        let back = if self.mirrored {
            count - corner
        } else {
            corner
        };
        (self.first + back) % count.max(1)
    }

    /// The same of a pattern that lies in its own cell as `own` says, before it is laid so into one with
    /// `count` corners.
    pub(super) fn after(self, own: Lie, count: usize) -> Lie {
        Lie {
            first: self.corner(own.first, count),
            mirrored: self.mirrored != own.mirrored,
        }
    }
}
