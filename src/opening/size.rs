//! Width and height.

/// An upright rectangle, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Along x.
    pub width: f64,
    /// Along y.
    pub height: f64,
}

impl Size {
    /// The same with so much taken off at every side, mm.
    #[must_use]
    pub fn less(self, all_round: f64) -> Size {
        Size {
            width: self.width - 2.0 * all_round,
            height: self.height - 2.0 * all_round,
        }
    }
}
