//! Whether drawings hold just the parts that a job needs, wherever they lie on their sheets.

use super::contours::{self, Contour};
use super::engraving;
use super::matching::distance;
use super::routed::{check_bridges, check_reliefs, without_reliefs};
use super::undo::shrunk;
use super::wanted::Wanted;
use super::{Meant, OutlineFault, OutlineReport, TOLERANCE_MM, check, tags};
use crate::geometry::{Point, Vector, bounds};
use crate::instructions::outline::{Part, Work};
use crate::machines::{Cutter, Sheet};

/// A contour farther than this from every part's outline, in mm, is none of them.
const NEAR_MM: f64 = 1.0;

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
            known.holes == part.holes
                && known.engraved == part.engraved
                && distance(&placed(&known.ring, &part.ring), &part.ring, true) < TOLERANCE_MM
        };
        match together.iter_mut().find(alike) {
            Some(known) => known.count += part.count,
            None => together.push(part),
        }
    }
    together
}

/// Reads the drawings of all sheets of a job and compares what they cut with the parts wanted.
/// `kerf_mm` is taken off again; paths keep the sheet's margin and gap. Parts are never
/// turned: their grain runs along x, and front and back of a strip would be exchanged.
///
/// Codes as for [`check`], and `mark-outside` for a label that is not on a part, `mark-missing`,
/// `mark-surplus`, `check-line`, `words` where a part's engraving is known, `count` for parts that
/// are missing or there too often.
pub fn prove_drawings(
    files: &[&[u8]],
    wanted: &[Wanted],
    kerf_mm: f64,
    sheet: Sheet,
) -> DrawingsReport {
    let tool = Tool {
        kerf_mm,
        cutter: None,
    };
    prove(files, wanted, tool, sheet)
}

/// The same for drawings of finished outlines that a cutter keeps outside of, with reliefs in their
/// concave corners and bridges.
///
/// Codes besides: `relief-stray`, `not-seated`; `bridge-place`, `bridge-width`, `bridge-count`.
pub fn prove_routed(
    files: &[&[u8]],
    wanted: &[Wanted],
    cutter: &Cutter,
    sheet: Sheet,
) -> DrawingsReport {
    let tool = Tool {
        kerf_mm: 0.0,
        cutter: Some(*cutter),
    };
    prove(files, wanted, tool, sheet)
}

/// Whether a drawing holds any of the parts wanted, or what is nearly one.
pub fn holds_any(
    files: &[&[u8]],
    wanted: &[Wanted],
    kerf_mm: f64,
    cutter: Option<&Cutter>,
) -> bool {
    let tool = Tool {
        kerf_mm,
        cutter: cutter.copied(),
    };
    let mut found = vec![0; wanted.len()];
    for bytes in files {
        find_parts(&read(bytes), wanted, &mut found, tool);
    }
    found.iter().any(|count| *count > 0)
}

/// What follows the paths.
#[derive(Clone, Copy)]
struct Tool {
    kerf_mm: f64,
    cutter: Option<Cutter>,
}

fn prove(files: &[&[u8]], wanted: &[Wanted], tool: Tool, sheet: Sheet) -> DrawingsReport {
    let mut found = vec![0; wanted.len()];
    let reports = files.iter().map(|bytes| {
        let contours = read(bytes);
        let (mut parts, mut kinds) = find_parts(&contours, wanted, &mut found, tool);
        let mut faults = share_out_marks(&contours, &mut parts);
        for (part, kind) in parts.iter_mut().zip(&mut kinds) {
            by_engraving(part, kind, wanted, &mut found);
        }
        for (part, kind) in parts.iter().zip(&kinds) {
            check_engraving(part, kind, &mut faults);
        }
        if let Some(cutter) = &tool.cutter {
            check_routed(&contours, &mut parts, &kinds, cutter, &mut faults);
        }
        let mut report = check(
            bytes,
            &Meant {
                parts: &parts,
                kerf_mm: tool.kerf_mm,
                cutter_mm: tool.cutter.map(|cutter| cutter.diameter),
                sheet,
            },
        );
        report.faults.extend(faults);
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

/// Reliefs of each part's outline and holes, and all bridges. Afterwards the parts have the rings
/// of the file, reliefs and all.
fn check_routed(
    contours: &[Contour],
    parts: &mut [Part],
    kinds: &[&Wanted],
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    for (part, kind) in parts.iter_mut().zip(kinds) {
        let by = to_corner(&kind.ring, &part.outer);
        let outline = (moved(&kind.ring, by), &part.outer);
        check_reliefs(&part.name, (&outline.0, outline.1), true, cutter, faults);
        for hole in &mut part.holes {
            let found = contours
                .iter()
                .filter(|contour| contour.work == Work::Openings);
            let found = found.map(|contour| &contour.points);
            // The hole's corners are among its vertices; a file without it is told by the count.
            let same = |ring: &&Vec<Point>| {
                distance(hole, &without_reliefs(ring, hole), true) <= TOLERANCE_MM
            };
            if let Some(ring) = found.clone().find(same) {
                check_reliefs(&part.name, (hole, ring), false, cutter, faults);
                hole.clone_from(ring);
            }
        }
    }
    check_bridges(contours, parts, cutter, faults);
}

/// The file's contours; none where it cannot be read, which [`check`] then tells.
fn read(bytes: &[u8]) -> Vec<Contour> {
    let mut told_by_check = Vec::new();
    match tags::survey(bytes, &mut told_by_check) {
        Ok(_) => contours::read(bytes, &mut told_by_check).unwrap_or_default(),
        Err(_) => Vec::new(),
    }
}

/// For each outline in the file the part that it must be, at its place, and of which kind; counts
/// them.
fn find_parts<'w>(
    contours: &[Contour],
    wanted: &'w [Wanted],
    found: &mut [usize],
    tool: Tool,
) -> (Vec<Part>, Vec<&'w Wanted>) {
    let (mut parts, mut kinds) = (Vec::new(), Vec::new());
    for contour in contours
        .iter()
        .filter(|contour| contour.work == Work::Outlines)
    {
        let Some(ring) = shrunk(&contour.points, tool.kerf_mm / 2.0) else {
            continue;
        };
        let off = |part: &Wanted| {
            let wanted = placed(&part.ring, &ring);
            match tool.cutter {
                None => distance(&wanted, &ring, true),
                Some(_) => distance(&wanted, &without_reliefs(&ring, &wanted), true),
            }
        };
        let candidates = wanted.iter().zip(found.iter_mut());
        let candidates = candidates.map(|(part, count)| (off(part), part, count));
        let near = candidates.filter(|(off, ..)| *off < NEAR_MM);
        // Parts of much the same outline differ in what lies on them.
        let unlike = |part: &Wanted| unlikeness(part, to_corner(&part.ring, &ring), contours);
        let nearest = near.map(|(off, part, count)| (off.max(unlike(part)), part, count));
        let nearest = nearest.min_by(|(a, ..), (b, ..)| a.total_cmp(b));
        if let Some((_, part, count)) = nearest {
            *count += 1;
            let by = to_corner(&part.ring, &ring);
            parts.push(Part {
                name: part.name.clone(),
                copy: *count,
                outer: match tool.cutter {
                    None => moved(&part.ring, by),
                    Some(_) => contour.points.clone(),
                },
                holes: part.holes.iter().map(|hole| moved(hole, by)).collect(),
                strokes: Vec::new(),
                laid_edge: part.laid_edge,
            });
            kinds.push(part);
        }
    }
    (parts, kinds)
}

/// How far the part's holes and marks are from the nearest contours that could be them, mm.
fn unlikeness(part: &Wanted, by: Vector, contours: &[Contour]) -> f64 {
    let middle = |points: &[Point]| {
        let (low, high) = bounds(points.iter().copied()).unwrap_or_default();
        low.plus(low.to(high).times(0.5))
    };
    let marks = part.engraved.iter().flat_map(|engraved| &engraved.marks);
    let all = part.holes.iter().map(|hole| (Work::Openings, hole));
    let all = all.chain(marks.map(|mark| (Work::Letters, mark)));
    all.map(|(work, points)| {
        let at = middle(points).plus(by);
        let same = contours.iter().filter(|contour| contour.work == work);
        same.map(|contour| middle(&contour.points).to(at).length())
            .fold(f64::INFINITY, f64::min)
    })
    .fold(0.0, f64::max)
}

/// Parts that differ in nothing but their words: gives the part the kind whose words it bears.
fn by_engraving<'w>(
    part: &mut Part,
    kind: &mut &'w Wanted,
    wanted: &'w [Wanted],
    found: &mut [usize],
) {
    let wrong = |kind: &Wanted, part: &Part| {
        let mut faults = Vec::new();
        check_engraving(part, kind, &mut faults);
        faults.len()
    };
    let now = wrong(kind, part);
    if now == 0 {
        return;
    }
    let alike = |other: &&Wanted| distance(&kind.ring, &other.ring, true) <= TOLERANCE_MM;
    let best = wanted
        .iter()
        .filter(alike)
        .min_by_key(|other| wrong(other, part));
    let Some(best) = best.filter(|best| wrong(best, part) < now) else {
        return;
    };
    for (other, count) in wanted.iter().zip(found) {
        *count -= usize::from(std::ptr::eq(other, *kind));
        *count += usize::from(std::ptr::eq(other, best));
    }
    let by = to_corner(&best.ring, &part.outer);
    part.name.clone_from(&best.name);
    part.holes = best.holes.iter().map(|hole| moved(hole, by)).collect();
    *kind = best;
}

fn check_engraving(part: &Part, kind: &Wanted, faults: &mut Vec<OutlineFault>) {
    let Some(engraved) = &kind.engraved else {
        return;
    };
    if engraved.or_nothing && part.strokes.is_empty() {
        return;
    }
    let by = to_corner(&part.outer, &kind.ring);
    let strokes: Vec<Vec<Point>> = part
        .strokes
        .iter()
        .map(|stroke| moved(stroke, by))
        .collect();
    engraving::check(&part.name, &strokes, engraved, faults);
}

fn moved(points: &[Point], by: Vector) -> Vec<Point> {
    points.iter().map(|point| point.plus(by)).collect()
}

/// From the lower left corner of one ring's box to that of another's.
fn to_corner(ring: &[Point], other: &[Point]) -> Vector {
    let corner = |ring: &[Point]| bounds(ring.iter().copied()).unwrap_or_default().0;
    corner(ring).to(corner(other))
}

/// A ring moved so that its box and another's have the same lower left corner.
fn placed(ring: &[Point], where_lies: &[Point]) -> Vec<Point> {
    moved(ring, to_corner(ring, where_lies))
}

/// Gives each stroke to the part that it lies on; a fault for each that lies on none.
fn share_out_marks(contours: &[Contour], parts: &mut [Part]) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    if parts.is_empty() {
        // The comparison with the parts tells of every contour already.
        return faults;
    }
    for mark in contours
        .iter()
        .filter(|contour| contour.work == Work::Letters)
    {
        let on = |part: &&mut Part| mark.points.iter().all(|point| inside(*point, &part.outer));
        match parts.iter_mut().find(on) {
            Some(part) => part.strokes.push(mark.points.clone()),
            None => {
                let at = mark.points.first().copied();
                let name = super::called(Work::Letters, at);
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
