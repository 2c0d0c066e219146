//! The texts of a job, to show findings at their places.

use super::source::Source;
use crate::finding::{Document, Finding};
use crate::machines::Station;
use crate::units::UnitSystem;

/// The texts that findings may be about.
#[derive(Debug, Clone, Default)]
pub struct Documents<'a> {
    job: Option<&'a Source>,
    profiles: Vec<(Station, &'a Source)>,
    pattern: Option<&'a Source>,
}

impl<'a> Documents<'a> {
    /// A job, or what stands for one.
    pub fn of_job(job: &'a Source) -> Self {
        Documents {
            job: Some(job),
            ..Documents::default()
        }
    }

    /// The same with the profile of the machine at a station.
    #[must_use]
    pub fn with_profile(mut self, station: Station, profile: &'a Source) -> Self {
        self.profiles.push((station, profile));
        self
    }

    /// The same with the pattern of the pieces.
    #[must_use]
    pub fn with_pattern(mut self, pattern: &'a Source) -> Self {
        self.pattern = Some(pattern);
        self
    }

    fn source(&self, document: Option<Document>) -> Option<&'a Source> {
        match document {
            Some(Document::Profile(station)) => {
                let mut profiles = self.profiles.iter();
                profiles
                    .find(|(at, _)| *at == station)
                    .map(|(_, source)| *source)
            }
            Some(Document::Pattern) => self.pattern,
            Some(Document::Request) => None,
            Some(Document::Job) | None => self.job,
        }
    }

    /// The findings as text for a terminal, each at its place in its text: see [`Source::report`]. They
    /// stay in their order as far as they are about different texts; of a text that is not known here
    /// only the field is told.
    pub fn report(&self, findings: &[Finding], units: UnitSystem) -> String {
        let unknown = Source::default();
        let of_one = findings.chunk_by(|a, b| a.document == b.document);
        let reports = of_one.map(|findings| {
            let document = findings.first().and_then(|finding| finding.document);
            let source = self.source(document).unwrap_or(&unknown);
            source.report(findings, units)
        });
        reports.collect()
    }
}
