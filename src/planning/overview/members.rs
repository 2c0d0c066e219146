//! How much wood stays in a frame's members.

use crate::geometry::signed_area;
use crate::lattice::{Frame, FrameOutlines, Lattice, Rail, Recess, RecessKind, Tenons};
use crate::planning::rails::corners;

/// Wood of the members once all is cut, mm3: without horns, without what the strips' mortises, the rebate or
/// groove and the corner joints take. Nothing where the members' widths are not known or the frame cannot be
/// made.
pub(super) fn member_volume(lattice: &Lattice, frame: &Frame) -> Option<f64> {
    frame.widths.as_ref()?;
    let made = frame.rails(lattice).ok()?;
    let tenons = corners(lattice, frame, &made.rails).ok()?;
    let height = lattice.section.depth + frame.clearance;
    let mortises = made.rails.iter().flat_map(|rail| &rail.mortises);
    let mortises = mortises.map(|mortise| mortise.edges[1] - mortise.edges[0]);
    let lost = mortises.sum::<f64>() * frame.mortise_depth * height;
    let whole = match &tenons {
        Some(tenons) => tenoned(frame, tenons),
        None => mitred(frame, &made.rails),
    };
    Some(whole - lost)
}

/// Mitred prisms, less what a recess takes of each: it ends in the mitres too.
fn mitred(frame: &Frame, rails: &[Rail]) -> f64 {
    let outlines = FrameOutlines::mitred(rails);
    let members = outlines.members.iter();
    let area: f64 = members.map(|ring| signed_area(ring).abs()).sum();
    let taken = frame.recess.map_or(0.0, |recess| {
        let deep = recess.into_member();
        let strips = rails.iter().filter_map(|rail| {
            let member = rail.member.as_ref()?;
            // Longer at its depth by the share of both reaches.
            let reach: f64 = member.reaches().iter().sum();
            Some(deep * (rail.length() + reach * deep / member.width / 2.0))
        });
        strips.sum::<f64>() * across(&recess)
    });
    area * frame.thickness - taken
}

/// Front to back.
fn across(recess: &Recess) -> f64 {
    let [near, far] = recess.across();
    far - near
}

fn tenoned(frame: &Frame, tenons: &Tenons) -> f64 {
    let thick = tenons.thickness;
    let [deep, high] = frame
        .recess
        .map_or([0.0; 2], |recess| [recess.into_member(), across(&recess)]);
    let rails_wood = tenons.rails.iter().map(|rail| {
        let body = rail.between_shoulders * (rail.width * frame.thickness - deep * high);
        let tenon = rail.tenon_width * tenons.length + rail.haunch_width * tenons.haunch;
        // At the back the body goes on to shoulders farther out, beside its own rebate.
        let behind = rail.between_back_shoulders - rail.between_shoulders;
        body + 2.0 * tenon * thick + behind * (rail.width - deep) * high
    });
    let play = tenons.mortise_depth - tenons.length;
    let sockets: f64 = (tenons.rails.iter())
        .map(|rail| {
            let mortise = rail.tenon_width * tenons.mortise_depth;
            let socket = if tenons.haunch > 0.0 {
                rail.haunch_width * (tenons.haunch + play)
            } else {
                0.0
            };
            (mortise + socket) * thick
                - in_groove(frame, tenons, rail.tenon_width, rail.haunch_width)
        })
        .sum();
    let stiles_wood = tenons
        .stiles
        .iter()
        .map(|stile| stile.cut_length * (stile.width * frame.thickness - deep * high) - sockets);
    rails_wood.sum::<f64>() + stiles_wood.sum::<f64>()
}

/// What of a mortise and its socket lies in the groove, which has taken it already, mm3.
fn in_groove(frame: &Frame, tenons: &Tenons, tenon: f64, haunch: f64) -> f64 {
    let Some(groove) = frame
        .recess
        .filter(|recess| recess.kind == RecessKind::Groove)
    else {
        return 0.0;
    };
    let [near, far] = groove.across();
    let both = far.min(tenons.from_front + tenons.thickness) - near.max(tenons.from_front);
    let play = tenons.mortise_depth - tenons.length;
    let socket = if tenons.haunch > 0.0 {
        groove.depth.min(tenons.haunch + play) * haunch
    } else {
        0.0
    };
    (groove.depth.min(tenons.mortise_depth) * tenon + socket) * both.max(0.0)
}
