//! A file's text to its top table.

use super::log::Log;
use super::table::{Fields, Words};
use crate::finding::Finding;
use crate::phrase::Phrase;
use crate::reading::reference::Reference;
use crate::reading::source::{NOT_OURS, Source};
use std::cell::RefCell;
use toml::de::DeTable;

/// Keys of which each file of the program has one.
const OURS: [&str; 6] = ["about", "kind", "title", "grid", "strip", "cell"];

/// Parses a file and hands its top table to `read`; `reference` says what may stand in it. Syntax errors do not hide the others.
pub(in crate::reading) fn with_document<T>(
    name: &str,
    text: &str,
    reference: impl FnOnce(&DeTable<'_>) -> Option<&'static Reference>,
    read: impl FnOnce(Fields<'_>) -> Option<T>,
) -> (Log, Option<T>) {
    let log = RefCell::new(Log {
        source: Source::new(name, text),
        ..Log::default()
    });
    let (document, errors) = DeTable::parse_recoverable(text);
    let at = |error: &toml::de::Error| error.span().map_or(0, |span| span.start);
    let first = errors.first().map_or(0, at);
    // One wrong line may be anybody's.
    let lines_apart = |error| {
        text.get(first..at(error))
            .is_some_and(|between| between.contains('\n'))
    };
    if errors.iter().any(lines_apart)
        && !OURS.iter().any(|key| document.get_ref().contains_key(*key))
    {
        let mut log = log.into_inner();
        log.source = Source::new(name, "");
        let message = "this is no file of this program: it is not TOML, and has none of the keys that one begins with";
        let hint = "check the path; nothing of the file is shown here";
        log.findings
            .push(Finding::error(NOT_OURS, "", message).hint(hint));
        return (log, None);
    }
    for (at, error) in errors.iter().enumerate() {
        let field = format!("#{at}");
        let span = error.span().unwrap_or(0..0);
        let mut log = log.borrow_mut();
        log.source.note(field.clone(), span);
        let message = Phrase::from(error.message().to_owned());
        let finding = Finding::error("syntax", field, message);
        log.findings
            .push(finding.hint("the file is TOML: key = \"value\", one a line"));
    }
    let top = document.get_ref();
    let words = Words {
        reference: reference(top),
        top,
    };
    let value = read(Fields::of(String::new(), top, &log, words));
    (log.into_inner(), value)
}
