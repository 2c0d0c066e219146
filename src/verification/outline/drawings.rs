//! Whether drawings hold just the parts that a job needs, wherever they lie on their sheets.

use super::contours::{self, Contour};
use super::matching::distance;
use super::undo::shrunk;
use super::{Meant, OutlineFault, OutlineReport, TOLERANCE_MM, check, tags};
use crate::geometry::{Point, bounds};
use crate::instructions::outline::{Part, Work};

/// A contour farther than this from every part's outline, in mm, is none of them.
const NEAR_MM: f64 = 1.0;

/// Parts of one shape, as they are after cutting.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// What they are called.
    pub name: String,
    /// Their outline in a frame of their own.
    pub ring: Vec<Point>,
    /// How many.
    pub count: usize,
}

/// What was found in a job's drawings.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawingsReport {
    /// One for each file.
    pub files: Vec<OutlineReport>,
    /// Of all files together: parts that are missing, or there too often.
    pub faults: Vec<OutlineFault>,
}

impl DrawingsReport {
    /// Whether nothing is wrong.
    pub fn ok(&self) -> bool {
        self.faults.is_empty() && self.files.iter().all(|file| file.faults.is_empty())
    }
}

/// The same parts, those of one outline counted together: a drawing does not tell them apart.
pub fn alike_together(parts: impl IntoIterator<Item = Wanted>) -> Vec<Wanted> {
    let mut together: Vec<Wanted> = Vec::new();
    for part in parts.into_iter().filter(|part| part.count > 0) {
        let alike = |known: &&mut Wanted| {
            distance(&placed(&known.ring, &part.ring), &part.ring, true) < TOLERANCE_MM
        };
        match together.iter_mut().find(alike) {
            Some(known) => known.count += part.count,
            None => together.push(part),
        }
    }
    together
}

/// Reads the drawings of all sheets of a job and compares what they cut with the parts wanted.
/// `kerf_mm` is taken off again; `sheet_mm` is the sheet's length and width. Parts are never
/// turned: their grain runs along x, and front and back of a strip would be exchanged.
///
/// Codes as for [`check`], and `mark-outside` for a label that is not on a part, `count` for
/// parts that are missing or there too often.
pub fn prove_drawings(
    files: &[&[u8]],
    wanted: &[Wanted],
    kerf_mm: f64,
    sheet_mm: (f64, f64),
) -> DrawingsReport {
    let mut found = vec![0; wanted.len()];
    let reports = files.iter().map(|bytes| {
        let contours = read(bytes);
        let mut parts = find_parts(&contours, wanted, &mut found, kerf_mm);
        let outside = share_out_marks(&contours, &mut parts);
        let mut report = check(
            bytes,
            &Meant {
                parts: &parts,
                kerf_mm,
                sheet_mm,
            },
        );
        report.faults.extend(outside);
        report
    });
    let files = reports.collect();
    let miscounted = wanted
        .iter()
        .zip(&found)
        .filter(|(part, found)| part.count != **found);
    let fault = |(part, found): (&Wanted, &usize)| {
        let text = format!(
            "{}: {} wanted, {found} in the drawings",
            part.name, part.count
        );
        OutlineFault::new("count", text)
    };
    DrawingsReport {
        files,
        faults: miscounted.map(fault).collect(),
    }
}

/// The file's contours; none where it cannot be read, which [`check`] then tells.
fn read(bytes: &[u8]) -> Vec<Contour> {
    let mut told_by_check = Vec::new();
    match tags::survey(bytes, &mut told_by_check) {
        Ok(_) => contours::read(bytes, &mut told_by_check).unwrap_or_default(),
        Err(_) => Vec::new(),
    }
}

/// For each outline in the file the part that it must be, at its place; counts them.
fn find_parts(
    contours: &[Contour],
    wanted: &[Wanted],
    found: &mut [usize],
    kerf: f64,
) -> Vec<Part> {
    let mut parts = Vec::new();
    for contour in contours
        .iter()
        .filter(|contour| contour.work == Work::CutOuter)
    {
        let Some(ring) = shrunk(&contour.points, kerf / 2.0) else {
            continue;
        };
        let at = |part: &Wanted| placed(&part.ring, &ring);
        let off = |part: &Wanted| distance(&at(part), &ring, true);
        let nearest = wanted
            .iter()
            .zip(found.iter_mut())
            .map(|(part, count)| (off(part), part, count));
        let nearest = nearest.min_by(|(a, ..), (b, ..)| a.total_cmp(b));
        if let Some((_, part, count)) = nearest.filter(|(off, ..)| *off < NEAR_MM) {
            *count += 1;
            parts.push(Part {
                name: part.name.clone(),
                copy: *count,
                outer: at(part),
                holes: Vec::new(),
                strokes: Vec::new(),
            });
        }
    }
    parts
}

/// A ring moved so that its box and another's have the same lower left corner.
fn placed(ring: &[Point], where_lies: &[Point]) -> Vec<Point> {
    let corner = |ring: &[Point]| bounds(ring.iter().copied()).unwrap_or_default().0;
    let by = corner(ring).to(corner(where_lies));
    ring.iter().map(|point| point.plus(by)).collect()
}

/// Gives each stroke to the part that it lies on; a fault for each that lies on none.
fn share_out_marks(contours: &[Contour], parts: &mut [Part]) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    if parts.is_empty() {
        // The comparison with the parts tells of every contour already.
        return faults;
    }
    for mark in contours.iter().filter(|contour| contour.work == Work::Mark) {
        let on = |part: &&mut Part| mark.points.iter().all(|point| inside(*point, &part.outer));
        match parts.iter_mut().find(on) {
            Some(part) => part.strokes.push(mark.points.clone()),
            None => {
                let at = mark.points.first().copied();
                let name = super::called(Work::Mark, at);
                faults.push(OutlineFault::new(
                    "mark-outside",
                    format!("{name} is not on a part"),
                ));
            }
        }
    }
    faults
}

/// Whether a point lies inside a ring: a ray to the right crosses it an odd number of times.
fn inside(point: Point, ring: &[Point]) -> bool {
    let ends = ring.iter().cycle().skip(1);
    let crossings = ring.iter().zip(ends).filter(|(from, to)| {
        let spans = (from.y > point.y) != (to.y > point.y);
        spans && point.x < from.x + (point.y - from.y) / (to.y - from.y) * (to.x - from.x)
    });
    crossings.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inside_is_inside() {
        let ring = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 1.0), (0.0, 4.0)]
            .map(|(x, y)| Point::new(x, y));
        assert!(inside(Point::new(1.0, 1.0), &ring));
        assert!(!inside(Point::new(2.0, 2.0), &ring));
        assert!(!inside(Point::new(5.0, 1.0), &ring));
    }
}
