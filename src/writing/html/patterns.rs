//! All patterns on one page that needs nothing else: no network, no script.

use super::style;
use crate::instructions::patterns::{PatternEntry, in_groups};
use crate::instructions::safety::SafetyNotes;
use crate::phrase::Phrase;
use crate::units::{NotPrintable, UnitSystem};
use askama::Template;

#[derive(Template)]
#[template(path = "patterns.html", config = "src/writing/html/askama.toml")]
struct PatternPage<'a> {
    entries: &'a [PatternEntry],
    note: String,
    safety: &'a SafetyNotes,
    units: UnitSystem,
    style: String,
}

/// The page: pictures in groups, each with its name, what it is and what it needs. `note` says what they
/// are drawn with.
///
/// # Errors
/// [`NotPrintable`] where a figure is not finite.
pub fn patterns(
    entries: &[PatternEntry],
    note: &Phrase,
    safety: &SafetyNotes,
    units: UnitSystem,
) -> Result<String, NotPrintable> {
    let page = PatternPage {
        entries,
        note: note.text(units),
        safety,
        units,
        style: format!("{}\n{}", style(), include_str!("patterns.css").trim_end()),
    };
    page.render().map_err(|_| NotPrintable)
}
