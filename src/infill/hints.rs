//! Remedies that follow from the whole pattern: what a copy lacks beside it, and how a piece that meets a
//! junction by chance keeps out of it.

use super::bar::{Bar, Joint, Skeleton, same};
use super::pattern::{Pattern, PieceRule};
use crate::finding::Finding;
use crate::geometry::tolerance::POSITION;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use float_cmp::ApproxEq;

/// Faults of ends that share a point with a junction.
const AT_JUNCTIONS: [&str; 4] = [
    "facet-does-not-fit",
    "too-many-facets",
    "not-equally-thick",
    "same-direction",
];

/// The same faults, with remedies that are nearer than their own.
pub(super) fn nearer(faults: Vec<Finding>, pattern: &Pattern, skeleton: &Skeleton) -> Vec<Finding> {
    let guest = guest(&faults, pattern, skeleton);
    let nearer = |fault: Finding| {
        let is_of_junction = AT_JUNCTIONS.contains(&fault.code);
        let hint = match &guest {
            Some(hint) if is_of_junction => Some(hint.clone()),
            _ => of_copy(&fault, pattern, skeleton),
        };
        match hint {
            Some(hint) => fault.hint(hint),
            None => fault,
        }
    };
    faults.into_iter().map(nearer).collect()
}

/// Of a piece that overlaps a copy although it laps, or stands against, what that is a copy of.
pub(super) fn of_overlap(one: &Bar, other: &Bar) -> Option<String> {
    let lacks = |copy: &Bar, piece: &Bar| {
        let (_, original) = copy.field.split_once(".copies.")?;
        let lists = [("lap", &piece.laps), ("against", &piece.against)];
        let mut lists = lists.into_iter();
        let (key, _) = lists.find(|(_, names)| names.iter().any(|name| name == original))?;
        Some(format!(
            "`{}` has `{original}` in `{key}` and not its copy: add \"{}\" there",
            piece.name, copy.name
        ))
    };
    lacks(one, other).or_else(|| lacks(other, one))
}

/// What a table of copies says of the piece in this field.
struct Copied<'p> {
    original: &'p str,
    names: Vec<&'p str>,
    /// Names of all that is copied there, and of the copies.
    along: Vec<&'p str>,
    mirrors: bool,
}

fn copied<'p>(pattern: &'p Pattern, field: &str) -> Option<Copied<'p>> {
    let is_here = |table: String, original: &str| {
        let own = format!("{table}.copies.{original}");
        let rest = field.strip_prefix(&own);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    for (at, rule) in pattern.mirrors.iter().enumerate() {
        let mut here = rule.copies.iter();
        if let Some((original, copy)) = here.find(|(of, _)| is_here(format!("mirror[{at}]"), of)) {
            let along = rule.copies.iter().flat_map(|(of, copy)| [of, copy]);
            return Some(Copied {
                original,
                names: vec![copy],
                along: along.map(String::as_str).collect(),
                mirrors: true,
            });
        }
    }
    for (at, rule) in pattern.turns.iter().enumerate() {
        let mut here = rule.copies.iter();
        if let Some((original, names)) = here.find(|(of, _)| is_here(format!("turn[{at}]"), of)) {
            let copies = rule.copies.iter();
            let along = copies.flat_map(|(of, names)| [of].into_iter().chain(names));
            return Some(Copied {
                original,
                names: names.iter().map(String::as_str).collect(),
                along: along.map(String::as_str).collect(),
                mirrors: false,
            });
        }
    }
    None
}

/// Of a copy that stands against, or laps, a piece that is not copied with it and that does not come to
/// lie on itself.
fn of_copy(fault: &Finding, pattern: &Pattern, skeleton: &Skeleton) -> Option<String> {
    let copied = copied(pattern, &fault.field)?;
    let bar = |name: &str| skeleton.bars.iter().find(|bar| bar.name == name);
    let original = bar(copied.original)?;
    let copy = bar(copied.names.first()?)?;
    let others = original.against.iter().chain(&original.laps);
    let image =
        |mate: &Bar| [mate.from, mate.to].map(|point| moved(point, original, copy, copied.mirrors));
    let stays = |mate: &Bar| {
        let ends = image(mate);
        ends.iter()
            .all(|end| mate.offset(*end).approx_eq(0.0, POSITION))
    };
    let left = others.filter(|name| !copied.along.contains(&name.as_str()));
    let mate = left
        .filter_map(|name| bar(name))
        .find(|mate| !stays(mate))?;
    let [from, to] = image(mate);
    let lies_there = |bar: &&Bar| {
        (same(bar.from, from) && same(bar.to, to)) || (same(bar.from, to) && same(bar.to, from))
    };
    let name = &mate.name;
    let lead = format!(
        "`{}` is copied without `{name}`, so its copy is cut by `{name}` itself",
        copied.original
    );
    Some(match skeleton.bars.iter().find(lies_there) {
        Some(there) => format!(
            "{lead}; `{0}` lies where a copy of `{name}` would: take `{0}` out where it is described, and add {name} = {1} to these `copies`",
            there.name,
            listed(std::slice::from_ref(&there.name), copied.names.len())
        ),
        None => {
            let names = free_names(pattern, name, copied.names.len());
            let names = listed(&names, copied.names.len());
            format!("{lead}: add {name} = {names} to these `copies`")
        }
    })
}

/// Where a point comes to lie by the motion that brings one piece onto its copy.
fn moved(point: Point, original: &Bar, copy: &Bar, mirrors: bool) -> Point {
    let way = original.from.to(point);
    let side = if mirrors { -1.0 } else { 1.0 };
    let aside: Vector = copy.left() * (side * way.dot(original.left()));
    copy.from + copy.along * way.dot(original.along) + aside
}

/// Names of copies that are not taken: `post-2`, `post-3`.
fn free_names(pattern: &Pattern, name: &str, count: usize) -> Vec<String> {
    let taken = pattern.piece_names();
    let numbered = (2..).map(|number| format!("{name}-{number}"));
    let free = numbered.filter(|name| !taken.contains(&name.as_str()));
    free.take(count).collect()
}

/// As `copies` has them: one name in quotes, several as a list.
fn listed(names: &[String], count: usize) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    match (quoted.as_slice(), count) {
        ([name], 1) => name.clone(),
        (names, _) => format!("[{}]", names.join(", ")),
    }
}

/// How the piece that has most faults at a junction keeps out of it, where it ends against another one
/// there: `meet` gives its end a point of its own, on that one's near side.
fn guest(faults: &[Finding], pattern: &Pattern, skeleton: &Skeleton) -> Option<String> {
    let of_junction = |fault: &&Finding| AT_JUNCTIONS.contains(&fault.code);
    let count = |bar: &Bar| {
        let own = faults.iter().filter(of_junction);
        own.filter(|fault| fault.field.starts_with(&bar.field))
            .count()
    };
    let first = faults.iter().find(of_junction)?;
    let concerned = |joint: &&Joint| {
        let is_own = first.field.starts_with(&joint.field);
        let mut bars = skeleton.bars.iter();
        is_own
            || bars.any(|bar| first.field.starts_with(&bar.field) && end_at(bar, joint).is_some())
    };
    let joint = skeleton.joints.iter().find(concerned)?;
    let arms = skeleton
        .bars
        .iter()
        .filter_map(|bar| Some((bar, end_at(bar, joint)?)));
    let hints =
        arms.filter_map(|(bar, end)| Some((count(bar), way_out(pattern, skeleton, bar, end)?)));
    // Of equals the first.
    let most = hints.rev().max_by_key(|(count, _)| *count)?;
    Some(most.1)
}

/// Which end of a piece lies at a junction.
fn end_at(bar: &Bar, joint: &Joint) -> Option<&'static str> {
    if same(bar.from, joint.at) {
        Some("from")
    } else {
        same(bar.to, joint.at).then_some("to")
    }
}

/// Lines that let an end stand against its mate beside the junction; nothing where it has no mate there
/// that is described before it.
fn way_out(pattern: &Pattern, skeleton: &Skeleton, arm: &Bar, end: &str) -> Option<String> {
    let index = pattern
        .pieces
        .iter()
        .position(|rule| rule.name == first_of(pattern, &arm.name))?;
    let rule: &PieceRule = pattern.pieces.get(index)?;
    let bar = |name: &str| skeleton.bars.iter().find(|bar| bar.name == name);
    let own = bar(&rule.name)?;
    let at = if end == "from" { own.from } else { own.to };
    let before = pattern.pieces.iter().take(index);
    let mut mates = before.filter(|mate| rule.against.contains(&mate.name));
    let mate = mates.find_map(|mate| {
        let mate = bar(&mate.name)?;
        (mate.offset(at).abs() < mate.half() + SAME_POSITION_MM).then_some(mate)
    })?;
    let middle = Point::new(
        f64::midpoint(own.from.x, own.to.x),
        f64::midpoint(own.from.y, own.to.y),
    );
    let side = if mate.offset(middle) > 0.0 {
        "left"
    } else {
        "right"
    };
    let PieceRule { name, from, to, .. } = rule;
    Some(format!(
        "`{name}` ends at the junction's point and so is a part of it. Where it is only to stand against `{0}`, give that end a point of its own: under [lines] {name}-way = {{ through = [\"{from}\", \"{to}\"] }}, under [points] {name}-end = {{ meet = [\"{0}.{side}\", \"{name}-way\"] }}, and {end} = \"{name}-end\"",
        mate.name
    ))
}

/// The described piece that a copy goes back to.
fn first_of<'p>(pattern: &'p Pattern, name: &'p str) -> &'p str {
    let mirrored = pattern.mirrors.iter().flat_map(|rule| {
        let copies = rule.copies.iter();
        copies.map(|(of, copy)| (of.as_str(), copy.as_str()))
    });
    let turned = pattern.turns.iter().flat_map(|rule| {
        let copies = rule.copies.iter();
        copies.flat_map(|(of, names)| names.iter().map(move |copy| (of.as_str(), copy.as_str())))
    });
    let mut name = name;
    // Turned copies come last: back from them to the mirrored ones.
    let all: Vec<(&str, &str)> = mirrored.chain(turned).collect();
    for (of, copy) in all.into_iter().rev() {
        if copy == name {
            name = of;
        }
    }
    name
}
