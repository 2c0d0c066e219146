//! Answers to standard output, everything else to standard error.

use super::arguments::Format;
use super::under_way;
use crate::finding::{Document, Finding};
use crate::making::{NotMade, Warnings};
use crate::reading::{Documents, Source, Unreadable};
use crate::units::{NotPrintable, UnitSystem};
use crate::writing::files::{Content, WriteError};
use crate::writing::stopping::{self, STOPPED, TOLD};
use std::io::{ErrorKind, Write};
use std::sync::atomic::{AtomicBool, Ordering};

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

impl Failure {
    /// Why something is not made; findings at their places in the texts.
    pub(super) fn not_made(error: NotMade, documents: &Documents<'_>, shown: Shown) -> Self {
        match error {
            NotMade::Cannot(faults) if faults.iter().all(is_request) => asked_for(&faults, shown),
            NotMade::Cannot(faults) => Failure {
                code: 2,
                text: documents.report(&faults, shown.units),
            },
            NotMade::Disproved(disproved) => Failure {
                code: 1,
                text: format!("error: {disproved}"),
            },
            NotMade::Unwritable(text) => Failure::input(text),
            NotMade::Nothing(all) => {
                let alone = all.into_iter().map(|lacking| lacking.cause);
                let alone = alone.map(|cause| Failure::not_made(cause, documents, shown));
                Failure::joined(alone.collect())
            }
        }
    }
}

fn is_request(fault: &Finding) -> bool {
    fault.document == Some(Document::Request)
}

/// Faults of what was asked for with a flag, which is the field.
fn asked_for(faults: &[Finding], shown: Shown) -> Failure {
    let lines = faults.iter().map(|fault| {
        let hint = fault.hint.as_ref().map(|hint| hint.text(shown.units));
        let hint = hint.map_or(String::new(), |hint| format!("\n  {hint}"));
        format!(
            "--{}: {}{hint}",
            fault.field,
            fault.message.text(shown.units)
        )
    });
    Failure::input(lines.collect::<Vec<_>>().join("\n"))
}

impl From<(Unreadable, Shown)> for Failure {
    fn from((unreadable, shown): (Unreadable, Shown)) -> Self {
        Failure::findings(&unreadable.source, &unreadable.findings, shown)
    }
}

impl From<WriteError> for Failure {
    fn from(error: WriteError) -> Self {
        match error {
            WriteError::Refused { path, message } => {
                Failure::input(format!("{}: {message}", path.display()))
            }
            WriteError::Stopped => Failure {
                code: STOPPED,
                text: TOLD.into(),
            },
        }
    }
}

impl From<NotPrintable> for Failure {
    fn from(error: NotPrintable) -> Self {
        Failure::input(error)
    }
}

/// Shows warnings on standard error.
pub(super) fn warn(warnings: &Warnings, documents: &Documents<'_>, shown: Shown) {
    tell(&documents.report(warnings.all(), shown.units));
}

/// Tells people something on standard error, styled where that is a terminal. Where it cannot be
/// written there is nobody to tell.
pub(super) fn tell(text: &str) {
    under_way::clear();
    let _ = anstream::stderr().write_all(text.as_bytes());
}

/// Whether a file went to standard output: nothing else may stand there then.
static HOLDS_A_FILE: AtomicBool = AtomicBool::new(false);

/// Prints to standard output, or to standard error where a file went there. Nobody reading on is no error;
/// an answer that cannot be shown is no wrong input, and whatever was written before it stays.
pub(super) fn print(text: &str) -> Outcome {
    if HOLDS_A_FILE.load(Ordering::Relaxed) {
        tell(text);
        return Ok(());
    }
    answer_begins();
    shown(std::io::stdout().lock().write_all(text.as_bytes()))
}

/// Hands a file to standard output.
pub(super) fn print_file(content: Content) -> Outcome {
    HOLDS_A_FILE.store(true, Ordering::Relaxed);
    answer_begins();
    shown(content.copy_to(&mut std::io::stdout().lock()))
}

/// Nothing of it is taken back, and nothing else is told until it is there.
fn answer_begins() {
    stopping::is_written();
    under_way::end();
}

fn shown(written: std::io::Result<()>) -> Outcome {
    match written.and_then(|()| std::io::stdout().flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            let text = format!("error: the answer could not be shown: {error}\n");
            Err(Failure { code: 1, text })
        }
        _ => Ok(()),
    }
}
