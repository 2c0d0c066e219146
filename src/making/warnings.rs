//! What is told beside what is made.

use crate::finding::{Document, Finding, all_in_document};

/// Warnings in the order in which they came up, each of a batch once.
#[derive(Debug, Clone, Default)]
pub struct Warnings(Vec<Finding>);

impl Warnings {
    /// Adds findings about a text, but for those that say that they are about another one.
    pub fn add(&mut self, document: Document, findings: impl IntoIterator<Item = Finding>) {
        let findings = all_in_document(findings.into_iter().collect(), document);
        let mut new: Vec<Finding> = Vec::new();
        for finding in findings {
            if !new.contains(&finding) {
                new.push(finding);
            }
        }
        self.0.append(&mut new);
    }

    /// Takes over another's, those left out that are there already.
    pub fn append(&mut self, other: Warnings) {
        let known = self.0.clone();
        let new = other.0.into_iter();
        self.0
            .extend(new.filter(|finding| !known.contains(finding)));
    }

    /// All of them.
    pub fn all(&self) -> &[Finding] {
        &self.0
    }
}
