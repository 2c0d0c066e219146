//! What stays of strips once their ends are cut off.

use crate::geometry::convex::{chord, edges};
use crate::geometry::{PARALLEL_SINE, Point, SAME_POSITION_MM, Vector};
use crate::instructions::panel_size::TrimmedEnd;
use crate::lattice::{Frame, Lattice, Margins, Rail, Rails, Strip};

/// What stays of a strip.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct KeptStrip {
    /// From and to on its centre line, from its datum end, mm.
    pub(super) ends: [f64; 2],
    /// How both lie.
    pub(super) how: [TrimmedEnd; 2],
    /// As seen from the front, counter-clockwise, in its own frame: along it from its datum end, and
    /// to the left.
    pub(super) outline: Vec<Point>,
}

impl KeptStrip {
    /// Along the centre line, mm.
    pub(super) fn length(&self) -> f64 {
        let [from, to] = self.ends;
        to - from
    }

    /// Its corners in the panel.
    pub(super) fn corners<'a>(&'a self, strip: &'a Strip) -> impl Iterator<Item = Point> + 'a {
        let along = strip.start.to(strip.end).unit().unwrap_or_default();
        let left = Vector::new(-along.y, along.x);
        let place = move |p: &Point| strip.start + along * p.x + left * p.y;
        self.outline.iter().map(place)
    }
}

/// What stays of each strip, in the lattice's order; nothing where a frame cannot be made, or where
/// the panel has no outline.
pub(super) fn kept(
    lattice: &Lattice,
    frame: Option<&Frame>,
    margins: Margins,
) -> Option<Vec<KeptStrip>> {
    let half = lattice.section.thickness / 2.0;
    if let Some(frame) = frame {
        let rails = frame.rails(lattice).ok()?;
        // In a mortise: square through the middle of a slanted cut, which takes as much wood.
        let trimmed = lattice.strips.iter().zip(&rails.trimmed);
        let kept = trimmed
            .map(|(strip, trimmed)| square(trimmed.at, framed(&rails, strip, trimmed.at), half));
        return Some(kept.collect());
    }
    let outline = margins.around(&lattice.region)?;
    let strips = lattice.strips.iter();
    strips.map(|strip| flush(strip, &outline, half)).collect()
}

/// Whether a strip's ends come into mortises: one that meets a rail too near the rail's end is cut flush
/// with its inner face.
fn framed(rails: &Rails, strip: &Strip, ends: [f64; 2]) -> [TrimmedEnd; 2] {
    let along = strip.start.to(strip.end).unit().unwrap_or_default();
    ends.map(|end| {
        let cut = strip.start + along * end;
        let is_flush = |rail: &Rail| {
            let beyond = rail.start.to(cut).dot(rail.outward);
            rail.flush.contains(&strip.id) && beyond.abs() < SAME_POSITION_MM
        };
        if rails.rails.iter().any(is_flush) {
            TrimmedEnd::Flush
        } else {
            TrimmedEnd::LetIn
        }
    })
}

fn square(ends: [f64; 2], how: [TrimmedEnd; 2], half: f64) -> KeptStrip {
    let [from, to] = ends;
    let corners = [(from, -half), (to, -half), (to, half), (from, half)];
    KeptStrip {
        ends,
        how,
        outline: corners.map(|(x, y)| Point::new(x, y)).to_vec(),
    }
}

/// Cut off along the outline's edges; a strip that lies on an edge is not cut along it.
fn flush(strip: &Strip, outline: &[Point], half: f64) -> Option<KeptStrip> {
    let along = strip.start.to(strip.end).unit()?;
    let left = Vector::new(-along.y, along.x);
    let [from, to] = chord(outline, strip.start, along, SAME_POSITION_MM)?;
    let ends = [from.max(0.0), to.min(strip.length)];
    let how = [TrimmedEnd::Flush; 2];
    let own = |p: Point| {
        let way = strip.start.to(p);
        Point::new(way.dot(along), way.dot(left))
    };
    let mut left_over = square([0.0, strip.length], how, half).outline;
    for (from, to) in edges(outline) {
        let edge = from.to(to).unit()?;
        if along.cross(edge).abs() > PARALLEL_SINE {
            left_over = cut(&left_over, own(from), own(to));
        }
    }
    Some(KeptStrip {
        ends,
        how,
        outline: without_doubles(left_over),
    })
}

/// What of a convex ring lies to the left of a line.
fn cut(ring: &[Point], from: Point, to: Point) -> Vec<Point> {
    let line = from.to(to);
    let depth = |p: Point| line.cross(from.to(p));
    let mut kept = Vec::with_capacity(ring.len() + 1);
    for (p, q) in edges(ring) {
        let (here, there) = (depth(p), depth(q));
        if here >= 0.0 {
            kept.push(p);
        }
        if (here > 0.0 && there < 0.0) || (here < 0.0 && there > 0.0) {
            kept.push(p + p.to(q) * (here / (here - there)));
        }
    }
    kept
}

/// A ring without corners that fall on the one before but for rounding: the edge between two such has no
/// direction, and a ring that is clipped by it may lose anything.
pub(super) fn without_doubles(mut ring: Vec<Point>) -> Vec<Point> {
    let is_same = |a: &Point, b: &Point| a.to(*b).length() < SAME_POSITION_MM;
    ring.dedup_by(|later, earlier| is_same(later, earlier));
    while ring.len() > 1
        && ring
            .first()
            .zip(ring.last())
            .is_some_and(|(a, b)| is_same(a, b))
    {
        ring.pop();
    }
    ring
}
