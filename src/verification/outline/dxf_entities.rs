//! The entities as text: only polylines on known layers, with nothing that bends, lifts or widens
//! them.

use super::dxf_tags::{Tag, fault, records};
use super::report::OutlineFault;
use crate::instructions::outline::CutWork;
use std::collections::HashSet;

/// Group codes that an entity may carry here; `None` for an entity that does not belong. Anything
/// else (arcs, widths, heights, other planes) would change what is cut.
fn known_groups(kind: &str, lightweight: bool) -> Option<&'static [u16]> {
    Some(match (kind, lightweight) {
        ("LWPOLYLINE", true) => &[5, 8, 10, 20, 70, 90, 100, 330],
        ("POLYLINE", false) => &[8, 10, 20, 30, 66, 70],
        ("VERTEX", false) => &[8, 10, 20, 30],
        ("SEQEND", false) => &[8],
        _ => return None,
    })
}

/// Checks entity by entity; the number of polylines.
pub(super) fn check(
    section: &[Tag],
    lightweight: bool,
    layers: &HashSet<&str>,
    faults: &mut Vec<OutlineFault>,
) -> usize {
    let mut polylines = 0;
    // Layer of the old-style polyline whose vertices are being read.
    let mut inside: Option<&str> = None;
    for (head, body) in records(section) {
        let kind = head.value;
        let mut report = |code, text: &str| faults.push(fault(code, head.line, text));
        let Some(groups) = known_groups(kind, lightweight) else {
            report("entity", &format!("{kind} does not belong here"));
            continue;
        };
        check_groups(body, groups, &mut report);
        let layer = only(body, 8).unwrap_or_default();
        if !CutWork::IN_ORDER.iter().any(|work| work.layer() == layer) || !layers.contains(layer) {
            report("layer", &format!("there is no layer {layer:?} for work"));
        }
        let begins = matches!(kind, "LWPOLYLINE" | "POLYLINE");
        if begins == inside.is_some() {
            let text = "vertices that do not follow a polyline, or no SEQEND after them";
            report("entity", text);
        }
        if begins {
            polylines += 1;
            check_polyline(body, lightweight, &mut report);
        }
        match kind {
            "POLYLINE" => inside = Some(layer),
            "VERTEX" if [10, 20, 30].iter().any(|code| only(body, *code).is_none()) => {
                report(
                    "vertex-count",
                    "a VERTEX needs groups 10, 20 and 30, each once",
                );
            }
            "VERTEX" if inside.is_some_and(|polyline| polyline != layer) => {
                report("layer", "a vertex on another layer than its polyline");
            }
            "SEQEND" => inside = None,
            _ => {}
        }
    }
    if inside.is_some() {
        let text = "the last POLYLINE has no SEQEND";
        faults.push(OutlineFault::new("entity", text));
    }
    polylines
}

/// The value of a group that is there exactly once.
fn only<'a>(body: &[Tag<'a>], code: u16) -> Option<&'a str> {
    let mut found = body.iter().filter(|tag| tag.code == code);
    match (found.next(), found.next()) {
        (Some(tag), None) => Some(tag.value),
        _ => None,
    }
}

fn check_groups(body: &[Tag], groups: &[u16], report: &mut impl FnMut(&'static str, &str)) {
    for tag in body {
        if !groups.contains(&tag.code) {
            report("group", &format!("unexpected group {}", tag.code));
        }
        let plain = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
        if matches!(tag.code, 10 | 20 | 30) && !tag.value.chars().all(plain) {
            report("number", &format!("{} is not a plain decimal", tag.value));
        }
        if tag.code == 30 && tag.value.parse() != Ok(0.0) {
            report("group", "a height above the sheet's plane");
        }
    }
}

fn check_polyline(body: &[Tag], lightweight: bool, report: &mut impl FnMut(&'static str, &str)) {
    if !matches!(only(body, 70), Some("0" | "1")) {
        report("flag", "group 70 must say 0 (open) or 1 (closed)");
    }
    if !lightweight {
        if only(body, 66) != Some("1") {
            report("flag", "a POLYLINE needs group 66 = 1");
        }
        return;
    }
    // Readers pair them as they come.
    let coordinates = body.iter().filter(|tag| matches!(tag.code, 10 | 20));
    let pairs: Vec<u16> = coordinates.map(|tag| tag.code).collect();
    let count: Option<usize> = only(body, 90).and_then(|count| count.parse().ok());
    if count != Some(pairs.len() / 2) || !pairs.chunks(2).all(|pair| pair == [10, 20]) {
        report(
            "vertex-count",
            "group 90 is not the number of vertices that follow",
        );
    }
}
