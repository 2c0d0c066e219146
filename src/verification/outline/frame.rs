//! Whether a drawing holds a frame's members as parts that go together.
//!
//! What is wanted follows from where members lie in the panel: their outer corners are where the lines of
//! outer edges meet. What was drawn is put back there, and has to close.

use super::contours::{self, Contour};
use super::dxf_survey::{check_extents, survey};
use super::engraving;
use super::frame_joints::{Drawn, check_joints};
use super::frame_wanted::{FrameOrder, WantedMember};
use super::report::{OutlineFault, OutlineReport, TOLERANCE_MM, called};
use super::rings::{moved, placed, to_corner, vertex_distance};
use super::wanted_part::{Engraved, EngravedText};
use crate::geometry::{Point, bounds};
use crate::instructions::outline::{CutWork, FrameLine};

/// An outline farther than this from every member's, in mm, is none of them.
const NEAR_MM: f64 = 1.0;

/// Checks a DXF file of a frame's members.
///
/// In: the file's bytes; what the members are. Out: what was found and all that is wrong. Members may lie
/// anywhere, but are not turned. Not checked: in which order paths stand, and where on a member its name
/// stands.
///
/// Codes: those of [`super::check_sheet`] for the file as such; `count`, `vertex-off`, `missing`, `surplus`,
/// `words`, `mark-surplus` for members and what lies on them, `overlap` for members that lie over each
/// other in the drawing; of the members put together `joint-open`, `mitres`, `members-overlap`,
/// `tenon-too-long`, `tenon-off-mortise`.
pub fn check_frame(bytes: &[u8], order: &FrameOrder<'_>) -> OutlineReport {
    let mut report = OutlineReport {
        contours: 0,
        worst_error_mm: 0.0,
        faults: Vec::new(),
    };
    let read = survey(bytes, &mut report.faults)
        .and_then(|survey| Ok((survey, contours::read(bytes, &mut report.faults)?)));
    let (survey, found) = match read {
        Ok(read) => read,
        Err(fault) => {
            report.faults.push(fault);
            return report;
        }
    };
    report.contours = found.len();
    check_extents(&survey, &found, &mut report.faults);
    if found.len() != survey.entities {
        let text = "not all lines could be read";
        report.faults.push(OutlineFault::new("unreadable", text));
    }
    let wanted = order.members();
    let drawn = matched(&found, &wanted, &mut report);
    check_joints(order, &drawn, &mut report.faults);
    report
}

/// Whether a drawing holds lines that only a frame's members have.
pub fn holds_members(bytes: &[u8]) -> bool {
    let found = contours::read(bytes, &mut Vec::new()).unwrap_or_default();
    let own = |contour: &Contour| matches!(contour.work, CutWork::Frame(line) if line != FrameLine::Members);
    found.iter().any(own)
}

/// Every outline with the member that it must be, and what is wrong with each.
fn matched<'w>(
    found: &[Contour],
    wanted: &'w [WantedMember],
    report: &mut OutlineReport,
) -> Vec<Drawn<'w>> {
    let mut used = vec![false; found.len()];
    let mut left: Vec<&WantedMember> = wanted.iter().collect();
    let mut drawn: Vec<Drawn<'w>> = Vec::new();
    let outlines = found.iter().enumerate();
    for (index, outline) in outlines.filter(|(_, c)| c.work == CutWork::Outlines) {
        let own = own_lines(found, outline);
        let tried = left.iter().enumerate().filter_map(|(at, member)| {
            let ring = placed(&member.ring, &outline.points);
            let off = vertex_distance(&ring, &outline.points, true);
            (off < NEAR_MM).then(|| (at, off, compared(member, outline, &own, found)))
        });
        let best = tried.min_by(|(_, a_off, a), (_, b_off, b)| {
            let faults = a.faults.len().cmp(&b.faults.len());
            faults.then(a_off.total_cmp(b_off))
        });
        used[index] = true;
        let Some((at, off, compared)) = best else {
            let name = called(CutWork::Outlines, outline.points.first().copied());
            let text = format!("{name} is no member of the frame, or there once too often");
            report.faults.push(OutlineFault::new("surplus", text));
            continue;
        };
        let member = left.remove(at);
        report.worst_error_mm = report.worst_error_mm.max(off);
        if off > TOLERANCE_MM || !outline.closed {
            let text = format!("{}: its outline is not as it should be", member.name);
            report.faults.push(OutlineFault::new("vertex-off", text));
        }
        report.faults.extend(compared.faults);
        own.iter().for_each(|line| used[*line] = true);
        drawn.push(compared.drawn);
    }
    for member in left {
        let text = format!("{}: not in the drawing", member.name);
        report.faults.push(OutlineFault::new("count", text));
    }
    for (contour, _) in found.iter().zip(&used).filter(|(_, used)| !**used) {
        let name = called(contour.work, contour.points.first().copied());
        let text = format!("{name} is not on a member");
        report.faults.push(OutlineFault::new("surplus", text));
    }
    apart(found, report);
    drawn
}

/// Indices of the lines that lie in the box round an outline.
fn own_lines(found: &[Contour], outline: &Contour) -> Vec<usize> {
    let Some((low, high)) = bounds(outline.points.iter().copied()) else {
        return Vec::new();
    };
    let inside = |p: &Point| {
        let slack = TOLERANCE_MM;
        p.x > low.x - slack && p.x < high.x + slack && p.y > low.y - slack && p.y < high.y + slack
    };
    let own =
        |contour: &Contour| contour.work != CutWork::Outlines && contour.points.iter().all(inside);
    let all = found.iter().enumerate();
    all.filter(|(_, contour)| own(contour))
        .map(|(at, _)| at)
        .collect()
}

/// What an outline is if it is some member, and what is wrong then.
struct Comparison<'w> {
    drawn: Drawn<'w>,
    faults: Vec<OutlineFault>,
}

fn compared<'w>(
    member: &'w WantedMember,
    outline: &Contour,
    own: &[usize],
    found: &[Contour],
) -> Comparison<'w> {
    let mut faults = Vec::new();
    let by = to_corner(&outline.points, &member.ring);
    let mut lines: Vec<(FrameLine, Vec<Point>)> = Vec::new();
    let mut strokes = Vec::new();
    let mut others = 0;
    for contour in own.iter().filter_map(|at| found.get(*at)) {
        let points = moved(&contour.points, by);
        match contour.work {
            CutWork::Letters => strokes.push(points),
            CutWork::Frame(line) if contour.closed == (line == FrameLine::Mortises) => {
                lines.push((line, points));
            }
            _ => others += 1,
        }
    }
    let mut rest = lines.clone();
    for (line, points) in &member.lines {
        let closed = *line == FrameLine::Mortises;
        let is = |(other, found): &(FrameLine, Vec<Point>)| {
            other == line && vertex_distance(points, found, closed) <= TOLERANCE_MM
        };
        match rest.iter().position(is) {
            Some(at) => {
                rest.swap_remove(at);
            }
            None => {
                let layer = CutWork::Frame(*line).layer();
                let text = format!("{}: a line of layer {layer} is not there", member.name);
                faults.push(OutlineFault::new("missing", text));
            }
        }
    }
    if rest.len() + others > 0 {
        let text = format!(
            "{}: {} lines that belong to nothing",
            member.name,
            rest.len() + others
        );
        faults.push(OutlineFault::new("surplus", text));
    }
    let label = Engraved {
        texts: vec![EngravedText::anywhere(&*member.label)],
        ..Engraved::default()
    };
    if !strokes.is_empty() {
        engraving::check(&member.name, &strokes, &label, &mut faults);
    }
    let ring = moved(&outline.points, by);
    Comparison {
        drawn: Drawn {
            member,
            ring,
            lines,
        },
        faults,
    }
}

/// No member may lie over another in the drawing.
fn apart(found: &[Contour], report: &mut OutlineReport) {
    let boxes = found.iter().filter(|c| c.work == CutWork::Outlines);
    let boxes = boxes.filter_map(|contour| bounds(contour.points.iter().copied()));
    let boxes: Vec<(Point, Point)> = boxes.collect();
    for (at, (low, high)) in boxes.iter().enumerate() {
        let meets = |(other_low, other_high): &&(Point, Point)| {
            low.x < other_high.x
                && other_low.x < high.x
                && low.y < other_high.y
                && other_low.y < high.y
        };
        if boxes.iter().skip(at + 1).any(|other| meets(&other)) {
            let name = called(CutWork::Outlines, Some(*low));
            let text = format!("{name} lies over another");
            report.faults.push(OutlineFault::new("overlap", text));
        }
    }
}
