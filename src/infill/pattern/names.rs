//! Whether a pattern's names are known, unique and used in order.

use super::design::{Neighbours, PatternDesign, PatternLine, PatternPoint, PieceRule};
use crate::finding::Finding;
use crate::infill::cell_shape::CellShape;
use crate::phrase;
use crate::units::Rad;
use std::f64::consts::PI;

/// Longer names do not fit a label.
const LONGEST_NAME: usize = 30;

pub(super) fn faults(design: &PatternDesign) -> Vec<Finding> {
    let mut found = Vec::new();
    if design.pieces.is_empty() {
        found.push(
            Finding::error("no-pieces", "piece", "a pattern needs at least one piece")
                .hint("add a table [[piece]] with name, from and to"),
        );
    }
    found.extend(name_faults(design));
    if design.cell == CellShape::Rhomb && design.neighbours == Neighbours::Mirror {
        let text = "a rhomb mirrored in its wall does not fill the cell beside it";
        let hint = "write \"same\", or \"turn\" for half a turn in every second cell";
        found.push(Finding::error("cannot-mirror", "neighbours", text).hint(hint));
    }
    if design.cell != CellShape::Square && design.rhombs {
        let text = "this says that a figure for squares holds in rhombs as well";
        let hint = "leave it out";
        found.push(Finding::error("not-for-squares", "rhombs", text).hint(hint));
    }
    for (name, place) in &design.points {
        found.extend(place_faults(design, &format!("points.{name}"), place));
    }
    for (at, piece) in design.pieces.iter().enumerate() {
        found.extend(piece_faults(design, &format!("piece[{at}]"), at, piece));
    }
    found.extend(mirror_faults(design));
    found.extend(junction_faults(design));
    found
}

/// `hint` with all that could be meant.
fn known<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    match names.as_slice() {
        [] => "none is known here".into(),
        names => format!("known here: {}", names.join(", ")),
    }
}

/// Names with the fields that give them.
type Given<'d> = Vec<(String, &'d str)>;

/// Every name that the pattern gives: those of points; those of pieces, copies last.
fn names_given(design: &PatternDesign) -> (Given<'_>, Given<'_>) {
    let points = design
        .points
        .iter()
        .map(|(name, _)| (format!("points.{name}"), name.as_str()))
        .collect();
    let listed = design.pieces.iter().enumerate();
    let listed = listed.map(|(at, piece)| (format!("piece[{at}].name"), piece.name.as_str()));
    let mirrors = design.mirrors.iter().enumerate();
    let copies = mirrors.flat_map(|(at, mirror)| {
        mirror
            .copies
            .iter()
            .map(move |(original, copy)| (format!("mirror[{at}].copies.{original}"), copy.as_str()))
    });
    (points, listed.chain(copies).collect())
}

fn name_faults(design: &PatternDesign) -> Vec<Finding> {
    let (points, pieces) = names_given(design);
    let mut found = Vec::new();
    let corners = design.cell.corners();
    for (given, taken) in [(&points, corners), (&pieces, &[][..])] {
        for (at, (field, name)) in given.iter().enumerate() {
            let is_plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
            if name.is_empty() || name.len() > LONGEST_NAME || !name.chars().all(is_plain) {
                let text = format!("`{name}` cannot be a name");
                let hint = format!("letters, digits, - and _, at most {LONGEST_NAME}");
                found.push(Finding::error("bad-name", field, text).hint(hint));
            }
            let earlier = given.iter().take(at).any(|(_, other)| other == name);
            if earlier || taken.contains(name) {
                let text = format!("the name `{name}` is taken already");
                found.push(Finding::error("name-taken", field, text).hint("give it another name"));
            }
        }
    }
    found
}

fn lines(place: &PatternPoint) -> &[PatternLine] {
    match place {
        PatternPoint::Fraction { .. } => &[],
        PatternPoint::Meet(lines) => lines,
        PatternPoint::Incentre(lines) => lines,
    }
}

fn place_faults(design: &PatternDesign, field: &str, place: &PatternPoint) -> Vec<Finding> {
    let mut found = Vec::new();
    for (at, line) in lines(place).iter().enumerate() {
        match line {
            PatternLine::Wall(wall) if !design.cell.walls().contains(&wall.as_str()) => {
                let walls = design.cell.walls().iter().copied();
                let hint = format!(
                    "{}; a piece's side is written `piece.left` or `piece.right`",
                    known(walls)
                );
                let text = format!("there is no wall `{wall}`");
                found.push(Finding::error("unknown-wall", field, text).hint(hint));
            }
            PatternLine::Side { piece, .. } if !design.pieces.iter().any(|p| p.name == *piece) => {
                found.push(unknown_piece(design, field, piece));
            }
            line if lines(place).iter().take(at).any(|other| other == line) => {
                let text = "the same line stands here twice";
                let hint = "name two lines that cross, or three that form a triangle";
                found.push(Finding::error("said-twice", field, text).hint(hint));
            }
            _ => {}
        }
    }
    found
}

fn unknown_piece(design: &PatternDesign, field: &str, name: &str) -> Finding {
    let pieces = names_given(design).1;
    let text = format!("there is no piece `{name}`");
    Finding::error("unknown-piece", field, text).hint(known(pieces.iter().map(|(_, name)| *name)))
}

fn point_fault(design: &PatternDesign, field: String, name: &str) -> Option<Finding> {
    let corners = design.cell.corners().iter().copied();
    let all: Vec<&str> = corners
        .chain(design.points.iter().map(|(name, _)| name.as_str()))
        .collect();
    let is_known = all.contains(&name);
    let text = format!("there is no point `{name}`");
    (!is_known).then(|| Finding::error("unknown-point", field, text).hint(known(all)))
}

fn piece_faults(
    design: &PatternDesign,
    field: &str,
    index: usize,
    piece: &PieceRule,
) -> Vec<Finding> {
    let mut found = Vec::new();
    for (key, point) in [("from", &piece.from), ("to", &piece.to)] {
        let field = format!("{field}.{key}");
        found.extend(order_fault(design, &field, index, point));
        found.extend(point_fault(design, field, point));
    }
    found.extend(mouth_faults(design, field, piece));
    let pieces = names_given(design).1;
    for (key, others) in [("against", &piece.against), ("lap", &piece.laps)] {
        for (at, other) in others.iter().enumerate() {
            let field = format!("{field}.{key}[{at}]");
            if *other == piece.name {
                let text = format!("`{other}` is the piece itself");
                found.push(Finding::error("own-name", field, text).hint("name another piece"));
            } else if !pieces.iter().any(|(_, name)| name == other) {
                found.push(unknown_piece(design, &field, other));
            } else if others.iter().take(at).any(|earlier| earlier == other) {
                let text = format!("`{other}` stands here twice");
                found.push(Finding::error("said-twice", field, text).hint("leave one out"));
            }
        }
    }
    for (at, other) in piece.laps.iter().enumerate() {
        let back = design.pieces.iter().take(index);
        if back
            .filter(|p| p.name == *other)
            .any(|p| p.laps.contains(&piece.name))
        {
            let text = format!("`{other}` says already that it laps `{}`", piece.name);
            let field = format!("{field}.lap[{at}]");
            found.push(
                Finding::error("said-twice", field, text)
                    .hint("say it at the piece that is notched from the front"),
            );
        }
    }
    found
}

/// What is wrong with the ends that take a corner.
fn mouth_faults(design: &PatternDesign, field: &str, piece: &PieceRule) -> Vec<Finding> {
    let pieces = names_given(design).1;
    let mut found = Vec::new();
    let ends = ["from", "to"].iter().zip(&piece.mouths);
    for ((key, mouth), (horn, over)) in ends.zip(piece.horns.iter().zip(piece.over)) {
        let Some(mates) = mouth else {
            continue;
        };
        let field = format!("{field}.mouth.{key}");
        if horn.is_some() {
            let text = format!("the `{key}` end of `{}` is a horn as well", piece.name);
            found.push(
                Finding::error("horn-and-mouth", &field, text)
                    .hint("a horn touches nothing, a mouth takes a corner: leave one of them out"),
            );
        }
        if over {
            let text = format!(
                "the `{key}` end of `{}` runs on over the strip as well",
                piece.name
            );
            found.push(Finding::error("over-and-mouth", &field, text).hint(
                "such an end goes on in the next cell, a mouth ends here: leave one of them out",
            ));
        }
        for (at, other) in mates.iter().enumerate() {
            let field = format!("{field}[{at}]");
            let twice = |key: &str| format!("`{other}` stands in `{key}` too");
            if *other == piece.name {
                let text = format!("`{other}` is the piece itself");
                found.push(Finding::error("own-name", field, text).hint("name another piece"));
            } else if !pieces.iter().any(|(_, name)| name == other) {
                found.push(unknown_piece(design, &field, other));
            } else if mates.iter().take(at).any(|earlier| earlier == other) {
                let text = format!("`{other}` stands here twice");
                let hint = "name the two pieces that meet in the corner";
                found.push(Finding::error("said-twice", field, text).hint(hint));
            } else if piece.against.contains(other) {
                let hint = "leave it out there: the mouth touches it already";
                found.push(Finding::error("said-twice", field, twice("against")).hint(hint));
            } else if piece.laps.contains(other) {
                let hint = "leave it out of one: a piece that is crossed has no corner for the end";
                found.push(Finding::error("said-twice", field, twice("lap")).hint(hint));
            }
        }
    }
    found
}

/// Whether a point rests on the side of a piece that comes later, or of the piece itself.
fn order_fault(design: &PatternDesign, field: &str, index: usize, point: &str) -> Option<Finding> {
    let (_, place) = design.points.iter().find(|(name, _)| name == point)?;
    let later = lines(place).iter().find_map(|line| match line {
        PatternLine::Side { piece, .. } => {
            let at = design.pieces.iter().position(|p| p.name == *piece)?;
            (at >= index).then_some(piece)
        }
        PatternLine::Wall(_) => None,
    })?;
    let text = format!("`{point}` lies on a side of `{later}`, which is not defined yet here");
    let hint = format!("write `{later}` above this piece, or choose another point");
    Some(Finding::error("order", field, text).hint(hint))
}

fn mirror_faults(design: &PatternDesign) -> Vec<Finding> {
    let mut found = Vec::new();
    for (at, mirror) in design.mirrors.iter().enumerate() {
        let [one, other] = &mirror.across;
        for (end, point) in mirror.across.iter().enumerate() {
            let field = format!("mirror[{at}].across[{end}]");
            found.extend(point_fault(design, field, point));
        }
        if one == other {
            let field = format!("mirror[{at}].across");
            let text = "a line needs two different points";
            let hint = "name two points that lie apart";
            found.push(Finding::error("said-twice", field, text).hint(hint));
        }
        if mirror.copies.is_empty() {
            let field = format!("mirror[{at}].copies");
            let text = "nothing is mirrored here";
            let hint = "write copies = { piece = \"name of its copy\" }";
            found.push(Finding::error("no-pieces", field, text).hint(hint));
        }
        let earlier = design.mirrors.iter().take(at);
        let earlier = earlier.flat_map(|mirror| mirror.copies.iter().map(|(_, copy)| copy));
        let before: Vec<&String> = design
            .pieces
            .iter()
            .map(|p| &p.name)
            .chain(earlier)
            .collect();
        for (original, _) in &mirror.copies {
            if !before.contains(&original) {
                let field = format!("mirror[{at}].copies.{original}");
                let text = format!("there is no piece `{original}` so far");
                let hint = known(before.iter().map(|name| name.as_str()));
                found.push(Finding::error("unknown-piece", field, text).hint(hint));
            }
        }
    }
    found
}

fn junction_faults(design: &PatternDesign) -> Vec<Finding> {
    let mut found = Vec::new();
    let pieces = names_given(design).1;
    for (at, junction) in design.junctions.iter().enumerate() {
        let field = format!("junction[{at}].at");
        found.extend(point_fault(design, field.clone(), &junction.at));
        let earlier = design.junctions.iter().take(at);
        if earlier.into_iter().any(|other| other.at == junction.at) {
            let text = format!("there is a junction at `{}` already", junction.at);
            found.push(Finding::error("said-twice", field, text).hint("join the two tables"));
        }
        for (piece, angles) in &junction.jig {
            let field = format!("junction[{at}].jig.{piece}");
            if !pieces.iter().any(|(_, name)| name == piece) {
                found.push(unknown_piece(design, &field, piece));
            }
            if let Some(angle) = angles.iter().find(|angle| !(**angle > 0.0 && **angle < PI)) {
                let text = phrase!("no facet stands at {} to its piece", Rad(*angle));
                found.push(
                    Finding::error("angle-out-of-range", field, text)
                        .hint("a jig angle lies between 0 and 180 deg"),
                );
            }
        }
    }
    found
}
