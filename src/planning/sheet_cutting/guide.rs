//! The paring guide as parts: blocks at the jig angles of a pattern, and the base, fence and stop
//! that they go with.
//!
//! Every part's lower side is its front edge, the one toward the piece; the base lies as it is worked
//! at, the fence along its upper side. So the drawn parts go together without being turned, their
//! labels up.

use super::batch::WareBatch;
use super::labels::{
    CHECK_LETTERS_MM, CHECK_LINE_MM, Letters, across, check_label, check_line, fitting, plate,
    rectangle,
};
use crate::finding::Finding;
use crate::geometry::{Point, Vector};
use crate::instructions::laser::{Stack, Ware};
use crate::instructions::lettering;
use crate::instructions::outline::CutPart;
use crate::instructions::pare::{GuideFigures, ParePlan};
use crate::machines::Laser;
use crate::phrase;
use crate::planning::paring::block_breadth;
use crate::units::Rad;

/// Where the check line lies over a front edge, mm.
const CHECK_MM: f64 = 1.5;

/// Sheets that are thinner by less than this are as thick as a layer has to be, of a layer.
const SAME_THICKNESS: f64 = 1e-9;

impl WareBatch {
    /// Guide blocks, from sheet `sheet` mm thick: as many layers of each as stand as high as the
    /// strips are deep.
    pub fn blocks(pare: &ParePlan, laser: &Laser, sheet: f64) -> WareBatch {
        let letters = Letters::of(laser);
        let stack = stack(&pare.guide, sheet);
        let kinds = pare.blocks.iter();
        let parts = layered(
            kinds.map(|needed| block(&pare.guide, needed.jig_angle, &letters)),
            stack,
        );
        let bare = parts.iter().filter(|part| part.strokes.is_empty()).count();
        let warning = (bare > 0 && letters.height > 0.0).then(|| {
            let text = phrase!(
                "{} of the guide blocks have no room for labels; measure their angles",
                bare
            );
            Finding::warning("no-room-for-label", Letters::field(laser), text)
        });
        WareBatch {
            warnings: warning.into_iter().collect(),
            stack: Some(stack),
            ..WareBatch::new(Ware::Blocks, None, pare.measured_stock.clone(), parts)
        }
    }

    /// What the blocks go with: a base, and a fence and a stop in as many layers as the blocks.
    pub fn guide(pare: &ParePlan, laser: &Laser, sheet: f64) -> WareBatch {
        let stack = stack(&pare.guide, sheet);
        let mut parts = vec![base(&pare.guide, &Letters::of(laser))];
        parts.extend(layered([fence(&pare.guide), stop(&pare.guide)], stack));
        WareBatch {
            stack: Some(stack),
            ..WareBatch::new(Ware::Guide, None, pare.measured_stock.clone(), parts)
        }
    }
}

/// How many layers come to the height.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // few layers
fn stack(guide: &GuideFigures, sheet: f64) -> Stack {
    let layers = (guide.height_mm / sheet - SAME_THICKNESS).ceil().max(1.0);
    Stack {
        layers: layers as usize,
        height_mm: guide.height_mm,
        least_sheet_mm: guide.height_mm / layers,
    }
}

fn layered(kinds: impl IntoIterator<Item = CutPart>, stack: Stack) -> Vec<CutPart> {
    let mut parts = Vec::new();
    for part in kinds {
        parts.extend((1..=stack.layers).map(|copy| CutPart {
            copy,
            ..part.clone()
        }));
    }
    parts
}

/// One of each part, without letters, for templates.
pub(crate) fn template_parts(pare: &ParePlan) -> Vec<CutPart> {
    let guide = &pare.guide;
    let blocks = pare.blocks.iter();
    let blocks = blocks.map(|needed| block(guide, needed.jig_angle, &Letters::none()));
    let rest = [base(guide, &Letters::none()), fence(guide), stop(guide)];
    blocks.chain(rest).collect()
}

/// The parts' outlines where they lie on the base.
pub(crate) struct GuidePlan {
    pub(crate) base: Vec<Point>,
    pub(crate) slot: Vec<Point>,
    /// The block's.
    pub(crate) bolts: Vec<Vec<Point>>,
    pub(crate) fence: Vec<Point>,
    pub(crate) stop: Vec<Point>,
    pub(crate) block: Vec<Point>,
}

/// The guide with a block, its stop set to a distance, in the frame of [`GuideFigures`].
pub(crate) fn guide_plan(guide: &GuideFigures, angle: f64, set: f64) -> GuidePlan {
    let front = guide.front_mm();
    let [stop_length, stop_breadth] = guide.stop_mm;
    let none = Letters::none();
    let block = block(guide, angle, &none).moved(Vector::new(guide.fence_mm[0], front));
    let stop_at = guide.corner_mm() - set - stop_length;
    let stop = stop(guide).moved(Vector::new(stop_at, front - stop_breadth));
    let base = base(guide, &none);
    GuidePlan {
        slot: base.holes.first().cloned().unwrap_or_default(),
        base: base.outer,
        fence: fence(guide).moved(Vector::new(0.0, front)).outer,
        bolts: [block.holes, stop.holes].concat(),
        stop: stop.outer,
        block: block.outer,
    }
}

fn plain(name: &str, size: [f64; 2], holes: Vec<Vec<Point>>) -> CutPart {
    CutPart {
        name: name.into(),
        copy: 1,
        outer: plate(size[0], size[1]),
        holes,
        strokes: Vec::new(),
        laid_edge: true,
    }
}

/// A square hole about its middle, drawn out along x by `longer`.
fn hole(guide: &GuideFigures, middle: Point, longer: f64) -> Vec<Point> {
    let half = guide.hole_mm / 2.0;
    rectangle(
        Point::new(middle.x - half, middle.y - half),
        Point::new(middle.x + longer + half, middle.y + half),
    )
}

fn fence(guide: &GuideFigures) -> CutPart {
    plain("fence", guide.fence_mm, Vec::new())
}

fn stop(guide: &GuideFigures) -> CutPart {
    let [length, breadth] = guide.stop_mm;
    let bolt = hole(guide, Point::new(length / 2.0, breadth / 2.0), 0.0);
    plain("stop", guide.stop_mm, vec![bolt])
}

/// The slot lets the stop's bolt from where the stop touches a block's corner to its reach; two holes
/// lie under those of every block.
fn base(guide: &GuideFigures, letters: &Letters) -> CutPart {
    let [stop_length, stop_breadth] = guide.stop_mm;
    let [fence, _] = guide.fence_mm;
    let front = guide.front_mm();
    let farthest = guide.corner_mm() - guide.reach_mm - stop_length / 2.0;
    let slot = Point::new(farthest, front - stop_breadth / 2.0);
    let mut holes = vec![hole(guide, slot, guide.reach_mm)];
    for bolt in guide.bolts_mm {
        let middle = Point::new(fence + bolt, front + guide.bolts_in_mm);
        holes.push(hole(guide, middle, 0.0));
    }
    let mut strokes = Vec::new();
    if letters.height > 0.0 && letters.least <= CHECK_LETTERS_MM {
        let line = Point::new(letters.clear.max(CHECK_MM), CHECK_MM);
        strokes.push(check_line(line));
        strokes.extend(check_label(line, letters.height));
    }
    CutPart {
        strokes,
        laid_edge: false,
        ..plain("base", guide.base_mm, holes)
    }
}

/// A block: the front edge below, from the square end at the left to the corner, from where the face runs
/// back at the jig angle, or leans out where the corner is blunt.
fn block(guide: &GuideFigures, angle: f64, letters: &Letters) -> CutPart {
    let length = guide.block_length_mm;
    let breadth = block_breadth(length, angle);
    let far = length - breadth / angle.tan();
    let text = Rad(angle).text().trim_end_matches(" deg").to_owned();
    let bolts = guide.bolts_mm;
    let bolt = |at| hole(guide, Point::new(at, guide.bolts_in_mm), 0.0);
    let p = Point::new;
    CutPart {
        outer: vec![
            p(0.0, 0.0),
            p(length, 0.0),
            p(far, breadth),
            p(0.0, breadth),
        ],
        strokes: engraving(guide, &text, [far.min(length), breadth], letters),
        ..plain(
            &format!("block {text}"),
            [length, breadth],
            bolts.map(bolt).to_vec(),
        )
    }
}

/// The check line along the front edge, the angle between bolts and far edge; nothing where either
/// has no room.
fn engraving(
    guide: &GuideFigures,
    text: &str,
    [far, breadth]: [f64; 2],
    letters: &Letters,
) -> Vec<Vec<Point>> {
    let below = guide.bolts_in_mm + guide.hole_mm / 2.0 + letters.clear;
    let room = breadth - below - letters.clear;
    let size = fitting(text, far - 2.0 * letters.clear, letters.height.min(room));
    if size <= 0.0 || size.min(CHECK_LETTERS_MM) < letters.least {
        return Vec::new();
    }
    let line = Point::new((guide.block_length_mm - CHECK_LINE_MM) / 2.0, CHECK_MM);
    let mut strokes = vec![check_line(line)];
    strokes.extend(check_label(line, letters.height));
    let corner = Point::new(
        (far - lettering::width(text, size)) / 2.0,
        below + (room - size) / 2.0,
    );
    strokes.extend(across(text, corner, size));
    strokes
}

#[cfg(test)]
mod tests {
    use super::*;
    use float_cmp::approx_eq;

    fn guide(height_mm: f64) -> GuideFigures {
        GuideFigures {
            base_mm: [240.0, 80.0],
            fence_mm: [80.0, 40.0],
            block_length_mm: 120.0,
            height_mm,
            bolts_mm: [12.0, 56.0],
            bolts_in_mm: 15.0,
            stop_mm: [40.0, 30.0],
            reach_mm: 160.0,
            hole_mm: 6.6,
        }
    }

    #[test]
    fn layers_are_as_many_as_the_height_takes() {
        for (height, sheet, layers) in [
            (8.0, 8.0, 1),
            (8.0, 7.9, 2),
            (8.0, 2.8, 3),
            (15.0, 5.0, 3),
            (0.3, 0.1, 3),
            (3.0, 8.0, 1),
        ] {
            let stack = stack(&guide(height), sheet);
            assert_eq!(stack.layers, layers, "{height} of {sheet}");
            assert!(stack.least_sheet_mm <= sheet + 1e-9);
        }
    }

    #[test]
    fn a_blocks_face_stands_at_its_angle() {
        for degrees in [22.5_f64, 30.0, 45.0, 60.0, 67.5, 120.0, 135.0, 150.0] {
            let part = block(&guide(8.0), degrees.to_radians(), &Letters::beam(2.5));
            let [_, foot, head, _] = part.outer[..] else {
                panic!()
            };
            let found = (head.y - foot.y).atan2(foot.x - head.x).to_degrees();
            assert!(approx_eq!(f64, found, degrees, epsilon = 1e-9));
            assert!(head.x >= 20.0 - 1e-9 && !part.strokes.is_empty());
        }
    }
}
