//! Which pieces of a pattern are one strip, copies included.

use super::design::{FoldRule, PatternDesign};
use super::known::{copies, pieces_given, unknown_piece};
use crate::finding::Finding;

/// A fold's names with the field that says so.
type Folded = (String, Vec<String>);

/// All folds, copies last: a fold is copied where all its pieces are.
pub(super) fn all(design: &PatternDesign) -> Vec<Folded> {
    spread(design).0
}

/// One step of making copies.
struct Step<'d> {
    /// The table that says so.
    table: String,
    copies: Vec<(&'d str, &'d str)>,
}

fn steps(design: &PatternDesign) -> Vec<Step<'_>> {
    let mirrors = design.mirrors.iter().enumerate();
    let mut all: Vec<Step<'_>> = mirrors
        .map(|(at, mirror)| Step {
            table: format!("mirror[{at}]"),
            copies: (mirror.copies.iter())
                .map(|(of, copy)| (of.as_str(), copy.as_str()))
                .collect(),
        })
        .collect();
    for (at, turn) in design.turns.iter().enumerate() {
        all.extend((1..turn.steps).map(|step| {
            Step {
                table: format!("turn[{at}]"),
                copies: (turn.copies.iter())
                    .filter_map(|(of, names)| {
                        let copy = names.get(step as usize - 1)?;
                        Some((of.as_str(), copy.as_str()))
                    })
                    .collect(),
            }
        }));
    }
    all
}

/// All folds, and what is copied in part. A fold of which a piece is made by the step itself, or later, is
/// not there to be copied yet.
fn spread(design: &PatternDesign) -> (Vec<Folded>, Vec<Finding>) {
    let described = design.folds.iter().enumerate();
    let mut all: Vec<Folded> = described
        .map(|(at, fold)| (field(at), fold.pieces.clone()))
        .collect();
    let mut there: Vec<&str> = design.pieces.iter().map(|p| p.name.as_str()).collect();
    let mut found: Vec<Finding> = Vec::new();
    for step in steps(design) {
        let image = |name: &String| {
            let mut copies = step.copies.iter();
            copies.find(|(of, _)| *of == name).map(|(_, copy)| *copy)
        };
        let mut new = Vec::new();
        let is_there = |(_, pieces): &&Folded| pieces.iter().all(|p| there.contains(&p.as_str()));
        for (at, pieces) in all.iter().filter(is_there) {
            let images: Vec<String> = (pieces.iter())
                .filter_map(|name| image(name).map(str::to_owned))
                .collect();
            let left = pieces.iter().find(|name| image(name).is_none());
            let taken = pieces.iter().find(|name| image(name).is_some());
            match (taken, left) {
                (Some(taken), Some(left)) => found.push(in_part(&step.table, taken, left)),
                (Some(_), None) => new.push((at.clone(), images)),
                (None, _) => {}
            }
        }
        all.extend(new);
        there.extend(step.copies.iter().map(|(_, copy)| *copy));
    }
    found.dedup();
    (all, found)
}

fn field(at: usize) -> String {
    format!("fold[{at}].pieces")
}

fn in_part(table: &str, taken: &str, left: &str) -> Finding {
    let text = format!("`{taken}` is copied here without `{left}`, and both are one folded strip");
    let hint = format!("name a copy of `{left}` in these `copies` too");
    Finding::error(
        "fold-copied-in-part",
        format!("{table}.copies.{taken}"),
        text,
    )
    .hint(hint)
}

/// What is wrong with folds, as far as names tell it.
pub(super) fn faults(design: &PatternDesign) -> Vec<Finding> {
    let folds = design.folds.iter().enumerate();
    let mut found: Vec<Finding> = folds
        .flat_map(|(at, fold)| fold_faults(design, at, fold))
        .collect();
    if found.is_empty() {
        found.extend(spread(design).1);
    }
    found
}

fn fold_faults(design: &PatternDesign, at: usize, fold: &FoldRule) -> Vec<Finding> {
    let mut found = Vec::new();
    let given = pieces_given(design);
    let earlier = design.folds.iter().take(at);
    let earlier: Vec<&String> = earlier.flat_map(|fold| &fold.pieces).collect();
    for (nth, name) in fold.pieces.iter().enumerate() {
        let field = format!("{}[{nth}]", field(at));
        if !given.iter().any(|(_, known)| known == name) {
            found.push(unknown_piece(design, &field, name));
        } else if fold.pieces.iter().take(nth).any(|other| other == name) || earlier.contains(&name)
        {
            let text = format!("`{name}` is a part of a folded strip already");
            let hint = "name each piece once: a strip that is bent twice has three in one list";
            found.push(Finding::error("said-twice", field, text).hint(hint));
        }
    }
    found.extend(locks_in_part(design, at, fold));
    found
}

/// A strip of which one piece is said to lock and another one not.
fn locks_in_part(design: &PatternDesign, at: usize, fold: &FoldRule) -> Option<Finding> {
    let locks = |name: &String| {
        let copy = copies(design).find(|copy| copy.name == name);
        let of = copy.map_or(name.as_str(), |copy| copy.of);
        design.locks.iter().any(|lock| lock == name || lock == of)
    };
    let lock = fold.pieces.iter().find(|name| locks(name))?;
    let other = fold.pieces.iter().find(|name| !locks(name))?;
    let text = format!("`{lock}` and `{other}` are one strip, and only `{lock}` is a lock");
    let hint = format!("name `{other}` in `locks` too, or leave `{lock}` out there");
    Some(Finding::error("fold-locks-in-part", field(at), text).hint(hint))
}
