//! Pieces as plan polygons, grain along the piece, from sheet as thick as the strips are deep.

use super::super::stock::stock_of;
use super::{LABEL_MARGIN_MM, Order, lay_out};
use crate::finding::Finding;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::infill::{Infilling, PieceKind};
use crate::instructions::laser::LaserPlan;
use crate::instructions::lettering;
use crate::instructions::outline::Part;
use crate::lattice::Panel;
use crate::machines::Laser;
use crate::phrase;

/// Lays a panel's pieces out for a laser called `machine`; `file_name` gives the name of sheet n
/// (from 0) of how many.
///
/// # Errors
/// All that keeps them from being cut; fields are those of the laser's profile.
pub fn plan_piece_outlines(
    panel: &Panel,
    filled: &Infilling,
    machine: &str,
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(LaserPlan, Vec<Finding>), Vec<Finding>> {
    let mut parts = Vec::new();
    for (kind, number) in filled.kinds.iter().zip(1_usize..) {
        let strokes = label(
            &number.to_string(),
            kind,
            panel.strip.thickness,
            laser.label_height,
        );
        parts.extend((1..=kind.count).map(|copy| Part {
            name: format!("{number} {}", kind.name),
            copy,
            outer: kind.outline.clone(),
            holes: Vec::new(),
            strokes: strokes.clone(),
        }));
    }
    let lapped = filled
        .kinds
        .iter()
        .filter(|kind| kind.whole.is_none() && !kind.figures.laps.is_empty());
    let warn = |kind: &PieceKind| {
        let text = phrase!(
            "the half laps of the {} are not in its outline: saw them",
            kind.name.as_str()
        );
        Finding::warning("lap-not-drawn", "laser", text)
    };
    let warnings = lapped.map(warn).collect();
    let order = Order {
        title: &panel.title,
        machine,
        what: "pieces",
        sheet_thickness: Some(panel.strip.depth),
        measured_stock: stock_of(panel),
    };
    Ok((lay_out(&order, &parts, laser, file_name)?, warnings))
}

/// A piece's number in its middle; nothing where there is no room.
fn label(text: &str, kind: &PieceKind, thickness: f64, height: f64) -> Vec<Vec<Point>> {
    let height = height.min(thickness - 2.0 * LABEL_MARGIN_MM);
    let width = lettering::width(text, height);
    // A piece has its whole thickness between its shoulders; they lie at most a thickness in. One
    // that is cut off at the panel's edge may end in any way.
    let [from, to] = if kind.trims.is_empty() {
        [thickness, kind.figures.length - thickness]
    } else {
        whole_thickness(&kind.outline, thickness)
    };
    if height <= 0.0 || width > to - from {
        return Vec::new();
    }
    let corner = Point::new(f64::midpoint(from, to) - width / 2.0, -height / 2.0);
    lettering::strokes(text, corner, height)
}

/// Where along its axis a piece has both its long sides.
fn whole_thickness(outline: &[Point], thickness: f64) -> [f64; 2] {
    let side = |y: f64| {
        let on_side = outline
            .iter()
            .filter(|p| (p.y - y).abs() < SAME_POSITION_MM);
        on_side.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], p| {
            [low.min(p.x), high.max(p.x)]
        })
    };
    let (left, right) = (side(thickness / 2.0), side(-thickness / 2.0));
    [left[0].max(right[0]), left[1].min(right[1])]
}
