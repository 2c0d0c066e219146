//! `lapwright compare`

use super::answers::{Outcome, Shown, print};
use super::arguments::{CompareArguments, Format};
use super::glance::Glance;
use crate::inputs::Inputs;
use crate::instructions::safety::SafetyNotes;
use crate::phrase::{Phrase, counted};
use crate::sheets::{Compared, compared};
use crate::units::UnitSystem;
use crate::writing::{json, text};
use serde_json::{Value, json};
use std::path::Path;

pub(super) fn run(asked: &CompareArguments, inputs: &Inputs, shown: Shown) -> Outcome {
    let first = Glance::read(inputs, &asked.first, shown)?;
    let second = Glance::read(inputs, &asked.second, shown)?;
    let units = match shown.format {
        Format::Text => shown.units,
        Format::Json => UnitSystem::Millimetres,
    };
    let found = compared([&first.overview, &second.overview], units);
    let answer = match shown.format {
        Format::Text => told(asked, &found, units),
        Format::Json => {
            let answer = json!({
                "files": [name(&asked.first), name(&asked.second)],
                "differs": found.differs.iter().map(differing).collect::<Vec<_>>(),
                "equal": found.equal,
                "panels": [&first.overview, &second.overview],
            });
            let warnings = [first.warnings.all(), second.warnings.all()].concat();
            let safety = SafetyNotes::for_assembly();
            json::answer("lapwright/compare/1", &answer, &warnings, safety.notes())?
        }
    };
    let printed = print(&answer);
    for glance in [&first, &second] {
        glance.warn(shown);
    }
    printed
}

fn name(path: &Path) -> String {
    path.display().to_string()
}

/// Programs read millimetres; what only one panel has is left out of the other.
fn differing((figure, both): &(String, [Option<Phrase>; 2])) -> Value {
    let mut fields = json!({ "figure": figure });
    for (key, words) in ["first", "second"].into_iter().zip(both) {
        if let Some(words) = words {
            fields[key] = words.text(UnitSystem::Millimetres).into();
        }
    }
    fields
}

/// How the panels are called below the first line.
const SIDES: [&str; 2] = ["1", "2"];

fn told(asked: &CompareArguments, found: &Compared, units: UnitSystem) -> String {
    let [first, second] = [&asked.first, &asked.second].map(|path| name(path));
    let all = found.differs.len() + found.equal.len();
    let verdict = if found.differs.is_empty() {
        format!("No figure differs: {first} and {second} are alike in all {all}.")
    } else {
        format!(
            "{} of {all} differ: 1 is {first}, 2 is {second}.",
            counted(found.differs.len(), "figure")
        )
    };
    let mut out = text::title(&verdict);
    let nothing = Phrase::from("-");
    for (figure, both) in &found.differs {
        out.push_str(&format!("\n{figure}\n"));
        let lines = SIDES.into_iter().zip(both);
        let lines = lines.map(|(side, words)| (side, words.as_ref().unwrap_or(&nothing)));
        out.push_str(&text::labelled(lines, units));
        if is_hidden(both, units) {
            out.push_str("   (they differ by less than is printed)\n");
        }
    }
    if !found.equal.is_empty() && !found.differs.is_empty() {
        out.push('\n');
        let equal = Phrase::from(found.equal.join(", "));
        out.push_str(&text::labelled([("the same", &equal)], units));
    }
    out
}

/// Whether what differs reads the same.
fn is_hidden(both: &[Option<Phrase>; 2], units: UnitSystem) -> bool {
    match both {
        [Some(first), Some(second)] => first.text(units) == second.text(units),
        _ => false,
    }
}
