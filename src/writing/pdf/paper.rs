//! Sizes of paper, and where on a page the column of the sheet lies. Millimetres.

/// Sizes of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8.5 by 11 in.
    Letter,
    /// 148 by 210 mm (ISO 216): A4 folded once.
    A5,
    /// 5.5 by 8.5 in: letter folded once.
    HalfLetter,
}

/// A page's measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PageSize {
    pub(super) width: f64,
    pub(super) height: f64,
}

impl Paper {
    pub(super) fn size(self) -> PageSize {
        match self {
            Paper::A4 => PageSize {
                width: 210.0,
                height: 297.0,
            },
            Paper::Letter => PageSize {
                width: 215.9,
                height: 279.4,
            },
            Paper::A5 => PageSize {
                width: 148.0,
                height: 210.0,
            },
            Paper::HalfLetter => PageSize {
                width: 139.7,
                height: 215.9,
            },
        }
    }

    /// The column's left edge; as much is free on its right.
    pub(super) fn left(self) -> f64 {
        if self.is_small() { 9.0 } else { 12.0 }
    }

    /// Whether it goes into a pocket.
    pub(super) fn is_small(self) -> bool {
        matches!(self, Paper::A5 | Paper::HalfLetter)
    }

    /// The column's upper edge, from the page's.
    pub(super) fn top(self) -> f64 {
        10.0
    }

    /// The column's lower edge, from the page's upper one. The page's number stands below it.
    pub(super) fn bottom(self) -> f64 {
        self.size().height - 12.5
    }

    /// The column's width.
    pub(super) fn column(self) -> f64 {
        self.size().width - 2.0 * self.left()
    }
}
