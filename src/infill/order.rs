//! In which order the pieces of a cell go in.

use super::bar::Bar;
use super::pattern::Pattern;
use crate::finding::Finding;

/// Brings pieces into the order in which they go in: as they are written, but what is notched from the
/// front before what lies over it, and what locks last.
///
/// Gives what is wrong where pieces wait for each other: each of a ring of laps lies over the next.
pub(super) fn order(pattern: &Pattern, bars: &mut Vec<Bar>) -> Option<Finding> {
    let mut waiting: Vec<Bar> = std::mem::take(bars);
    waiting.sort_by_key(|bar| pattern.locks(&bar.name));
    while !waiting.is_empty() {
        let is_free = |bar: &Bar| !waiting.iter().any(|below| below.laps.contains(&bar.name));
        let Some(at) = waiting.iter().position(is_free) else {
            let names: Vec<&str> = waiting.iter().map(|bar| bar.name.as_str()).collect();
            let text = format!(
                "these pieces cannot be put together, each lies over another of them: {}",
                names.join(", ")
            );
            let field = waiting.first().map_or("piece", |bar| &bar.field);
            let hint = "let one of them be notched from the front only, and one from the back only";
            return Some(Finding::error("laps-in-a-ring", field, text).hint(hint));
        };
        bars.push(waiting.remove(at));
    }
    None
}
