//! Why something is not made.

use crate::finding::{Document, Finding, all_in_document};
use crate::instructions::missing::Missing;
use crate::units::NotPrintable;
use std::fmt;

/// Why nothing is made of what was asked for.
#[derive(Debug, Clone, PartialEq)]
pub enum NotMade {
    /// Design, machine or pattern do not allow it; never empty. Each finding says in which text it is.
    Cannot(Vec<Finding>),
    /// What was written was read back and is not what was meant: a fault of this program, not of the
    /// job.
    Disproved(Disproved),
    /// A figure that cannot be printed, or a temporary file that cannot be written, in words.
    Unwritable(String),
    /// None of a job's machines can make anything; never empty.
    Nothing(Vec<Lacking>),
}

/// What a proof found wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Disproved {
    /// What was not found right, and what became of it.
    pub what: String,
    /// What the proof found, line by line.
    pub faults: Vec<String>,
}

/// Something that is missing, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Lacking {
    /// As the sheet tells it.
    pub missing: Missing,
    /// What came instead.
    pub cause: NotMade,
}

impl NotMade {
    /// Faults about this text, but for those that say that they are about another one.
    pub fn cannot(faults: Vec<Finding>, document: Document) -> Self {
        NotMade::Cannot(all_in_document(faults, document))
    }

    /// A machine's work that is not what was meant.
    pub(super) fn disproved(what: &str, faults: Vec<String>) -> Self {
        NotMade::Disproved(Disproved {
            what: format!("{what}; nothing of this machine's was written"),
            faults,
        })
    }
}

impl fmt::Display for Disproved {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.what)?;
        for fault in &self.faults {
            writeln!(f, "  {fault}")?;
        }
        Ok(())
    }
}

impl From<NotPrintable> for NotMade {
    fn from(error: NotPrintable) -> Self {
        NotMade::Unwritable(error.to_string())
    }
}
