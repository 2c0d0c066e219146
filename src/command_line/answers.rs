//! Answers to standard output, everything else to standard error.

use super::arguments::Format;
use crate::finding::Finding;
use crate::reading::{Source, Unreadable};
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::files::WriteError;
use std::io::{ErrorKind, Write};

/// How an answer is to be shown.
#[derive(Debug, Clone, Copy)]
pub(super) struct Shown {
    pub(super) format: Format,
    pub(super) units: UnitSystem,
}

/// Why a command did not do what was asked: exit code and text for standard error, styled.
#[derive(Debug)]
pub(super) struct Failure {
    pub(super) code: u8,
    pub(super) text: String,
}

/// What a command comes to.
pub(super) type Outcome = Result<(), Failure>;

impl Failure {
    /// Wrong input or usage, in plain words.
    pub(super) fn input(text: impl std::fmt::Display) -> Self {
        Failure {
            code: 2,
            text: format!("error: {text}\n"),
        }
    }

    /// Findings about one source.
    pub(super) fn findings(source: &Source, findings: &[Finding], shown: Shown) -> Self {
        Failure {
            code: 2,
            text: source.report(findings, shown.units),
        }
    }

    /// Several failures told at once; the greatest code counts.
    pub(super) fn joined(failures: Vec<Failure>) -> Self {
        let code = failures
            .iter()
            .map(|failure| failure.code)
            .max()
            .unwrap_or(2);
        Failure {
            code,
            text: failures.into_iter().map(|failure| failure.text).collect(),
        }
    }
}

/// Why a machine gives nothing.
#[derive(Debug)]
pub(super) enum Failed {
    /// It cannot make it; at the fields of a profile, or of the job.
    Cannot(Vec<Finding>),
    /// What was written was read back and is not what was meant.
    Wrong(Failure),
}

impl Failed {
    /// Where nothing else was asked for.
    pub(super) fn at(self, source: &Source, shown: Shown) -> Failure {
        match self {
            Failed::Cannot(faults) => Failure::findings(source, &faults, shown),
            Failed::Wrong(failure) => failure,
        }
    }
}

impl From<(Unreadable, Shown)> for Failure {
    fn from((unreadable, shown): (Unreadable, Shown)) -> Self {
        Failure::findings(&unreadable.source, &unreadable.findings, shown)
    }
}

impl From<WriteError> for Failure {
    fn from(error: WriteError) -> Self {
        Failure::input(format!("{}: {}", error.path.display(), error.message))
    }
}

impl From<NotPrintable> for Failure {
    fn from(error: NotPrintable) -> Self {
        Failure::input(error)
    }
}

/// Warnings, each with the source it is about.
#[derive(Debug, Default)]
pub(super) struct Warnings<'a>(Vec<(&'a Source, Vec<Finding>)>);

impl<'a> Warnings<'a> {
    pub(super) fn add(&mut self, source: &'a Source, findings: impl IntoIterator<Item = Finding>) {
        let mut new: Vec<Finding> = Vec::new();
        for finding in findings {
            if !new.contains(&finding) {
                new.push(finding);
            }
        }
        self.0.push((source, new));
    }

    /// Takes over another's, those left out that are there already.
    pub(super) fn append(&mut self, other: Warnings<'a>) {
        let known = self.all();
        for (source, mut findings) in other.0 {
            findings.retain(|finding| !known.contains(finding));
            self.0.push((source, findings));
        }
    }

    /// All of them, for a JSON answer.
    pub(super) fn all(&self) -> Vec<Finding> {
        self.0
            .iter()
            .flat_map(|(_, findings)| findings.clone())
            .collect()
    }

    /// Shows them on standard error.
    pub(super) fn show(&self, shown: Shown) {
        for (source, findings) in &self.0 {
            tell(&source.report(findings, shown.units));
        }
    }
}

/// Tells people something on standard error, styled where that is a terminal. Where it cannot be
/// written there is nobody to tell.
pub(super) fn tell(text: &str) {
    let _ = anstream::stderr().write_all(text.as_bytes());
}

/// Prints to standard output. Nobody reading on is no error; an answer that cannot be shown is no
/// wrong input, and whatever was written before it stays.
pub(super) fn print(text: &str) -> Outcome {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            let text = format!("error: the answer could not be shown: {error}\n");
            Err(Failure { code: 1, text })
        }
        _ => Ok(()),
    }
}
