//! Whether mirrored and turned copies can be made.

use super::design::PatternDesign;
use super::known::{known, point_fault};
use crate::finding::Finding;

pub(super) fn faults(design: &PatternDesign) -> Vec<Finding> {
    let mut before: Vec<&str> = design.pieces.iter().map(|p| p.name.as_str()).collect();
    let mut found = Vec::new();
    for (at, mirror) in design.mirrors.iter().enumerate() {
        let table = format!("mirror[{at}]");
        let [one, other] = &mirror.across;
        for (end, point) in mirror.across.iter().enumerate() {
            found.extend(point_fault(design, format!("{table}.across[{end}]"), point));
        }
        if one == other {
            let text = "a line needs two different points";
            let hint = "name two points that lie apart";
            let fault = Finding::error("said-twice", format!("{table}.across"), text);
            found.push(fault.hint(hint));
        }
        let originals = mirror.copies.iter().map(|(original, _)| original.as_str());
        found.extend(original_faults(
            &table,
            "mirrored",
            &originals.collect::<Vec<_>>(),
            &before,
        ));
        before.extend(mirror.copies.iter().map(|(_, copy)| copy.as_str()));
    }
    for (at, turn) in design.turns.iter().enumerate() {
        let table = format!("turn[{at}]");
        found.extend(point_fault(design, format!("{table}.round"), &turn.round));
        let originals = turn.copies.iter().map(|(original, _)| original.as_str());
        found.extend(original_faults(
            &table,
            "turned",
            &originals.collect::<Vec<_>>(),
            &before,
        ));
        let wanted = (turn.steps as usize).saturating_sub(1);
        for (original, names) in &turn.copies {
            if names.len() != wanted {
                let field = format!("{table}.copies.{original}");
                let text = format!(
                    "{} steps of a full turn make {wanted} copies of `{original}`; named here: {}",
                    turn.steps,
                    names.len()
                );
                let hint = "write a list with the name of each copy: one step on, two steps on, and so forth";
                found.push(Finding::error("wrong-count", field, text).hint(hint));
            }
        }
        let copies = turn.copies.iter().flat_map(|(_, names)| names);
        before.extend(copies.map(String::as_str));
    }
    found
}

/// Nothing to copy, or pieces that are not there so far.
fn original_faults(table: &str, done: &str, originals: &[&str], before: &[&str]) -> Vec<Finding> {
    let mut found = Vec::new();
    if originals.is_empty() {
        let text = format!("nothing is {done} here");
        let hint = "write copies = { piece = \"name of its copy\" }";
        found.push(Finding::error("no-pieces", format!("{table}.copies"), text).hint(hint));
    }
    for original in originals
        .iter()
        .filter(|original| !before.contains(original))
    {
        let field = format!("{table}.copies.{original}");
        let text = format!("there is no piece `{original}` so far");
        let hint = known(before.iter().copied());
        found.push(Finding::error("unknown-piece", field, text).hint(hint));
    }
    found
}
