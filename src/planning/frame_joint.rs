//! A frame's corners with mortise and tenon, and what is cut along its members.

use crate::geometry::{Point, bounds};
use crate::instructions::frame_joint::{
    RecessFigures, StileFigures, TenonFigures, TenonedRailFigures,
};
use crate::lattice::{Frame, Rail, Tenons};

/// A stile is longer by this at both ends until the joint is glued, so that the mortise's end does not
/// split out. Common practice, no source, mm.
pub(super) const HORN_MM: f64 = 20.0;

/// The figures of tenons; `names` are the rails'.
pub(super) fn tenon_figures(tenons: &Tenons, names: &[String]) -> TenonFigures {
    let name = |at: usize| names.get(at).cloned().unwrap_or_default();
    let rails = tenons.rails.iter().map(|rail| TenonedRailFigures {
        name: name(rail.rail),
        width_mm: rail.width,
        cut_length_mm: rail.cut_length,
        between_shoulders_mm: rail.between_shoulders,
        between_back_shoulders_mm: rail.between_back_shoulders,
        from_inner_edge_mm: rail.from_inner_edge,
        tenon_width_mm: rail.tenon_width,
        tenon_width_read_otherwise_mm: rail.tenon_width_read_otherwise,
        haunch_width_mm: rail.haunch_width,
    });
    let stiles = tenons.stiles.iter().map(|stile| {
        let [lower, upper] = stile.mortises;
        StileFigures {
            name: name(stile.rail),
            width_mm: stile.width,
            cut_length_mm: stile.cut_length,
            blank_mm: stile.cut_length + 2.0 * HORN_MM,
            lower_mortise_mm: lower,
            upper_mortise_mm: upper,
        }
    });
    TenonFigures {
        thickness_mm: tenons.thickness,
        from_front_mm: tenons.from_front,
        length_mm: tenons.length,
        mortise_depth_mm: tenons.mortise_depth,
        haunch_mm: tenons.haunch,
        rails: rails.collect(),
        stiles: stiles.collect(),
        horn_mm: HORN_MM,
        least_between_mortises_mm: tenons.least_between,
    }
}

/// The figures of a rebate or groove.
pub(super) fn recess_figures(frame: &Frame, rails: &[Rail]) -> Option<RecessFigures> {
    let recess = frame.recess?;
    let upright = rails.len() == 4
        && rails
            .iter()
            .all(|rail| rail.outward.x.abs() < 1e-9 || rail.outward.y.abs() < 1e-9);
    let corners: Vec<Point> = rails
        .iter()
        .flat_map(|rail| [rail.start, rail.end])
        .collect();
    let beyond = 2.0 * recess.into_member();
    let clear = bounds(corners.iter().copied()).filter(|_| upright);
    Some(RecessFigures {
        kind: recess.name(),
        into_member_mm: recess.into_member(),
        from_front_mm: recess.across(),
        clear_mm: clear.map(|(low, high)| [high.x - low.x + beyond, high.y - low.y + beyond]),
    })
}
