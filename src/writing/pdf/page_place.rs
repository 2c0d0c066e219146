//! Where on which page something begins.

/// Where something begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PagePlace {
    /// Index of the page.
    pub(super) page: usize,
    /// From the page's left edge, mm: zero but for what stands in a column on the right.
    pub(super) x: f64,
    /// From the page's upper edge, mm.
    pub(super) y: f64,
}

impl PagePlace {
    /// Whether it comes before another one.
    pub(super) fn is_before(self, other: PagePlace) -> bool {
        self.page < other.page || (self.page == other.page && self.y < other.y)
    }
}
