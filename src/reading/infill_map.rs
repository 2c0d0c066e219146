//! Which cell takes which pattern: `pattern`, or `map` with its `legend`, or `rule` with its `patterns`.

use super::fields::{FieldValue, Fields, every};
use crate::finding::Finding;
use crate::infill::{CellRule, EdgeCells, LegendEntry, MapForm, NamedPattern, PatternMap, Pose};
use crate::lattice::{GridCell, Panel};
use crate::phrase;
use crate::phrase::counted;
use crate::units::Kind;
use std::f64::consts::TAU;

/// Stands for a cell that stays open.
const OPEN: char = '.';

/// How entries of a legend are written.
const ENTRY: &str =
    "write a pattern's name in quotes, or { pattern = \"...\", turn = \"90 deg\", mirror = true }";

/// How rows of a map are written.
const ROWS: &str = "write a list of rows, the top one first: [\"AAB\", \".CA\"]";

/// What a job asks for, before it is known which cells there are.
pub(super) enum PatternChoice {
    /// One pattern in all cells.
    One(String),
    /// Drawn by hand.
    Drawn {
        /// From the top, without spaces.
        rows: Vec<String>,
        legend: Vec<EntryRead>,
    },
    /// By a rule; nothing for cells that stay open.
    Rule {
        rule: CellRule,
        entries: Vec<Option<EntryRead>>,
    },
}

/// An entry of a legend as written.
pub(super) struct EntryRead {
    letter: char,
    name: String,
    pose: Pose,
    field: String,
    /// The field in which the pattern's name stands.
    name_field: String,
}

pub(super) fn read_choice(fields: &Fields<'_>) -> Option<PatternChoice> {
    let ways = ["pattern", "map", "rule"];
    let mut given = ways.into_iter().filter(|key| fields.has(key));
    let first = given.next();
    let mut one = true;
    for other in given {
        let text = format!("`{}` is given as well", first.unwrap_or_default());
        fields.report(Finding::error("both-given", fields.path(other), text).hint(
            "leave one out: `pattern` fills all cells, `map` says which takes which, `rule` decides by itself",
        ));
        one = false;
    }
    for (key, with) in [("legend", "map"), ("patterns", "rule")] {
        if fields.has(key) && !fields.has(with) {
            let text = format!("this belongs to `{with}`, which is not there");
            let hint = format!("add `{with}`, or leave this out");
            fields.report(Finding::error("without-effect", fields.path(key), text).hint(hint));
            one = false;
        }
    }
    let choice = match first {
        Some("map") => read_drawn(fields),
        Some("rule") => read_rule(fields),
        _ => fields.required_text("pattern").map(PatternChoice::One),
    };
    // So that nothing of it is an unknown key beside what is told already.
    for key in ["pattern", "map", "rule", "legend", "patterns"] {
        fields.has(key);
    }
    choice.filter(|_| one)
}

fn read_drawn(fields: &Fields<'_>) -> Option<PatternChoice> {
    let rows = fields.items("map", ROWS);
    let rows = rows.and_then(|rows| every(rows.iter().map(FieldValue::text)));
    if !fields.has("legend") {
        let text = "the letters of the map have no meaning yet";
        let hint = "add a table [infill.legend], such as A = \"square-hemp-leaf\"";
        fields.report(Finding::error("missing", fields.path("map"), text).hint(hint));
        return None;
    }
    let entries = fields.entries("legend")?;
    let legend = entries
        .iter()
        .map(|(letter, item)| read_letter(letter, item));
    let legend = every(legend)?;
    let close = |row: String| row.split_whitespace().collect();
    Some(PatternChoice::Drawn {
        rows: rows?.into_iter().map(close).collect(),
        legend,
    })
}

/// An entry by its letter.
fn read_letter(name: &str, item: &FieldValue<'_, '_>) -> Option<EntryRead> {
    let mut letters = name.chars();
    match (letters.next(), letters.next()) {
        (Some(letter), None) if letter.is_alphanumeric() => read_entry(letter, item),
        _ => {
            let text = format!("`{name}` cannot stand for a cell");
            let hint = "use one letter or digit; a dot stands for cells that stay open";
            item.report("not-a-letter", &text, hint);
            None
        }
    }
}

fn read_entry(letter: char, item: &FieldValue<'_, '_>) -> Option<EntryRead> {
    let Some(fields) = item.as_table() else {
        if !item.is_text() {
            item.report("wrong-type", "this is no entry of a legend", ENTRY);
            return None;
        }
        return Some(EntryRead {
            letter,
            name: item.text()?,
            pose: Pose::default(),
            field: item.path.clone(),
            name_field: item.path.clone(),
        });
    };
    let name = fields.required_text("pattern");
    let mirror = fields.flag_or("mirror", false);
    let turn = fields.quantity_or("turn", Kind::Angle, 0.0);
    let name_field = fields.path("pattern");
    fields.finish();
    Some(EntryRead {
        letter,
        name: name?,
        pose: Pose {
            mirror: mirror?,
            turn: turn? % TAU,
        },
        field: item.path.clone(),
        name_field,
    })
}

fn read_rule(fields: &Fields<'_>) -> Option<PatternChoice> {
    let rules = CellRule::ALL.map(|rule| (rule.name(), rule));
    let rule = fields.required_choice("rule", &rules);
    if !fields.has("patterns") {
        let text = "the rule has no patterns to choose from";
        let hint = "add patterns = [\"...\", \"...\"]; \".\" stands for cells that stay open";
        fields.report(Finding::error("missing", fields.path("rule"), text).hint(hint));
        return None;
    }
    let wanted = "write a list of patterns: [\"square-hemp-leaf\", \".\"]";
    let items = fields.items("patterns", wanted)?;
    let mut entries = Vec::new();
    for (item, letter) in items.iter().zip('A'..='Z') {
        let is_open = item.is_text() && item.text().is_some_and(|text| text == OPEN.to_string());
        entries.push(if is_open {
            Some(None)
        } else {
            read_entry(letter, item).map(Some)
        });
    }
    let entries = every(entries.into_iter())?;
    let rule = rule?;
    let least = if rule == CellRule::BySize { 1 } else { 2 };
    let most = match rule {
        CellRule::Border | CellRule::Checker => 2,
        CellRule::Rings | CellRule::BySize => 26,
    };
    if !(least..=most).contains(&items.len()) {
        let text = format!(
            "{} for the rule `{}`",
            counted(items.len(), "pattern"),
            rule.name()
        );
        let hint = match rule {
            CellRule::Border => {
                "two are wanted: that of the cells at the edge, and that of those within"
            }
            CellRule::Checker => "two are wanted, that of the cell at the lower left first",
            CellRule::Rings => "two at least, that of the innermost ring first, 26 at most",
            CellRule::BySize => "one for each size of cell, the smallest first, 26 at most",
        };
        let fault = Finding::error("wrong-number", fields.path("patterns"), text);
        fields.report(fault.hint(hint));
        return None;
    }
    Some(PatternChoice::Rule { rule, entries })
}

impl PatternChoice {
    /// Which cell of a panel takes what.
    ///
    /// # Errors
    /// A map that is not that of the panel's cells, letters without meaning, turns that a cell does not
    /// allow.
    pub(super) fn map(self, panel: &Panel, edge: EdgeCells) -> Result<PatternMap, Vec<Finding>> {
        let cells = panel.design().grid.cells();
        let map = match self {
            PatternChoice::One(name) => return Ok(PatternMap::everywhere(&name, cells.len())),
            PatternChoice::Drawn { rows, legend } => {
                let letters = legend.iter().map(|entry| entry.letter).collect::<Vec<_>>();
                let drawn = drawn_cells(&rows, &letters, &cells)?;
                with_entries(MapForm::Drawn, legend, drawn)
            }
            PatternChoice::Rule { rule, entries } => by_rule(rule, entries, &cells, |cell| {
                cell.whole || edge == EdgeCells::Fill
            })?,
        };
        let faults = turns(&map, &cells);
        if faults.is_empty() {
            Ok(map)
        } else {
            Err(faults)
        }
    }
}

/// For each cell of the grid, row by row from the bottom, the entry of its letter.
fn drawn_cells(
    rows: &[String],
    letters: &[char],
    cells: &[GridCell],
) -> Result<Vec<Option<usize>>, Vec<Finding>> {
    let of_grid: Vec<&[GridCell]> = cells.chunk_by(|a, b| a.row == b.row).collect();
    if rows.len() != of_grid.len() {
        let text = phrase!(
            "the map has {}; the cells of this panel lie in {}",
            counted(rows.len(), "row"),
            of_grid.len()
        );
        let hint = "`lapwright pattern map JOB` of the job with `pattern` instead prints one to begin with";
        return Err(vec![
            Finding::error("map-rows", "infill.map", text).hint(hint),
        ]);
    }
    let mut faults = Vec::new();
    let mut drawn = Vec::with_capacity(cells.len());
    let mut unknown: Vec<char> = Vec::new();
    // The map's last row is the grid's first.
    for ((at, row), of_grid) in rows.iter().enumerate().rev().zip(&of_grid) {
        let field = format!("infill.map[{at}]");
        let number = of_grid.first().map_or(0, |cell| cell.row);
        let written = row.chars().count();
        if written != of_grid.len() {
            let text = phrase!(
                "row {}, line {} of the map, has {}; here are {}",
                number,
                at + 1,
                counted(written, "letter"),
                counted(of_grid.len(), "cell")
            );
            let hint = "one letter for each cell from the left, a dot for those that stay open; spaces do not count";
            faults.push(Finding::error("map-row-length", field, text).hint(hint));
            continue;
        }
        for (letter, cell) in row.chars().zip(*of_grid) {
            let entry = letters.iter().position(|known| *known == letter);
            if entry.is_none() && letter != OPEN && !unknown.contains(&letter) {
                unknown.push(letter);
                let text = phrase!(
                    "`{}` in column {} of row {} is not in the legend",
                    letter.to_string(),
                    cell.column,
                    cell.row
                );
                let known: Vec<String> = letters.iter().map(char::to_string).collect();
                let hint = format!(
                    "add it to [infill.legend], or use one of: {}, and a dot for open",
                    known.join(", ")
                );
                faults.push(Finding::error("unknown-letter", field.as_str(), text).hint(hint));
            }
            drawn.push(entry);
        }
    }
    if faults.is_empty() {
        Ok(drawn)
    } else {
        // From the top, as they stand in the file.
        faults.reverse();
        Err(faults)
    }
}

fn by_rule(
    rule: CellRule,
    entries: Vec<Option<EntryRead>>,
    cells: &[GridCell],
    filled: impl Fn(&GridCell) -> bool,
) -> Result<PatternMap, Vec<Finding>> {
    let classes = rule.classes(cells, filled);
    let count = classes.iter().flatten().max().map_or(0, |most| most + 1);
    let given = entries.len();
    let refuse = |text, hint: &str| {
        Err(vec![
            Finding::error("wrong-number", "infill.patterns", text).hint(hint.to_owned()),
        ])
    };
    if rule == CellRule::BySize && given != count {
        let text = phrase!(
            "{} for cells of {}",
            counted(given, "pattern"),
            counted(count, "size")
        );
        return refuse(
            text,
            "give one for each, the smallest first; \".\" for open",
        );
    }
    if rule == CellRule::Rings && given > count {
        let text = phrase!(
            "{} for {}",
            counted(given, "pattern"),
            counted(count, "ring")
        );
        return refuse(
            text,
            "leave some out; where there are fewer than rings they come again",
        );
    }
    // Entries that are open take no letter.
    let mut index = Vec::new();
    let mut legend: Vec<EntryRead> = Vec::new();
    for entry in entries {
        index.push(entry.is_some().then_some(legend.len()));
        legend.extend(entry);
    }
    let taken = |class: Option<usize>| *index.get(class? % given.max(1))?;
    let cells = classes.into_iter().map(taken).collect();
    Ok(with_entries(MapForm::Rule(rule), legend, cells))
}

fn with_entries(form: MapForm, read: Vec<EntryRead>, cells: Vec<Option<usize>>) -> PatternMap {
    let mut patterns: Vec<NamedPattern> = Vec::new();
    let mut entries = Vec::new();
    for entry in read {
        let known = patterns.iter().position(|named| named.name == entry.name);
        let pattern = known.unwrap_or_else(|| {
            patterns.push(NamedPattern {
                name: entry.name,
                field: entry.name_field,
            });
            patterns.len() - 1
        });
        entries.push(LegendEntry {
            letter: entry.letter,
            pattern,
            pose: entry.pose,
            field: entry.field,
        });
    }
    PatternMap {
        form,
        patterns,
        entries,
        cells,
    }
}

/// Entries that are turned as one of their cells does not allow, each told once.
fn turns(map: &PatternMap, cells: &[GridCell]) -> Vec<Finding> {
    let mut told = Vec::new();
    let mut faults = Vec::new();
    for (at, cell) in cells.iter().enumerate() {
        if let Some((index, entry)) = map.entry(at)
            && entry.pose.lie(cell.measures).is_none()
            && !told.contains(&index)
        {
            told.push(index);
            faults.push(entry.cannot_lie(cell));
        }
    }
    faults
}

/// Entries that no cell takes.
pub(super) fn unused(map: &PatternMap) -> Vec<Finding> {
    let warning = |entry: &LegendEntry| {
        let text = phrase!("no cell takes `{}`", entry.letter.to_string());
        Finding::warning("legend-unused", entry.field.as_str(), text)
            .hint("put its letter into the map, or leave it out")
    };
    map.unused().map(warning).collect()
}
