//! A frame's members as parts: their outlines from the front, and lines of their joints.
//!
//! A member's own frame: x along its inner edge, counter-clockwise round the panel seen from the front, from
//! the inner corner where it begins; y toward the panel's inside. Its wood lies below y 0. The programs of
//! its mortises have the same x.

use super::rails::{corners, rail_names};
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM, Vector, bounds};
use crate::instructions::frame_parts::{FramePart, FrameParts, PartsLayer};
use crate::instructions::lettering;
use crate::instructions::outline::{CutPath, CutWork, FrameLine, SheetDrawing};
use crate::instructions::safety::SafetyNotes;
use crate::lattice::{Frame, Lattice, Member, Rail, Recess, RecessKind, TenonedRail, Tenons};

/// Between two members in the drawing. Common practice, no source, mm.
const APART_MM: f64 = 20.0;

/// Largest letters, mm.
const TALLEST_MM: f64 = 6.0;

/// Smallest letters that are read. Common practice, no source, mm.
const SMALLEST_MM: f64 = 1.0;

/// Free room above and below a label, mm.
const BESIDE_LABEL_MM: f64 = 1.0;

/// Draws all members of a frame; `horn` is what stiles are longer at either end beforehand.
///
/// # Errors
/// What cannot be made, at the job's fields; a frame whose members' widths are not known.
pub fn plan_frame_parts(
    lattice: &Lattice,
    frame: &Frame,
    safety: SafetyNotes,
) -> Result<FrameParts, Vec<Finding>> {
    let made = frame.rails(lattice)?;
    let tenons = corners(lattice, frame, &made.rails)?;
    if frame.widths.is_none() {
        return Err(vec![no_widths()]);
    }
    let names = rail_names(&made.rails);
    let mut members = Vec::new();
    for (at, (rail, name)) in made.rails.iter().zip(&names).enumerate() {
        let mut member = match &tenons {
            Some(tenons) => tenoned(at, rail, tenons, frame.recess.as_ref()),
            None => mitred(rail, frame.recess.as_ref()),
        };
        member.mortises(rail, frame.mortise_depth);
        member.label(name, frame);
        members.push(member);
    }
    let (drawing, placed, size_mm) = laid_out(&members, safety.clone());
    let told = names.into_iter().zip(&members).zip(placed);
    let told = told.map(|((name, member), at_mm)| FramePart {
        name,
        label: member.label.clone(),
        length_mm: member.size().x,
        width_mm: member.width,
        at_mm,
        count: members.iter().filter(|other| member.is_like(other)).count(),
    });
    let front = frame.setback - frame.clearance / 2.0;
    let of_tenons = |tenons: &Tenons| [tenons.from_front, tenons.from_front + tenons.thickness];
    Ok(FrameParts {
        title: lattice.title.clone(),
        files: Vec::new(),
        thickness_mm: frame.thickness,
        mortises_from_front_mm: [front, front + lattice.section.depth + frame.clearance],
        tenons_from_front_mm: tenons.as_ref().map(of_tenons),
        recess_from_front_mm: frame.recess.as_ref().map(Recess::across),
        recess: frame.recess.as_ref().map(Recess::name),
        horn_mm: tenons.as_ref().map(|_| super::frame_joint::HORN_MM),
        layers: layers(&drawing),
        members: told.collect(),
        drawing,
        size_mm,
        safety,
    })
}

fn no_widths() -> Finding {
    let text = "a member cannot be drawn whose width is not known";
    let hint = "add `width`, or `widths` for each member, inner edge to outer edge";
    Finding::error("missing", "frame.width", text).hint(hint)
}

/// A member in its own frame.
struct DrawnMember {
    ring: Vec<Point>,
    width: f64,
    length: f64,
    lines: Vec<(FrameLine, Vec<Point>)>,
    label: Option<String>,
    letters: Vec<Vec<Point>>,
}

/// Whether a rail's start is where one begins who goes round the panel counter-clockwise.
fn runs_round(rail: &Rail) -> bool {
    rail.start.to(rail.end).cross(rail.outward) < 0.0
}

/// A member with a mitre at each end; the recess runs out at both.
fn mitred(rail: &Rail, recess: Option<&Recess>) -> DrawnMember {
    let width = rail.member.as_ref().map_or(0.0, |member| member.width);
    let [mut near, mut far] = rail.member.as_ref().map_or([0.0; 2], Member::reaches);
    if !runs_round(rail) {
        (near, far) = (far, near);
    }
    let length = rail.length();
    let at_depth = |depth: f64| {
        let share = depth / width;
        [-near * share, length + far * share].map(|x| Point::new(x, -depth))
    };
    let [left, right] = at_depth(width);
    let lines = recess.map(|recess| (line_of(recess), at_depth(recess.into_member()).to_vec()));
    DrawnMember {
        ring: vec![left, right, Point::new(length, 0.0), Point::default()],
        width,
        length,
        lines: lines.into_iter().collect(),
        label: None,
        letters: Vec::new(),
    }
}

fn line_of(recess: &Recess) -> FrameLine {
    match recess.kind {
        RecessKind::Rebate => FrameLine::Rebates,
        RecessKind::Groove => FrameLine::Grooves,
    }
}

fn tenoned(at: usize, rail: &Rail, tenons: &Tenons, recess: Option<&Recess>) -> DrawnMember {
    let level = tenons.rails.iter().find(|rail| rail.rail == at);
    let length = rail.length();
    match level {
        Some(level) => between_stiles(level, length, tenons, recess),
        None => {
            let width = tenons.stiles.iter().find(|stile| stile.rail == at);
            let width = width.map_or(0.0, |stile| stile.width);
            let [lower, upper] = &tenons.rails;
            let ends = if runs_round(rail) {
                [lower, upper]
            } else {
                [upper, lower]
            };
            stile(width, length, ends, tenons, recess)
        }
    }
}

/// How far a member reaches beyond its shoulders, from one depth below its inner edge to another.
#[derive(Clone, Copy)]
struct Band {
    depths: [f64; 2],
    beyond: f64,
}

/// A level member: tenon and haunch at either end, at the back as far out as a rebate takes it.
fn between_stiles(
    rail: &TenonedRail,
    length: f64,
    tenons: &Tenons,
    recess: Option<&Recess>,
) -> DrawnMember {
    let behind = (rail.between_back_shoulders - rail.between_shoulders) / 2.0;
    let tenon = [
        rail.from_inner_edge,
        rail.from_inner_edge + rail.tenon_width,
    ];
    let mut depths = [0.0, tenon[0], tenon[1], behind, rail.width];
    depths.sort_by(f64::total_cmp);
    let mut bands: Vec<Band> = Vec::new();
    for pair in depths.windows(2) {
        let &[from, to] = pair else { continue };
        if to - from < SAME_POSITION_MM {
            continue;
        }
        let middle = f64::midpoint(from, to);
        let mut beyond = if middle > behind { behind } else { 0.0 };
        if middle > tenon[1] {
            beyond = beyond.max(tenons.haunch);
        } else if middle > tenon[0] {
            beyond = beyond.max(tenons.length);
        }
        match bands.last_mut() {
            Some(last) if (last.beyond - beyond).abs() < SAME_POSITION_MM => last.depths[1] = to,
            _ => bands.push(Band {
                depths: [from, to],
                beyond,
            }),
        }
    }
    let mut lines = shoulders(&bands, length, 0.0, 0.0, FrameLine::Shoulders);
    if behind > SAME_POSITION_MM {
        let back = FrameLine::BackShoulders;
        lines.extend(shoulders(&bands, length, behind, behind, back));
    }
    lines.extend(recess.map(|recess| {
        let depth = recess.into_member();
        let ends = [-behind, length + behind];
        let line = ends.map(|x| Point::new(x, -depth));
        (line_of(recess), line.to_vec())
    }));
    DrawnMember {
        ring: stepped(&bands, length),
        width: rail.width,
        length,
        lines,
        label: None,
        letters: Vec::new(),
    }
}

/// The outline round bands, counter-clockwise: down the left end, up the right one.
fn stepped(bands: &[Band], length: f64) -> Vec<Point> {
    let down = bands.iter().flat_map(|band| {
        let depths = band.depths.into_iter();
        depths.map(|depth| Point::new(-band.beyond, -depth))
    });
    let left: Vec<Point> = down.collect();
    let right = left.iter().rev();
    let right: Vec<Point> = right.map(|p| Point::new(length - p.x, p.y)).collect();
    [left, right].concat()
}

/// Lines `out` beyond the inner corners, where bands from a depth on reach farther out than that.
fn shoulders(
    bands: &[Band],
    length: f64,
    out: f64,
    from_depth: f64,
    line: FrameLine,
) -> Vec<(FrameLine, Vec<Point>)> {
    let mut runs: Vec<[f64; 2]> = Vec::new();
    let farther = bands.iter().filter(|band| {
        band.beyond > out + SAME_POSITION_MM && band.depths[1] > from_depth + SAME_POSITION_MM
    });
    for band in farther {
        let [from, to] = [band.depths[0].max(from_depth), band.depths[1]];
        match runs.last_mut() {
            Some(last) if from - last[1] < SAME_POSITION_MM => last[1] = to,
            _ => runs.push([from, to]),
        }
    }
    let mut lines = Vec::new();
    for run in runs {
        for x in [-out, length + out] {
            let ends = run.map(|depth| Point::new(x, -depth));
            lines.push((line, ends.to_vec()));
        }
    }
    lines
}

/// An upright member: mortises for the tenons of both `ends`, open to the member's end as deep as the
/// haunches are long.
fn stile(
    width: f64,
    length: f64,
    ends: [&TenonedRail; 2],
    tenons: &Tenons,
    recess: Option<&Recess>,
) -> DrawnMember {
    let [first, last] = ends;
    let over_all = [-first.width, length + last.width];
    let play = tenons.mortise_depth - tenons.length;
    let mut lines = Vec::new();
    let mut pocket = |a: f64, b: f64, depth: f64| {
        lines.push((FrameLine::Mortises, rectangle([a.min(b), a.max(b)], depth)));
    };
    for (end, from, out) in [(first, 0.0, -1.0), (last, length, 1.0)] {
        let near = from + out * end.from_inner_edge;
        let far = near + out * end.tenon_width;
        pocket(near, far, tenons.mortise_depth);
        if tenons.haunch > 0.0 {
            pocket(far, far + out * end.haunch_width, tenons.haunch + play);
        }
    }
    lines.extend(recess.map(|recess| {
        let line = over_all.map(|x| Point::new(x, -recess.into_member()));
        (line_of(recess), line.to_vec())
    }));
    DrawnMember {
        ring: rectangle(over_all, width),
        width,
        length,
        lines,
        label: None,
        letters: Vec::new(),
    }
}

/// From the inner edge down, counter-clockwise.
fn rectangle([from, to]: [f64; 2], depth: f64) -> Vec<Point> {
    let p = Point::new;
    vec![p(from, -depth), p(to, -depth), p(to, 0.0), p(from, 0.0)]
}

impl DrawnMember {
    /// Those for the strips, in front of all else.
    fn mortises(&mut self, rail: &Rail, depth: f64) {
        let length = self.length;
        let along = |[near, far]: [f64; 2]| {
            if runs_round(rail) {
                [near, far]
            } else {
                [length - far, length - near]
            }
        };
        let mortises = rail.mortises.iter();
        self.lines.extend(mortises.map(|mortise| {
            let ring = rectangle(along(mortise.edges), depth);
            (FrameLine::Mortises, ring)
        }));
    }

    /// Between the deepest of the mortises in the member's middle and its outer edge.
    fn label(&mut self, name: &str, frame: &Frame) {
        let words: String = name.chars().filter(|c| !matches!(c, '(' | ')')).collect();
        let words = words.to_uppercase();
        let recess = frame.recess.as_ref().map_or(0.0, Recess::into_member);
        let deepest = frame.mortise_depth.max(recess);
        let room = self.width - deepest - 2.0 * BESIDE_LABEL_MM;
        let outer = self.ring.iter().filter(|p| p.y < -deepest);
        let (low, high) = bounds(outer.copied()).unwrap_or_default();
        let long = self.length.min(high.x - low.x) / 2.0;
        let full = room.min(TALLEST_MM);
        let height = full * (long / lettering::width(&words, full.max(SMALLEST_MM))).min(1.0);
        if height < SMALLEST_MM {
            return;
        }
        let corner = Point::new(
            (self.length - lettering::width(&words, height)) / 2.0,
            -f64::midpoint(self.width, deepest) - height / 2.0,
        );
        self.letters = lettering::strokes(&words, corner, height);
        self.label = Some(words);
    }

    fn low(&self) -> Point {
        let (low, _) = bounds(self.ring.iter().copied()).unwrap_or_default();
        low
    }

    /// Of the box round it.
    fn size(&self) -> Vector {
        let (low, high) = bounds(self.ring.iter().copied()).unwrap_or_default();
        low.to(high)
    }

    /// Whether the other one is the same part, as they lie in the drawing.
    fn is_like(&self, other: &DrawnMember) -> bool {
        let same = |a: &[Point], b: &[Point]| {
            a.len() == b.len()
                && a.iter()
                    .zip(b)
                    .all(|(p, q)| p.to(*q).length() < SAME_POSITION_MM)
        };
        let has = |(kind, line): &(FrameLine, Vec<Point>)| {
            let mut all = other.lines.iter();
            all.any(|(other, points)| other == kind && same(points, line))
        };
        same(&self.ring, &other.ring)
            && self.lines.len() == other.lines.len()
            && self.lines.iter().all(has)
    }
}

/// All members one above the other; where each lies, and the upper right corner of all.
fn laid_out(
    members: &[DrawnMember],
    safety: SafetyNotes,
) -> (SheetDrawing, Vec<[f64; 2]>, [f64; 2]) {
    let mut paths = Vec::new();
    let mut placed = Vec::new();
    let (mut y, mut longest) = (0.0, 0.0_f64);
    for member in members {
        let by = member.low().to(Point::new(0.0, y));
        let mut add = |work: CutWork, closed, points: &[Point]| {
            paths.push(CutPath {
                work,
                closed,
                points: points.iter().map(|point| *point + by).collect(),
            });
        };
        for stroke in &member.letters {
            add(CutWork::Letters, false, stroke);
        }
        for (line, points) in &member.lines {
            add(CutWork::Frame(*line), *line == FrameLine::Mortises, points);
        }
        add(CutWork::Outlines, true, &member.ring);
        placed.push([0.0, y]);
        longest = longest.max(member.size().x);
        y += member.size().y + APART_MM;
    }
    let drawing = SheetDrawing { safety, paths };
    (drawing, placed, [longest, (y - APART_MM).max(0.0)])
}

/// What lies on the layers that there are.
fn layers(drawing: &SheetDrawing) -> Vec<PartsLayer> {
    let what = |work: CutWork| match work {
        CutWork::Frame(FrameLine::Mortises) => {
            Some("mortises in the inner edge, as deep as they go")
        }
        CutWork::Frame(FrameLine::Rebates) => Some("the rebate's wall, cut from the back"),
        CutWork::Frame(FrameLine::Grooves) => Some("the groove's floor, cut from the inner edge"),
        CutWork::Frame(FrameLine::Shoulders) => Some("shoulders at the front face"),
        CutWork::Frame(FrameLine::BackShoulders) => Some("shoulders at the back face"),
        CutWork::Letters => Some("the member's name"),
        CutWork::Outlines => Some("the finished member: the one line that is cut through"),
        CutWork::Frame(FrameLine::Members) | CutWork::Bridges | CutWork::Openings => None,
    };
    let there = CutWork::IN_ORDER.into_iter();
    let there = there.filter(|work| drawing.paths.iter().any(|path| path.work == *work));
    let told = there.filter_map(|work| {
        Some(PartsLayer {
            layer: work.layer(),
            what: what(work)?,
        })
    });
    told.collect()
}
