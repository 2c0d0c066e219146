//! What reading a file brings beside its values.

use crate::finding::Finding;
use crate::reading::source::{Source, Unreadable};
use crate::units::Quantity;

/// What reading a file has brought so far.
#[derive(Debug, Default)]
pub(in crate::reading) struct Log {
    pub(in crate::reading) source: Source,
    pub(in crate::reading) findings: Vec<Finding>,
    /// Every length read: its field and its value.
    pub(in crate::reading) lengths: Vec<(String, Quantity)>,
}

impl Log {
    /// The value, if nothing was wrong; warnings are kept in the findings.
    pub(in crate::reading) fn outcome<T>(
        self,
        value: Option<T>,
    ) -> Result<(T, Source), Unreadable> {
        match value {
            Some(value) if self.findings.is_empty() => Ok((value, self.source)),
            _ => Err(Unreadable {
                source: self.source,
                findings: self.findings,
            }),
        }
    }
}
