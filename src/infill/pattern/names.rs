//! Whether a pattern's names are known, unique and used in order.

use super::copies;
use super::design::{LineRule, Neighbours, PatternDesign, PatternLine, PatternPoint, PieceRule};
use super::folds;
use super::known::{known, pieces_given, places_given, point_fault, unknown_piece, wall_fault};
use super::rests::{lines, order_fault, ring_faults};
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
    found.extend(head_faults(design));
    found.extend(middle_fault(design));
    for (name, rule) in &design.lines {
        found.extend(line_faults(design, &format!("lines.{name}"), rule));
    }
    for (name, place) in &design.points {
        found.extend(place_faults(design, &format!("points.{name}"), place));
    }
    for (at, piece) in design.pieces.iter().enumerate() {
        found.extend(piece_faults(design, &format!("piece[{at}]"), at, piece));
    }
    found.extend(ring_faults(design));
    found.extend(copies::faults(design));
    found.extend(junction_faults(design));
    found.extend(folds::faults(design));
    found
}

/// A corner for the panel's middle that the cell does not have, or that none but another one could take.
fn middle_fault(design: &PatternDesign) -> Option<Finding> {
    let middle = design.middle.as_deref()?;
    let corners = design.cell.corners();
    if !corners.contains(&middle) {
        let text = format!("the cell has no corner `{middle}`");
        let fault = Finding::error("unknown-corner", "middle", text);
        return Some(fault.hint(known(corners.iter().copied())));
    }
    (design.neighbours != Neighbours::Mirror).then(|| {
        let text = "like corners of all cells meet only where cells are mirrored";
        let hint = "leave it out, or write neighbours = \"mirror\"";
        Finding::error("not-mirrored", "middle", text).hint(hint)
    })
}

/// What the top of the file says of the cell and of the pieces.
fn head_faults(design: &PatternDesign) -> Vec<Finding> {
    let mut found = Vec::new();
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
    if let Some(share) = design.greatest
        && !(share > 0.0 && share < 0.5)
    {
        let text = "no piece of that thickness goes into a cell";
        let hint = "write the greatest thickness as a share of the pitch: above 0, below 0.5";
        found.push(Finding::error("out-of-range", "greatest", text).hint(hint));
    }
    for (at, lock) in design.locks.iter().enumerate() {
        let field = format!("locks[{at}]");
        if !design.pieces.iter().any(|piece| piece.name == *lock) {
            let described = design.pieces.iter().map(|piece| piece.name.as_str());
            let text = format!("no [[piece]] is called `{lock}`");
            let hint = format!("{}; copies lock as well", known(described));
            found.push(Finding::error("unknown-piece", field, text).hint(hint));
        } else if design.locks.iter().take(at).any(|other| other == lock) {
            let text = format!("`{lock}` stands here twice");
            found.push(Finding::error("said-twice", field, text).hint("leave one out"));
        }
    }
    found
}

fn name_faults(design: &PatternDesign) -> Vec<Finding> {
    let [points, lines] = places_given(design);
    let pieces = pieces_given(design);
    let mut found = Vec::new();
    let (corners, walls) = (design.cell.corners(), design.cell.walls());
    for (given, taken) in [(&points, corners), (&lines, walls), (&pieces, &[][..])] {
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

fn place_faults(design: &PatternDesign, field: &str, place: &PatternPoint) -> Vec<Finding> {
    let own = design.lines.iter().map(|(name, _)| name.as_str());
    let all: Vec<&str> = design.cell.walls().iter().copied().chain(own).collect();
    let mut found = Vec::new();
    for (at, line) in lines(place).iter().enumerate() {
        match line {
            PatternLine::Named(name) if !all.contains(&name.as_str()) => {
                let hint = format!(
                    "{}; of a piece write `piece.left`, `piece.right` or `piece.axis`",
                    known(all.iter().copied())
                );
                let text = format!("there is no wall and no line `{name}`");
                found.push(Finding::error("unknown-wall", field, text).hint(hint));
            }
            PatternLine::Side { piece, .. } | PatternLine::Axis { piece }
                if !design.pieces.iter().any(|p| p.name == *piece) =>
            {
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

fn line_faults(design: &PatternDesign, field: &str, rule: &LineRule) -> Vec<Finding> {
    let mut found = Vec::new();
    match rule {
        LineRule::Through([one, other]) => {
            for (at, point) in [one, other].into_iter().enumerate() {
                found.extend(point_fault(design, format!("{field}.through[{at}]"), point));
            }
            if one == other {
                let text = "a line needs two different points";
                let fault = Finding::error("said-twice", format!("{field}.through"), text);
                found.push(fault.hint("name two points that lie apart"));
            }
        }
        LineRule::Slanted { from, angle, off } => {
            found.extend(point_fault(design, format!("{field}.from"), from));
            let off = off.iter();
            found.extend(off.filter_map(|wall| wall_fault(design, format!("{field}.off"), wall)));
            if !(*angle >= 0.0 && *angle < PI) {
                let text = phrase!("{} is no angle of a line to a wall", Rad(*angle));
                let hint =
                    "write 0 deg or more, less than 180 deg, counter-clockwise from the wall";
                let field = format!("{field}.angle");
                found.push(Finding::error("angle-out-of-range", field, text).hint(hint));
            }
        }
    }
    found
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
    found.extend(horn_faults(field, piece));
    found.extend(mouth_faults(design, field, piece));
    let pieces = pieces_given(design);
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

/// Ends that stand free and are to run on over the strip too.
fn horn_faults(field: &str, piece: &PieceRule) -> Vec<Finding> {
    let ends = ["from", "to"]
        .iter()
        .zip(piece.horns.iter().zip(piece.over));
    let both = ends.filter(|(_, (horn, over))| horn.is_some() && *over);
    both.map(|(key, _)| {
        let text = format!(
            "the `{key}` end of `{}` runs on over the strip as well",
            piece.name
        );
        Finding::error("over-and-horn", format!("{field}.horn.{key}"), text)
            .hint("such an end goes on in the next cell, a horn ends here: leave one of them out")
    })
    .collect()
}

/// What is wrong with the ends that take a corner.
fn mouth_faults(design: &PatternDesign, field: &str, piece: &PieceRule) -> Vec<Finding> {
    let pieces = pieces_given(design);
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

fn junction_faults(design: &PatternDesign) -> Vec<Finding> {
    let mut found = Vec::new();
    let pieces = pieces_given(design);
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
