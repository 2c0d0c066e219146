//! What is wrong with an input or a file: stable code, field, sentence, remedy.

mod grouped;

use crate::machines::Station;
use crate::phrase::Phrase;
use std::ops::Range;

pub use grouped::{Extent, Place, Spot, grouped};

/// Whether work can go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing; the work goes on.
    Warning,
    /// Nothing is written.
    Error,
}

/// The text that a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Document {
    /// The job, or the flags that stand for one.
    Job,
    /// The profile of the machine that stands there.
    Profile(Station),
    /// The pattern of the pieces.
    Pattern,
    /// What was asked for beside the job: which kinds of parts.
    Request,
}

/// One thing that is wrong, or worth a warning.
///
/// The `field` is a path such as `grid.pitches_x[2]` in the `document`; who read that knows which file
/// and line, or which flag, it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Stable short name, for programs and for looking up.
    pub code: &'static str,
    /// Error or warning.
    pub severity: Severity,
    /// The text that the field is in; none while only one text can be meant.
    pub document: Option<Document>,
    /// Path of the field at fault; empty where no single field is.
    pub field: String,
    /// Byte range inside the field's text, where only a part of it is wrong.
    pub part: Option<Box<Range<usize>>>,
    /// What is wrong.
    pub message: Phrase,
    /// What would be right.
    pub hint: Option<Phrase>,
    /// Where in a lattice it is, and by how much; nothing for most.
    pub spot: Option<Box<Spot>>,
}

impl Finding {
    /// An error at a field.
    pub fn error(code: &'static str, field: impl Into<String>, message: impl Into<Phrase>) -> Self {
        Finding {
            code,
            severity: Severity::Error,
            document: None,
            field: field.into(),
            part: None,
            message: message.into(),
            hint: None,
            spot: None,
        }
    }

    /// A warning at a field.
    pub fn warning(
        code: &'static str,
        field: impl Into<String>,
        message: impl Into<Phrase>,
    ) -> Self {
        Finding {
            severity: Severity::Warning,
            ..Finding::error(code, field, message)
        }
    }

    /// An error as a warning, where the rest of the work goes on without it; `lead` stands before its
    /// message.
    #[must_use]
    pub fn as_warning(self, lead: &str) -> Self {
        Finding {
            severity: Severity::Warning,
            ..self.led_by(lead)
        }
    }

    /// The same with `lead` before its message.
    #[must_use]
    pub fn led_by(self, lead: &str) -> Self {
        let mut message = Phrase::from(lead);
        message.append(self.message);
        Finding { message, ..self }
    }

    /// The same about a field of this text.
    #[must_use]
    pub fn in_document(mut self, document: Document) -> Self {
        self.document = Some(document);
        self
    }

    /// The same with a remedy.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<Phrase>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}

/// Findings about this text, but for those that say that they are about another one.
pub fn all_in_document(mut findings: Vec<Finding>, document: Document) -> Vec<Finding> {
    for finding in &mut findings {
        finding.document.get_or_insert(document);
    }
    findings
}
