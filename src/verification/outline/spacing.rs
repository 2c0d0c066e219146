//! Room between the cut paths, and between them and the sheet's margin.

use super::contours::Contour;
use super::meant_sheet::MeantSheet;
use super::near::Nearby;
use super::report::{OutlineFault, TOLERANCE_MM, called, mm};
use super::rings::{Edge, edges, is_inside};
use crate::geometry::{Point, bounds};
use crate::instructions::outline::CutWork;
use crate::machines::Sheet;

/// A contour that is cut, and the box around it.
struct CutPath<'a> {
    work: CutWork,
    points: &'a [Point],
    low: Point,
    high: Point,
    /// Its edges, and where they are.
    edges: Vec<Edge>,
    nearby: Nearby,
}

impl<'a> CutPath<'a> {
    fn of(contour: &'a Contour) -> Option<Self> {
        let (low, high) = bounds(contour.points.iter().copied())?;
        let edges: Vec<Edge> = edges(&contour.points).collect();
        Some(CutPath {
            work: contour.work,
            points: &contour.points,
            low,
            high,
            nearby: Nearby::of(edges.iter().map(Edge::corners)),
            edges,
        })
    }

    /// Distance of another one, mm; infinite where it is more than `within`.
    fn gap(&self, other: &CutPath, within: f64) -> f64 {
        let mut nearest = f64::INFINITY;
        for edge in &other.edges {
            for at in self.nearby.near(edge.corners(), within) {
                let gap = self
                    .edges
                    .get(at)
                    .map_or(f64::INFINITY, |own| own.gap(edge));
                nearest = nearest.min(gap);
            }
        }
        nearest
    }
}

impl CutPath<'_> {
    /// Whether the other one begins inside.
    fn encloses(&self, other: &CutPath) -> bool {
        is_inside(
            other.points.first().copied().unwrap_or_default(),
            self.points,
        )
    }

    fn name(&self) -> String {
        called(self.work, self.points.first().copied())
    }
}

/// So many pairs of paths are told that are too near each other: of a drawing whose parts all lie on one
/// heap there would be as many as pairs.
const MOST_PAIRS: usize = 200;

/// Checks that everything lies on the sheet and out of its margin, that cut paths keep a kerf apart
/// and parts the sheet's gap.
pub(super) fn check(contours: &[Contour], meant: &MeantSheet, faults: &mut Vec<OutlineFault>) {
    let mut paths = Vec::with_capacity(contours.len());
    for contour in contours {
        let Some(path) = CutPath::of(contour) else {
            continue;
        };
        on_sheet(&path, meant, faults);
        if path.work.cuts() {
            paths.push(path);
        }
    }
    paths.sort_by(|a, b| a.low.y.total_cmp(&b.low.y));
    let most = gap_of_paths(meant).max(2.0 * reach(CutWork::Outlines, meant));
    let nearby = Nearby::of(paths.iter().map(|path| [path.low, path.high]));
    let told = faults.len();
    for (index, path) in paths.iter().enumerate() {
        let near = nearby.near([path.low, path.high], most.max(TOLERANCE_MM));
        for other in near.into_iter().filter(|other| *other > index) {
            if faults.len() >= told + MOST_PAIRS {
                let text =
                    format!("more pairs may be; {MOST_PAIRS} are told, the rest was not looked at");
                faults.push(OutlineFault::new("too-close", text));
                return;
            }
            if let Some(other) = paths.get(other) {
                room(
                    path,
                    other,
                    least_apart(path.work, other.work, meant),
                    faults,
                );
            }
        }
    }
}

/// What is left of the sheet's gap between two straight sides when each path has moved half a kerf out.
fn gap_of_paths(meant: &MeantSheet) -> f64 {
    meant.sheet.gap - meant.kerf_mm
}

/// How far two paths must be apart.
fn least_apart(one: CutWork, other: CutWork, meant: &MeantSheet) -> f64 {
    if meant.cutter_mm.is_some() && one != other {
        // A cutter's groove beside a hole lies in the hole.
        return TOLERANCE_MM;
    }
    let grooves = reach(one, meant) + reach(other, meant);
    let both = if one == CutWork::Outlines && other == CutWork::Outlines {
        grooves.max(gap_of_paths(meant))
    } else {
        grooves
    };
    (both - TOLERANCE_MM).max(TOLERANCE_MM)
}

/// How far the groove reaches beyond a path, away from the part: a beam runs in its middle, a
/// cutter wholly beside an outline and inside a hole.
fn reach(work: CutWork, meant: &MeantSheet) -> f64 {
    match (work, meant.cutter_mm) {
        (CutWork::Letters | CutWork::Frame(_) | CutWork::Bridges, _)
        | (CutWork::Openings, Some(_)) => 0.0,
        (CutWork::Outlines, Some(diameter)) => diameter,
        (CutWork::Openings | CutWork::Outlines, None) => meant.kerf_mm / 2.0,
    }
}

/// The whole groove must be on the sheet, and out of its margin.
fn on_sheet(path: &CutPath, meant: &MeantSheet, faults: &mut Vec<OutlineFault>) {
    let half = reach(path.work, meant) - TOLERANCE_MM;
    let Sheet {
        length,
        width,
        margin,
        ..
    } = meant.sheet;
    let keeps = |edge: f64| {
        path.low.x >= edge
            && path.low.y >= edge
            && path.high.x <= length - edge
            && path.high.y <= width - edge
    };
    if !keeps(half) {
        let text = format!("{} reaches beyond the sheet", path.name());
        faults.push(OutlineFault::new("off-sheet", text));
    } else if !keeps(margin + half) {
        let text = format!(
            "{} reaches into the margin of {} mm",
            path.name(),
            mm(margin)
        );
        faults.push(OutlineFault::new("in-margin", text));
    }
}

/// Checks two paths whose boxes are near each other.
fn room(path: &CutPath, other: &CutPath, least: f64, faults: &mut Vec<OutlineFault>) {
    let nearest = path.gap(other, least);
    let names = || format!("{} and {}", path.name(), other.name());
    if nearest < least {
        let text = format!(
            "{} are only {} mm apart, {} wanted",
            names(),
            mm(nearest),
            mm(least)
        );
        faults.push(OutlineFault::new("too-close", text));
    } else if path.work == CutWork::Outlines && other.work == CutWork::Outlines {
        // Their edges do not cross, so that one point tells of all.
        if path.encloses(other) || other.encloses(path) {
            let text = format!("{} lie one in the other", names());
            faults.push(OutlineFault::new("overlap", text));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(work: CutWork, at: f64, side: f64) -> Contour {
        let p = Point::new;
        let to = at + side;
        Contour {
            work,
            closed: true,
            points: vec![p(at, at), p(to, at), p(to, to), p(at, to)],
        }
    }

    fn codes(contours: &[Contour]) -> Vec<&'static str> {
        let meant = MeantSheet {
            parts: &[],
            kerf_mm: 0.2,
            cutter_mm: None,
            sheet: Sheet {
                length: 20.0,
                width: 20.0,
                margin: 0.0,
                gap: 0.0,
            },
        };
        codes_of(contours, &meant)
    }

    fn codes_of(contours: &[Contour], meant: &MeantSheet) -> Vec<&'static str> {
        let mut faults = Vec::new();
        check(contours, meant, &mut faults);
        faults.iter().map(|fault| fault.code).collect()
    }

    #[test]
    fn paths_keep_gap_and_margin() {
        let outer = CutWork::Outlines;
        let meant = |kerf_mm, cutter_mm| MeantSheet {
            parts: &[],
            kerf_mm,
            cutter_mm,
            sheet: Sheet {
                length: 20.0,
                width: 20.0,
                margin: 1.0,
                gap: 2.0,
            },
        };
        let two = |from: f64, apart: f64| {
            let p = Point::new;
            let bar = |low: f64| Contour {
                work: outer,
                closed: true,
                points: vec![
                    p(from, low),
                    p(9.0, low),
                    p(9.0, low + 3.0),
                    p(from, low + 3.0),
                ],
            };
            [bar(3.0), bar(6.0 + apart)]
        };
        // Half a kerf beyond the path lies the groove's edge, a kerf of the gap is lost to paths.
        let beam = meant(0.2, None);
        assert!(codes_of(&two(1.1, 1.8), &beam).is_empty());
        assert_eq!(codes_of(&two(1.09, 1.8), &beam), ["in-margin"; 2]);
        assert_eq!(codes_of(&two(1.1, 1.79), &beam), ["too-close"]);
        let cutter = meant(0.0, Some(0.5));
        assert!(codes_of(&two(1.5, 2.0), &cutter).is_empty());
        assert_eq!(codes_of(&two(1.49, 2.0), &cutter), ["in-margin"; 2]);
        assert_eq!(codes_of(&two(1.5, 1.99), &cutter), ["too-close"]);
    }

    #[test]
    fn paths_keep_a_kerf_apart() {
        let outer = CutWork::Outlines;
        let diagonal = |gap: f64| {
            let other = 5.0 + gap / 2f64.sqrt();
            codes(&[square(outer, 1.0, 4.0), square(outer, other, 4.0)])
        };
        assert!(diagonal(0.2).is_empty());
        assert_eq!(diagonal(0.19), ["too-close"]);
        assert_eq!(diagonal(-1.0), ["too-close"]);
    }

    #[test]
    fn one_part_in_another_is_an_overlap_and_a_hole_is_not() {
        assert_eq!(
            codes(&[
                square(CutWork::Outlines, 1.0, 9.0),
                square(CutWork::Outlines, 3.0, 2.0)
            ]),
            ["overlap"]
        );
        assert!(
            codes(&[
                square(CutWork::Outlines, 1.0, 9.0),
                square(CutWork::Openings, 3.0, 2.0)
            ])
            .is_empty()
        );
    }

    #[test]
    fn grooves_stay_on_the_sheet() {
        assert!(codes(&[square(CutWork::Outlines, 0.1, 19.8)]).is_empty());
        assert_eq!(
            codes(&[square(CutWork::Outlines, 0.1, 19.9)]),
            ["off-sheet"]
        );
        assert_eq!(
            codes(&[square(CutWork::Outlines, 0.05, 10.0)]),
            ["off-sheet"]
        );
        assert!(codes(&[square(CutWork::Letters, 0.0, 20.0)]).is_empty());
    }
}
