//! One thing that is wrong.

use super::document::Document;
use super::spot::{Extent, FindingPlace, Spot};
use crate::phrase::Phrase;
use std::ops::Range;

/// Whether work can go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing; the work goes on.
    Warning,
    /// Nothing is written.
    Error,
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

    /// The same about a notch, from 1, of a bundle that is named by [`Finding::in_bundle`].
    #[must_use]
    pub fn at_notch(mut self, notch: usize) -> Self {
        self.spot().places = vec![FindingPlace {
            bundle: 0,
            notch: Some(notch),
        }];
        self
    }

    /// The same about this bundle, from 1.
    #[must_use]
    pub fn in_bundle(mut self, bundle: usize) -> Self {
        let places = &mut self.spot().places;
        if places.is_empty() {
            places.push(FindingPlace {
                bundle,
                notch: None,
            });
        }
        for place in places {
            place.bundle = bundle;
        }
        self
    }

    /// The same with the figure that is not allowed, mm, and by how much.
    #[must_use]
    pub fn figure(mut self, mm: f64, beyond: f64) -> Self {
        self.spot().extent = Some(Extent {
            least: mm,
            greatest: mm,
            beyond,
        });
        self
    }

    fn spot(&mut self) -> &mut Spot {
        self.spot.get_or_insert_default()
    }

    /// Where it is.
    pub fn places(&self) -> &[FindingPlace] {
        self.spot.as_ref().map_or(&[], |spot| &spot.places)
    }

    /// The figures that are not allowed.
    pub fn extent(&self) -> Option<Extent> {
        self.spot.as_ref()?.extent
    }

    /// How far its figure lies beyond what is allowed, mm.
    pub(super) fn beyond(&self) -> f64 {
        self.extent().map_or(0.0, |extent| extent.beyond)
    }
}

/// Findings about this text, but for those that say that they are about another one.
pub fn all_in_document(mut findings: Vec<Finding>, document: Document) -> Vec<Finding> {
    for finding in &mut findings {
        finding.document.get_or_insert(document);
    }
    findings
}
