//! How much wood stays in a panel, and what it weighs.

use super::members::member_volume;
use super::trimmed::{KeptStrip, without_doubles};
use super::weighed::weighed;
use crate::geometry::convex::common;
use crate::geometry::{Point, SAME_POSITION_MM, signed_area};
use crate::infill::Infilling;
use crate::instructions::overview::{Density, FrameWeight, Weight};
use crate::lattice::{Face, Frame, Lattice, Notch, Panel};

/// What strips, pieces and frame weigh; `kept` says what stays of each strip.
pub(super) fn weight(
    panel: &Panel,
    kept: &[KeptStrip],
    filled: Option<&Infilling>,
    frame: Option<&Frame>,
) -> Weight {
    let lattice = panel.lattice();
    let strips = lattice.strips.iter().zip(kept);
    let strips = strips.map(|(strip, kept)| strip_volume(lattice, &strip.notches, &kept.outline));
    let cubic_mm = strips.sum::<f64>() + filled.map_or(0.0, piece_volume);
    let section = &lattice.section;
    let wood = section.wood.as_deref();
    let (density, like) = weighed(wood, section.density);
    Weight {
        volume_cm3: cubic_mm / 1e3,
        kg: density.as_ref().map(|density| kilograms(cubic_mm, density)),
        frame: frame.and_then(|frame| frame_weight(lattice, frame)),
        density,
        like,
    }
}

fn kilograms(cubic_mm: f64, density: &Density) -> f64 {
    cubic_mm / 1e9 * density.kg_per_m3
}

/// The members, of the strips' wood where the job does not say another.
fn frame_weight(lattice: &Lattice, frame: &Frame) -> Option<FrameWeight> {
    let cubic_mm = member_volume(lattice, frame)?;
    let section = &lattice.section;
    let wood = frame.wood.as_deref();
    let (density, like) = match (wood, frame.density) {
        (None, None) => weighed(section.wood.as_deref(), section.density),
        (wood, density) => weighed(wood, density),
    };
    Some(FrameWeight {
        volume_cm3: cubic_mm / 1e3,
        kg: density.as_ref().map(|density| kilograms(cubic_mm, density)),
        density,
        wood: frame.wood.clone(),
        like,
    })
}

/// What stays of a strip less its notches, mm3.
fn strip_volume(lattice: &Lattice, notches: &[Notch], outline: &[Point]) -> f64 {
    let section = &lattice.section;
    let whole = signed_area(outline) * section.depth;
    let together = |a: &Notch, b: &Notch| b.centre - a.centre < SAME_POSITION_MM;
    let nodes = notches.chunk_by(together);
    whole
        - nodes
            .map(|node| node_volume(node, outline, section.thickness))
            .sum::<f64>()
}

/// What a strip loses at one node. Slots of one face that cross there are taken out once: of two that
/// have an area in common, the deeper one counts in it. A node has two mates at most.
fn node_volume(node: &[Notch], outline: &[Point], thickness: f64) -> f64 {
    let slots: Vec<(Vec<Point>, f64, Face)> = node
        .iter()
        .map(|notch| {
            let slot = without_doubles(common(&slot(notch, thickness), outline));
            (slot, notch.depth, notch.face)
        })
        .collect();
    let alone: f64 = slots
        .iter()
        .map(|(slot, depth, _)| signed_area(slot) * depth)
        .sum();
    let twice: f64 = match slots.as_slice() {
        [(a, deep, face), (b, other_deep, other_face)] if face == other_face => {
            signed_area(&common(a, b)) * deep.min(*other_deep)
        }
        _ => 0.0,
    };
    alone - twice
}

/// A notch as seen from the front in the strip's own frame: along it from the datum end, and across.
fn slot(notch: &Notch, thickness: f64) -> Vec<Point> {
    let half = thickness / 2.0;
    // From the lower to the upper side of the strip the slot leans along its mate.
    let lean = half / notch.angle.tan();
    ring([
        (notch.near_edge() - lean, -half),
        (notch.far_edge() - lean, -half),
        (notch.far_edge() + lean, half),
        (notch.near_edge() + lean, half),
    ])
}

fn ring(corners: [(f64, f64); 4]) -> Vec<Point> {
    corners.map(|(x, y)| Point::new(x, y)).to_vec()
}

/// Pieces as they lie in the cells less their laps, mm3.
fn piece_volume(filled: &Infilling) -> f64 {
    let pieces = filled.cells.iter().flat_map(|cell| &cell.pieces);
    let volumes = pieces.filter(|piece| piece.counts()).map(|piece| {
        let section = filled.stock_of(piece);
        let laps = piece.laps.iter();
        let kind = filled.kinds.get(piece.kind).filter(|_| piece.run.is_some());
        let outline = kind.map_or(&piece.outline, |kind| &kind.outline);
        let lost = laps.map(|lap| lap.width * section.thickness * lap.fraction);
        (signed_area(outline).abs() - lost.sum::<f64>()) * section.depth
    });
    volumes.sum()
}
