//! Whether drawings hold just the strips of a lattice, wherever they lie on their sheets.

use super::contours::{self, Contour};
use super::matching::distance;
use super::undo::shrunk;
use super::{Meant, OutlineFault, OutlineReport, check, tags};
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::outline::{Part, Work};
use crate::lattice::{Bundle, Face, Lattice};

/// A contour farther than this from every strip's profile, in mm, is none of them.
const NEAR_MM: f64 = 1.0;

/// What was found in a job's drawings.
#[derive(Debug, Clone, PartialEq)]
pub struct StripsReport {
    /// One for each file.
    pub files: Vec<OutlineReport>,
    /// Of all files together: strips that are missing, or there too often.
    pub faults: Vec<OutlineFault>,
}

impl StripsReport {
    /// Whether nothing is wrong.
    pub fn ok(&self) -> bool {
        self.faults.is_empty() && self.files.iter().all(|file| file.faults.is_empty())
    }
}

/// A bundle's side profile in its own frame, and how often the drawings have it.
struct Profile {
    name: String,
    ring: Vec<Point>,
    wanted: usize,
    found: usize,
}

/// Reads the drawings of all sheets of a job and compares what they cut with the lattice's
/// strips: side profiles, grain along x. `kerf_mm` is taken off again; `sheet_mm` is the sheet's
/// length and width. Strips are never turned: left and right end, front and back face would be
/// exchanged.
///
/// Codes as for [`check`], and `mark-outside` for a label that is not on a strip, `count` for
/// strips that are missing or there too often.
pub fn prove_strips(
    files: &[&[u8]],
    lattice: &Lattice,
    kerf_mm: f64,
    sheet_mm: (f64, f64),
) -> StripsReport {
    let mut profiles: Vec<Profile> = lattice
        .bundles
        .iter()
        .map(|bundle| profile(lattice, bundle))
        .collect();
    let reports = files.iter().map(|bytes| {
        let contours = read(bytes);
        let mut parts = find_parts(&contours, &mut profiles, kerf_mm);
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
    let miscounted = profiles
        .iter()
        .filter(|profile| profile.found != profile.wanted);
    let fault = |profile: &Profile| {
        let text = format!(
            "{}: {} wanted, {} in the drawings",
            profile.name, profile.wanted, profile.found
        );
        OutlineFault::new("count", text)
    };
    StripsReport {
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

/// The profile that a bundle's strips must have: x from the datum end, y from the back face (0)
/// to the front face.
fn profile(lattice: &Lattice, bundle: &Bundle) -> Profile {
    let depth = lattice.section.depth;
    let wall = |face: Face, at: f64| -> Vec<Point> {
        let mut line = vec![Point::new(0.0, at)];
        for notch in bundle.notches.iter().filter(|notch| notch.face == face) {
            let floor = if face == Face::Back {
                notch.depth
            } else {
                depth - notch.depth
            };
            let (from, to) = (
                notch.centre - notch.width / 2.0,
                notch.centre + notch.width / 2.0,
            );
            let corners = [(from, at), (from, floor), (to, floor), (to, at)];
            line.extend(corners.map(|(x, y)| Point::new(x, y)));
        }
        line.push(Point::new(bundle.length, at));
        line
    };
    let mut ring = wall(Face::Back, 0.0);
    ring.extend(wall(Face::Front, depth).into_iter().rev());
    let first = bundle
        .strips
        .first()
        .map_or_else(String::new, |id| lattice.label(*id));
    Profile {
        name: format!("strips like {first}"),
        ring,
        wanted: bundle.strips.len(),
        found: 0,
    }
}

/// For each outline in the file the strip that it must be, at its place.
fn find_parts(contours: &[Contour], profiles: &mut [Profile], kerf: f64) -> Vec<Part> {
    let mut parts = Vec::new();
    for contour in contours
        .iter()
        .filter(|contour| contour.work == Work::CutOuter)
    {
        let Some(ring) = shrunk(&contour.points, kerf / 2.0) else {
            continue;
        };
        let Some((corner, _)) = bounds(ring.iter().copied()) else {
            continue;
        };
        let by = Vector::new(corner.x, corner.y);
        let placed = |profile: &Profile| -> Vec<Point> {
            profile.ring.iter().map(|point| point.plus(by)).collect()
        };
        let off = |profile: &Profile| distance(&placed(profile), &ring, true);
        let nearest = profiles.iter_mut().map(|profile| (off(profile), profile));
        let nearest = nearest.min_by(|(a, _), (b, _)| a.total_cmp(b));
        if let Some((_, profile)) = nearest.filter(|(off, _)| *off < NEAR_MM) {
            profile.found += 1;
            parts.push(Part {
                name: profile.name.clone(),
                copy: profile.found,
                outer: placed(profile),
                holes: Vec::new(),
                strokes: Vec::new(),
            });
        }
    }
    parts
}

/// Gives each stroke to the strip that it lies on; a fault for each that lies on none.
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
                    format!("{name} is not on a strip"),
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
