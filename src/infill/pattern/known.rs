//! The names that a pattern gives, and findings about others.

use super::design::PatternDesign;
use crate::finding::Finding;

/// `hint` with all that could be meant.
pub(super) fn known<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    match names.as_slice() {
        [] => "none is known here".into(),
        names => format!("known here: {}", names.join(", ")),
    }
}

/// A copy of a piece, and the field that gives its name.
pub(super) struct Copy<'d> {
    pub(super) field: String,
    pub(super) of: &'d str,
    pub(super) name: &'d str,
}

/// All copies, in the order in which they are made: mirrored ones, then turned ones.
pub(super) fn copies(design: &PatternDesign) -> impl Iterator<Item = Copy<'_>> {
    let mirrors = design.mirrors.iter().enumerate();
    let mirrored = mirrors.flat_map(|(at, mirror)| {
        mirror.copies.iter().map(move |(of, name)| Copy {
            field: format!("mirror[{at}].copies.{of}"),
            of,
            name,
        })
    });
    let turns = design.turns.iter().enumerate();
    let turned = turns.flat_map(|(at, turn)| {
        turn.copies.iter().flat_map(move |(of, names)| {
            names.iter().enumerate().map(move |(nth, name)| Copy {
                field: format!("turn[{at}].copies.{of}[{nth}]"),
                of,
                name,
            })
        })
    });
    mirrored.chain(turned)
}

/// Names with the fields that give them.
pub(super) type Given<'d> = Vec<(String, &'d str)>;

/// Names of all pieces, copies last.
pub(super) fn pieces_given(design: &PatternDesign) -> Given<'_> {
    let listed = design.pieces.iter().enumerate();
    let listed = listed.map(|(at, piece)| (format!("piece[{at}].name"), piece.name.as_str()));
    let copies = copies(design).map(|copy| (copy.field, copy.name));
    listed.chain(copies).collect()
}

/// Names of the points and of the lines that the pattern has besides the cell's.
pub(super) fn places_given(design: &PatternDesign) -> [Given<'_>; 2] {
    let points = design.points.iter();
    let points = points.map(|(name, _)| (format!("points.{name}"), name.as_str()));
    let lines = design.lines.iter();
    let lines = lines.map(|(name, _)| (format!("lines.{name}"), name.as_str()));
    [points.collect(), lines.collect()]
}

pub(super) fn unknown_piece(design: &PatternDesign, field: &str, name: &str) -> Finding {
    let pieces = pieces_given(design);
    let text = format!("there is no piece `{name}`");
    Finding::error("unknown-piece", field, text).hint(known(pieces.iter().map(|(_, name)| *name)))
}

pub(super) fn point_fault(design: &PatternDesign, field: String, name: &str) -> Option<Finding> {
    let corners = design.cell.corners().iter().copied();
    let all: Vec<&str> = corners
        .chain(design.points.iter().map(|(name, _)| name.as_str()))
        .collect();
    let is_known = all.contains(&name);
    let text = format!("there is no point `{name}`");
    (!is_known).then(|| Finding::error("unknown-point", field, text).hint(known(all)))
}

pub(super) fn wall_fault(design: &PatternDesign, field: String, name: &str) -> Option<Finding> {
    let walls = design.cell.walls();
    let text = format!("there is no wall `{name}`");
    let hint = known(walls.iter().copied());
    (!walls.contains(&name)).then(|| Finding::error("unknown-wall", field, text).hint(hint))
}
