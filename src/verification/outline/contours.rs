//! The contours as the `dxf` crate's reader understands them.
//!
//! Left to the check of the text: what that reader hides. It ends the list of entities at the
//! first one it cannot read, skips entities and groups that it does not know, drops the layers of
//! vertices, adds missing layers to the table, and takes an empty line for the end of the file.

use super::report::{OutlineFault, TOLERANCE_MM, called};
use crate::geometry::Point;
use crate::instructions::outline::CutWork;
use dxf::Drawing;
use dxf::entities::{Entity, EntityType};
use dxf::enums::{AcadVersion, DrawingUnits, Units};
use std::collections::HashSet;

/// One polyline of the file.
pub(super) struct Contour {
    pub(super) work: CutWork,
    pub(super) closed: bool,
    pub(super) points: Vec<Point>,
}

/// All polylines on layers of work, in the file's order.
///
/// # Errors
/// A fault where the file cannot be read; lesser faults go to `faults`.
pub(super) fn read(
    bytes: &[u8],
    faults: &mut Vec<OutlineFault>,
) -> Result<Vec<Contour>, OutlineFault> {
    let mut bytes = bytes;
    let drawing = Drawing::load(&mut bytes)
        .map_err(|error| OutlineFault::new("unreadable", format!("not a DXF file: {error}")))?;
    let header = &drawing.header;
    if !matches!(header.version, AcadVersion::R2000 | AcadVersion::R12) {
        faults.push(OutlineFault::new(
            "version",
            "read as neither R2000 nor R12",
        ));
    }
    if header.default_drawing_units != Units::Millimeters
        || header.drawing_units != DrawingUnits::Metric
    {
        faults.push(OutlineFault::new(
            "units",
            "not read as metric, in millimetres",
        ));
    }
    Ok(drawing.entities().filter_map(contour).collect())
}

/// `None` for what is no polyline on a layer of work with finite coordinates: then the count is
/// wrong.
fn contour(entity: &Entity) -> Option<Contour> {
    let layer = &entity.common.layer;
    let work = CutWork::IN_ORDER
        .into_iter()
        .find(|work| work.layer() == layer)?;
    let (closed, points): (bool, Vec<Point>) = match &entity.specific {
        EntityType::LwPolyline(line) => (
            line.is_closed(),
            line.vertices.iter().map(|v| Point::new(v.x, v.y)).collect(),
        ),
        EntityType::Polyline(line) => {
            let vertices = line.vertices().map(|v| &v.location);
            (
                line.is_closed(),
                vertices.map(|at| Point::new(at.x, at.y)).collect(),
            )
        }
        _ => return None,
    };
    let finite = |p: &Point| p.x.is_finite() && p.y.is_finite();
    points.iter().all(finite).then_some(Contour {
        work,
        closed,
        points,
    })
}

/// What can be wrong with contours whatever they are meant to be.
pub(super) fn check(contours: &[Contour], faults: &mut Vec<OutlineFault>) {
    let rank = |contour: &Contour| {
        CutWork::IN_ORDER
            .iter()
            .position(|work| *work == contour.work)
    };
    if !contours.is_sorted_by_key(rank) {
        let text = "labels, holes and outlines do not follow each other in this order";
        faults.push(OutlineFault::new("order", text));
    }
    let mut known = HashSet::new();
    for contour in contours {
        let name = || called(contour.work, contour.points.first().copied());
        let cut = contour.work.cuts();
        let fewest = if cut { 3 } else { 2 };
        if contour.points.len() < fewest {
            let text = format!("{} with fewer than {fewest} vertices", name());
            faults.push(OutlineFault::new("shape", text));
        }
        if contour.closed != cut {
            let is = if cut {
                "is not closed"
            } else {
                "is closed: a label's strokes are open"
            };
            faults.push(OutlineFault::new("open", format!("{} {is}", name())));
        }
        if shortest_step(contour) < TOLERANCE_MM {
            let text = format!("{} repeats a vertex", name());
            faults.push(OutlineFault::new("zero-length", text));
        }
        // The same vertices in any order and direction, on any layer.
        let mut bits: Vec<(u64, u64)> = contour
            .points
            .iter()
            .map(|p| (key(p.x), key(p.y)))
            .collect();
        bits.sort_unstable();
        if !known.insert(bits) {
            let text = format!("{} is there twice", name());
            faults.push(OutlineFault::new("duplicate", text));
        }
    }
}

/// The bits of a coordinate, the same for both zeros.
fn key(value: f64) -> u64 {
    (value + 0.0).to_bits()
}

fn shortest_step(contour: &Contour) -> f64 {
    let points = &contour.points;
    let back = points.first().filter(|_| contour.closed);
    let steps = points.iter().zip(points.iter().skip(1).chain(back));
    steps
        .map(|(from, to)| from.to(*to).length())
        .fold(f64::INFINITY, f64::min)
}
