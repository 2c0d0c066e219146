//! Which part wanted each outline of a file is, and what lies on it.

use super::contours::Contour;
use super::engraving;
use super::kerf::shrunk;
use super::near::Nearby;
use super::reliefs::{RingKind, check_reliefs, without_reliefs};
use super::report::{OutlineFault, TOLERANCE_MM, called};
use super::rings::{is_inside, middle, moved, placed, to_corner, vertex_distance_within};
use super::wanted_part::WantedPart;
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::outline::{CutPart, CutWork};
use crate::machines::Cutter;

/// A contour farther than this from every part's outline, in mm, is none of them.
const NEAR_MM: f64 = 1.0;

/// What follows the paths.
#[derive(Clone, Copy)]
pub(super) struct PathTool {
    pub(super) kerf_mm: f64,
    pub(super) cutter: Option<Cutter>,
}

impl PathTool {
    /// How far a ring of the file, kerf taken off, is from a part at the same place, mm; infinite where it is
    /// none that is near.
    fn off(&self, part: &WantedPart, ring: &[Point]) -> f64 {
        if self.cutter.is_none() && part.ring.len() != ring.len() {
            return f64::INFINITY;
        }
        let wanted = placed(&part.ring, ring);
        match self.cutter {
            None => vertex_distance_within(&wanted, ring, true, NEAR_MM),
            Some(_) => {
                let ring = without_reliefs(ring, &wanted);
                vertex_distance_within(&wanted, &ring, true, NEAR_MM)
            }
        }
    }
}

/// A part that an outline of the file is taken for.
pub(super) struct FoundPart<'w> {
    /// The finished part at its place in the file.
    pub(super) part: CutPart,
    /// The part wanted.
    kind: &'w WantedPart,
}

/// For each outline in the file the part that it must be; counts them. Of parts of much the same
/// outline it is the one whose holes and marks are there.
pub(super) fn find_parts<'w>(
    contours: &[Contour],
    wanted: &'w [WantedPart],
    counts: &mut [usize],
    tool: PathTool,
) -> Vec<FoundPart<'w>> {
    let mut found = Vec::new();
    let middles = Middles::of(contours);
    let outlines = contours.iter();
    for contour in outlines.filter(|contour| contour.work == CutWork::Outlines) {
        let Some(ring) = shrunk(&contour.points, tool.kerf_mm / 2.0) else {
            continue;
        };
        let candidates = wanted.iter().zip(counts.iter_mut());
        let nearest = candidates
            .map(|(kind, count)| (tool.off(kind, &ring), kind, count))
            .filter(|(off, ..)| *off < NEAR_MM)
            .map(|(off, kind, count)| {
                let unlike = unlikeness(kind, to_corner(&kind.ring, &ring), &middles);
                (off.max(unlike), kind, count)
            })
            .min_by(|(a, ..), (b, ..)| a.total_cmp(b));
        let Some((_, kind, count)) = nearest else {
            continue;
        };
        *count += 1;
        let by = to_corner(&kind.ring, &ring);
        let part = CutPart {
            name: kind.name.clone(),
            copy: *count,
            outer: match tool.cutter {
                None => moved(&kind.ring, by),
                Some(_) => contour.points.clone(),
            },
            holes: kind.holes.iter().map(|hole| moved(hole, by)).collect(),
            strokes: Vec::new(),
            laid_edge: kind.laid_edge,
        };
        found.push(FoundPart { part, kind });
    }
    found
}

/// Middles of the contours of each kind of work that a part may have on it.
struct Middles {
    openings: NearPoints,
    letters: NearPoints,
}

impl Middles {
    fn of(contours: &[Contour]) -> Self {
        let of = |work: CutWork| {
            let same = contours.iter().filter(|contour| contour.work == work);
            NearPoints::of(same.map(|contour| middle(&contour.points).unwrap_or_default()))
        };
        Middles {
            openings: of(CutWork::Openings),
            letters: of(CutWork::Letters),
        }
    }
}

/// Points, found by where they are.
struct NearPoints {
    points: Vec<Point>,
    nearby: Nearby,
}

impl NearPoints {
    fn of(points: impl Iterator<Item = Point>) -> Self {
        let points: Vec<Point> = points.collect();
        NearPoints {
            nearby: Nearby::of(points.iter().map(|point| [*point, *point])),
            points,
        }
    }

    /// Distance of the nearest, mm; infinite where there is none.
    fn distance(&self, from: Point) -> f64 {
        let nearest = self.nearby.nearest(from).and_then(|at| self.points.get(at));
        nearest.map_or(f64::INFINITY, |nearest| nearest.to(from).length())
    }
}

/// How far the part's holes and marks are from the nearest contours that could be them, mm.
fn unlikeness(part: &WantedPart, by: Vector, there: &Middles) -> f64 {
    let marks = part.engraved.iter().flat_map(|engraved| &engraved.marks);
    let holes = part.holes.iter().map(|hole| (&there.openings, hole));
    let all = holes.chain(marks.map(|mark| (&there.letters, mark)));
    let off = all.map(|(of_work, points)| {
        let at = middle(points).unwrap_or_default() + by;
        of_work.distance(at)
    });
    off.fold(0.0, f64::max)
}

/// Whether two rings have the same vertices.
fn same_ring(one: &[Point], other: &[Point]) -> bool {
    vertex_distance_within(one, other, true, 2.0 * TOLERANCE_MM) <= TOLERANCE_MM
}

/// How many faults a part's strokes would be if it were of a kind.
fn wrong_strokes(part: &CutPart, kind: &WantedPart) -> usize {
    let mut faults = Vec::new();
    check_strokes(part, kind, &mut faults);
    faults.len()
}

fn check_strokes(part: &CutPart, kind: &WantedPart, faults: &mut Vec<OutlineFault>) {
    let Some(engraved) = &kind.engraved else {
        return;
    };
    if engraved.or_nothing && part.strokes.is_empty() {
        return;
    }
    let by = to_corner(&part.outer, &kind.ring);
    let strokes = part.strokes.iter();
    let strokes: Vec<Vec<Point>> = strokes.map(|stroke| moved(stroke, by)).collect();
    engraving::check(&part.name, &strokes, engraved, faults);
}

impl<'w> FoundPart<'w> {
    /// Parts that differ in nothing but their words: gives the part the kind whose words it bears.
    pub(super) fn choose_by_engraving(&mut self, wanted: &'w [WantedPart], counts: &mut [usize]) {
        let now = wrong_strokes(&self.part, self.kind);
        if now == 0 {
            return;
        }
        let kind = self.kind;
        let best = wanted
            .iter()
            .filter(|other| same_ring(&kind.ring, &other.ring))
            .min_by_key(|other| wrong_strokes(&self.part, other));
        let Some(best) = best.filter(|best| wrong_strokes(&self.part, best) < now) else {
            return;
        };
        for (other, count) in wanted.iter().zip(counts) {
            *count -= usize::from(std::ptr::eq(other, kind));
            *count += usize::from(std::ptr::eq(other, best));
        }
        let by = to_corner(&best.ring, &self.part.outer);
        self.part.name.clone_from(&best.name);
        self.part.holes = best.holes.iter().map(|hole| moved(hole, by)).collect();
        self.kind = best;
    }

    pub(super) fn check_engraving(&self, faults: &mut Vec<OutlineFault>) {
        check_strokes(&self.part, self.kind, faults);
    }

    /// Checks the reliefs of its outline and holes. Afterwards it has the rings of the file, reliefs
    /// and all, so that these are what all else is compared with.
    pub(super) fn check_reliefs(
        &mut self,
        contours: &[Contour],
        cutter: &Cutter,
        faults: &mut Vec<OutlineFault>,
    ) {
        let FoundPart { part, kind } = self;
        let ring = moved(&kind.ring, to_corner(&kind.ring, &part.outer));
        let outline = RingKind::Outline;
        check_reliefs(&part.name, &ring, &part.outer, outline, cutter, faults);
        for hole in &mut part.holes {
            let openings = contours.iter();
            let openings = openings.filter(|contour| contour.work == CutWork::Openings);
            // The hole's corners are among its vertices; a file without it is told by the count.
            let found = openings
                .map(|contour| &contour.points)
                .find(|ring| same_ring(hole, &without_reliefs(ring, hole)));
            if let Some(ring) = found {
                check_reliefs(&part.name, hole, ring, RingKind::Hole, cutter, faults);
                hole.clone_from(ring);
            }
        }
    }
}

/// Gives each stroke to the part that it lies on; a fault for each that lies on none.
pub(super) fn share_out_marks(contours: &[Contour], found: &mut [FoundPart]) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    if found.is_empty() {
        // The comparison with the parts tells of every contour already.
        return faults;
    }
    let boxes = found.iter().map(|found| {
        let (low, high) = bounds(found.part.outer.iter().copied()).unwrap_or_default();
        [low, high]
    });
    let nearby = Nearby::of(boxes);
    let marks = contours.iter();
    for mark in marks.filter(|contour| contour.work == CutWork::Letters) {
        // It lies wholly on a part, so that any of its points tells where to look.
        let at = mark.points.first().copied().unwrap_or_default();
        let mut near = nearby.near([at, at], 0.0).into_iter();
        let below = near.find(|below| {
            let mut points = mark.points.iter();
            let outer = found.get(*below).map(|found| &found.part.outer);
            outer.is_some_and(|outer| points.all(|point| is_inside(*point, outer)))
        });
        let below = below.and_then(|below| found.get_mut(below));
        match below {
            Some(found) => found.part.strokes.push(mark.points.clone()),
            None => {
                let name = called(CutWork::Letters, mark.points.first().copied());
                let text = format!("{name} is not on a part");
                faults.push(OutlineFault::new("mark-outside", text));
            }
        }
    }
    faults
}
