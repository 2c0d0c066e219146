//! Whether a drawing of the assembled panel shows its strips and pieces.

use super::matching::distance;
use super::{OutlineFault, TOLERANCE_MM, check_extents, contours, place, tags};
use crate::geometry::{Point, Vector};
use crate::infill::Infilling;
use crate::instructions::outline::Work;
use crate::lattice::Lattice;

/// Reads a DXF file of the panel from the front: the outline of every strip, a thickness wide about
/// its centre line, and of every piece, each a closed line of layer LETTERS, since nothing of it is to
/// be cut.
///
/// Codes as for [`super::check`]; `missing` and `surplus` for outlines.
pub fn check_panel(
    bytes: &[u8],
    lattice: &Lattice,
    filled: Option<&Infilling>,
) -> Vec<OutlineFault> {
    let mut faults = Vec::new();
    let read = tags::survey(bytes, &mut faults)
        .and_then(|survey| Ok((survey, contours::read(bytes, &mut faults)?)));
    let (survey, found) = match read {
        Ok(read) => read,
        Err(fault) => {
            faults.push(fault);
            return faults;
        }
    };
    check_extents(&survey, &found, &mut faults);
    if found.len() != survey.entities {
        faults.push(OutlineFault::new(
            "unreadable",
            "not all lines could be read",
        ));
    }
    let mut left: Vec<_> = found.iter().collect();
    let pieces = filled.into_iter().flat_map(|filled| &filled.cells);
    let pieces = pieces
        .flat_map(|cell| &cell.pieces)
        .map(|piece| piece.outline.clone());
    for ring in strips(lattice).into_iter().chain(pieces) {
        let same = left.iter().position(|contour| {
            contour.work == Work::Letters
                && contour.closed
                && distance(&ring, &contour.points, true) <= TOLERANCE_MM
        });
        match same {
            Some(at) => {
                left.swap_remove(at);
            }
            None => {
                let at = place(ring.first().copied().unwrap_or_default());
                faults.push(OutlineFault::new("missing", format!("no outline at {at}")));
            }
        }
    }
    if !left.is_empty() {
        let text = format!("{} lines of nothing", left.len());
        faults.push(OutlineFault::new("surplus", text));
    }
    faults
}

fn strips(lattice: &Lattice) -> Vec<Vec<Point>> {
    let half = lattice.section.thickness / 2.0;
    let ring = |strip: &crate::lattice::Strip| {
        let (from, to) = (strip.start, strip.end);
        let long = (to.x - from.x).hypot(to.y - from.y);
        let side = Vector::new((from.y - to.y) / long * half, (to.x - from.x) / long * half);
        let other = side.times(-1.0);
        vec![
            from.plus(other),
            to.plus(other),
            to.plus(side),
            from.plus(side),
        ]
    };
    lattice.strips.iter().map(ring).collect()
}
