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
    patterns: Vec<&'a Source>,
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

    /// The same with the patterns of the pieces, in the order in which the job names them.
    #[must_use]
    pub fn with_patterns(mut self, patterns: impl IntoIterator<Item = &'a Source>) -> Self {
        self.patterns = patterns.into_iter().collect();
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
            Some(Document::Pattern(number)) => self.patterns.get(number.index()).copied(),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{read_machine, shipped_machine};

    /// A finding at the first line of a text called `name`.
    fn text(name: &str) -> Source {
        let mut source = Source::new(name, "own = 1\n");
        source.note("own", 6..7);
        source
    }

    fn about(document: Document) -> Finding {
        Finding::error("any", "own", "told").in_document(document)
    }

    #[test]
    fn every_finding_is_shown_in_its_own_text() {
        let job = text("panel.toml");
        let sled = text("my-sled.toml");
        let pattern = text("my-leaf.toml");
        let other = text("other.toml");
        let documents = Documents::of_job(&job)
            .with_profile(Station::Sled, &sled)
            .with_patterns([&other, &pattern]);
        let places = [
            (Document::Job, "panel.toml:1:7"),
            (Document::Profile(Station::Sled), "my-sled.toml:1:7"),
            (Document::pattern(1), "my-leaf.toml:1:7"),
        ];
        let all: Vec<Finding> = places
            .iter()
            .map(|(document, _)| about(*document))
            .collect();
        let report = documents.report(&all, UnitSystem::Millimetres);
        let report = anstream::adapter::strip_str(&report).to_string();
        for (_, place) in places {
            assert_eq!(report.matches(place).count(), 1, "{report}");
        }
    }

    #[test]
    fn of_a_text_that_is_not_known_only_the_field_is_told() {
        let shipped = shipped_machine("key-sled").unwrap();
        let profile = read_machine(shipped.name, shipped.text).unwrap();
        let documents = Documents::default().with_profile(Station::Sled, &profile.source);
        let fault = about(Document::Profile(Station::Router));
        let report = documents.report(&[fault], UnitSystem::Millimetres);
        assert!(
            report.contains("own: told") && !report.contains("key-sled"),
            "{report}"
        );
    }
}
