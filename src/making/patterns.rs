//! Patterns as a list shows them.

use crate::finding::Finding;
use crate::infill::Pattern;
use crate::instructions::patterns::PatternEntry;
use crate::planning::{PatternFigure, ShownSizes, pattern_facts};
use crate::sheets::figure_drawing;

/// What patterns are listed with: strips that are seen in a small picture, and thin enough for every
/// pattern that is shipped.
pub const LISTED: ShownSizes = ShownSizes {
    pitch: 50.0,
    thickness: 4.0,
    pieces: None,
};

/// A pattern in a list, drawn over several cells.
///
/// # Errors
/// Why it does not fit such cells, at fields of the pattern.
pub fn pattern_entry(pattern: &Pattern) -> Result<PatternEntry, Vec<Finding>> {
    let figure = PatternFigure::of(pattern, LISTED)?;
    let facts = pattern_facts(pattern, LISTED, &figure)?;
    let title = format!("{}: {}", pattern.name, pattern.about);
    Ok(PatternEntry {
        name: pattern.name.clone(),
        cell: pattern.cell.name(),
        about: pattern.about.clone(),
        group: pattern.group(),
        facts,
        picture: figure_drawing(&figure, &title),
    })
}
