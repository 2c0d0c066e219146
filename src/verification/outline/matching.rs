//! Which contour of the file is which of the finished parts, and how far off it is.

use super::contours::Contour;
use super::kerf::shrunk;
use super::meant_sheet::MeantSheet;
use super::report::{OutlineFault, TOLERANCE_MM, called, mm};
use super::rings::{middle, vertex_distance};
use crate::geometry::Point;
use crate::instructions::outline::{CutPart, CutWork};
use std::collections::HashMap;

/// A contour of the file belongs to one of the parts only if the middles of their boxes are
/// nearer than about this, mm.
const NEAR_MM: f64 = 1.0;

/// A ring or stroke as it is after cutting.
struct FinishedContour {
    work: CutWork,
    points: Vec<Point>,
    middle: Point,
}

/// A contour that must be there.
struct WantedContour<'a> {
    part: &'a CutPart,
    work: CutWork,
    points: &'a [Point],
}

impl WantedContour<'_> {
    fn name(&self) -> String {
        let what = match self.work {
            CutWork::Letters | CutWork::Frame(_) | CutWork::Bridges => "label stroke",
            CutWork::Openings => "hole",
            CutWork::Outlines => "outline",
        };
        format!("{what} of {}, copy {}", self.part.name, self.part.copy)
    }
}

/// Compares all contours with all parts; the greatest distance of a vertex, mm.
pub(super) fn check(
    contours: &[Contour],
    meant: &MeantSheet,
    faults: &mut Vec<OutlineFault>,
) -> f64 {
    let finished = finished(contours, meant.kerf_mm, faults);
    let mut cells: HashMap<(CutWork, GridCell), Vec<usize>> = HashMap::new();
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
                vertex_distance(wanted.points, &ring.points, wanted.work != CutWork::Letters),
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
fn finished(
    contours: &[Contour],
    kerf: f64,
    faults: &mut Vec<OutlineFault>,
) -> Vec<FinishedContour> {
    let mut all = Vec::with_capacity(contours.len());
    // Bridges are no part of the parts.
    for contour in contours
        .iter()
        .filter(|contour| contour.work != CutWork::Bridges)
    {
        let points = match contour.work {
            CutWork::Letters | CutWork::Frame(_) | CutWork::Bridges => Some(contour.points.clone()),
            CutWork::Openings => shrunk(&contour.points, -kerf / 2.0),
            CutWork::Outlines => shrunk(&contour.points, kerf / 2.0),
        };
        let ring = points.and_then(|points| {
            Some(FinishedContour {
                work: contour.work,
                middle: middle(&points)?,
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

fn wanted(part: &CutPart) -> impl Iterator<Item = WantedContour<'_>> {
    let marks = part.strokes.iter().map(|points| (CutWork::Letters, points));
    let holes = part.holes.iter().map(|points| (CutWork::Openings, points));
    let all = marks.chain(holes).chain([(CutWork::Outlines, &part.outer)]);
    all.map(move |(work, points)| WantedContour { part, work, points })
}

type GridCell = (i64, i64);

#[allow(clippy::cast_possible_truncation)] // saturates; then nothing is found near
fn cell(at: Point) -> GridCell {
    (
        (at.x / NEAR_MM).floor() as i64,
        (at.y / NEAR_MM).floor() as i64,
    )
}

/// FinishedContour contours of the same work in the cell of a wanted one and the eight around it.
fn nearby<'a>(
    cells: &'a HashMap<(CutWork, GridCell), Vec<usize>>,
    wanted: &WantedContour,
) -> impl Iterator<Item = usize> + 'a {
    let (x, y) = cell(middle(wanted.points).unwrap_or_default());
    let work = wanted.work;
    let around = (-1..=1).flat_map(move |i| (-1..=1).map(move |j| (x + i, y + j)));
    around
        .filter_map(move |cell| cells.get(&(work, cell)))
        .flatten()
        .copied()
}
