//! What reading a file brings beside its values.

use crate::finding::Finding;
use crate::reading::source::{Source, Unreadable};
use crate::units::Quantity;

/// What reading a file has brought so far.
#[derive(Debug, Default)]
pub(in crate::reading) struct Log {
    pub(in crate::reading) source: Source,
    pub(in crate::reading) findings: Vec<Finding>,
    /// Every length read.
    pub(in crate::reading) lengths: Vec<LengthRead>,
}

/// A length with the field that it stands in.
#[derive(Debug)]
pub(in crate::reading) struct LengthRead {
    pub(in crate::reading) field: String,
    pub(in crate::reading) length: Quantity,
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
