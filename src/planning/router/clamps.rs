//! What stands in the way of the tool, of its holder, and of the key.

use super::bed::StripBed;
use super::clamped_bundle::ClampedBundle;
use super::planner::NotchingPlanner;
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM, Vector};
use crate::lattice::Notch;
use crate::machines::{Clamp, Router};
use crate::phrase;
use crate::units::{AtLeast, Mm};

/// What the tool keeps from a clamp beside its way: nobody clamps to a tenth. Common practice, no
/// source, mm.
pub(super) const BESIDE_CLAMPS_MM: f64 = 0.5;

impl NotchingPlanner<'_> {
    /// The clamp in the way of a notch of strips that lie so, with its number from 0: the tool's way
    /// from one side of the bundle to the other, as wide as the notch, comes too near to it below
    /// its top, or the holder does.
    pub(super) fn clamp_in_way(&self, bed: StripBed, notch: &Notch) -> Option<(usize, &Clamp)> {
        let radius = self.router.tool.diameter / 2.0;
        let wall = (notch.width * bed.angle.sin() / 2.0 - radius).max(0.0);
        let [low, high] = self.turns(bed);
        let corners = [(-wall, low), (wall, low), (wall, high), (-wall, high)];
        let way = corners.map(|(offset, y)| Point::new(bed.slot_x(notch.centre, offset, y), y));
        clamp_beside(self.router, &way, notch.depth)
    }

    /// The first clamp in the way of a set-up against the end stop.
    pub(super) fn clamp_fault(&self, held: &ClampedBundle<'_>) -> Option<Finding> {
        let met = |notch| Some((notch, self.clamp_in_way(held.bed, notch)?));
        let (notch, (at, clamp)) = held.notches().find_map(met)?;
        let text = phrase!(
            "{} stands in the way of the tool or its holder in the notch at {} from the datum end",
            &clamp.name,
            Mm(notch.centre)
        );
        let hint = match self.router.fixture.key {
            None => "move it; or a key (fixture.key_x) lets another set-up cut what it hides",
            Some(_) => "move it: no notch on the key brings these past it",
        };
        let field = format!("fixture.clamps[{at}]");
        Some(Finding::error("clamp-in-the-way", field, text).hint(hint))
    }

    /// A clamp where the key lies: it reaches right across the bed, as wide as the notch on it.
    pub(super) fn key_fault(&self, parts: &[ClampedBundle<'_>]) -> Option<Finding> {
        let fixture = &self.router.fixture;
        let key = fixture.key?.x - fixture.zero_x;
        parts.iter().find_map(|part| {
            let on_key = part.on_key?;
            let notch = part.bundle.notches.get(on_key.notch)?;
            let half = notch.width / 2.0;
            let under = |clamp: &Clamp| {
                clamp.top > -notch.depth && clamp.x[0] < key + half && clamp.x[1] > key - half
            };
            let (at, clamp) = fixture.clamps.iter().enumerate().find(|(_, c)| under(c))?;
            let text = phrase!(
                "{} stands where the key lies, {} from program zero",
                &clamp.name,
                Mm(key)
            );
            let field = format!("fixture.clamps[{at}]");
            Some(Finding::error("clamp-on-key", field, text).hint("move it, or the key"))
        })
    }

    /// A holder of which too little is known to say that it clears the fixture and all clamps.
    pub(super) fn holder_warnings(&self, all: &[ClampedBundle<'_>]) -> Vec<Finding> {
        let depth = all.iter().map(ClampedBundle::depth).fold(0.0, f64::max);
        let found = [self.over_fixture(depth), self.beside_clamps(depth)];
        found.into_iter().flatten().collect()
    }

    /// How far the tool stands out is not known, and its edges alone are too short.
    fn over_fixture(&self, depth: f64) -> Option<Finding> {
        let Router { tool, fixture, .. } = self.router;
        let needed = depth + fixture.clamp_height;
        let is_short = tool.stick_out.is_none() && tool.length() < needed - SAME_POSITION_MM;
        is_short.then(|| {
            let text = phrase!(
                "how far the tool stands out of its holder is not said: the holder clears the fixture only if it is {} or more",
                AtLeast(needed)
            );
            Finding::warning("holder-unknown", "tool.flute_length", text)
                .hint("measure it and give it as stick_out")
        })
    }

    /// How wide the holder is is not known, and a clamp reaches up to it.
    fn beside_clamps(&self, depth: f64) -> Option<Finding> {
        let Router { tool, fixture, .. } = self.router;
        if tool.holder_diameter.is_some() {
            return None;
        }
        let lowest = tool.length() - depth;
        let clamp = fixture.clamps.iter().find(|clamp| clamp.top > lowest)?;
        let text = phrase!(
            "the holder may come down to {} above the stock, below the top of {}; how wide it is, is not said",
            Mm(lowest),
            &clamp.name
        );
        let finding = Finding::warning("holder-unknown", "tool.diameter", text);
        Some(finding.hint("give its nut's diameter as holder_diameter, and stick_out"))
    }
}

/// The first clamp, with its number from 0, that a tool so deep comes too near to while its centre goes
/// all over a convex ring, or that its holder does.
pub(super) fn clamp_beside<'r>(
    router: &'r Router,
    way: &[Point],
    depth: f64,
) -> Option<(usize, &'r Clamp)> {
    let Router { tool, fixture, .. } = router;
    let radius = tool.diameter / 2.0;
    let holder = tool.holder_diameter.map_or(radius, |width| width / 2.0);
    let mut clamps = fixture.clamps.iter().enumerate();
    clamps.find(|(_, clamp)| {
        let apart = gap(way, &outline(clamp)) - BESIDE_CLAMPS_MM;
        clamp.top > -depth && apart < radius || clamp.top > tool.length() - depth && apart < holder
    })
}

/// A holder that comes down to the fixture beside the stock where the tool is so deep in it.
pub(super) fn holder_fault(router: &Router, depth: f64) -> Option<Finding> {
    let stick_out = router.tool.stick_out?;
    let clamps = router.fixture.clamp_height;
    let above = stick_out - depth;
    (above < clamps - SAME_POSITION_MM).then(|| {
        let text = phrase!(
            "{} out of its holder, at a depth of {} the holder is {} above the stock; the fixture reaches up to {}",
            Mm(stick_out),
            Mm(depth),
            Mm(above),
            Mm(clamps)
        );
        let hint = phrase!("let the tool stand out {} or more", AtLeast(depth + clamps));
        Finding::error("holder-too-low", "tool.stick_out", text).hint(hint)
    })
}

/// A clamp as it is seen from above.
fn outline(clamp: &Clamp) -> [Point; 4] {
    let [left, right] = clamp.x;
    let [front, back] = clamp.y;
    [
        Point::new(left, front),
        Point::new(right, front),
        Point::new(right, back),
        Point::new(left, back),
    ]
}

/// The widest strip between two convex rings along an edge of either, 0 where there is none: never
/// more than their distance, and less where two corners are nearest. That is on the safe side: a
/// clamp is then said to stand nearer than it does, by less than what its corner is away.
fn gap(a: &[Point], b: &[Point]) -> f64 {
    gap_along_edges(a, a, b).max(gap_along_edges(b, a, b))
}

/// The same along the edges of one of them.
fn gap_along_edges(edges: &[Point], a: &[Point], b: &[Point]) -> f64 {
    let mut widest = 0.0_f64;
    for (start, end) in edges.iter().zip(edges.iter().cycle().skip(1)) {
        let Some(along) = start.to(*end).unit() else {
            continue;
        };
        let [least_a, most_a] = beside_line(*start, along, a);
        let [least_b, most_b] = beside_line(*start, along, b);
        widest = widest.max((least_a - most_b).max(least_b - most_a));
    }
    widest
}

/// How far points lie to the left of a line, the least and the most.
fn beside_line(start: Point, along: Vector, points: &[Point]) -> [f64; 2] {
    let mut least = f64::INFINITY;
    let mut most = f64::NEG_INFINITY;
    for point in points {
        let left = along.cross(start.to(*point));
        least = least.min(left);
        most = most.max(left);
    }
    [least, most]
}
