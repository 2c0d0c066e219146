//! Which contour of the file is which of the finished parts, and how far off it is.

use super::contours::Contour;
use super::undo::shrunk;
use super::{Meant, OutlineFault, TOLERANCE_MM, called, mm};
use crate::geometry::{Point, bounds};
use crate::instructions::outline::{Part, Work};
use std::collections::HashMap;

/// A contour of the file belongs to one of the parts only if the middles of their boxes are
/// nearer than about this, mm.
const NEAR_MM: f64 = 1.0;

/// A ring or stroke as it is after cutting.
struct Finished {
    work: Work,
    points: Vec<Point>,
    middle: Point,
}

/// A contour that must be there.
struct Wanted<'a> {
    part: &'a Part,
    work: Work,
    points: &'a [Point],
}

impl Wanted<'_> {
    fn name(&self) -> String {
        let what = match self.work {
            Work::Letters | Work::Bridges => "label stroke",
            Work::Openings => "hole",
            Work::Outlines => "outline",
        };
        format!("{what} of {}, copy {}", self.part.name, self.part.copy)
    }
}

/// Compares all contours with all parts; the greatest distance of a vertex, mm.
pub(super) fn check(contours: &[Contour], meant: &Meant, faults: &mut Vec<OutlineFault>) -> f64 {
    let finished = finished(contours, meant.kerf_mm, faults);
    let mut cells: HashMap<(Work, Cell), Vec<usize>> = HashMap::new();
    for (index, ring) in finished.iter().enumerate() {
        cells
            .entry((ring.work, cell(ring.middle)))
            .or_default()
            .push(index);
    }
    let mut used = vec![false; finished.len()];
    let mut worst = 0.0_f64;
    for wanted in meant.parts.iter().flat_map(wanted) {
        let candidates = nearby(&cells, &wanted).filter_map(|index| {
            let free = !used.get(index).copied().unwrap_or(true);
            let ring = finished.get(index).filter(|_| free)?;
            Some((
                index,
                distance(wanted.points, &ring.points, wanted.work != Work::Letters),
            ))
        });
        let Some((index, off)) = candidates.min_by(|(_, a), (_, b)| a.total_cmp(b)) else {
            faults.push(OutlineFault::new(
                "missing",
                format!("no {} in the file", wanted.name()),
            ));
            continue;
        };
        if let Some(used) = used.get_mut(index) {
            *used = true;
        }
        if off.is_infinite() {
            let text = format!("{}: other vertices than meant", wanted.name());
            faults.push(OutlineFault::new("shape", text));
            continue;
        }
        worst = worst.max(off);
        if off > TOLERANCE_MM {
            let text = format!("{}: a vertex is off by {} mm", wanted.name(), mm(off));
            faults.push(OutlineFault::new("vertex-off", text));
        }
    }
    for (ring, _) in finished.iter().zip(&used).filter(|(_, used)| !**used) {
        let name = called(ring.work, ring.points.first().copied());
        faults.push(OutlineFault::new(
            "surplus",
            format!("{name} belongs to no part"),
        ));
    }
    worst
}

/// The contours without the kerf.
fn finished(contours: &[Contour], kerf: f64, faults: &mut Vec<OutlineFault>) -> Vec<Finished> {
    let mut all = Vec::with_capacity(contours.len());
    // Bridges are no part of the parts.
    for contour in contours
        .iter()
        .filter(|contour| contour.work != Work::Bridges)
    {
        let points = match contour.work {
            Work::Letters | Work::Bridges => Some(contour.points.clone()),
            Work::Openings => shrunk(&contour.points, -kerf / 2.0),
            Work::Outlines => shrunk(&contour.points, kerf / 2.0),
        };
        let ring = points.and_then(|points| {
            let (low, high) = bounds(points.iter().copied())?;
            Some(Finished {
                work: contour.work,
                middle: low.plus(low.to(high).times(0.5)),
                points,
            })
        });
        match ring {
            Some(ring) => all.push(ring),
            None => {
                let name = called(contour.work, contour.points.first().copied());
                let text = format!("{name}: nothing is left inside the kerf");
                faults.push(OutlineFault::new("shape", text));
            }
        }
    }
    all
}

fn wanted(part: &Part) -> impl Iterator<Item = Wanted<'_>> {
    let marks = part.strokes.iter().map(|points| (Work::Letters, points));
    let holes = part.holes.iter().map(|points| (Work::Openings, points));
    let all = marks.chain(holes).chain([(Work::Outlines, &part.outer)]);
    all.map(move |(work, points)| Wanted { part, work, points })
}

type Cell = (i64, i64);

#[allow(clippy::cast_possible_truncation)] // saturates; then nothing is found near
fn cell(at: Point) -> Cell {
    (
        (at.x / NEAR_MM).floor() as i64,
        (at.y / NEAR_MM).floor() as i64,
    )
}

/// Finished contours of the same work in the cell of a wanted one and the eight around it.
fn nearby<'a>(
    cells: &'a HashMap<(Work, Cell), Vec<usize>>,
    wanted: &Wanted,
) -> impl Iterator<Item = usize> + 'a {
    let (low, high) = bounds(wanted.points.iter().copied()).unwrap_or_default();
    let (x, y) = cell(low.plus(low.to(high).times(0.5)));
    let work = wanted.work;
    let around = (-1..=1).flat_map(move |i| (-1..=1).map(move |j| (x + i, y + j)));
    around
        .filter_map(move |cell| cells.get(&(work, cell)))
        .flatten()
        .copied()
}

/// Greatest distance between corresponding vertices, for the start and direction that make it
/// least; infinite where the numbers of vertices differ.
pub(super) fn distance(wanted: &[Point], found: &[Point], closed: bool) -> f64 {
    if wanted.len() != found.len() {
        return f64::INFINITY;
    }
    let starts = if closed { found.len() } else { 1 };
    let backward: Vec<Point> = found.iter().rev().copied().collect();
    let mut least = f64::INFINITY;
    for way in [found, &backward] {
        for start in 0..starts {
            let turned = way.iter().cycle().skip(start);
            let mut worst = 0.0_f64;
            for (p, q) in wanted.iter().zip(turned) {
                worst = worst.max(p.to(*q).length());
                if worst >= least {
                    break;
                }
            }
            least = least.min(worst);
        }
    }
    least
}
