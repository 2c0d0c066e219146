//! What points and lines rest on, from one to the next: whether that comes to an end, and whether the
//! pieces among it come in order.

use super::design::{LineRule, PatternDesign, PatternLine, PatternPoint};
use crate::finding::Finding;

pub(super) fn lines(place: &PatternPoint) -> &[PatternLine] {
    match place {
        PatternPoint::Fraction { .. } => &[],
        PatternPoint::Meet(lines) => lines,
        PatternPoint::Incentre(lines) => lines,
    }
}

fn points(line: &LineRule) -> Vec<&str> {
    match line {
        LineRule::Through(points) => points.iter().map(String::as_str).collect(),
        LineRule::Slanted { from, .. } => vec![from],
    }
}

/// All that a point rests on.
#[derive(Default)]
struct Rests<'d> {
    points: Vec<&'d str>,
    pieces: Vec<&'d str>,
    /// A point that rests on itself.
    ring: Option<&'d str>,
}

impl<'d> Rests<'d> {
    /// Goes down from a point; `above` are those through which it is reached.
    fn add(&mut self, design: &'d PatternDesign, point: &str, above: &mut Vec<&'d str>) {
        let Some((point, place)) = design.points.iter().find(|(name, _)| name == point) else {
            return;
        };
        if above.contains(&point.as_str()) {
            self.ring = Some(point);
        }
        if self.ring.is_some() || self.points.contains(&point.as_str()) {
            return;
        }
        above.push(point);
        for line in lines(place) {
            match line {
                PatternLine::Side { piece, .. } | PatternLine::Axis { piece } => {
                    self.pieces.push(piece);
                }
                PatternLine::Named(name) => {
                    let rule = design.lines.iter().find(|(line, _)| line == name);
                    for point in rule.map(|(_, rule)| points(rule)).unwrap_or_default() {
                        self.add(design, point, above);
                    }
                }
            }
        }
        above.pop();
        self.points.push(point);
    }
}

/// Points that cannot be found because they rest on themselves.
pub(super) fn ring_faults(design: &PatternDesign) -> Vec<Finding> {
    let fault = |(name, _): &(String, PatternPoint)| {
        let mut rests = Rests::default();
        rests.add(design, name, &mut Vec::new());
        let ring = rests.ring?;
        let text = format!("to find `{name}`, `{ring}` would have to be known before itself");
        let hint = "let its lines run through other points, or from a corner of the cell";
        Some(Finding::error("leads-back", format!("points.{name}"), text).hint(hint))
    };
    design.points.iter().filter_map(fault).collect()
}

/// Whether a point rests on a piece that comes later, or on the piece itself.
pub(super) fn order_fault(
    design: &PatternDesign,
    field: &str,
    index: usize,
    point: &str,
) -> Option<Finding> {
    let mut rests = Rests::default();
    rests.add(design, point, &mut Vec::new());
    let later = rests.pieces.into_iter().find(|name| {
        let at = design.pieces.iter().position(|p| p.name == *name);
        at.is_some_and(|at| at >= index)
    })?;
    let text = format!("`{point}` lies on `{later}`, which is not defined yet here");
    let hint = format!("write `{later}` above this piece, or choose another point");
    Some(Finding::error("order", field, text).hint(hint))
}
