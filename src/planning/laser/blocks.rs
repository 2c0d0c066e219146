//! Guide blocks at the jig angles of a pattern.

use super::batch::Batch;
use super::marks::{
    CHECK_END_MM, CHECK_LETTERS_MM, CHECK_LINE_MM, Letters, across, check_label, check_line,
    fitting,
};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::laser::Ware;
use crate::instructions::lettering;
use crate::instructions::outline::Part;
use crate::instructions::pare::{BlockFigures, ParePlan};
use crate::machines::Laser;
use crate::phrase;
use crate::units::Rad;

/// Length of a block along the fence, mm. Common practice, no source.
const LENGTH_MM: f64 = 100.0;

/// Greatest height of a block over the fence, mm.
const HEIGHT_MM: f64 = 40.0;

/// Least length of a block's upper edge, for the label and for a clamp, mm.
const TOP_MM: f64 = 20.0;

/// Lower blocks have no check line, mm.
const TALL_ENOUGH_MM: f64 = 12.0;

impl Batch {
    /// Guide blocks as parts.
    pub fn blocks(pare: &ParePlan, laser: &Laser) -> Batch {
        let letters = Letters::of(laser);
        let parts = block_parts(pare, &letters);
        let bare = parts.iter().filter(|part| part.strokes.is_empty()).count();
        let warning = (bare > 0 && letters.height > 0.0).then(|| {
            let text = phrase!(
                "{} of the guide blocks have no room for labels; measure their angles",
                bare
            );
            Finding::warning("no-room-for-label", Letters::field(laser), text)
        });
        Batch {
            warnings: warning.into_iter().collect(),
            ..Batch::new(Ware::Blocks, None, pare.measured_stock.clone(), parts)
        }
    }
}

/// The blocks: the lower edge lies on the fence, the face at its right end stands at the jig angle
/// to it.
pub(in crate::planning) fn block_parts(pare: &ParePlan, letters: &Letters) -> Vec<Part> {
    let block = |(needed, copy): (&BlockFigures, usize)| block(needed.jig_angle, copy, letters);
    pare.blocks.iter().zip(1..).map(block).collect()
}

fn block(angle: f64, copy: usize, letters: &Letters) -> Part {
    let height = HEIGHT_MM.min((LENGTH_MM - TOP_MM) * angle.tan());
    let top = LENGTH_MM - height / angle.tan();
    let p = Point::new;
    let text = Rad(angle).text().trim_end_matches(" deg").to_owned();
    let strokes = engraving(&text, angle, [top, height], letters);
    Part {
        name: format!("block {text}"),
        copy,
        outer: vec![
            p(0.0, 0.0),
            p(LENGTH_MM, 0.0),
            p(top, height),
            p(0.0, height),
        ],
        holes: Vec::new(),
        strokes,
        laid_edge: true,
    }
}

/// The check line along the fence, the angle above it; a block too low for both has the angle
/// alone, as large as it can be, or nothing.
fn engraving(
    text: &str,
    angle: f64,
    [top, height]: [f64; 2],
    letters: &Letters,
) -> Vec<Vec<Point>> {
    let line = Point::new((LENGTH_MM - CHECK_LINE_MM) / 2.0, 1.5);
    let mut strokes = Vec::new();
    let mut above = letters.clear;
    // The face leans over the line's right end.
    if height > TALL_ENOUGH_MM && line.x * angle.tan() > line.y + CHECK_END_MM {
        strokes.push(check_line(line));
        strokes.extend(check_label(line, letters.height));
        above = line.y + 4.0;
    }
    let room = height - above - letters.clear;
    let size = fitting(text, top - 2.0 * letters.clear, letters.height.min(room));
    if size <= 0.0 || size.min(CHECK_LETTERS_MM) < letters.least {
        return Vec::new();
    }
    let corner = Point::new(
        (top - lettering::width(text, size)) / 2.0,
        (height + above - letters.clear - size) / 2.0,
    );
    strokes.extend(across(text, corner, size));
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blocks_face_stands_at_its_angle() {
        for degrees in [22.5_f64, 30.0, 45.0, 60.0, 67.5] {
            let part = block(degrees.to_radians(), 1, &Letters::beam(2.5));
            let [_, foot, head, _] = part.outer[..] else {
                panic!()
            };
            let found = (head.y - foot.y).atan2(foot.x - head.x).to_degrees();
            assert!((found - degrees).abs() < 1e-9);
            assert!(head.x >= TOP_MM - 1e-9 && !part.strokes.is_empty());
        }
    }
}
