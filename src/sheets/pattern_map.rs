//! Which cell takes which pattern, as text that goes into a job.

use crate::infill::{LegendEntry, PatternMap, Pose};
use crate::lattice::GridCell;
use std::fmt::Write;

/// The map of a panel's cells as lines for a job's table `[infill]`: its rows as the panel is seen from
/// the front, the top one first, then the legend. `cells` are those of the grid that the map is for.
pub fn pattern_map(map: &PatternMap, cells: &[GridCell]) -> String {
    let mut at = 0;
    let mut rows = Vec::new();
    for row in cells.chunk_by(|a, b| a.row == b.row) {
        let letter = |cell| map.entry(cell).map_or('.', |(_, entry)| entry.letter);
        let letters: String = (at..at + row.len()).map(letter).collect();
        at += row.len();
        rows.push((row.first().map_or(0, |cell| cell.row), letters));
    }
    let longest = rows.iter().map(|(_, letters)| letters.chars().count());
    let longest = longest.max().unwrap_or(0);
    let mut text = String::from(
        "# Lines for [infill], in place of pattern, rule or the map there. As the panel is seen from the\n\
         # front: rows and columns are numbered as in its picture. A dot: the cell stays open.\n",
    );
    if cells.iter().any(|cell| !cell.whole) {
        text.push_str("# Cells that the panel's edge cuts have their letters too; they take pieces with edge = \"fill\".\n");
    }
    text.push_str("map = [\n");
    if rows.iter().all(|(_, row)| row.chars().count() == longest) {
        text.push_str(&ruler(longest));
    }
    for (number, letters) in rows.iter().rev() {
        let pad = (longest - letters.chars().count()) / 2;
        let quoted = format!("\"{}{letters}\",", " ".repeat(pad));
        // The longest row, its quotes and a comma.
        let width = longest + 3;
        let _ = writeln!(text, "  {quoted:<width$}  # row {number}");
    }
    text.push_str("]\n");
    for entry in &map.entries {
        let _ = writeln!(text, "legend.{} = {}", entry.letter, value(entry, map));
    }
    text
}

/// Numbers of the columns above their letters: their last digits, and the tens above those.
fn ruler(columns: usize) -> String {
    let digits = (1..=columns).map(|column| (column % 10).to_string());
    let ten = |column: usize| match column % 10 {
        0 => (column / 10 % 10).to_string(),
        _ => " ".to_owned(),
    };
    let mut text = String::new();
    if columns >= 10 {
        let tens: String = (1..=columns).map(ten).collect();
        let _ = writeln!(text, "#  {}", tens.trim_end());
    }
    let _ = writeln!(text, "#  {}  columns", digits.collect::<String>());
    text
}

fn value(entry: &LegendEntry, map: &PatternMap) -> String {
    let name = map.patterns.get(entry.pattern);
    let name = quoted(name.map_or("", |named| named.name.as_str()));
    let Pose { mirror, turn } = entry.pose;
    if !mirror && turn == 0.0 {
        return name;
    }
    let mirror = if mirror { ", mirror = true" } else { "" };
    let turn = if turn == 0.0 {
        String::new()
    } else {
        // Turns that a cell allows are whole degrees but for rounding.
        format!(", turn = \"{} deg\"", turn.to_degrees().round())
    };
    format!("{{ pattern = {name}{mirror}{turn} }}")
}

/// A basic string of TOML: no control characters are in names.
fn quoted(text: &str) -> String {
    let escaped = text.replace('\\', "\\\\").replace('"', "\\\"");
    format!("\"{escaped}\"")
}
