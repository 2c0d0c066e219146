//! A DXF file's text as a whole: header, tables, handles, entities.

use super::contours::Contour;
use super::dxf_entities;
use super::dxf_tags::{Tag, fault, records, split};
use super::report::{OutlineFault, TOLERANCE_MM, place};
use crate::geometry::{Point, bounds};
use std::collections::HashSet;

/// What the text says about itself.
pub(super) struct Survey {
    /// Polylines of either kind.
    pub(super) entities: usize,
    /// `$EXTMIN`.
    pub(super) least: Option<Point>,
    /// `$EXTMAX`.
    pub(super) greatest: Option<Point>,
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
        entities: dxf_entities::check(body, lightweight, &layers, faults),
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

/// Programs that scale to fit believe the extents in the header.
pub(super) fn check_extents(survey: &Survey, contours: &[Contour], faults: &mut Vec<OutlineFault>) {
    let points = contours.iter().flat_map(|contour| &contour.points);
    let Some((low, high)) = bounds(points.copied()) else {
        return;
    };
    for (name, said, is) in [
        ("$EXTMIN", survey.least, low),
        ("$EXTMAX", survey.greatest, high),
    ] {
        if !said.is_some_and(|said| said.to(is).length() < TOLERANCE_MM) {
            faults.push(OutlineFault::new(
                "extents",
                format!("{name} is not {}", place(is)),
            ));
        }
    }
}
