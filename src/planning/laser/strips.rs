//! Strips as side profiles, grain along the strip.

use super::fit::{fitted, too_little_wood};
use super::{LABEL_MARGIN_MM, Order, lay_out};
use crate::finding::Finding;
use crate::geometry::Point;
use crate::instructions::laser::LaserPlan;
use crate::instructions::lettering;
use crate::instructions::outline::Part;
use crate::lattice::{Face, Lattice, Notch, Strip};
use crate::machines::Laser;
use crate::phrase;
use crate::units::Mm;

/// Lays a lattice's strips out for a laser called `machine`; `file_name` gives the name of sheet
/// n (from 0) of how many.
///
/// # Errors
/// All that keeps them from being cut; fields are those of the laser's profile.
pub fn plan_strips(
    lattice: &Lattice,
    machine: &str,
    laser: &Laser,
    file_name: &dyn Fn(usize, usize) -> String,
) -> Result<(LaserPlan, Vec<Finding>), Vec<Finding>> {
    if let Some(fault) = too_little_wood(lattice, laser) {
        return Err(vec![fault]);
    }
    let mut warnings = Vec::new();
    let parts: Vec<Part> = lattice
        .strips
        .iter()
        .map(|strip| part(lattice, strip, laser))
        .collect();
    if laser.label_height > 0.0 && parts.iter().any(|part| part.strokes.is_empty()) {
        let text = phrase!(
            "the overhangs have no room for labels {} high; some strips have none",
            Mm(laser.label_height)
        );
        warnings.push(
            Finding::warning("no-room-for-label", "laser.label_height", text)
                .hint("labels are engraved on the overhang, which is trimmed off"),
        );
    }
    let order = Order {
        title: &lattice.title,
        machine,
        what: "strips",
        sheet_thickness: Some(lattice.section.thickness),
    };
    let plan = LaserPlan {
        fitted_clearance_mm: laser.fit.map(|fit| fit.slot - fit.strip),
        ..lay_out(&order, &parts, laser, file_name)?
    };
    Ok((plan, warnings))
}

fn part(lattice: &Lattice, strip: &Strip, laser: &Laser) -> Part {
    let notches: Vec<Notch> = strip
        .notches
        .iter()
        .map(|notch| fitted(lattice, laser, notch))
        .collect();
    let family = lattice.family_name(strip.id.family);
    Part {
        name: family.to_owned(),
        copy: strip.id.number,
        outer: side_profile(strip.length, lattice.section.depth, &notches),
        holes: Vec::new(),
        strokes: label(
            &lattice.label(strip.id),
            strip,
            lattice.section.depth,
            laser.label_height,
        ),
    }
}

/// A strip seen from its side: x along it from the datum end, y from the back face (0) to the
/// front face (its depth); counter-clockwise from the datum end's back corner.
fn side_profile(length: f64, depth: f64, notches: &[Notch]) -> Vec<Point> {
    let p = Point::new;
    let mut ring = vec![p(0.0, 0.0)];
    for notch in notches.iter().filter(|notch| notch.face == Face::Back) {
        let (near, far) = (notch.near_edge(), notch.far_edge());
        ring.extend([
            p(near, 0.0),
            p(near, notch.depth),
            p(far, notch.depth),
            p(far, 0.0),
        ]);
    }
    ring.extend([p(length, 0.0), p(length, depth)]);
    for notch in notches
        .iter()
        .rev()
        .filter(|notch| notch.face == Face::Front)
    {
        let (near, far, floor) = (notch.near_edge(), notch.far_edge(), depth - notch.depth);
        ring.extend([p(far, depth), p(far, floor), p(near, floor), p(near, depth)]);
    }
    ring.push(p(0.0, depth));
    ring
}

/// A strip's label in the middle of its first overhang, which is trimmed off after glue-up;
/// nothing where there is no room.
fn label(text: &str, strip: &Strip, depth: f64, height: f64) -> Vec<Vec<Point>> {
    let overhang = strip.notches.first().map_or(strip.length, Notch::near_edge);
    let width = lettering::width(text, height);
    let fits = width + 2.0 * LABEL_MARGIN_MM <= overhang && height + 2.0 * LABEL_MARGIN_MM <= depth;
    if height <= 0.0 || !fits {
        return Vec::new();
    }
    lettering::strokes(
        text,
        Point::new((overhang - width) / 2.0, (depth - height) / 2.0),
        height,
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::signed_area;
    use crate::lattice::StripId;

    #[test]
    fn a_profile_is_the_strip_less_its_notches() {
        let notch = |centre, face| Notch {
            mate: StripId {
                family: 1,
                number: 1,
            },
            centre,
            width: 3.0,
            depth: 6.0,
            face,
            angle: std::f64::consts::FRAC_PI_2,
        };
        let notches = [
            notch(20.0, Face::Back),
            notch(50.0, Face::Front),
            notch(80.0, Face::Back),
        ];
        let ring = side_profile(100.0, 12.0, &notches);
        assert_eq!(ring.len(), 4 + 3 * 4);
        assert!((signed_area(&ring) - (100.0 * 12.0 - 3.0 * 18.0)).abs() < 1e-9);
        assert!(ring.contains(&Point::new(48.5, 6.0)) && ring.contains(&Point::new(18.5, 6.0)));
    }
}
