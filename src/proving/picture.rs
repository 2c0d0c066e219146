//! What a proof simulated, as a picture: the bundle from above with the cuts that were found, the
//! tool's way, and a mark wherever a fault lies.

use super::program::ProvenPart;
use crate::geometry::Point;
use crate::instructions::drawing::{Drawing, Role};
use crate::instructions::proof::{ProofAnswer, SlotFound};
use crate::instructions::tool_path::ProgramWork;
use crate::verification::trace::{Trace, trace};

/// Room around the bundle, mm.
const AROUND_MM: f64 = 8.0;

/// Moves that are drawn; more of them make a picture that shows nothing.
const MOST_DRAWN: usize = 20_000;

/// Draws the proof of a part of a program.
pub fn proof_picture(bytes: &[u8], part: &ProvenPart) -> Drawing {
    let [first, last] = part.lines;
    let mut traces = trace(bytes, last);
    traces.retain(|step| step.line >= first);
    traces.truncate(MOST_DRAWN);
    picture(part, &traces)
}

fn picture(part: &ProvenPart, traces: &[Trace]) -> Drawing {
    let answer = &part.answer;
    let [[left, right], [front, back]] = part.workpiece.hull();
    let low = Point::new(left - AROUND_MM, front - AROUND_MM);
    let high = Point::new(right + AROUND_MM, back + AROUND_MM);
    let mut drawing = Drawing::new(format!("Proof of {}", answer.file), low, high);
    for (at, [x, y]) in part.wood.iter().enumerate() {
        let role = if at % 2 == 0 {
            Role::Wood
        } else {
            Role::WoodBehind
        };
        drawing.rectangle(role, Point::new(x[0], y[0]), Point::new(x[1], y[1]));
    }
    for slot in &answer.slots {
        drawing.area(Role::Cut, slot_ring(slot));
    }
    for way in ways(traces) {
        drawing.line(Role::Path, way);
    }
    for (at, lines) in places(answer, traces) {
        mark(&mut drawing, at, &lines);
    }
    // Pieces of a row have no slot of their own.
    let in_order = answer.work != ProgramWork::Mitres;
    let wrong = answer.notches.iter().filter(|notch| !notch.ok && in_order);
    for notch in wrong {
        let text = format!("notch {} is wrong", notch.index);
        let x = notch
            .centre_error_mm
            .and_then(|_| slot_of(answer, notch.index))
            .unwrap_or(left);
        drawing.text(
            Role::Fault,
            Point::new(x, back + AROUND_MM / 2.0),
            2.0,
            text,
        );
    }
    drawing
}

/// Along the lower edges to the back, and along the upper ones again to the front.
fn slot_ring(slot: &SlotFound) -> Vec<Point> {
    let low = slot
        .outline_mm
        .iter()
        .map(|[y, low, _]| Point::new(*low, *y));
    let high = slot.outline_mm.iter().rev();
    low.chain(high.map(|[y, _, high]| Point::new(*high, *y)))
        .collect()
}

/// The notches are numbered from the datum end, as the cuts lie.
fn slot_of(answer: &ProofAnswer, index: usize) -> Option<f64> {
    let mut middles: Vec<f64> = answer
        .slots
        .iter()
        .map(|slot| f64::midpoint(slot.centre_mm[0], slot.centre_mm[1]))
        .collect();
    middles.sort_by(f64::total_cmp);
    middles.get(index.checked_sub(1)?).copied()
}

/// The tool's ways at a feed, from above; rapid moves part them.
fn ways(traces: &[Trace]) -> Vec<Vec<Point>> {
    let mut ways: Vec<Vec<Point>> = vec![Vec::new()];
    for trace in traces {
        let [Some(x), Some(y), _] = trace.to else {
            continue;
        };
        if trace.rapid {
            ways.push(Vec::new());
        }
        if let Some(way) = ways.last_mut() {
            way.push(Point::new(x, y));
        }
    }
    ways.retain(|way| way.len() > 1);
    ways
}

/// Where the tool is after a line.
fn place_of(line: usize, traces: &[Trace]) -> Option<Point> {
    let last = traces
        .iter()
        .rfind(|trace| line > 0 && trace.line <= line)?;
    match last.to {
        [Some(x), Some(y), _] => Some(Point::new(x, y)),
        _ => None,
    }
}

/// Faults nearer than this to each other share a mark, mm.
const SHARED_MM: f64 = 4.0;

/// Where faults lie, with the lines of those that lie there.
fn places(answer: &ProofAnswer, traces: &[Trace]) -> Vec<(Point, Vec<usize>)> {
    let mut places: Vec<(Point, Vec<usize>)> = Vec::new();
    for line in answer.faults.iter().map(|fault| fault.line) {
        let Some(at) = place_of(line, traces) else {
            continue;
        };
        match places
            .iter_mut()
            .find(|(known, _)| known.to(at).length() < SHARED_MM)
        {
            Some((_, lines)) if lines.contains(&line) => {}
            Some((_, lines)) => lines.push(line),
            None => places.push((at, vec![line])),
        }
    }
    places
}

fn mark(drawing: &mut Drawing, at: Point, lines: &[usize]) {
    const ARM: f64 = 1.5;
    for (dx, dy) in [(ARM, ARM), (ARM, -ARM)] {
        let ends = [
            Point::new(at.x - dx, at.y - dy),
            Point::new(at.x + dx, at.y + dy),
        ];
        drawing.line(Role::Fault, ends.to_vec());
    }
    let text = match lines {
        [] => String::new(),
        [line] => format!("line {line}"),
        [line, more @ ..] => format!("line {line} and {} more", more.len()),
    };
    drawing.text(Role::Fault, Point::new(at.x, at.y - 2.0 * ARM), 1.6, text);
    drawing.low = Point::new(
        drawing.low.x.min(at.x - 2.0 * ARM),
        drawing.low.y.min(at.y - 4.0 * ARM),
    );
    drawing.high = Point::new(
        drawing.high.x.max(at.x + 2.0 * ARM),
        drawing.high.y.max(at.y + 2.0 * ARM),
    );
}
