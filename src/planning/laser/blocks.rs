//! Guide blocks at the jig angles of a pattern.

use super::{LABEL_MARGIN_MM, Order, lay_out};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::laser::LaserPlan;
use crate::instructions::lettering;
use crate::instructions::outline::Part;
use crate::instructions::pare::{BlockFigures, ParePlan};
use crate::machines::Laser;
use crate::units::Rad;

/// Length of a block along the fence, mm. Common practice, no source.
const LENGTH_MM: f64 = 100.0;

/// Greatest height of a block over the fence, mm.
const HEIGHT_MM: f64 = 40.0;

/// Least length of a block's upper edge, for the label and for a clamp, mm.
const TOP_MM: f64 = 20.0;

/// Lays out one guide block for each jig angle of the pieces, for a laser called `machine`.
///
/// # Errors
/// All that keeps them from being cut; fields are those of the laser's profile.
pub fn plan_blocks(
    pare: &ParePlan,
    machine: &str,
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(LaserPlan, Vec<Finding>), Vec<Finding>> {
    let order = Order {
        title: &pare.title,
        machine,
        what: "guide blocks",
        sheet_thickness: None,
    };
    let parts = block_parts(pare, laser.label_height);
    Ok((lay_out(&order, &parts, laser, file_name)?, Vec::new()))
}

/// The blocks: the lower edge lies on the fence, the face at its right end stands at the jig angle
/// to it.
pub fn block_parts(pare: &ParePlan, label_height: f64) -> Vec<Part> {
    let block =
        |(needed, copy): (&BlockFigures, usize)| block(needed.jig_angle, copy, label_height);
    pare.blocks.iter().zip(1..).map(block).collect()
}

fn block(angle: f64, copy: usize, label_height: f64) -> Part {
    let height = HEIGHT_MM.min((LENGTH_MM - TOP_MM) * angle.tan());
    let top = LENGTH_MM - height / angle.tan();
    let p = Point::new;
    let text = Rad(angle).text().trim_end_matches(" deg").to_owned();
    let width = lettering::width(&text, label_height);
    let fits =
        width + 2.0 * LABEL_MARGIN_MM <= top && label_height + 2.0 * LABEL_MARGIN_MM <= height;
    let corner = p((top - width) / 2.0, (height - label_height) / 2.0);
    let strokes = if label_height > 0.0 && fits {
        lettering::strokes(&text, corner, label_height)
    } else {
        Vec::new()
    };
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
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blocks_face_stands_at_its_angle() {
        for degrees in [22.5_f64, 30.0, 45.0, 60.0, 67.5] {
            let part = block(degrees.to_radians(), 1, 2.5);
            let [_, foot, head, _] = part.outer[..] else {
                panic!()
            };
            let found = (head.y - foot.y).atan2(foot.x - head.x).to_degrees();
            assert!((found - degrees).abs() < 1e-9);
            assert!(head.x >= TOP_MM - 1e-9 && !part.strokes.is_empty());
        }
    }
}
