//! What stays of strips once their ends are cut off.

use crate::geometry::convex::chord;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::{Frame, Lattice, Margins, Strip};

/// From and to of what stays of each strip, along its centre line from its datum end, mm, in the
/// lattice's order; the middle of each cut. Nothing where a frame cannot be made.
pub(super) fn kept(
    lattice: &Lattice,
    frame: Option<&Frame>,
    margins: Margins,
) -> Option<Vec<[f64; 2]>> {
    if let Some(frame) = frame {
        let rails = frame.rails(lattice).ok()?;
        return Some(rails.trimmed.iter().map(|ends| ends.at).collect());
    }
    let outline = margins.around(&lattice.region)?;
    let strips = lattice.strips.iter();
    strips.map(|strip| within(strip, &outline)).collect()
}

/// What of a strip's centre line lies in an outline.
fn within(strip: &Strip, outline: &[Point]) -> Option<[f64; 2]> {
    let along = strip.start.to(strip.end).unit()?;
    let [from, to] = chord(outline, strip.start, along, SAME_POSITION_MM)?;
    Some([from.max(0.0), to.min(strip.length)])
}
