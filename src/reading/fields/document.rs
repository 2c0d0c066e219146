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

/// Whether a line begins as one of ours: one wrong letter may keep a whole file from being read, and then it is
/// this person's own, with a line to be shown.
fn is_ours(line: &str) -> bool {
    let line = line.trim_start();
    let (inside, ends) = match line.strip_prefix('[') {
        Some(inside) => (inside.trim_start_matches('['), [']', '.']),
        None => (line, ['=', '.']),
    };
    let begins = |key: &str| {
        let rest = inside.trim_start().strip_prefix(key);
        rest.is_some_and(|rest| rest.trim_start().starts_with(ends))
    };
    OURS.iter().any(|key| begins(key))
}

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
    let read_as_ours = OURS.iter().any(|key| document.get_ref().contains_key(*key));
    if errors.iter().any(lines_apart) && !read_as_ours && !text.lines().any(is_ours) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::read_job;

    #[test]
    fn lines_of_ours_are_known_and_no_others() {
        for line in [
            "title = \"x\"",
            "  kind=\"sled\"",
            "[grid]",
            "[[cell]]",
            "[ grid.x ]",
            "grid.kind = 1",
        ] {
            assert!(is_ours(line), "{line}");
        }
        for line in [
            "titles = 1",
            "title",
            "[grids]",
            "somebody:x:1000",
            "the title = one",
            "",
            "[",
            "=",
        ] {
            assert!(!is_ours(line), "{line}");
        }
    }

    #[test]
    fn one_wrong_letter_at_the_top_is_shown_at_its_line() {
        // A bare carriage return in a comment keeps all that follows from being read.
        let text = "# A lamp\rs panel.\n# Strips.\ntitle = \"x\"\n[grid]\nkind = \"square\"\n= 3\n";
        let refused = read_job("job.toml", text).unwrap_err();
        assert!(!refused.is_not_ours());
        let told = refused
            .source
            .report(&refused.findings, crate::units::UnitSystem::Millimetres);
        assert!(told.contains("job.toml:1:"), "{told}");
        let others = "# a\rb\nsomebody:x:1000\nanybody:x:1001\n";
        assert!(read_job("job.toml", others).unwrap_err().is_not_ours());
    }
}
