//! Whether drawings hold just the parts that a job needs, wherever they lie on their sheets.

use super::bridges::check_bridges;
use super::contours::{self, Contour};
use super::dxf_survey::survey;
use super::engraving;
use super::kerf::shrunk;
use super::meant_sheet::MeantSheet;
use super::reliefs::{RingKind, check_reliefs, without_reliefs};
use super::report::{OutlineFault, OutlineReport, TOLERANCE_MM, called};
use super::rings::{is_inside, middle, moved, placed, to_corner, vertex_distance};
use super::sheet_drawing::check_sheet;
use super::wanted_part::WantedPart;
use crate::geometry::{Point, Vector};
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

/// Reads the drawings of all sheets of a job and compares what they cut with the parts wanted.
/// `kerf_mm` is taken off again; paths keep the sheet's margin and gap. Parts are never
/// turned: their grain runs along x, and front and back of a strip would be exchanged.
///
/// Codes as for [`check_sheet`], and `mark-outside` for a label that is not on a part, `mark-missing`,
/// `mark-surplus`, `check-line`, `words` where a part's engraving is known, `count` for parts that
/// are missing or there too often.
pub fn prove_drawings(
    files: &[&[u8]],
    wanted: &[WantedPart],
    kerf_mm: f64,
    sheet: Sheet,
) -> DrawingsReport {
    let tool = PathTool {
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
    wanted: &[WantedPart],
    cutter: &Cutter,
    sheet: Sheet,
) -> DrawingsReport {
    let tool = PathTool {
        kerf_mm: 0.0,
        cutter: Some(*cutter),
    };
    prove(files, wanted, tool, sheet)
}

/// Whether a drawing holds any of the parts wanted, or what is nearly one.
pub fn holds_any(
    files: &[&[u8]],
    wanted: &[WantedPart],
    kerf_mm: f64,
    cutter: Option<&Cutter>,
) -> bool {
    let tool = PathTool {
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
struct PathTool {
    kerf_mm: f64,
    cutter: Option<Cutter>,
}

fn prove(files: &[&[u8]], wanted: &[WantedPart], tool: PathTool, sheet: Sheet) -> DrawingsReport {
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
        let mut report = check_sheet(
            bytes,
            &MeantSheet {
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
    let fault = |(part, found): (&WantedPart, &usize)| {
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
    kinds: &[&WantedPart],
    cutter: &Cutter,
    faults: &mut Vec<OutlineFault>,
) {
    for (part, kind) in parts.iter_mut().zip(kinds) {
        let by = to_corner(&kind.ring, &part.outer);
        let ring = moved(&kind.ring, by);
        check_reliefs(
            &part.name,
            &ring,
            &part.outer,
            RingKind::Outline,
            cutter,
            faults,
        );
        for hole in &mut part.holes {
            let found = contours
                .iter()
                .filter(|contour| contour.work == Work::Openings);
            let found = found.map(|contour| &contour.points);
            // The hole's corners are among its vertices; a file without it is told by the count.
            let same = |ring: &&Vec<Point>| {
                vertex_distance(hole, &without_reliefs(ring, hole), true) <= TOLERANCE_MM
            };
            if let Some(ring) = found.clone().find(same) {
                check_reliefs(&part.name, hole, ring, RingKind::Hole, cutter, faults);
                hole.clone_from(ring);
            }
        }
    }
    check_bridges(contours, parts, cutter, faults);
}

/// The file's contours; none where it cannot be read, which [`check_sheet`] then tells.
fn read(bytes: &[u8]) -> Vec<Contour> {
    let mut told_by_check = Vec::new();
    match survey(bytes, &mut told_by_check) {
        Ok(_) => contours::read(bytes, &mut told_by_check).unwrap_or_default(),
        Err(_) => Vec::new(),
    }
}

/// For each outline in the file the part that it must be, at its place, and of which kind; counts
/// them.
fn find_parts<'w>(
    contours: &[Contour],
    wanted: &'w [WantedPart],
    found: &mut [usize],
    tool: PathTool,
) -> (Vec<Part>, Vec<&'w WantedPart>) {
    let mut parts = Vec::new();
    let mut kinds = Vec::new();
    for contour in contours
        .iter()
        .filter(|contour| contour.work == Work::Outlines)
    {
        let Some(ring) = shrunk(&contour.points, tool.kerf_mm / 2.0) else {
            continue;
        };
        let off = |part: &WantedPart| {
            let wanted = placed(&part.ring, &ring);
            match tool.cutter {
                None => vertex_distance(&wanted, &ring, true),
                Some(_) => vertex_distance(&wanted, &without_reliefs(&ring, &wanted), true),
            }
        };
        let candidates = wanted.iter().zip(found.iter_mut());
        let candidates = candidates.map(|(part, count)| (off(part), part, count));
        let near = candidates.filter(|(off, ..)| *off < NEAR_MM);
        // Parts of much the same outline differ in what lies on them.
        let unlike = |part: &WantedPart| unlikeness(part, to_corner(&part.ring, &ring), contours);
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
fn unlikeness(part: &WantedPart, by: Vector, contours: &[Contour]) -> f64 {
    let marks = part.engraved.iter().flat_map(|engraved| &engraved.marks);
    let all = part.holes.iter().map(|hole| (Work::Openings, hole));
    let all = all.chain(marks.map(|mark| (Work::Letters, mark)));
    let mut farthest = 0.0_f64;
    for (work, points) in all {
        let at = middle(points).unwrap_or_default() + by;
        let same = contours.iter().filter(|contour| contour.work == work);
        let off = same.map(|contour| middle(&contour.points).unwrap_or_default().to(at).length());
        farthest = farthest.max(off.fold(f64::INFINITY, f64::min));
    }
    farthest
}

/// Parts that differ in nothing but their words: gives the part the kind whose words it bears.
fn by_engraving<'w>(
    part: &mut Part,
    kind: &mut &'w WantedPart,
    wanted: &'w [WantedPart],
    found: &mut [usize],
) {
    let wrong = |kind: &WantedPart, part: &Part| {
        let mut faults = Vec::new();
        check_engraving(part, kind, &mut faults);
        faults.len()
    };
    let now = wrong(kind, part);
    if now == 0 {
        return;
    }
    let alike =
        |other: &&WantedPart| vertex_distance(&kind.ring, &other.ring, true) <= TOLERANCE_MM;
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

fn check_engraving(part: &Part, kind: &WantedPart, faults: &mut Vec<OutlineFault>) {
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
        let on = |part: &&mut Part| {
            mark.points
                .iter()
                .all(|point| is_inside(*point, &part.outer))
        };
        match parts.iter_mut().find(on) {
            Some(part) => part.strokes.push(mark.points.clone()),
            None => {
                let at = mark.points.first().copied();
                let name = called(Work::Letters, at);
                faults.push(OutlineFault::new(
                    "mark-outside",
                    format!("{name} is not on a part"),
                ));
            }
        }
    }
    faults
}
