//! Which keys readers ask for, and as what: for the test that holds the table of fields against them.

use crate::units::Kind;

/// As what a key was asked for.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::reading) enum Asked {
    /// Whether it is there.
    Presence,
    /// As one that has to be there.
    Required,
    Quantity(Kind),
    /// Above zero.
    AboveZero,
    Within(&'static str, &'static str),
    Quantities(Kind),
    /// A whole number between these.
    Count(u32, u32),
    Flag,
    Date,
    Text,
    /// One of these words.
    Words(Vec<&'static str>),
    Table,
    /// A list of values of any form.
    List,
    /// A table whose keys are names.
    Entries,
    /// A name or a list of names.
    Names,
    /// Plain numbers.
    Numbers,
    /// A plain number between these.
    Part(&'static str, &'static str),
    Point,
    Points,
}

#[cfg(test)]
pub(in crate::reading) use kept::{record, taken};

/// Nobody looks at it outside tests: nothing is made for it.
#[cfg(not(test))]
pub(in crate::reading) fn record(_path: impl FnOnce() -> String, _asked: impl FnOnce() -> Asked) {}

#[cfg(test)]
mod kept {
    use super::Asked;
    use std::cell::RefCell;

    thread_local! {
        static ALL: RefCell<Vec<(String, Asked)>> = const { RefCell::new(Vec::new()) };
    }

    pub(in crate::reading) fn record(path: impl FnOnce() -> String, asked: impl FnOnce() -> Asked) {
        ALL.with_borrow_mut(|all| all.push((path(), asked())));
    }

    /// All that this thread has asked for since it was asked last.
    pub(in crate::reading) fn taken() -> Vec<(String, Asked)> {
        ALL.take()
    }
}
