//! Pattern files: the rules for the pieces of a cell.
//!
//! | key | says |
//! | --- | --- |
//! | `about` | one line |
//! | `cell` | `square`, `triangle` (base down) or `rhomb` (sharp corner at the south-west) |
//! | `neighbours` | `same`, `mirror` or `turn`: see [`Neighbours`] |
//! | `rectangles` | `true` where the figure also holds in oblong cells |
//! | `rhombs` | `true` where a figure for squares also holds in rhombs |
//! | `thickness`, `depth` | the pieces' wood as parts of the strips', where the job says nothing of it |
//! | `middle` | the corner that lies at the panel's middle, where cells are mirrored |
//! | `greatest` | greatest thickness of its pieces as a share of the pitch (`0.15`): above it it is refused |
//! | `locks` | pieces that go in last and hold the others |
//! | `[lines]` | name = `{ through = [point, point] }`, or `{ from = point, angle = "22.5 deg", off = wall }`, counter-clockwise from the wall; without `off` from `south` or `base` |
//! | `[points]` | name = `[x, y]` as fractions of the clear opening (`0.5` or `"1/3"`), in a rhomb along its walls, `{ meet = [line, line] }`, or `{ incentre = [line, line, line] }` |
//! | `[[piece]]` | `name`; `from` and `to`, points or corners; `against` and `lap`, pieces; `horn`, how far it runs on beyond `from`, `to`, in thicknesses of its own; `mouth`, the two pieces whose corner its `from`, its `to` takes as a bird's mouth; `over`, the ends at which it runs on over the strip; `thickness`, `depth`, parts of the pattern's |
//! | `[[junction]]` | `at`, a point; `jig`, a table: piece = angle, or `[left, right]` |
//! | `[[fold]]` | `pieces`: those that are one strip, cut nearly through by a V and bent where one's end meets the next one's |
//! | `[[mirror]]` | `across`, two points; `copies`, a table: piece = name of its copy |
//! | `[[turn]]` | `round`, a point; `steps`, equal steps of a full turn; `copies`, a table: piece = list of names, one for each further step |
//!
//! A line is a wall (`south`, or `base`), one of `[lines]`, or a side or the axis of a piece
//! (`diagonal.left`, `diagonal.axis`). All mirrors come before all turns, so that a part of the figure can be
//! mirrored and then turned about the middle. What a copy ends against, laps and meets is copied with it.
//!
//! Pieces go in as they are written, but those notched from the front before what lies over them, and
//! `locks` last.

use super::fields::{FieldValue, Fields, every, with_document};
use super::reference::PATTERN;
use super::source::{Source, Unreadable};
use crate::finding::Finding;
use crate::infill::{
    CellShape, FoldRule, JunctionRule, LineRule, MirrorRule, Neighbours, Pattern, PatternDesign,
    PatternLine, PatternPoint, PieceRule, PieceSide, SectionShare, TurnRule,
};
use crate::units::Kind;

/// A pattern that was read.
#[derive(Debug, Clone)]
pub struct PatternFile {
    /// Its rules.
    pub pattern: Pattern,
    /// Where findings about it point.
    pub source: Source,
}

/// Reads a pattern's text; `name` is what jobs and messages call it: the shipped name, or the path.
///
/// # Errors
/// All that is wrong with it. Whether its pieces fit a cell shows when it is solved; findings of
/// [`crate::infill::solve`] are about the fields of the same source.
pub fn read_pattern(name: &str, text: &str) -> Result<PatternFile, Unreadable> {
    let (log, read) = with_document(name, text, |_| Some(&PATTERN), |top| read_design(name, top));
    let (design, source) = log.outcome(read)?;
    match Pattern::new(design) {
        Ok(pattern) => Ok(PatternFile { pattern, source }),
        Err(findings) => Err(Unreadable { source, findings }),
    }
}

fn read_design(name: &str, top: Fields<'_>) -> Option<PatternDesign> {
    let about = top.required_text("about");
    let cell = top.required_choice(
        "cell",
        &[
            ("square", CellShape::Square),
            ("triangle", CellShape::Triangle),
            ("rhomb", CellShape::Rhomb),
        ],
    );
    let neighbours = top.required_choice(
        "neighbours",
        &[
            ("same", Neighbours::Same),
            ("mirror", Neighbours::Mirror),
            ("turn", Neighbours::Turn),
        ],
    );
    let rectangles = top.flag_or("rectangles", false);
    let rhombs = top.flag_or("rhombs", false);
    let section = read_share(&top);
    let middle = read_middle(&top);
    let greatest = top.part_within("greatest", "0.001", "1");
    let locks = top.names("locks");
    let lines = read_lines(&top);
    let points = read_points(&top);
    let pieces = top
        .tables("piece")
        .and_then(|tables| every(tables.into_iter().map(read_piece)));
    let junctions = top
        .tables("junction")
        .and_then(|tables| every(tables.into_iter().map(read_junction)));
    let folds = top
        .tables("fold")
        .and_then(|tables| every(tables.into_iter().map(read_fold)));
    let mirrors = top
        .tables("mirror")
        .and_then(|tables| every(tables.into_iter().map(read_mirror)));
    let turns = top
        .tables("turn")
        .and_then(|tables| every(tables.into_iter().map(read_turn)));
    top.finish();
    Some(PatternDesign {
        name: name.to_owned(),
        about: about?,
        cell: cell?,
        neighbours: neighbours?,
        rectangles: rectangles?,
        rhombs: rhombs?,
        section: section?,
        middle: middle?,
        greatest: greatest?,
        locks: locks?,
        lines: lines?,
        points: points?,
        pieces: pieces?,
        junctions: junctions?,
        folds: folds?,
        mirrors: mirrors?,
        turns: turns?,
    })
}

fn read_lines(top: &Fields<'_>) -> Option<Vec<(String, LineRule)>> {
    let entries = top.entries("lines")?;
    every(
        entries
            .into_iter()
            .map(|(name, item)| Some((name, read_line(&item)?))),
    )
}

const LINE: &str = "write { through = [point, point] }; or { from = point, angle = \"22.5 deg\" }, \
                    with off = wall where the angle is not to the first wall";

fn read_line(item: &FieldValue<'_, '_>) -> Option<LineRule> {
    let fields = item.table(LINE)?;
    let through = fields.names("through")?;
    let from = fields.text("from");
    let angle = fields.quantity("angle", Kind::Angle);
    let off = fields.text("off");
    let written = ["through", "from", "angle", "off"].map(|key| fields.has(key));
    fields.finish();
    match (through.as_slice(), written) {
        ([one, other], [true, false, false, false]) => {
            Some(LineRule::Through([one.clone(), other.clone()]))
        }
        (_, [false, true, true, has_off]) => {
            if has_off && off.is_none() {
                return None;
            }
            let (from, angle) = (from?, angle?);
            Some(LineRule::Slanted { from, angle, off })
        }
        _ => {
            let text = "a line runs `through` two points, or `from` one at an `angle`";
            item.report("wrong-count", text, LINE);
            None
        }
    }
}

fn read_points(top: &Fields<'_>) -> Option<Vec<(String, PatternPoint)>> {
    let entries = top.entries("points")?;
    every(
        entries
            .into_iter()
            .map(|(name, item)| Some((name, read_place(&item)?))),
    )
}

const PLACE: &str = "write fractions of the opening's width and height, such as [0.5, 0]; or \
                     { meet = [line, line] }; or { incentre = [line, line, line] }";

fn read_place(item: &FieldValue<'_, '_>) -> Option<PatternPoint> {
    let Some(fields) = item.as_table() else {
        let numbers = item.numbers(PLACE)?;
        let [x, y] = numbers[..] else {
            item.report("wrong-count", "a point has two fractions", PLACE);
            return None;
        };
        return Some(PatternPoint::Fraction { x, y });
    };
    let meet = fields.names("meet").map(lines);
    let incentre = fields.names("incentre").map(lines);
    fields.finish();
    match (meet?.as_slice(), incentre?.as_slice()) {
        ([a, b], []) => Some(PatternPoint::Meet([a.clone(), b.clone()])),
        ([], [a, b, c]) => Some(PatternPoint::Incentre([a.clone(), b.clone(), c.clone()])),
        _ => {
            let text = "a point is where two lines `meet`, or the `incentre` of three";
            item.report("wrong-count", text, PLACE);
            None
        }
    }
}

fn lines(names: Vec<String>) -> Vec<PatternLine> {
    names.into_iter().map(line).collect()
}

fn line(name: String) -> PatternLine {
    let Some((piece, end)) = name.rsplit_once('.') else {
        return PatternLine::Named(name);
    };
    let piece = piece.to_owned();
    match end {
        "left" => PatternLine::Side {
            piece,
            side: PieceSide::Left,
        },
        "right" => PatternLine::Side {
            piece,
            side: PieceSide::Right,
        },
        "axis" => PatternLine::Axis { piece },
        _ => PatternLine::Named(name),
    }
}

fn read_piece(fields: Fields<'_>) -> Option<PieceRule> {
    let name = fields.required_text("name");
    let from = fields.required_text("from");
    let to = fields.required_text("to");
    let against = fields.names("against");
    let laps = fields.names("lap");
    let horns = read_horns(&fields);
    let mouths = read_mouths(&fields);
    let over = read_ends(&fields, "over");
    let section = read_share(&fields);
    fields.finish();
    Some(PieceRule {
        name: name?,
        from: from?,
        to: to?,
        against: against?,
        laps: laps?,
        horns: horns?,
        mouths: mouths?,
        over: over?,
        section: section?,
    })
}

/// Thickness and depth as parts of others.
fn read_share(fields: &Fields<'_>) -> Option<SectionShare> {
    let thickness = fields.part_within("thickness", "0.1", "1");
    let depth = fields.part_within("depth", "0.1", "1");
    Some(SectionShare {
        thickness: thickness?.unwrap_or(1.0),
        depth: depth?.unwrap_or(1.0),
    })
}

/// The corner for the panel's middle, if one is named.
fn read_middle(top: &Fields<'_>) -> Option<Option<String>> {
    if top.has("middle") {
        top.text("middle").map(Some)
    } else {
        Some(None)
    }
}

/// Ends by their names: `from`, `to` or both.
fn read_ends(fields: &Fields<'_>, key: &'static str) -> Option<[bool; 2]> {
    let names = fields.names(key)?;
    let is_end = |name: &String| ["from", "to"].contains(&name.as_str());
    if let Some(other) = names.iter().find(|name| !is_end(name)) {
        let text = format!("a piece has no end `{other}`");
        let finding = Finding::error("no-such-end", fields.path(key), text);
        fields.report(finding.hint("write \"from\", \"to\" or a list of both"));
        return None;
    }
    Some(["from", "to"].map(|end| names.iter().any(|name| name == end)))
}

fn read_horns(fields: &Fields<'_>) -> Option<[Option<f64>; 2]> {
    if !fields.has("horn") {
        return Some([None; 2]);
    }
    let horns = fields.table("horn")?;
    let from = horns.part_within("from", "0", "20");
    let to = horns.part_within("to", "0", "20");
    horns.finish();
    Some([from?, to?])
}

fn read_mouths(fields: &Fields<'_>) -> Option<[Option<[String; 2]>; 2]> {
    if !fields.has("mouth") {
        return Some([None, None]);
    }
    let mouths = fields.table("mouth")?;
    let from = read_corner(&mouths, "from");
    let to = read_corner(&mouths, "to");
    mouths.finish();
    Some([from?, to?])
}

/// The two pieces of a corner: `Some(None)` where it is not written.
fn read_corner(fields: &Fields<'_>, key: &'static str) -> Option<Option<[String; 2]>> {
    let names = fields.names(key)?;
    match names.as_slice() {
        [] if !fields.has(key) => Some(None),
        [one, other] => Some(Some([one.clone(), other.clone()])),
        _ => {
            let text = "a corner has two pieces";
            let hint = "write a list of two names, such as [\"bar\", \"bar-2\"]; an end against one piece \
                        is written `against`";
            let finding = Finding::error("wrong-count", fields.path(key), text);
            fields.report(finding.hint(hint));
            None
        }
    }
}

fn read_junction(fields: Fields<'_>) -> Option<JunctionRule> {
    let at = fields.required_text("at");
    let jig = fields.entries("jig").and_then(|entries| {
        every(
            entries
                .into_iter()
                .map(|(name, item)| Some((name, read_angles(&item)?))),
        )
    });
    fields.finish();
    Some(JunctionRule { at: at?, jig: jig? })
}

/// One jig angle for both sides, or left and right.
fn read_angles(item: &FieldValue<'_, '_>) -> Option<[f64; 2]> {
    match item.quantities(Kind::Angle)?[..] {
        [both] => Some([both, both]),
        [left, right] => Some([left, right]),
        _ => {
            let hint = "write one angle for both sides, or a list of two: left and right of the \
                        piece, seen from its `from` to its `to`";
            item.report("wrong-count", "an end has two facets", hint);
            None
        }
    }
}

/// The pieces of a folded strip.
fn read_fold(fields: Fields<'_>) -> Option<FoldRule> {
    let pieces = fields.names("pieces");
    fields.require(
        "pieces",
        "a list of two pieces or more, in the order along the strip",
    );
    let pieces = match pieces {
        Some(pieces) if pieces.len() == 1 => {
            let text = "one piece alone has no bend";
            let finding = Finding::error("wrong-count", fields.path("pieces"), text);
            fields.report(finding.hint("write a list of two names or more, such as [\"bar\", \"bar-2\"], in the order along the strip"));
            None
        }
        pieces => pieces,
    };
    fields.finish();
    Some(FoldRule { pieces: pieces? })
}

fn read_mirror(fields: Fields<'_>) -> Option<MirrorRule> {
    let across = fields.names("across");
    fields.require("across", "a list of two points on the mirror's line");
    let copies = fields.entries("copies").and_then(|entries| {
        every(
            entries
                .into_iter()
                .map(|(name, item)| Some((name, item.text()?))),
        )
    });
    let across = match across.as_deref() {
        Some([one, other]) => Some([one.clone(), other.clone()]),
        Some(points) if !points.is_empty() || fields.has("across") => {
            let text = "a mirror's line is given by two points";
            let finding = Finding::error("wrong-count", fields.path("across"), text);
            fields.report(finding.hint("write a list of two points"));
            None
        }
        _ => None,
    };
    fields.finish();
    Some(MirrorRule {
        across: across?,
        copies: copies?,
    })
}

/// A turn has so many steps at most: twelve are a twelfth of a full turn, 30 degrees.
const MOST_STEPS: u32 = 12;

fn read_turn(fields: Fields<'_>) -> Option<TurnRule> {
    let round = fields.required_text("round");
    let steps = fields.required_count("steps", 2..=MOST_STEPS);
    let copies = fields.entries("copies").and_then(|entries| {
        every(
            entries
                .into_iter()
                .map(|(name, item)| Some((name, item.names()?))),
        )
    });
    fields.finish();
    Some(TurnRule {
        round: round?,
        steps: steps?,
        copies: copies?,
    })
}
