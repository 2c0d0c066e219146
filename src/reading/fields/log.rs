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
        let Log {
            source,
            mut findings,
            ..
        } = self;
        match value {
            Some(value) if findings.is_empty() => Ok((value, source)),
            _ => {
                // A reader that gives nothing says why; nobody is to be left without a word where one forgets.
                if findings.is_empty() {
                    let text = "this file cannot be used, and what is wrong with it was not noted: a fault of this program";
                    findings.push(Finding::error("not-told", "", text));
                }
                Err(Unreadable { source, findings })
            }
        }
    }
}
