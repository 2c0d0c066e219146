//! The wood that notches leave, taken as solids.

use super::by_grid;
use super::slanted::Spacing;
use crate::finding::Finding;
use crate::geometry::convex::gap;
use crate::geometry::{Point, SAME_POSITION_MM};
use crate::lattice::assembly::assembly;
use crate::lattice::design::Design;
use crate::lattice::laps::Face;
use crate::lattice::layout::Lattice;
use crate::lattice::strip::{Notch, NotchMate};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::{AtLeast, Mm};

/// What a design's strips show that its measures do not.
pub(super) fn faults(design: &Design, lattice: &Lattice) -> Vec<Finding> {
    if lattice.strips.is_empty() {
        let text = "no strip would be held at two places in this region";
        let hint = "a larger region, or a smaller spacing";
        return vec![Finding::error("region-too-small", "grid.region", text).hint(hint)];
    }
    if let Some(spacing) = by_grid::spacing(design)
        && let Some(web) = thin_web(design, lattice, &spacing)
    {
        return vec![web];
    }
    if lattice.tangled {
        let text = "overhangs meet one strip after the other outside the region";
        let hint = "a shorter overhang, less than the step from notch to notch";
        return vec![Finding::error("overhang-too-long", "grid.overhang", text).hint(hint)];
    }
    match assembly(&lattice.strips) {
        Ok(_) => Vec::new(),
        Err(ring) => {
            let names: Vec<String> = ring.iter().take(6).map(|id| lattice.label(*id)).collect();
            let text = format!(
                "{} hold each other: no order puts them together",
                names.join(", ")
            );
            vec![Finding::error("cannot-be-assembled", "strip.weave", text)]
        }
    }
}

/// What notches for pieces that run over strips leave too thin: the worst of it.
pub(super) fn crossed_faults(design: &Design, lattice: &Lattice) -> Vec<Finding> {
    let strip = &design.strip;
    let mut worst: Option<(f64, Phrase)> = None;
    let mut add = |left: f64, text: Phrase| {
        if worst.as_ref().is_none_or(|(least, _)| left < *least) {
            worst = Some((left, text));
        }
    };
    for bundle in &lattice.bundles {
        let label = bundle.strips.first().map(|id| lattice.label(*id));
        let label = label.unwrap_or_default();
        for (at, notch) in bundle.notches.iter().enumerate() {
            let is_crossed = notch.mate == NotchMate::Piece;
            if is_crossed {
                let floor = strip.depth - notch.depth;
                let text = phrase!(
                    "strip {} keeps {} of its depth under a piece that runs over it; at least {} must stay",
                    label.as_str(),
                    Mm(floor),
                    Mm(strip.joinery.least_floor)
                );
                add(floor - strip.joinery.least_floor, text);
            }
            for other in bundle.notches.iter().skip(at + 1) {
                if is_crossed || other.mate == NotchMate::Piece {
                    let web = web(notch, other, strip.thickness, strip.depth);
                    let text = phrase!(
                        "strip {} keeps {} of wood beside a notch for a piece that runs over it; at least {} must stay",
                        label.as_str(),
                        Mm(web),
                        Mm(strip.least_web)
                    );
                    add(web - strip.least_web, text);
                }
            }
        }
    }
    let thin = worst.filter(|(left, _)| *left < -SAME_POSITION_MM);
    let fault = |(_, text)| {
        let hint = "a larger pitch, thinner pieces, or a pattern whose pieces cross the strips farther from \
                    the nodes and from each other";
        Finding::error("crossed-strip-too-thin", "infill", text).hint(hint)
    };
    thin.map(fault).into_iter().collect()
}

/// The thinnest web between notches of neighbouring nodes, if it is too thin.
fn thin_web(design: &Design, lattice: &Lattice, spacing: &Spacing) -> Option<Finding> {
    let strip = &design.strip;
    let mut thinnest: Option<(f64, String)> = None;
    for bundle in &lattice.bundles {
        for (at, notch) in bundle.notches.iter().enumerate() {
            let after = bundle.notches.iter().skip(at + 1);
            let next = after.filter(|other| other.centre - notch.centre > SAME_POSITION_MM);
            // Both slots of the next node; those farther away stand behind them.
            for other in next.take(2) {
                let web = web(notch, other, strip.thickness, strip.depth);
                if thinnest.as_ref().is_none_or(|(least, _)| web < *least) {
                    let label = bundle.strips.first().map(|id| lattice.label(*id));
                    thinnest = Some((web, label.unwrap_or_default()));
                }
            }
        }
    }
    let (web, label) = thinnest?;
    if web >= strip.least_web - SAME_POSITION_MM {
        return None;
    }
    let text = phrase!(
        "strip {} keeps {} of wood between two notches; at least {} must stay",
        label,
        Mm(web),
        Mm(strip.least_web)
    );
    let hint = phrase!("make it {} or more", AtLeast(spacing.least));
    Some(Finding::error("web-too-thin", spacing.field, text).hint(hint))
}

/// Distance between two notches as solids, mm: slots are prisms, so it is made up of the distance
/// of their outlines and that of their depths.
fn web(a: &Notch, b: &Notch, thickness: f64, depth: f64) -> f64 {
    let [a_range, b_range] = [a, b].map(|notch| match notch.face {
        Face::Front => [0.0, notch.depth],
        Face::Back => [depth - notch.depth, depth],
    });
    let between = (a_range[0] - b_range[1])
        .max(b_range[0] - a_range[1])
        .max(0.0);
    gap(&outline(a, thickness), &outline(b, thickness)).hypot(between)
}

/// A notch seen from the front: a parallelogram across the strip, u along it.
fn outline(notch: &Notch, thickness: f64) -> Vec<Point> {
    let half = thickness / 2.0;
    let slant = half / notch.angle.tan();
    vec![
        Point::new(notch.near_edge() - slant, -half),
        Point::new(notch.far_edge() - slant, -half),
        Point::new(notch.far_edge() + slant, half),
        Point::new(notch.near_edge() + slant, half),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lattice::{NotchMate, StripId};
    use float_cmp::approx_eq;
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_3};

    fn notch(centre: f64, angle: f64, depth: f64, face: Face) -> Notch {
        let mate = NotchMate::Strip(StripId {
            family: 1,
            number: 1,
        });
        Notch {
            mate,
            centre,
            width: 3.0 / angle.sin(),
            depth,
            face,
            angle,
        }
    }

    #[test]
    fn webs_are_measured_square_to_the_slots() {
        let at = |centre, angle| notch(centre, angle, 6.0, Face::Back);
        assert!(approx_eq!(
            f64,
            web(&at(20.0, FRAC_PI_2), &at(30.0, FRAC_PI_2), 3.0, 12.0),
            7.0,
            epsilon = 1e-12
        ));
        // Parallel slots: (step - w) sin A.
        let parallel = web(&at(20.0, FRAC_PI_3), &at(30.0, FRAC_PI_3), 3.0, 12.0);
        let wanted = 10.0 * FRAC_PI_3.sin() - 3.0;
        assert!(approx_eq!(f64, parallel, wanted, epsilon = 1e-12));
        // Slots that slant toward each other are nearest at a side: there the edges are
        // step - w - t / tan 60 apart, and the shortest way from one's corner to the other's
        // wall goes square to that wall, out of the strip: so it ends at the corner opposite.
        let against = web(&at(20.0, FRAC_PI_3), &at(30.0, 2.0 * FRAC_PI_3), 3.0, 12.0);
        let apart = 10.0 - 3.0 / FRAC_PI_3.sin() - 3.0 / FRAC_PI_3.tan();
        assert!(against <= apart + 1e-12 && against >= apart * FRAC_PI_3.sin() - 1e-12);
    }

    #[test]
    fn notches_from_both_faces_are_apart_in_depth_too() {
        let a = notch(20.0, FRAC_PI_2, 4.0, Face::Back);
        let b = notch(26.0, FRAC_PI_2, 4.0, Face::Front);
        assert!(approx_eq!(
            f64,
            web(&a, &b, 3.0, 12.0),
            5.0,
            epsilon = 1e-12
        ));
    }
}
