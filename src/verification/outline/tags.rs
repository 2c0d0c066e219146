//! The file as text: what a reader that interprets it may hide.

use super::{OutlineFault, entities};
use crate::geometry::Point;
use std::collections::HashSet;

/// One group code with its value.
#[derive(Clone, Copy)]
pub(super) struct Tag<'a> {
    pub(super) code: u16,
    pub(super) value: &'a str,
    /// Line of the code, from 1.
    pub(super) line: usize,
}

/// What the text says about itself.
pub(super) struct Survey {
    /// Polylines of either kind.
    pub(super) entities: usize,
    /// `$EXTMIN`.
    pub(super) least: Option<Point>,
    /// `$EXTMAX`.
    pub(super) greatest: Option<Point>,
}

pub(super) fn fault(code: &'static str, line: usize, text: &str) -> OutlineFault {
    OutlineFault::new(code, format!("line {line}: {text}"))
}

/// Splits the bytes into tags. Every line must be there: a reader that stops at an empty line or
/// a broken tag would silently miss the rest.
fn split(bytes: &[u8]) -> Result<Vec<Tag<'_>>, OutlineFault> {
    let text = str::from_utf8(bytes).ok().filter(|text| text.is_ascii());
    let text = text.ok_or_else(|| OutlineFault::new("not-dxf", "not plain ASCII text"))?;
    let mut tags = Vec::new();
    let mut lines = text.lines().zip(1..);
    while let Some((code, line)) = lines.next() {
        let code = code.trim().parse();
        let code = code.map_err(|_| fault("not-dxf", line, "not a group code"))?;
        let (value, _) = lines
            .next()
            .ok_or_else(|| fault("not-dxf", line, "a group code without a value"))?;
        let value = value.trim();
        tags.push(Tag { code, value, line });
    }
    match tags.last() {
        Some(tag) if (tag.code, tag.value) == (0, "EOF") => Ok(tags),
        _ => Err(OutlineFault::new("not-dxf", "the file does not end in EOF")),
    }
}

/// Looks through the text of a file.
///
/// # Errors
/// A fault where it cannot be split into tags at all; lesser faults go to `faults`.
pub(super) fn survey(bytes: &[u8], faults: &mut Vec<OutlineFault>) -> Result<Survey, OutlineFault> {
    let tags = split(bytes)?;
    let header = section(&tags, "HEADER");
    let version = variable(header, "$ACADVER").map(|tag| tag.value);
    let lightweight = match version {
        Some("AC1015") => true,
        Some("AC1009") => false,
        _ => {
            let text = "$ACADVER is neither AC1015 nor AC1009, or is there more than once";
            return Err(OutlineFault::new("version", text));
        }
    };
    for (name, wanted, why) in [
        ("$INSUNITS", "4", "millimetres"),
        ("$MEASUREMENT", "1", "metric"),
    ] {
        if variable(header, name).map(|tag| (tag.code, tag.value)) != Some((70, wanted)) {
            let text = format!("{name} must be there once and say {wanted} ({why})");
            faults.push(OutlineFault::new("units", text));
        }
    }
    blocks_are_empty(section(&tags, "BLOCKS"), faults);
    if lightweight {
        handles(&tags, header, faults);
    }
    let layers = layers(section(&tags, "TABLES"));
    let body = section(&tags, "ENTITIES");
    Ok(Survey {
        entities: entities::check(body, lightweight, &layers, faults),
        least: corner(header, "$EXTMIN"),
        greatest: corner(header, "$EXTMAX"),
    })
}

/// Tags of a section, without its head and end.
fn section<'t, 'a>(tags: &'t [Tag<'a>], name: &str) -> &'t [Tag<'a>] {
    let head = tags.windows(2).position(|pair| match pair {
        [first, second] => {
            (first.code, first.value) == (0, "SECTION") && (second.code, second.value) == (2, name)
        }
        _ => false,
    });
    let body = head
        .and_then(|head| tags.get(head + 2..))
        .unwrap_or_default();
    let end = body
        .iter()
        .position(|tag| tag.code == 0 && tag.value == "ENDSEC");
    body.get(..end.unwrap_or(body.len())).unwrap_or_default()
}

/// The first value of a header variable that is there exactly once.
fn variable<'a>(header: &[Tag<'a>], name: &str) -> Option<Tag<'a>> {
    values(header, name).first().copied()
}

fn values<'t, 'a>(header: &'t [Tag<'a>], name: &str) -> &'t [Tag<'a>] {
    let mut named = header
        .iter()
        .enumerate()
        .filter(|(_, tag)| tag.code == 9 && tag.value == name);
    match (named.next(), named.next()) {
        (Some((at, _)), None) => header.get(at + 1..).unwrap_or_default(),
        _ => &[],
    }
}

fn corner(header: &[Tag], name: &str) -> Option<Point> {
    match values(header, name) {
        [x, y, ..] if (x.code, y.code) == (10, 20) => {
            Some(Point::new(x.value.parse().ok()?, y.value.parse().ok()?))
        }
        _ => None,
    }
}

/// Names in the layer table.
fn layers<'a>(tables: &[Tag<'a>]) -> HashSet<&'a str> {
    records(tables)
        .filter(|(head, _)| head.value == "LAYER")
        .filter_map(|(_, record)| record.iter().find(|tag| tag.code == 2))
        .map(|tag| tag.value)
        .collect()
}

/// Each tag of group 0 with the tags up to the next one.
pub(super) fn records<'t, 'a>(
    tags: &'t [Tag<'a>],
) -> impl Iterator<Item = (&'t Tag<'a>, &'t [Tag<'a>])> {
    let heads = tags.iter().filter(|tag| tag.code == 0);
    // What stands before the first head is no record.
    heads.zip(tags.split(|tag| tag.code == 0).skip(1))
}

fn blocks_are_empty(blocks: &[Tag], faults: &mut Vec<OutlineFault>) {
    let strange = |tag: &&Tag| tag.code == 0 && !["BLOCK", "ENDBLK"].contains(&tag.value);
    for tag in blocks.iter().filter(strange) {
        faults.push(fault("entity", tag.line, "a block with something in it"));
    }
}

/// Every handle once, all below the next free one.
fn handles(tags: &[Tag], header: &[Tag], faults: &mut Vec<OutlineFault>) {
    let parse = |tag: Tag| u64::from_str_radix(tag.value, 16).ok();
    let Some(next) = variable(header, "$HANDSEED").and_then(parse) else {
        faults.push(OutlineFault::new("handle", "$HANDSEED is missing"));
        return;
    };
    let mut known = HashSet::new();
    let body = tags.iter().skip_while(|tag| tag.value != "ENDSEC");
    for tag in body.filter(|tag| matches!(tag.code, 5 | 105)) {
        match parse(*tag) {
            Some(handle) if handle > 0 && handle < next => {
                if !known.insert(handle) {
                    faults.push(fault("handle", tag.line, "this handle is taken already"));
                }
            }
            _ => faults.push(fault("handle", tag.line, "not a handle below $HANDSEED")),
        }
    }
}
