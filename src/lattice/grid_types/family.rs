//! Families of strips and what a person calls them.

/// Parallel strips of a grid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Family {
    /// What a person calls one of its strips.
    pub name: &'static str,
    /// Letter that starts its strips' labels.
    pub letter: char,
}

pub(super) const UPRIGHT: Family = Family {
    name: "upright",
    letter: 'U',
};
pub(super) const CROSS_STRIP: Family = Family {
    name: "cross strip",
    letter: 'C',
};
pub(super) const LEVEL: Family = Family {
    name: "level strip",
    letter: 'L',
};
pub(super) const RISING: Family = Family {
    name: "rising strip",
    letter: 'R',
};
pub(super) const FALLING: Family = Family {
    name: "falling strip",
    letter: 'F',
};
