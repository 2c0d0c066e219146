//! From finished parts to the paths of the beam's middle.

use crate::geometry::offset::{OffsetError, offset};
use crate::geometry::{Point, bounds};
use crate::instructions::outline::{CutPart, CutPath, CutWork, SheetDrawing};
use crate::instructions::safety::SafetyNotes;
use std::fmt;

/// A part whose outline leaves no room for the kerf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineError {
    /// Name of the part.
    pub part: String,
    /// Which copy.
    pub copy: usize,
    /// Which hole, from 0; `None` for the outer contour.
    pub hole: Option<usize>,
    /// What is wrong with the contour.
    pub cause: OffsetError,
}

impl fmt::Display for OutlineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}, copy {}: ", self.part, self.copy)?;
        match self.hole {
            None => write!(f, "the outline cannot be cut: {}", self.cause),
            Some(hole) => write!(f, "hole {hole} cannot be cut: {}", self.cause),
        }
    }
}

impl std::error::Error for OutlineError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&self.cause)
    }
}

/// The paths that leave the finished parts standing when the beam removes a groove of `kerf_mm`
/// (0 for a plain drawing): outer contours moved out and holes moved in by half of it, labels as
/// they are; labels first, then holes, then outer contours, each in the parts' order.
///
/// # Errors
/// [`OutlineError`] for the first contour that has no room for the kerf.
pub fn sheet_drawing(
    parts: &[CutPart],
    kerf_mm: f64,
    safety: SafetyNotes,
) -> Result<SheetDrawing, OutlineError> {
    let half = kerf_mm / 2.0;
    let mut paths = Vec::new();
    for part in parts {
        paths.extend(part.strokes.iter().map(|stroke| CutPath {
            work: CutWork::Letters,
            closed: false,
            points: stroke.clone(),
        }));
        for (index, hole) in part.holes.iter().enumerate() {
            paths.push(closed_path(
                CutWork::Openings,
                moved_out(part, Some(index), hole, -half)?,
            ));
        }
        paths.push(closed_path(
            CutWork::Outlines,
            moved_out(part, None, &part.outer, half)?,
        ));
    }
    paths.sort_by_key(|path| CutWork::IN_ORDER.iter().position(|work| *work == path.work));
    Ok(SheetDrawing { safety, paths })
}

/// Lower left and upper right corner of the path around each part; a sharp tip's mitre reaches
/// farther out than half the kerf.
///
/// # Errors
/// [`OutlineError`] for the first outline that has no room for the kerf.
pub fn outline_boxes(parts: &[CutPart], kerf_mm: f64) -> Result<Vec<(Point, Point)>, OutlineError> {
    let mut boxes: Vec<(Point, Point)> = Vec::with_capacity(parts.len());
    let mut before: Option<&CutPart> = None;
    for part in parts {
        // Copies follow each other, and all have one outline.
        let known = boxes.last().copied();
        let known = known.filter(|_| before.is_some_and(|before| before.outer == part.outer));
        boxes.push(match known {
            Some(known) => known,
            None => {
                let path = moved_out(part, None, &part.outer, kerf_mm / 2.0)?;
                bounds(path).unwrap_or_default()
            }
        });
        before = Some(part);
    }
    Ok(boxes)
}

fn closed_path(work: CutWork, points: Vec<Point>) -> CutPath {
    CutPath {
        work,
        closed: true,
        points,
    }
}

fn moved_out(
    part: &CutPart,
    hole: Option<usize>,
    ring: &[Point],
    distance: f64,
) -> Result<Vec<Point>, OutlineError> {
    offset(ring, distance).map_err(|cause| OutlineError {
        part: part.name.clone(),
        copy: part.copy,
        hole,
        cause,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;

    fn square(at: f64, side: f64) -> Vec<Point> {
        let p = Point::new;
        let to = at + side;
        vec![p(at, at), p(to, at), p(to, to), p(at, to)]
    }

    fn plate(hole: f64) -> CutPart {
        CutPart {
            name: "plate".into(),
            copy: 2,
            outer: square(0.0, 10.0),
            holes: vec![square(4.0, hole)],
            strokes: vec![vec![Point::new(1.0, 1.0), Point::new(2.0, 1.0)]],
            laid_edge: false,
        }
    }

    #[test]
    fn labels_then_holes_then_outlines_each_on_the_right_side() {
        let drawing =
            sheet_drawing(&[plate(2.0), plate(3.0)], 0.2, SafetyNotes::for_laser()).unwrap();
        let works: Vec<CutWork> = drawing.paths.iter().map(|path| path.work).collect();
        use CutWork::{Letters, Openings, Outlines};
        assert_eq!(
            works,
            [Letters, Letters, Openings, Openings, Outlines, Outlines]
        );
        let corner = |i: usize| drawing.paths[i].points[0];
        assert!(corner(4).to(Point::new(-0.1, -0.1)).length() < 1e-12);
        assert!(corner(2).to(Point::new(4.1, 4.1)).length() < 1e-12);
        assert_eq!(corner(0), Point::new(1.0, 1.0));
        assert!(!drawing.paths[0].closed && drawing.paths[5].closed);
    }

    #[test]
    fn a_hole_smaller_than_the_kerf_is_refused_by_name() {
        let error = sheet_drawing(&[plate(0.1)], 0.2, SafetyNotes::for_laser()).unwrap_err();
        assert_eq!((error.copy, error.hole), (2, Some(0)));
        assert_eq!(
            error.to_string(),
            "plate, copy 2: hole 0 cannot be cut: edge 0 is lost when the path is moved aside: \
             there is no room for the kerf"
        );
    }
}
