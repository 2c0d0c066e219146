//! Grid lines cut to length: which strips there are, where they meet, and which lies in front.

use super::design::{StripSection, Weave};
use super::direction::across;
use super::grid_types::{Grid, Ruling};
use crate::geometry::convex::chord;
use crate::geometry::tolerance::{DIRECTION, POSITION};
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use float_cmp::ApproxEq;

/// The centre line of one strip.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StripLine {
    /// Index of its family.
    pub(super) family: usize,
    /// Number within the family, from 1, in the order of their positions.
    pub(super) number: usize,
    /// A point of it; positions along it are measured from here.
    on: Point,
    /// Unit vector toward the end that is not the datum.
    along: Vector,
    /// Where it enters and leaves the region.
    inside: [f64; 2],
    /// Its ends.
    ends: [f64; 2],
    /// Where it meets others, in order from the datum end.
    pub(super) meetings: Vec<Meeting>,
    /// From the front; strips of one place never meet.
    pub(super) place: usize,
}

/// Where a line meets another one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Meeting {
    /// From its datum end, mm.
    pub(super) at: f64,
    /// Index of the other line.
    pub(super) with: usize,
    /// Whether it lies in the region, not in an overhang.
    pub(super) inside: bool,
}

impl StripLine {
    /// A point of it, so far from its datum end.
    pub(super) fn point(&self, at: f64) -> Point {
        self.on + self.along * (self.ends[0] + at)
    }

    /// End to end, mm.
    pub(super) fn length(&self) -> f64 {
        self.ends[1] - self.ends[0]
    }

    /// Direction toward its far end.
    pub(super) fn along(&self) -> Vector {
        self.along
    }
}

/// The lines of a grid, and what was left out.
pub(super) struct StripLines {
    /// Family by family.
    pub(super) lines: Vec<StripLine>,
    /// Lines that meet fewer than two others inside the region, and hold nothing.
    pub(super) left_out: usize,
    /// Whether some overhangs reach so far that they meet ever more strips.
    pub(super) tangled: bool,
}

impl StripLines {
    /// Whether all lines are as long as others and meet their mates at the same places.
    pub(super) fn lies_like(&self, other: &StripLines) -> bool {
        let near = |a: f64, b: f64| a.approx_eq(b, POSITION);
        let same = |(a, b): (&StripLine, &StripLine)| {
            let mut meetings = a.meetings.iter().zip(&b.meetings);
            near(a.length(), b.length())
                && a.meetings.len() == b.meetings.len()
                && meetings.all(|(a, b)| near(a.at, b.at))
        };
        self.lines.len() == other.lines.len() && self.lines.iter().zip(&other.lines).all(same)
    }
}

/// More rounds than this of lengthening overhangs come to no end.
const MOST_ROUNDS: usize = 8;

/// All strips' lines of a grid.
pub(super) fn lines(grid: &Grid, section: &StripSection) -> StripLines {
    let ruling = grid.ruling();
    let mut lines = chords(&ruling);
    let all = lines.len();
    keep_what_holds(&mut lines);
    let left_out = all - lines.len();
    let tangled = (0..=MOST_ROUNDS).all(|_| lengthen(&mut lines, section));
    let mut counts = [0; 3];
    for line in &mut lines {
        if let Some(count) = counts.get_mut(line.family) {
            *count += 1;
            line.number = *count;
        }
    }
    lay(&mut lines, section.joinery.weave);
    meet(&mut lines);
    StripLines {
        lines,
        left_out,
        tangled,
    }
}

/// The lines' parts inside the region, with their overhangs.
fn chords(ruling: &Ruling) -> Vec<StripLine> {
    let mut lines = Vec::new();
    for (family, centres) in ruling.families.iter().enumerate() {
        let across = across(centres.along);
        for offset in &centres.offsets {
            let on = Point::default() + across * *offset;
            let Some(inside) = chord(&ruling.region, on, centres.along, SAME_POSITION_MM) else {
                continue;
            };
            lines.push(StripLine {
                family,
                number: 0,
                on,
                along: centres.along,
                inside,
                ends: [inside[0] - ruling.overhang, inside[1] + ruling.overhang],
                meetings: Vec::new(),
                place: 0,
            });
        }
    }
    lines
}

/// Where two lines of different families meet, as positions along each.
fn meeting(a: &StripLine, b: &StripLine) -> Option<(f64, f64)> {
    let sine = a.along.cross(b.along);
    if a.family == b.family || sine.approx_eq(0.0, DIRECTION) {
        return None;
    }
    let between = a.on.to(b.on);
    Some((between.cross(b.along) / sine, between.cross(a.along) / sine))
}

/// A line that meets another: its index, itself, and where on it.
type Met<'a> = (usize, &'a StripLine, f64);

/// All pairs of lines that meet, wherever on them.
fn pairs(lines: &[StripLine]) -> impl Iterator<Item = (Met<'_>, Met<'_>)> {
    let numbered = || lines.iter().enumerate();
    numbered().flat_map(move |(i, a)| {
        numbered().skip(i + 1).filter_map(move |(j, b)| {
            let (on_a, on_b) = meeting(a, b)?;
            Some(((i, a, on_a), (j, b, on_b)))
        })
    })
}

/// Whether a position lies between two ends, or at one of them.
fn within(at: f64, ends: [f64; 2]) -> bool {
    at >= ends[0] - SAME_POSITION_MM && at <= ends[1] + SAME_POSITION_MM
}

/// Takes out the lines that meet others at fewer than two places inside the region, until all do:
/// such a strip is held at one place only.
fn keep_what_holds(lines: &mut Vec<StripLine>) {
    let mut nodes: Vec<Vec<(f64, usize)>> = vec![Vec::new(); lines.len()];
    for ((i, a, on_a), (j, b, on_b)) in pairs(lines) {
        if within(on_a, a.inside) && within(on_b, b.inside) {
            nodes[i].push((on_a, j));
            nodes[j].push((on_b, i));
        }
    }
    let mut kept = vec![true; lines.len()];
    loop {
        let holds = |i: usize| {
            let at = nodes.get(i).into_iter().flatten();
            let mut at = at.filter(|(_, with)| kept[*with]).map(|(at, _)| *at);
            let first = at.next();
            first.is_some_and(|first| at.any(|at| at.approx_ne(first, POSITION)))
        };
        let loose: Vec<usize> = (0..lines.len()).filter(|&i| kept[i] && !holds(i)).collect();
        if loose.is_empty() {
            break;
        }
        loose.iter().for_each(|&i| kept[i] = false);
    }
    let mut keep = kept.iter();
    lines.retain(|_| keep.next().copied().unwrap_or(false));
}

/// Moves ends out so that where strips meet outside the region, in their overhangs, both keep the
/// least web beyond the notch; whether any end was moved.
///
/// Seen along a strip, one of thickness t that crosses it at angle A covers
/// t (1 + |cos A|) / (2 sin A) to both sides of the crossing; so does, on both its faces, its
/// notch.
fn lengthen(lines: &mut [StripLine], section: &StripSection) -> bool {
    let thickness = section.thickness + section.clearance.max(0.0);
    let mut wanted: Vec<[f64; 2]> = lines.iter().map(|line| line.ends).collect();
    for ((i, a, on_a), (j, b, on_b)) in pairs(lines) {
        let sine = a.along.cross(b.along).abs();
        let cosine = a.along.dot(b.along).abs();
        let reach = thickness * (1.0 + cosine) / (2.0 * sine);
        let touches = |at: f64, ends: [f64; 2]| at > ends[0] - reach && at < ends[1] + reach;
        if !touches(on_a, a.ends) || !touches(on_b, b.ends) {
            continue;
        }
        let room = reach + section.least_web;
        for (line, at, inside) in [(i, on_a, a.inside), (j, on_b, b.inside)] {
            if let Some(ends) = wanted.get_mut(line).filter(|_| !within(at, inside)) {
                *ends = [ends[0].min(at - room), ends[1].max(at + room)];
            }
        }
    }
    let mut moved = false;
    for (line, ends) in lines.iter_mut().zip(wanted) {
        moved |= (0..2).any(|end| line.ends[end].approx_ne(ends[end], POSITION));
        line.ends = ends;
    }
    moved
}

/// Of a family's strips, mm.
fn mean_length(lines: &[StripLine], family: usize) -> f64 {
    let mut count = 0_u32;
    let mut sum = 0.0;
    for line in lines.iter().filter(|line| line.family == family) {
        count += 1;
        sum += line.length();
    }
    sum / f64::from(count.max(1))
}

/// Which strips lie in front of which.
///
/// Strips do not bend: two strips of one family and two of another that pass over and under each
/// other in turn all round could not be put together. So a strip has one place from front to back
/// and keeps it all along; of two families, every other strip of the one lies in front of the
/// other family, the rest behind, and it is the longer strips that are notched from both faces in
/// turn. Of three families the first one's strips lie in front and at the back in turn.
fn lay(lines: &mut [StripLine], weave: Weave) {
    let families = lines.iter().map(|line| line.family + 1).max().unwrap_or(0);
    let shorter =
        if families == 2 && mean_length(lines, 1) < mean_length(lines, 0) - SAME_POSITION_MM {
            1
        } else {
            0
        };
    for line in lines {
        let odd = line.number % 2 == 1;
        line.place = match (weave, line.family == shorter) {
            (Weave::OneFace, _) => line.family,
            (Weave::Alternate, true) => {
                if odd {
                    0
                } else {
                    families
                }
            }
            (Weave::Alternate, false) if families == 2 => 1,
            (Weave::Alternate, false) => line.family,
        };
    }
}

/// Notes where the lines meet.
fn meet(lines: &mut [StripLine]) {
    let mut meetings: Vec<Vec<Meeting>> = vec![Vec::new(); lines.len()];
    for ((i, a, on_a), (j, b, on_b)) in pairs(lines) {
        if within(on_a, a.ends) && within(on_b, b.ends) {
            let inside = within(on_a, a.inside) && within(on_b, b.inside);
            meetings[i].push(Meeting {
                at: on_a - a.ends[0],
                with: j,
                inside,
            });
            meetings[j].push(Meeting {
                at: on_b - b.ends[0],
                with: i,
                inside,
            });
        }
    }
    for (line, mut found) in lines.iter_mut().zip(meetings) {
        found.sort_by(|a, b| a.at.total_cmp(&b.at));
        line.meetings = found;
    }
}
